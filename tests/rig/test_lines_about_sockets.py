"""Patches, and the lines about sockets: clock, control, keep, accept, stock."""

from __future__ import annotations

import pytest

from rigdsl.rig import Leg, Port, Rig
from tests.rig.said import clean, ports, said

GEAR = """
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8 }
model desk32 { kind console; channels ch 1-32; mixes mix 1-16; inputs local 1-8; outputs local-out 1-8 }
model horn { kind loudspeaker; inputs in }
zone wing
box LEFT is horn in wing
box SL is nw16 in wing; box DESK is desk32 in wing
source kick dynamic in wing to SL 1
source keys line in wing to SL 14-15
source open di in wing to SL
source loose di in wing
output wdg wedge in wing from SL.line 1
output iem in-ear in wing from SL.line 3-4
"""


def pairs(rig: Rig) -> list[str]:
    """What feeds what, pair by pair; a line of a source or output is its name and number."""
    return [" > ".join(map(name, pair)) for patch in rig.patches for pair in patch.pairs]


def name(end: Port | Leg) -> str:
    return str(end) if isinstance(end, Port) else f"{end.name}/{end.index + 1}"


@pytest.mark.parametrize(
    ("line", "made"),
    [
        ("patch SL.mic 1-2 -> DESK.ch 1-2", ["SL.mic 1 > DESK.ch 1", "SL.mic 2 > DESK.ch 2"]),
        ("patch SL.mic 2,1 -> DESK.ch 1-2", ["SL.mic 2 > DESK.ch 1", "SL.mic 1 > DESK.ch 2"]),
        ("patch kick -> DESK.ch 1", ["kick/1 > DESK.ch 1"]),
        ("patch keys -> DESK.ch 14-15", ["keys/1 > DESK.ch 14", "keys/2 > DESK.ch 15"]),
        ("patch keys -> DESK.ch 15,14", ["keys/1 > DESK.ch 15", "keys/2 > DESK.ch 14"]),
        ("patch kick, keys -> DESK.ch 1-3", ["kick/1 > DESK.ch 1", "keys/1 > DESK.ch 2", "keys/2 > DESK.ch 3"]),
        # A source whose socket is still open has as many lines as the channels ask for.
        ("patch open -> DESK.ch 9", ["open/1 > DESK.ch 9"]),
        ("patch open -> DESK.ch 9-10", ["open/1 > DESK.ch 9", "open/2 > DESK.ch 10"]),
        ("patch loose -> DESK.ch 9", ["loose/1 > DESK.ch 9"]),
        # To an output by name; from a channel's direct out; straight from a source.
        ("patch DESK.mix 1 -> wdg", ["DESK.mix 1 > wdg/1"]),
        ("patch DESK.mix 1-2 -> iem", ["DESK.mix 1 > iem/1", "DESK.mix 2 > iem/2"]),
        ("patch DESK.mix 1-3 -> wdg, iem", ["DESK.mix 1 > wdg/1", "DESK.mix 2 > iem/1", "DESK.mix 3 > iem/2"]),
        ("patch DESK.ch 1 -> SL.line 8", ["DESK.ch 1 > SL.line 8"]),
        ("patch kick -> wdg", ["kick/1 > wdg/1"]),
        # A loudspeaker box counts as an output too.
        ("patch DESK.mix 1 -> LEFT", ["DESK.mix 1 > LEFT/1"]),
    ],
)
def test_a_patch(line: str, made: list[str]) -> None:
    assert pairs(clean(GEAR + line)) == made


def test_a_patch_is_called_by_its_sockets() -> None:
    rig = clean(GEAR + 'patch SL.mic 1-2,4 -> DESK.ch 1-3 { note "spare drum lines" }; patch keys -> DESK.ch 14-15')
    assert [patch.name for patch in rig.patches] == ["SL.mic 1-2,4 -> DESK.ch 1-3", "keys -> DESK.ch 14-15"]
    assert rig.patches[0].note == "spare drum lines"


def test_clock_control_keep_stock() -> None:
    rig = clean(
        GEAR
        + """
        clock DESK
        control SL.mic 1-3, SL.mic 8 by DESK
        control SL by DESK
        keep SL.mic 16, SL.line 8 for "support act"
        stock xlr 10 m x 24
        stock xlr 30 ft x 0
        """
    )
    assert [clock.box for clock in rig.clocks] == ["DESK"]
    assert [(len(control.ports), control.by) for control in rig.controls] == [(4, "DESK"), (16, "DESK")]
    assert [(ports(keep.ports), keep.what) for keep in rig.keeps] == [(["SL.mic 16", "SL.line 8"], "support act")]
    assert [(line.cable, line.length_m, line.count) for line in rig.stock] == [
        ("xlr", 10.0, 24),
        ("xlr", pytest.approx(9.144), 0),
    ]


