"""Sockets as they are written, and which ones they are."""

from __future__ import annotations

import pytest

from rigdsl.rig import Port
from tests.rig.said import clean, plugs, ports, said

# One of everything that a group left out can be asked for.
GEAR = """
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A, B; data ctl }
model one { kind di; inputs in; outputs out; pass in -> out { active } }
model mc { kind sub-box; inputs panel 1-12; inputs return 1-4; outputs tail 1-12; outputs front 1-4 }
model rx4 { kind receiver; inputs air 1-4 { wireless }; outputs line 1-4; pass air -> line }
model mixrx { kind stage-box; inputs air 1-2 { wireless }; inputs mic 1-8 { preamp } }
model tx2 { kind monitor-sender; inputs line 1-4; outputs air 1-2 { wireless } }
model pc { kind computer; inputs track 1-64 { soft }; outputs play 1-8 { soft }; digital lan }
model desk32 {
  kind console
  channels ch 1-32; mixes mix 1-16; mixes matrix 1-4; inputs local 1-8; outputs local-out 1-8
}
box SL is nw16
box DI is one
box MC is mc
box RX is rx4
box MX is mixrx
box TX is tx2
box PC is pc
box DESK is desk32
"""


def sockets(line: str) -> list[str]:
    """The sockets that a statement takes, as the rig has them."""
    rig = clean(GEAR + line)
    if line.startswith(("source", "output")):
        thing = plugs(rig)[0]
        return ports(thing.ports) or [f"{thing.aimed}, open"]
    return ports(rig.keeps[0].ports)


@pytest.mark.parametrize(
    ("line", "taken"),
    [
        # A group and a number, a range, a list, in the order in which they are said.
        ("keep SL.mic 3", ["SL.mic 3"]),
        ("keep SL.mic 1-3", ["SL.mic 1", "SL.mic 2", "SL.mic 3"]),
        ("keep SL.mic 1,3,5-6", ["SL.mic 1", "SL.mic 3", "SL.mic 5", "SL.mic 6"]),
        ("keep SL.mic 3,1,2", ["SL.mic 3", "SL.mic 1", "SL.mic 2"]),
        ("keep SL.mic 4-4", ["SL.mic 4"]),
        ("keep SL.mic 1-2, SL.line 8", ["SL.mic 1", "SL.mic 2", "SL.line 8"]),
        ("keep SL.mic 16, MC.tail 1-2", ["SL.mic 16", "MC.tail 1", "MC.tail 2"]),
        # A group of one needs no number, and takes one.
        ("keep SL.A", ["SL.A"]),
        ("keep SL.A 1", ["SL.A"]),
        ("keep SL.ctl, SL.B", ["SL.ctl", "SL.B"]),
        # A line about a group has all of it.
        ("keep MC.return", ["MC.return 1", "MC.return 2", "MC.return 3", "MC.return 4"]),
        # The one group of inputs for `to`, the one of outputs for `from`.
        ("source a dynamic to SL 3", ["SL.mic 3"]),
        ("source a line to SL 14-15", ["SL.mic 14", "SL.mic 15"]),
        ("source a dynamic to SL 3, SL.mic 1", ["SL.mic 3", "SL.mic 1"]),
        ("source a di to DI", ["DI.in"]),
        ("output a wedge from SL 1", ["SL.line 1"]),
        ("output a wedge from DI", ["DI.out"]),
        ("output a main from DESK 7-8", ["DESK.local-out 7", "DESK.local-out 8"]),
        # Wireless groups count for what is wireless, and then they come first.
        ("source a dynamic to MX 2", ["MX.mic 2"]),
        ("source a wireless to MX 2", ["MX.air 2"]),
        ("source a wireless to RX 1", ["RX.air 1"]),
        ("output a in-ear from TX 2", ["TX.air 2"]),
        # Playback and record tracks live inside a computer.
        ("source a playback to PC 1-2", ["PC.track 1", "PC.track 2"]),
        ("output a record from PC 8", ["PC.play 8"]),
        # A box and no number aims at the box; a group and no number too.
        ("source a dynamic to SL", ["SL, open"]),
        ("source a dynamic to SL.mic", ["SL, open"]),
        ("source a dynamic to MC", ["MC, open"]),
        ("output a wedge from SL", ["SL, open"]),
    ],
)
def test_sockets(line: str, taken: list[str]) -> None:
    text = f'{line} for "a guest"' if line.startswith("keep") else line
    assert sockets(text) == taken


