"""What feeds outputs and loudspeakers, and what is said of those that stay silent."""

from __future__ import annotations

import pytest

from rigdsl_ports.silent_output import silent_output
from tests.rules.said import findings, said
from tests.rules.shows import show
from tests.rules.whole import told as all_told

SINGER = ("source a dynamic to SL 1", "patch SL.mic 1 -> DESK.ch 1")


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("output w wedge from SL 1", "patch DESK.mix 1 -> w"), []),
        (("output w wedge from SL 1", "patch DESK.mix 1 -> SL.line 1"), []),
        (("output w wedge from SL 1",), ["w"]),
        (("output w wedge",), []),  # plugged into nothing, which is told
        (
            (
                "box AMP is amp2",
                "box T1 is top8",
                "box T2 is top8",
                "link L1: SL.line 1 -- AMP.in 1",
                "link L2: AMP.out 1 -- T1.in",
                "link L3: T1.link -- T2.in",
                "patch DESK.mix 1 -> SL.line 1",
            ),
            [],
        ),
        (
            (
                "box AMP is amp2",
                "box T1 is top8",
                "box T2 is top8",
                "link L1: SL.line 1 -- AMP.in 1",
                "link L2: AMP.out 2 -- T1.in",
                "link L3: T1.link -- T2.in",
                "patch DESK.mix 1 -> SL.line 1",
            ),
            ["T1", "T2"],
        ),
    ],
)
def test_what_feeds_an_output(lines: tuple[str, ...], told: list[str]) -> None:
    assert [subject for _, subject, _ in said(silent_output, show(*SINGER, *lines))] == told


def test_a_silent_output_names_mixes_that_are_free() -> None:
    lines = ("output w wedge from SL 1", "patch DESK.mix 1 -> w", "output side fill from SL 2-3")
    (finding,) = findings(silent_output, show(*SINGER, *lines))
    assert finding.message == "nothing reaches `side`: nothing is patched to `SL.line 2`"
    assert finding.help == "patch something to it: `patch DESK.mix 2-3 -> side`"


def test_of_a_stereo_output_only_the_silent_side_is_told() -> None:
    lines = ("output side fill from SL 2-3", "patch DESK.mix 1 -> SL.line 2")
    (finding,) = findings(silent_output, show(*SINGER, *lines))
    assert finding.message == "nothing reaches `SL.line 3` of `side`: nothing is patched to `SL.line 3`"
    assert finding.consequence == "nothing comes out there"
    assert finding.help == "patch something to it: `patch DESK.mix 2 -> SL.line 3`"
    assert finding.ports == ("SL.line 3",)


@pytest.mark.parametrize(
    ("lines", "help_"),
    [
        (("link L1: SL.line 1 -- T1.in",), "patch something to it: `patch DESK.mix 1 -> SL.line 1`"),
        (("box AMP is amp2", "link L1: AMP.out 1 -- T1.in"), "feed `AMP.in 1` with a patch or a `link`"),
        (("box AMP is rack2", "link L1: AMP.out 1 -- T1.in"), "feed `AMP.out 1` with a patch or a `link`"),
        (
            (
                "model mute2 { kind amplifier; inputs in 1-2; outputs out 1-2 }",
                "box AMP is mute2",
                "link L0: SL.line 1 -- AMP.in 1",
                "link L1: AMP.out 1 -- T1.in",
                "patch DESK.mix 1 -> SL.line 1",
            ),
            "write in model `mute2` what is wired to it, as in `pass in -> out`",
        ),
    ],
)
def test_a_silent_loudspeaker_is_fed_where_its_line_begins(lines: tuple[str, ...], help_: str) -> None:
    (finding,) = findings(
        silent_output, show("model rack2 { kind amplifier; outputs out 1-2 }", "box T1 is top8", *lines)
    )
    assert finding.help == help_


NETWORKED = ("model nt { kind loudspeaker; inputs in; digital d { protocol fernlink } }", "box T1 is nt")
CABLED = "link C2: DESK.stage 2 -- T1.d via cat6 20 m"


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ((CABLED, "patch DESK.mix 1 -> T1"), []),
        ((CABLED,), ["nothing reaches `T1`: nothing is patched to `T1`"]),
        (("link L1: SL.line 1 -- T1.in via xlr 5 m", "patch DESK.mix 1 -> SL.line 1"), []),
        (("link L1: SL.line 1 -- T1.in via xlr 5 m",), ["nothing reaches `T1`: nothing is patched to `SL.line 1`"]),
        (("model horns { kind loudspeaker; digital d { protocol fernlink } }",), []),
    ],
)
def test_a_loudspeaker_on_a_network_is_patched_by_name(lines: tuple[str, ...], told: list[str]) -> None:
    found = said(silent_output, show(*NETWORKED, *lines))
    assert [message for _, _, message in found] == told


CHAIN = ("box T is top8", "box U is top8", "link L2: T.link -- U.in via xlr 5 m", "output q fill from U.link")


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ((), ["error unplugged-output T"]),
        # A spare that is meant to stand by is not told, and what hangs on it is.
        (('keep T.in for "spare"',), ["error silent-output U", "error silent-output q"]),
    ],
)
def test_what_hangs_on_a_loudspeaker_without_a_cable_is_told_with_it(lines: tuple[str, ...], told: list[str]) -> None:
    assert all_told(show(*SINGER, *CHAIN, *lines)) == told


@pytest.mark.parametrize(
    ("patches", "told"),
    [
        (("patch z -> o",), ["error unplugged-source z"]),
        (("patch z -> SL.line 2",), ["error unplugged-source z"]),
        ((), ["error silent-output o", "error unplugged-source z"]),
    ],
)
def test_what_waits_for_a_source_without_a_socket_is_told_with_it(patches: tuple[str, ...], told: list[str]) -> None:
    rig = show(*SINGER, "source z dynamic", "output o main from SL 2", *patches)
    assert sorted(all_told(rig)) == told


def test_two_wedges_in_one_socket_are_one_finding() -> None:
    wedges = ("output v wedge from SL 1", "output w wedge from SL 1", "patch DESK.mix 1 -> w")
    assert all_told(show(*SINGER, *wedges)) == ["error port-taken SL.line 1"]
