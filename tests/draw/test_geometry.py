"""Finished drawings read back: nothing overlaps, lines end in their sockets, words stand clear."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from itertools import combinations

import pytest

from rigdsl.draw import View, Wanted, draw
from rigdsl.draw.picture import Plates, laid_out
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from tests.draw import geometry
from tests.draw.geometry import Sheet
from tests.draw.made import SHAPES, example, findings, sheet, small, svg

ENGINES = [
    "embedded",
    pytest.param("system", marks=pytest.mark.skipif(shutil.which("dot") is None, reason="no `dot` is installed here")),
]

# Shapes that no sensible show has: everything joined to everything, to itself, to nothing.
ODD = {
    "nothing": "",
    "only zones": "zone a\nzone b",
    "boxes without a cable": "box D is desk32\nbox S is nw16\nbox P is panel4",
    "a box into itself": """
        box S is nw16
        box P is sub8
        link C1: S.A -- S.B via c6 3 m
        link L1: S.line 1-4 -- S.mic 1-4 via xlr 2 m
        link L2: P.tail 1-2 -- P.panel 3-4 via xlr 2 m
        link L3: S.line 5 -- S.A via xlr 2 m
        source a dynamic to P 1
        output o wedge from S.line 1
        """,
    "desks in a circle": """
        box D1 is desk32
        box D2 is desk32
        box W is switch8
        link C1: D1.pri -- W.port 1 via c6 3 m
        link C2: D2.pri -- W.port 2 via c6 3 m
        link C3: D1.stage 1 -- D2.stage 1 via c6 3 m
        link A1: D1.out 1 -- D2.local 1 via xlr 3 m
        link A2: D2.out 1 -- D1.local 1 via xlr 3 m
        patch D1.mix 1-4 -> D2.ch 1-4
        patch D2.mix 1-4 -> D1.ch 1-4
        """,
    "two plugs in one socket": """
        box S is nw16
        box P is sub8
        link L1: P.tail 1-4 -- S.mic 1-4 via loom8 5 m
        link L2: P.tail 1-4 -- S.mic 1-4 via loom8 5 m
        source a dynamic to S.mic 1
        source b dynamic to S.mic 1
        """,
    "one row of many zones": "\n".join(
        f"zone z{n} at ({n}, 0) m\nbox B{n} is nw16 in z{n}\n"
        f"link X{n}: B{n}.line 1-2 -- B{(n + 3) % 9}.mic 3-4 via xlr 5 m"
        for n in range(9)
    ),
    "a splitter with more ends than inputs": """
        box P is split4
        box S is nw16
        link L1: P.direct 1,3 -- S.mic 1,5 via xlr 2 m
        link L2: P.iso 2,4 -- S.mic 9,12 via xlr 2 m
        """,
}


RIGS = [pytest.param(example, name, id=name) for name in SHAPES] + [
    pytest.param(small, text, id=name) for name, text in ODD.items()
]


@pytest.mark.parametrize("engine", ENGINES)
@pytest.mark.parametrize("which", ["flow", "cabling"])
@pytest.mark.parametrize(("make", "name"), RIGS)
def test_nothing_overlaps_and_lines_end_in_their_sockets(
    make: Callable[[str], Rig], name: str, which: str, engine: str
) -> None:
    """Read back from the SVG, in both views and with both engines."""
    rig = make(name)
    said = findings(rig)
    view, drawn = sheet(rig, which, said), geometry.read(svg(rig, which, said, engine))
    assert list(overlaps(drawn)) == []
    assert list(loose_ends(view, drawn)) == []
    if engine == "embedded":  # an engine with fonts of its own may take words to be wider than we do
        assert list(struck_through(view, drawn)) == []


@pytest.mark.parametrize("paper", ["a4", "a3", "letter"])
@pytest.mark.parametrize("which", ["flow", "cabling"])
@pytest.mark.parametrize("name", SHAPES)
def test_every_sheet_on_paper_is_as_right(name: str, which: str, paper: str) -> None:
    """Marks where lines go on are nodes like any other, and a box that was cut keeps its lines in their rows."""
    rig = example(name)
    wanted = Wanted(which, paper=paper)
    pages = laid_out(rig, Paths(rig), findings(rig), wanted, Plates())
    for view, data in zip(pages, draw(rig, Paths(rig), findings(rig), wanted, "svg"), strict=True):
        drawn = geometry.read(data)
        assert list(overlaps(drawn)) == []
        assert list(loose_ends(view, drawn)) == []
        assert list(struck_through(view, drawn)) == []


def overlaps(drawn: Sheet) -> Iterator[tuple[str, str]]:
    """Boxes, words and captions that share ground."""
    areas = {**drawn.nodes, **drawn.labels, **drawn.captions}
    for one, other in combinations(areas, 2):
        if geometry.overlap(areas[one], areas[other]):
            yield one, other


def ids(edge_id: str, drawn: Sheet) -> tuple[str, str]:
    """The parts of a line: one, or the two on either side of its words."""
    return (edge_id, edge_id) if edge_id in drawn.edges else (f"{edge_id}--from", f"{edge_id}--to")


def loose_ends(view: View, drawn: Sheet) -> Iterator[tuple[str, str]]:
    """Lines that do not end in the field of their socket."""
    for edge in view.edges:
        first, last = ids(edge.id, drawn)
        for end, point in ((edge.left, drawn.edges[first][0]), (edge.right, drawn.edges[last][-1])):
            if not geometry.inside(point, drawn.sockets[f"{end.node}--{end.key}"]):
                yield edge.id, f"{end.node} {end.key}"


def struck_through(view: View, drawn: Sheet) -> Iterator[tuple[str, str]]:
    """Words and boxes that a line runs through."""
    for edge in view.edges:
        for part in set(ids(edge.id, drawn)):
            for name, area in {**drawn.nodes, **drawn.labels}.items():
                own = name in (edge.left.node, edge.right.node)
                if any(True for _ in geometry.crossings(drawn.edges[part], area, 2.5 if own else 1.0)):
                    yield part, name
