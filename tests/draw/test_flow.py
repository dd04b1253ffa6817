"""The flow view: what stands where, which lines join it, and what is said of them."""

from __future__ import annotations

import pytest

from rigdsl.draw import View
from rigdsl.draw.shapes import Node
from rigdsl.finding import Finding, Level
from tests.draw.made import sheet, small


def lines(view: View) -> set[str]:
    """Each line as `from socket > to socket: words (pattern)`."""
    return {
        f"{_end(edge.left.node, edge.left.key)} > {_end(edge.right.node, edge.right.key)}"
        f": {', '.join(edge.label)} ({edge.pattern.name}{', stops' if edge.stops else ''})"
        for edge in view.edges
    }


def _end(node: str, key: str) -> str:
    return f"{node.removeprefix('box--').replace('--', ' ')}.{key.removesuffix('--e').removesuffix('--w')}"


def rows(view: View, name: str) -> list[str]:
    """The rows of a node, their words side by side."""
    node = next(node for node in view.nodes if node.id == name)
    return [" | ".join(cell.text for cell in row.cells if cell.text) for row in node.rows]


def node(view: View, name: str) -> Node:
    """A node by its name."""
    return next(node for node in view.nodes if node.id == name)


CHAIN = """
zone wing "Stage left"
box DESK is desk32
box SL "Left rack" is nw16 in wing
box SR is nw16
box DR is sub8
link C1: SL.A -- DESK.stage 1 via c6 20 m
link C2: SL.B -- SR.A via c6 9 m
link L1: DR.tail 1-8 -- SL.mic 1-8 via loom8 10 m
source kick "Kick" dynamic in wing to DR 1
source keys "Keys" di in wing to DR 2-3 { phantom }
source vox "Vocal" condenser in wing to SR.mic 4
output wdg "Wedge" wedge in wing from SL.line 2
patch SL.mic 1-3 -> DESK.ch 1-3
patch SR.mic 4 -> DESK.ch 9
patch DESK.mix 5 -> SL.line 2
keep SL.mic 16 for "guest"
"""


def test_a_stage_box_stands_on_both_sides_of_the_desk() -> None:
    """Left to right: sources, sub-box, chain, desk, the box once more, outputs."""
    assert lines(sheet(small(CHAIN), "flow")) == {
        "sources wing DR.kick--1 > DR in.panel--1:  (line)",
        "sources wing DR.keys--1 > DR in.panel--2:  (line)",
        "sources wing DR.keys--2 > DR in.panel--3:  (line)",
        "sources wing SR.vox--1 > SR in.mic--4:  (line)",
        "DR in.tail--1 > SL in.mic--1: L1 1-8, loom8 10 m (loom)",
        "SR in.A > SL in.B: C2, fern 16 of 40, c6 9 m (digital)",
        "SL in.A > DESK.stage--1: C1, fern 32 of 40, c6 20 m (digital)",
        "DESK.stage--1 > SL out.A: C1, fern 16 of 40, c6 20 m (digital)",
        "SL out.line--2 > outputs wing SL.wdg--1:  (line)",
    }


@pytest.mark.parametrize(("leg", "shown"), [("direct", True), ("iso", False)])
def test_a_preamp_behind_a_transformer_shows_no_phantom(leg: str, shown: bool) -> None:
    text = f"""
box SP is split4
box FOH is desk8
link X1: SP.{leg} 1-4 -- FOH.local 1-4
source vox condenser to SP.in 1
"""
    (said,) = [row for row in rows(sheet(small(text), "flow"), "box--FOH") if row.startswith("local 1 ")]
    assert ("48 V" in said) == shown


def test_rows_say_source_phantom_and_channel_and_fold_what_is_free() -> None:
    """One row a socket that something is said of; neighbours without are one row."""
    view = sheet(small(CHAIN), "flow")
    assert rows(view, "box--SL--in") == [
        "mic 1 | Kick | → ch 1",
        "2 | Keys, left | 48 V → ch 2",
        "3 | Keys, right | 48 V → ch 3",
        "4-8 | spare line",
        "9-15 | free",
        "16 | kept for guest",
        "A | fern",
        "B | fern",
    ]
    assert rows(view, "box--SL--out") == ["A | fern", "line 1 | free", "2 | mix 5", "3-8 | free"]
    assert rows(view, "box--DESK") == [
        "local 1-8 | free",
        "stage 1 | fern",
        "ch 1-3,9 | 4 of 32 used",
        "mix 5 | 1 of 16 used",
        "out 1-8 | free",
    ]
    assert node(view, "box--SL--in").subtitle == "Left rack\nStage left · inputs, analogue to digital"
    assert node(view, "box--SL--out").subtitle == "Left rack\nStage left · outputs, digital to analogue"