@pytest.mark.parametrize(
    ("line", "left", "right"),
    [
        # Left of `->` the one group of inputs and mixes, right the one of channels and outputs.
        ("patch SL 1-2 -> DESK.ch 1-2", "SL.mic 1-2", "DESK.ch 1-2"),
        ("patch DESK.mix 1-2 -> SL 1-2", "DESK.mix 1-2", "SL.line 1-2"),
        ("patch DESK.mix 3,1 -> SL.line 1,2", "DESK.mix 3,1", "SL.line 1-2"),
        ("patch DESK.mix 1, DESK.matrix 4 -> SL.line 1-2", "DESK.mix 1, DESK.matrix 4", "SL.line 1-2"),
        # A channel's direct out feeds too.
        ("patch DESK.ch 1 -> PC 1", "DESK.ch 1", "PC.play 1"),
    ],
)
def test_patched_sockets(line: str, left: str, right: str) -> None:
    (patch,) = clean(GEAR + line).patches
    assert patch.name == f"{left} -> {right}"


def test_a_link_joins_number_by_number_in_the_order_said() -> None:
    (link,) = clean(GEAR + "link C1: MC.tail 3,1-2 -- SL.mic 1-3 via loom 10 m\ncable loom {}").links.values()
    assert [(str(a), str(b)) for a, b in link.joins] == [
        ("MC.tail 3", "SL.mic 1"),
        ("MC.tail 1", "SL.mic 2"),
        ("MC.tail 2", "SL.mic 3"),
    ]


def test_the_largest_number() -> None:
    """A socket's number is 1 to 99999; all of them are as many."""
    rig = clean('model big { kind panel; digital p 1-99999 }\nbox B is big\nkeep B.p 99999 for "x"')
    assert rig.keeps[0].ports == (Port("B", "p", 99_999),)


GROUPS = "`mic 1-16`, `line 1-8`, `A`, `B`, `ctl`"