@pytest.mark.parametrize(
    ("line", "subject", "taken", "until"),
    [
        ('accept unused-port on SL.mic 12 because "x" until 2026-12-31', "SL.mic 12", ["SL.mic 12"], "2026-12-31"),
        ('accept unused-port on SL.line 1-2 because "x"', "SL.line 1-2", ["SL.line 1", "SL.line 2"], ""),
        ('accept lost-source on kick because "x"', "kick", [], ""),
        ('accept surface-alone on DESK because "x"', "DESK", [], ""),
        ('accept run-too-long on "C01+C02" because "x"', "C01+C02", [], ""),
        # The rule may be one of a pack that is not here.
        ('accept some-day on "anything at all" because "x"', "anything at all", [], ""),
    ],
)
def test_accept(line: str, subject: str, taken: list[str], until: str) -> None:
    (accept,) = clean(GEAR + line).accepts
    assert (accept.rule, accept.subject, ports(accept.ports), accept.because, accept.until) == (
        line.split()[1],
        subject,
        taken,
        "x",
        until,
    )


@pytest.mark.parametrize(
    ("line", "rule", "place", "message", "help"),
    [
        (
            "patch kik -> DESK.ch 1",
            "unknown-name",
            "kik",
            "there is no source or box called `kik`",
            "there is a source with a similar name: `kick`",
        ),
        (
            "patch kick 1 -> DESK.ch 1",
            "no-such-port",
            "kick 1",
            "`kick` is a source: it is patched by its name alone",
            "write `kick`",
        ),
        (
            "patch DESK.mix 1 -> wdg 1",
            "no-such-port",
            "wdg 1",
            "`wdg` is an output: it is patched by its name alone",
            "write `wdg`",
        ),
        (
            "patch keys -> DESK.ch 14",
            "range-length",
            "keys -> DESK.ch 14",
            "2 sockets on the left of `->`, and one socket on the right: they are patched one by one",
            "give both sides as many; `keys` has several lines, each with a socket",
        ),
        (
            "patch kick -> DESK.ch 14-15",
            "range-length",
            "kick -> DESK.ch 14-15",
            "one socket on the left of `->`, and 2 sockets on the right: they are patched one by one",
            "give both sides as many; `kick` is plugged into one socket",
        ),
        (
            "patch DESK.mix 3-4 -> wdg",
            "range-length",
            "DESK.mix 3-4 -> wdg",
            "2 sockets on the left of `->`, and one socket on the right: they are patched one by one",
            "give both sides as many; `wdg` is plugged into one socket",
        ),
        (
            "patch SL.mic 1-2 -> DESK.ch 1-3",
            "range-length",
            "SL.mic 1-2 -> DESK.ch 1-3",
            "2 sockets on the left of `->`, and 3 sockets on the right: they are patched one by one",
            "give both sides as many",
        ),
        (
            "patch DESK.mix 1 -> wdgg",
            "unknown-name",
            "wdgg",
            "there is no output or box called `wdgg`",
            "there is an output with a similar name: `wdg`",
        ),
        (
            "patch kick -> zzz",
            "unknown-name",
            "zzz",
            "there is no output or box called `zzz`",
            "a bare name is that of an output; sockets have a box",
        ),
        (
            "clock DEKS",
            "unknown-name",
            "DEKS",
            "there is no box called `DEKS`",
            "there is a box with a similar name: `DESK`",
        ),
        (
            "clock mixer",
            "unknown-name",
            "mixer",
            "there is no box called `mixer`",
            "define it: `box NAME is MODEL in ZONE`",
        ),
        (
            'accept unused-port on SL because "x" until 2026-13-45',
            "wrong-number",
            "2026-13-45",
            "no calendar has a day `2026-13-45`",
            "a date is year, month, day: `2026-12-04`",
        ),
        (
            "control SL.mic 1 by DEKS",
            "unknown-name",
            "DEKS",
            "there is no box called `DEKS`",
            "there is a box with a similar name: `DESK`",
        ),
        (
            'keep SL.mic 17 for "x"',
            "no-such-port",
            "17",
            "`SL.mic` has sockets 1 to 16, and `17` is not among them",
            "its groups are: `mic 1-16`, `line 1-8`",
        ),
        (
            'accept lost-source on kcik because "x"',
            "unknown-name",
            "kcik",
            "nothing is called `kcik`",
            "there is a source with a similar name: `kick`",
        ),
        (
            "stock xrl 10 m x 2",
            "unknown-name",
            "xrl",
            "there is no cable called `xrl`",
            "there is a cable with a similar name: `xlr`",
        ),
        (
            "patch SL.mic 1 -> DESK.ch 1 { loom T1 }",
            "unknown-name",
            "loom",
            "a patch has no fact `loom`",
            "its facts are: label, note",
        ),
    ],
)
def test_what_is_wrong_with_them(line: str, rule: str, place: str, message: str, help: str) -> None:
    assert said(GEAR + line) == [(rule, place, message, help)]