# What a rig is, and lines that its flow must have.
SHAPES = [
    (
        "a splitter feeds two desks; its isolated side says so",
        """
        box SP is split4
        box FOH is desk8
        box MON is desk8
        link L1: SP.iso 1-4 -- FOH.local 1-4 via loom8 5 m
        link L2: SP.direct 1-4 -- MON.local 1-4 via loom8 5 m
        source a dynamic to SP 1
        """,
        {
            "SP in.iso--1 > FOH.local--1: L1 1-4, loom8 5 m (loom)",
            "SP in.direct--1 > MON.local--1: L2 1-4, loom8 5 m (loom)",
        },
    ),
    (
        "a multicore with returns stands twice, its cable is one in each direction",
        """
        box MC is head
        box D is desk8
        link X1 via loom8 30 m { MC.tail 1-6 -- D.local 1-6; D.out 1-2 -- MC.return 1-2 }
        source a dynamic to MC.panel 1
        output w wedge from MC.send 1
        """,
        {
            "MC in.tail--1 > D.local--1: X1 1-6, loom8 30 m (loom)",
            "D.out--1 > MC out.return--1: X1 1-2, loom8 30 m (loom)",
            "MC out.send--1 > outputs  MC.w--1:  (line)",
        },
    ),
    (
        "radio comes in and goes out dotted",
        """
        box RX is rx2
        box D is desk8
        box TX is tx2
        link L1: RX.line 1-2 -- D.local 1-2 via xlr 3 m
        link L2: D.out 1-2 -- TX.in 1-2 via xlr 3 m
        source v wireless to RX 1
        output e in-ear from TX 1-2
        """,
        {"sources  RX.v--1 > RX in.air--1:  (air)", "TX out.air--1 > outputs  TX.e--1:  (air)"},
    ),
    (
        "amplifier, loudspeaker, the next loudspeaker",
        """
        box D is desk8
        box A is amp2
        box T1 is box12
        box T2 is box12
        link X1: D.out 1 -- A.in 1 via xlr 3 m
        link S1: A.out 1 -- T1.in via ls 5 m
        link S2: T1.on -- T2.in via ls 1 m
        """,
        {"A out.out--1 > T1 out.in: S1 1, ls 5 m (speaker)", "T1 out.on > T2 out.in: S2, ls 1 m (speaker)"},
    ),
    (
        "wall panels are named on the run, not drawn between",
        """
        box D is desk32
        box P is panel4
        box Q is panel4
        box S is nw16
        link C1: S.A -- P.front 1 via c6 3 m
        link C2: P.rear 1 -- Q.rear 1 via c6 40 m
        link C3: Q.front 1 -- D.stage 1 via c6 3 m
        patch S.mic 1 -> D.ch 1
        """,
        {"S in.A > D.stage--1: C1+C2+C3, fern 16 of 40, c6 46 m in all, through P, Q (digital)"},
    ),
    (
        "the other half of a redundant pair goes where the first goes",
        """
        box D is desk32
        box S is larchbox
        link P1: S.pri -- D.pri via c6 9 m
        link P2: S.sec -- D.sec via c6 9 m
        patch S.mic 1-4 -> D.ch 1-4
        """,
        {
            "S in.pri > D.pri: P1, larch 4 of 64, c6 9 m (digital)",
            "S in.sec > D.sec: P2, larch 4 of 64, c6 9 m (spare)",
        },
    ),
    (
        "a switch and a computer stand on either side",
        """
        box D is desk32
        box W is switch8
        box R is rec
        link N1: D.pri -- W.port 1 via c6 3 m
        link N2: R.net -- W.port 2 via c6 3 m
        source m playback to R.play 1-2
        patch R.play 1-2 -> D.ch 1-2
        patch D.ch 1-8 -> R.track 1-8
        """,
        {
            "sources  R.m--1 > R in.play--1:  (inside)",
            "R in.net > W in.port--2: N2, larch 2 of 64, c6 3 m (digital)",
            "W in.port--1 > D.pri: N1, larch 2 of 64, c6 3 m (digital)",
            "D.pri > W out.port--1: N1, larch 8 of 64, c6 3 m (digital)",
            "W out.port--2 > R out.net: N2, larch 8 of 64, c6 3 m (digital)",
        },
    ),
    (
        "a run that speaks two protocols is drawn to where it stops",
        """
        box D is desk32
        box M is mossbox
        link C1: M.A -- D.stage 1 via c6 9 m
        patch M.mic 1-4 -> D.ch 1-4
        """,
        {"M in.A > D.stage--1: C1, no sound, c6 9 m (digital, stops)"},
    ),
    (
        "an analogue socket on a digital port too",
        """
        box D is desk32
        box S is nw16
        link C1: S.mic 3 -- D.stage 1 via c6 9 m
        """,
        {"S in.mic--3 > D.stage--1: C1, no sound, c6 9 m (digital, stops)"},
    ),
    (
        "what nothing is patched over says so",
        """
        box D is desk32
        box M is larchbox
        link P1: M.pri -- D.pri via c6 9 m
        """,
        {"M in.pri > D.pri: P1, larch nothing patched, c6 9 m (digital)"},
    ),
    (
        "neighbours that go apart are lines of their own",
        """
        box P is sub8
        box S is nw16
        link L1: P.tail 1,2,3,5 -- S.mic 1,2,9,10 via loom8 9 m
        """,
        {
            "P in.tail--1 > S in.mic--1: L1 1-2, loom8 9 m (loom)",
            "P in.tail--3 > S in.mic--9: L1 3 → 9, loom8 9 m (line)",
            "P in.tail--5 > S in.mic--10: L1 5 → 10, loom8 9 m (line)",
        },
    ),
]