@pytest.mark.parametrize(
    ("line", "rule", "place", "message", "help"),
    [
        # Past the group, or nowhere in it.
        (
            'keep SL.mic 17 for "x"',
            "no-such-port",
            "17",
            "`SL.mic` has sockets 1 to 16, and `17` is not among them",
            f"its groups are: {GROUPS}",
        ),
        (
            'keep SL.mic 0 for "x"',
            "no-such-port",
            "0",
            "`SL.mic` has sockets 1 to 16, and `0` is not among them",
            f"its groups are: {GROUPS}",
        ),
        (
            'keep SL.mic 1.5 for "x"',
            "no-such-port",
            "1.5",
            "`SL.mic` has sockets 1 to 16, and `1.5` is not among them",
            f"its groups are: {GROUPS}",
        ),
        (
            'keep SL.mic 1-999999999 for "x"',
            "no-such-port",
            "1-999999999",
            "`SL.mic` has sockets 1 to 16, and `1-999999999` is not among them",
            f"its groups are: {GROUPS}",
        ),
        (
            'keep SL.A 2 for "x"',
            "no-such-port",
            "2",
            "`SL.A` has one socket, and `2` is not among them",
            f"its groups are: {GROUPS}",
        ),
        # A group that is not there.
        (
            'keep SL.lines 1 for "x"',
            "no-such-port",
            "lines",
            "`SL` has no group `lines`",
            "there is a group with a similar name: `line`",
        ),
        (
            'keep SL.xyz 1 for "x"',
            "no-such-port",
            "xyz",
            "`SL` has no group `xyz`",
            f"its groups are: {GROUPS}",
        ),
        # Which group? None fits, or several do.
        (
            'keep SL 1 for "x"',
            "no-such-port",
            "SL 1",
            "`SL` has 5 groups of sockets: say which",
            "write `SL.mic` or `SL.line` or `SL.A` or `SL.B` or `SL.ctl`",
        ),
        (
            "source a dynamic to MC 1",
            "no-such-port",
            "MC 1",
            "`MC` has 2 groups of inputs: say which",
            "write `MC.panel` or `MC.return`",
        ),
        (
            "source a dynamic to RX 1",
            "no-such-port",
            "RX 1",
            "`RX.air` is wireless: no cable goes in",
            "its groups are: `air 1-4`, `line 1-4`",
        ),
        (
            "patch DESK 1 -> SL 1",
            "no-such-port",
            "DESK 1",
            "`DESK` has 3 groups of inputs and mixes: say which",
            "write `DESK.mix` or `DESK.matrix` or `DESK.local`",
        ),
        (
            "patch SL 1 -> DESK 1",
            "no-such-port",
            "DESK 1",
            "`DESK` has 2 groups of channels and outputs: say which",
            "write `DESK.ch` or `DESK.local-out`",
        ),
        # Which socket?
        (
            "link SL.mic -- DI.out",
            "no-such-port",
            "SL.mic",
            "`SL.mic` has 16 sockets: say which",
            "write `SL.mic 1`, or a range such as `SL.mic 1-16`",
        ),
        # Ranges that fall, or say a socket twice.
        (
            'keep SL.mic 4-1 for "x"',
            "range-length",
            "4-1",
            "`4-1` runs backwards",
            "write `1-4`, or list them",
        ),
        (
            'keep SL.mic 1-4,3 for "x"',
            "range-length",
            "SL.mic 1-4,3",
            "a socket is named twice in `SL.mic 1-4,3`",
            "name each socket once",
        ),
        # Two sides of different length.
        (
            "link MC.tail 1-12 -- SL.mic 1-11",
            "range-length",
            "MC.tail 1-12 -- SL.mic 1-11",
            "12 sockets on the left of `--`, and 11 on the right: they are joined one by one",
            "give both sides as many sockets",
        ),
        (
            "patch SL.mic 1-2 -> DESK.ch 1",
            "range-length",
            "SL.mic 1-2 -> DESK.ch 1",
            "2 sockets on the left of `->`, and one socket on the right: they are patched one by one",
            "give both sides as many",
        ),
        # Sockets that are not for this.
        (
            "source a dynamic to SL.line 1",
            "no-such-port",
            "SL.line 1",
            "`SL.line` are outputs: a source goes into inputs",
            "its inputs are: `SL.mic`",
        ),
        (
            "output a wedge from SL.A",
            "no-such-port",
            "SL.A",
            "`SL.A` are digital ports: an output is fed from outputs",
            "its outputs are: `SL.line`",
        ),
        (
            "patch SL.line 1 -> DESK.ch 1",
            "no-such-port",
            "SL.line 1",
            "`SL.line` are outputs, and the left of `->` is what feeds: an input, a mix, a channel or a source",
            "a patch reads from what feeds to what is fed: `patch SL.mic 1-8 -> DESK.ch 1-8`",
        ),
        (
            "patch SL.mic 1 -> DESK.mix 1",
            "no-such-port",
            "DESK.mix 1",
            "`DESK.mix` are mixes, and the right of `->` is what is fed: a channel or an output",
            "a patch reads from what feeds to what is fed: `patch SL.mic 1-8 -> DESK.ch 1-8`",
        ),
        # No such box at all, or something that is no box.
        (
            'keep Sl.mic 1 for "x"',
            "unknown-name",
            "Sl",
            "there is no box called `Sl`",
            "there is a box with a similar name: `SL`",
        ),
        (
            'zone wing; keep wing 1 for "x"',
            "unknown-name",
            "wing",
            "`wing` is a zone, and sockets of a box are needed here",
            "write BOX.group and the socket",
        ),
    ],
)
def test_what_is_wrong_with_sockets(line: str, rule: str, place: str, message: str, help: str) -> None:
    assert said(GEAR + line) == [(rule, place, message, help)]


@pytest.mark.parametrize(
    ("declared", "rule", "place", "help"),
    [
        ("digital p 2-8", "range-length", "2-8", "write `p 1-8`"),
        ("digital p 4", "range-length", "4", "write `p 1-4`"),
        ("digital p 8-1", "range-length", "8-1", "write `p 1-8`"),
        ("digital p 1-100000", "no-such-port", "100000", "give the sockets that the gear really has"),
        ("digital p 1-999999999", "no-such-port", "999999999", "give the sockets that the gear really has"),
        (
            "digital p 1-1.5",
            "wrong-number",
            "1.5",
            "write the number of a socket between 1 and 99999",
        ),
    ],
)
def test_a_group_has_one_range_from_1(declared: str, rule: str, place: str, help: str) -> None:
    found = said(f"model m {{ kind panel; {declared} }}")
    assert [(one[0], one[1], one[3]) for one in found] == [(rule, place, help)]


def test_a_list_that_names_every_socket_a_thousand_times_is_not_counted_out() -> None:
    """It is wrong from its second range on, however long it is."""
    model = "model huge { kind console; channels ch 1-99999; inputs in 1-99999 }\nbox H is huge\n"
    ranges = ",".join(["1-99999"] * 3000)
    found = said(GEAR + model + f"patch H.in {ranges} -> H.ch 1-2")
    assert [rule for rule, *_ in found] == ["range-length"]
