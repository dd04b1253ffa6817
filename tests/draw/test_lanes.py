"""Lines of a cabling drawing, led through any rig: they cross, but none lies on another, and no box is in the way."""

from __future__ import annotations

from itertools import combinations, pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.draw import View
from rigdsl.draw.curves import corners
from rigdsl.draw.sizes import label_size, node_size
from tests.draw.made import sheet, small

Box = tuple[float, float, float, float]
Piece = tuple[str, float, float, float, float]


@st.composite
def rigs(draw: st.DrawFn) -> str:
    """Boxes strewn over zones, and cables between any two of them."""
    zones = draw(st.lists(st.tuples(st.integers(-12, 12), st.integers(-30, 12)), min_size=1, max_size=5))
    kinds = draw(st.lists(st.sampled_from(["nw16", "desk32", "sub8", "panel4", "amp2"]), min_size=2, max_size=9))
    lines = [f"zone z{index} at ({x}, {y}) m" for index, (x, y) in enumerate(zones)]
    free: dict[str, list[str]] = {"in": [], "out": [], "digital": []}
    sockets = {
        "nw16": (["mic 1-2", "mic 3-4"], ["line 1-2", "line 3-4"], ["A", "B"]),
        "desk32": (["local 1-2", "local 3-4"], ["out 1-2", "out 3-4"], ["stage 1", "stage 2"]),
        "sub8": (["panel 1-2", "panel 3-4"], ["tail 1-2", "tail 3-4"], []),
        "panel4": ([], [], ["front 1", "rear 1", "front 2", "rear 2"]),
        "amp2": (["in 1-2"], ["out 1-2"], []),
    }
    for index, kind in enumerate(kinds):
        zone = draw(st.integers(0, len(zones) - 1))
        lines.append(f"box B{index} is {kind} in z{zone}")
        for role, groups in zip(("in", "out", "digital"), sockets[kind], strict=True):
            free[role] += [f"B{index}.{group}" for group in groups]
    ins, outs = draw(st.permutations(free["in"])), draw(st.permutations(free["out"]))
    lines += [f"link L{n}: {out} -- {into} via xlr 5 m" for n, (out, into) in enumerate(zip(outs, ins, strict=False))]
    ends = draw(st.permutations(free["digital"]))
    lines += [f"link C{n}: {a} -- {b} via c6 5 m" for n, (a, b) in enumerate(zip(ends[::2], ends[1::2], strict=False))]
    lines += [
        f"source s{n} dynamic in z{n % len(zones)} to {into.split('-')[0]} via xlr 3 m"
        for n, into in enumerate(ins[-2:])
    ]
    return "\n".join(lines)


@settings(max_examples=60, deadline=None)
@given(rigs())
def test_any_rig(text: str) -> None:
    """No box on a box, no line on a line or through a box, no word under a line."""
    view = sheet(small(text), "cabling")
    boxes, labels = boxes_of(view), labels_of(view)
    pieces = pieces_of(view)
    assert not [pair for pair in combinations((boxes | labels).items(), 2) if _share(pair[0][1], pair[1][1])]
    assert not [pair for pair in combinations(pieces, 2) if pair[0][0] != pair[1][0] and _lie_on(*pair)]
    for edge in view.edges:
        for name, area in (boxes | labels).items():
            if name not in (edge.left.node, edge.right.node, edge.id):
                assert not [piece for piece in pieces if piece[0] == edge.id and _through(piece, area)], (edge.id, name)


def boxes_of(view: View) -> dict[str, Box]:
    """The boxes of the sheet: left, bottom, right, top."""
    return {node.id: _around(node.at, node_size(node)) for node in view.nodes if node.at}


def labels_of(view: View) -> dict[str, Box]:
    """The words beside lines."""
    return {edge.id: _around(edge.label_at, label_size(edge)) for edge in view.edges if edge.label_at}


def _around(at: tuple[float, float], size: tuple[float, float]) -> Box:
    return at[0] - size[0] / 2, at[1] - size[1] / 2, at[0] + size[0] / 2, at[1] + size[1] / 2


def pieces_of(view: View) -> list[Piece]:
    """Every straight of every line."""
    return [(edge.id, *a, *b) for edge in view.edges for a, b in pairwise(corners(edge.points))]


def _share(one: Box, other: Box) -> bool:
    return all(min(one[k + 2], other[k + 2]) - max(one[k], other[k]) > 0.1 for k in (0, 1))


def _lie_on(one: Piece, other: Piece) -> bool:
    """Both run the same way, nearer than 3 points, beside each other for more than a point."""
    first, second = one[1:], other[1:]
    for along, across in ((0, 1), (1, 0)):
        if (
            first[across] == first[across + 2]
            and second[across] == second[across + 2]
            and abs(first[across] - second[across]) < 3
        ):
            low = max(min(first[along], first[along + 2]), min(second[along], second[along + 2]))
            high = min(max(first[along], first[along + 2]), max(second[along], second[along + 2]))
            return high - low > 1
    return False


def _through(piece: Piece, area: Box) -> bool:
    left, right = sorted((piece[1], piece[3]))
    bottom, top = sorted((piece[2], piece[4]))
    return min(right, area[2]) - max(left, area[0]) > -0.1 and min(top, area[3]) - max(bottom, area[1]) > -0.1