@pytest.mark.parametrize(("text", "expected"), [pytest.param(text, want, id=name) for name, text, want in SHAPES])
def test_shape(text: str, expected: set[str]) -> None:
    """Each of these lines is drawn."""
    rig = small(text)
    assert not rig.findings
    assert expected <= lines(sheet(rig, "flow"))


def test_what_comes_back_round_is_cut_with_matching_marks() -> None:
    """From desk to desk and back: nothing runs backwards, a letter says where to read on."""
    rig = small(
        """
        box D1 is desk32
        box D2 is desk32
        link A1: D1.out 1 -- D2.local 1 via xlr 3 m
        link A2: D2.out 1 -- D1.local 1 via xlr 3 m
        """
    )
    view = sheet(rig, "flow")
    assert [rows(view, one.id) for one in view.nodes if one.kind == "mark"] == [["A: on to D1"], ["A: from D2"]]
    onward: dict[str, set[str]] = {}
    for edge in view.edges:
        onward.setdefault(edge.left.node, set()).add(edge.right.node)
    assert not any(_reaches(onward, start, start) for start in onward)


def _reaches(onward: dict[str, set[str]], at: str, target: str) -> bool:
    return any(step == target or _reaches(onward, step, target) for step in onward.get(at, ()))


def test_a_core_says_what_sets_it() -> None:
    """A surface carries no sound: it is not in the flow, but named at its core."""
    rig = small("box C is core\nbox F is faders\nlink C1: F.up -- C.ctl via c6 9 m\nsource a dynamic to C.mic 1")
    view = sheet(rig, "flow")
    assert node(view, "box--C").subtitle == "mixing core\nset from F"
    assert not any(one.title == "F" for one in view.nodes)


def test_unplugged_things_stand_there_with_no_line() -> None:
    """A source that is plugged into nothing has its row and its finding, and no line."""
    rig = small("zone z\nbox D is desk8\nsource a dynamic in z\nsource b dynamic in z")
    said = Finding(place=rig.sources["b"].place, subject="b", message="`b` is plugged into nothing", level=Level.ERROR)
    view = sheet(rig, "flow", (said,))
    block = node(view, "sources--z--")
    assert [(row.cells[0].text, [mark.number for mark in row.marks]) for row in block.rows] == [("a", []), ("b", [1])]
    assert not view.edges
