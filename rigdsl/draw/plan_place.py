"""A plan with everything in its place: to the largest scale at which cards and words find room on the sheet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from rigdsl.draw.caption import notes_size, title_size
from rigdsl.draw.curves import Point
from rigdsl.draw.paper import Page
from rigdsl.draw.patterns import LEADER
from rigdsl.draw.plan_ground import grounds
from rigdsl.draw.plan_room import Room, Spot, apart, bounds, moved, tie
from rigdsl.draw.plan_ways import led
from rigdsl.draw.shapes import Edge, End, Node, View
from rigdsl.draw.sizes import label_size, node_size
from rigdsl.rig import Rig

__all__ = ["Laid", "largest", "lists", "lists_size", "only_lists", "put", "room_for_lists"]

SCALES = (20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000)
PT_PER_M = 72 / 0.0254
SHEET = Page(420.0, 297.0, framed=False)  # A3: how large a plan is that is for no paper
TO_WORDS = "--to-words"
LOST = 20.0  # points from a line to its words
STEP = 150.0  # what one smaller has to spare, in points of distance
GAP = 18.0  # between the plan and what stands beside it or below


@dataclass(frozen=True)
class Laid:
    """Where cards and words stand at one scale, in points from the origin of the zones, y upstage."""

    view: View
    scale: int
    points: Mapping[str, Point]
    cards: Mapping[str, Point]
    edges: tuple[Edge, ...]
    box: tuple[float, float, float, float]
    paid: float

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of it all."""
        left, bottom, right, top = self.box
        return right - left, top - bottom


def largest(view: View, points: Mapping[str, Point], rig: Rig, inner: tuple[float, float] | None) -> Laid | None:
    """A view at a large scale for which there is room on a sheet; None where there is none.

    A step smaller is taken where cards and words then stand clearly better. Without a sheet the plan alone has to be
    no larger than SHEET; what stands beside it may stand out.
    """
    known = replace(view, facts=scaled(view, SCALES[-1]))  # as wide as it gets
    rooms = [_room(known, inner)] if inner else [SHEET.inner, SHEET.inner[::-1]]
    best: Laid | None = None
    spared = 0.0  # what the scales that come now have to spare
    for scale in SCALES:
        tried = (_laid(view, rig, points, scale, room) for room in rooms)
        here = [replace(laid, paid=laid.paid + spared) for laid in tried if laid is not None]
        if best is not None and best.paid <= min((laid.paid for laid in here), default=math.inf):
            break
        best = min(here, key=lambda laid: laid.paid, default=None)
        spared += STEP if best is not None else 0.0
    return best


def lists(view: View) -> list[Node]:
    """What stands beside the plan."""
    return [node for node in view.nodes if node.kind in ("list", "loose")]


def scaled(view: View, scale: int) -> tuple[str, ...]:
    """The facts of the title block with the scale."""
    what, *others = view.facts
    return (what, f"scale 1:{scale}", *others)


def _room(view: View, inner: tuple[float, float]) -> tuple[float, float]:
    """How much of the sheet is left for the plan itself: at full size, or its scale would not be true."""
    beside, high = lists_size(view)
    captions = title_size(view)[1] + notes_size(view)[1] + 5 * GAP
    return inner[0] - beside - 2 * GAP, inner[1] - captions if high <= inner[1] - captions else 0.0


def room_for_lists(view: View, inner: tuple[float, float]) -> tuple[float, float]:
    """How much of a sheet is left for lists alone."""
    return inner[0] - GAP, inner[1] - title_size(view)[1] - notes_size(view)[1] - 3 * GAP


def lists_size(view: View) -> tuple[float, float]:
    sizes = [node_size(node) for node in lists(view)]
    return sum(wide + GAP for wide, _ in sizes), max((high for _, high in sizes), default=0.0)


