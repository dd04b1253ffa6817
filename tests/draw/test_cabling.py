"""The cabling view: every box once in its zone, every cable once."""

from __future__ import annotations

import pytest

from rigdsl.draw import View
from tests.draw.made import SHAPES, example, sheet, small


def cables(view: View) -> list[str]:
    """Each line as its words and pattern, in the view's order."""
    return [f"{' '.join(edge.label)} ({edge.pattern.name})" for edge in view.edges]


def rows(view: View, name: str) -> list[str]:
    """The rows of a node."""
    node = next(node for node in view.nodes if node.id == name)
    return [" | ".join(cell.text for cell in row.cells) for row in node.rows]


# What lies there, and every cable of the sheet.
CABLES = [
    (
        "single lines are as many cables as sockets, a loom is one",
        "box S is nw16\nbox P is sub8\nbox A is amp2\n"
        "link L1: P.tail 1-8 -- S.mic 1-8 via loom8 9 m\nlink X1: S.line 1-2 -- A.in 1-2 via xlr 5 m",
        ["L1 loom8 9 m (loom)", "X1 2 x xlr 5 m (loom)"],
    ),
    (
        "a multicore with returns is one cable",
        "box M is head\nbox D is desk8\n"
        "link X1 via loom8 30 m { M.tail 1-6 -- D.local 1-6; D.out 1-2 -- M.return 1-2 }",
        ["X1 loom8 30 m (loom)"],
    ),
    (
        "two links of one loom are one line",
        "box S is nw16\nbox T is nw16\n"
        "link X1: S.line 1 -- T.mic 1 via xlr 9 m { loom T1 }\nlink X2: S.line 2 -- T.mic 2 via xlr 9 m { loom T1 }",
        ["X1, X2 xlr 9 m, loom T1 (loom)"],
    ),
    (
        "sources and outputs in bunches, with the shortest and the longest",
        "box S is nw16\nsource a dynamic to S.mic 1 via xlr 3 m\nsource b dynamic to S.mic 2 via xlr 6 m\n"
        "output w wedge from S.line 1 via xlr 10 m",
        ["xlr 10 m (line)", "2 x xlr 3 to 6 m (loom)"],
    ),
    (
        "radio and tracks of a computer need no cable",
        "box R is rx2\nbox C is rec\nsource a wireless to R 1\nsource b playback to C.play 1",
        [],
    ),
    (
        "control data, a redundant pair, loudspeakers",
        "box C is core\nbox F is faders\nbox D is desk32\nbox S is larchbox\nbox A is amp2\nbox T is box12\n"
        "link K1: F.up -- C.ctl via c6 9 m\nlink P1: S.pri -- D.pri via c6 9 m\nlink P2: S.sec -- D.sec via c6 9 m\n"
        "link S1: A.out 1 -- T.in via ls 5 m",
        ["K1 c6 9 m (control)", "P1 c6 9 m (digital)", "P2 c6 9 m (spare)", "S1 ls 5 m (speaker)"],
    ),
    (
        "nobody has measured it yet",
        "box S is nw16\nbox D is desk32\nlink C1: S.A -- D.stage 1 via c6",
        ["C1 c6 length to be measured (digital)"],
    ),
]


@pytest.mark.parametrize(("text", "expected"), [pytest.param(text, want, id=name) for name, text, want in CABLES])
def test_cables(text: str, expected: list[str]) -> None:
    """These cables, and no others."""
    rig = small(text)
    assert not rig.findings
    assert cables(sheet(rig, "cabling")) == expected


PANELS = """
zone stage at (0, 0) m
zone foh at (0, -20) m
box D is desk32 in foh
box P is panel4 in stage
box Q is panel4 in foh
box S is nw16 in stage
link C1: S.A -- P.front 1 via c6 3 m
link C2: P.rear 1 -- Q.rear 1 via c6 40 m
link C3: Q.front 1 -- D.stage 1 via c6 3 m
"""


def test_a_panel_shows_what_is_behind_it() -> None:
    """Each socket of a panel says where a signal ends that goes in there."""
    view = sheet(small(PANELS), "cabling")
    free = ["rear 2-4 free", "front 2-4 free"]
    assert rows(view, "box--P") == ["rear 1\nbehind: S.A", "front 1\nbehind: D.stage 1", *free]
    assert rows(view, "box--Q") == ["rear 1\nbehind: D.stage 1", "front 1\nbehind: S.A", *free]


def test_the_length_of_a_run_stands_at_its_end() -> None:
    """At the desk: what the pieces add up to."""
    assert rows(sheet(small(PANELS), "cabling"), "box--D")[0] == "stage 1\nC1+C2+C3: 46 m in all"


def test_inputs_are_on_the_left_and_outputs_on_the_right() -> None:
    """Sound comes in on one side of a box and leaves on the other."""
    view = sheet(small("box S is nw16\nbox P is sub8\nlink L1: P.tail 1-8 -- S.mic 1-8 via loom8 9 m"), "cabling")
    (edge,) = view.edges
    assert {(edge.left.node, edge.left.side), (edge.right.node, edge.right.side)} == {("box--P", "e"), ("box--S", "w")}


def test_zones_lie_as_on_the_stage() -> None:
    """The audience is at the bottom, so the performer's left is on the right."""
    rig = small(
        """
        zone riser at (0, 5) m
        zone left at (6, 1) m
        zone right at (-6, 1) m
        zone foh at (0, -25) m
        box B1 is sub8 in riser
        box B2 is sub8 in left
        box B3 is sub8 in right
        box B4 is desk8 in foh
        """
    )
    boxes = {group.id: group.box for group in sheet(rig, "cabling").groups if group.box}
    assert boxes["zone--riser"][1] > boxes["zone--left"][3]  # higher up
    assert boxes["zone--left"][1] == pytest.approx(boxes["zone--right"][1])
    assert boxes["zone--right"][2] < boxes["zone--left"][0]
    assert boxes["zone--foh"][3] < boxes["zone--left"][1]


@pytest.mark.parametrize("name", SHAPES)
def test_every_box_and_every_link_of_an_example_once(name: str) -> None:
    """No box is missing or there twice, and no cable."""
    rig = example(name)
    view = sheet(rig, "cabling")
    assert sorted(node.title for node in view.nodes if node.kind.startswith("box ")) == sorted(rig.boxes)
    drawn = [link for edge in view.edges for link in rig.links if link in edge.about]
    assert sorted(drawn) == sorted(rig.links)