def _laid(view: View, rig: Rig, here: Mapping[str, Point], scale: int, sheet: tuple[float, float]) -> Laid | None:
    """Everything at one scale: first the ways, then each card where it covers least, then the words of each way.

    None where the sheet is too small.
    """
    k = PT_PER_M / scale
    points = {name: (x * k, y * k) for name, (x, y) in here.items()}
    edges = led([edge for edge in view.edges if edge.words_at == "beside"], points, rig)
    room = Room([edge.points for edge in edges], list(points.values()), sheet)
    sizes = {node.group: node_size(node) for node in view.nodes if node.kind == "zone"}
    cards: dict[str, Spot] = {}
    for name in sorted(points, key=lambda name: _order(points[name])):
        if room.full:
            return None
        cards[name] = room.beside(points[name], sizes[name])
    spots: dict[str, Spot] = {}
    for edge in (edge for edge in edges if edge.label):
        if room.full:
            return None
        spots[edge.id] = room.along(edge.points, label_size(edge))
    if room.full:
        return None
    worded = {edge.id: replace(edge, label_at=spots[edge.id][0] if edge.label else None) for edge in edges}
    for edge in view.edges:
        if edge.id not in worded:  # the leader from a point to its card
            zone = next(node.group for node in view.nodes if node.id == edge.left.node)
            worded[edge.id] = replace(edge, points=tie(cards[zone], sizes[zone])[::-1])
    all_edges = (*(worded[edge.id] for edge in view.edges), *_to_words(worded, spots))
    places = {name: spot[0] for name, spot in cards.items()}
    return Laid(view, scale, points, places, all_edges, room.all, room.paid)


def _to_words(worded: Mapping[str, Edge], spots: Mapping[str, Spot]) -> Iterator[Edge]:
    """A thin line to words that had to stand far from theirs."""
    for edge, spot in ((worded[name], spot) for name, spot in spots.items()):
        size = label_size(edge)
        if apart(spot[0], size, edge.points) > LOST:
            ends = End(f"{edge.id}--label", "", "e"), edge.left
            way = tie(spot, size)
            yield Edge(edge.id + TO_WORDS, *ends, LEADER, tip=edge.tip, forward=False, points=way)


def _order(at: Point) -> tuple[float, float]:
    """From upstage down, from the performer's right to the left."""
    return -at[1], at[0]


def put(laid: Laid) -> View:
    """The view at its scale, moved so that nothing is below or left of nought, and its lists beside it."""
    view = laid.view
    under = grounds(laid.box, PT_PER_M / laid.scale)
    left, bottom, right, top = bounds([ground.box for ground in under] + [laid.box])
    by = (-left, -bottom)
    places = {node.id: moved(_place(laid, node), by) for node in view.nodes if node.kind in ("point", "zone")}
    places |= _abreast(lists(view), (right - left + GAP, top - bottom))
    beside, high = lists_size(view)
    return replace(
        view,
        nodes=tuple(replace(node, at=places[node.id]) for node in view.nodes),
        edges=tuple(_moved(edge, by) for edge in laid.edges),
        grounds=tuple(
            replace(ground, box=(*moved(ground.box[:2], by), *moved(ground.box[2:], by))) for ground in under
        ),
        size=(right - left + beside, max(top - bottom, high)),
        facts=scaled(view, laid.scale),
    )


def _place(laid: Laid, node: Node) -> Point:
    return laid.points[node.group] if node.kind == "point" else laid.cards[node.group]


def _moved(edge: Edge, by: Point) -> Edge:
    label_at = moved(edge.label_at, by) if edge.label_at and edge.label else None
    return replace(edge, points=tuple(moved(point, by) for point in edge.points), label_at=label_at)


def _abreast(nodes: Sequence[Node], corner: Point) -> dict[str, Point]:
    """Beside each other, from a corner at the top left."""
    places, left = {}, corner[0]
    for node in nodes:
        wide, high = node_size(node)
        places[node.id] = (left + wide / 2, corner[1] - high / 2)
        left += wide + GAP
    return places


def only_lists(view: View) -> View:
    """A sheet of nothing but lists."""
    nodes = lists(view)
    wide, high = lists_size(view)
    places = _abreast(nodes, (0.0, high))
    return replace(view, nodes=tuple(replace(node, at=places[node.id]) for node in nodes), edges=(), size=(wide, high))
