"""A plan with everything in its place: to the largest scale at which cards and words find room on the sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from rigdsl.draw.caption import notes_size, title_size
from rigdsl.draw.curves import Point
from rigdsl.draw.paper import Page
from rigdsl.draw.plan import shortened
from rigdsl.draw.plan_ground import grounds
from rigdsl.draw.plan_room import Room, bounds, moved, nearest
from rigdsl.draw.plan_ways import led
from rigdsl.draw.shapes import Edge, Node, View
from rigdsl.draw.sizes import label_size, node_size
from rigdsl.rig import Rig

__all__ = ["laid_down"]

SCALES = (20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000)
PT_PER_M = 72 / 0.0254
SHEET = Page(420.0, 297.0, framed=False)  # A3: how large a plan is that is for no paper
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

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of it all."""
        left, bottom, right, top = self.box
        return right - left, top - bottom


def laid_down(view: View, rig: Rig) -> View:
    """The view with all its cards, points, lines and words placed, and what lies under them.

    Of the ways to write it, words at the lines or in a list, the one that has room at the larger scale.
    """
    here = {node.group: rig.zones[node.group].position_m for node in view.nodes if node.kind == "point"}
    points = {name: (at[0], at[1]) for name, at in here.items() if at is not None}
    if not points:
        return _only_lists(view)
    sheets = [view.page.inner] if view.page and view.page.framed else [SHEET.inner, SHEET.inner[::-1]]
    ways = [(one, inner) for one in (view, shortened(view, rig)) for inner in sheets]
    best = min((_largest(one, rig, points, inner) for one, inner in ways), key=lambda laid: laid.scale)
    return _put(best)


def _largest(view: View, rig: Rig, points: Mapping[str, Point], inner: tuple[float, float]) -> Laid:
    """At the largest scale for which there is room on a sheet, else at the smallest there is."""
    room = _room(replace(view, facts=_facts(view, SCALES[-1])), inner)
    laid = (_laid(view, rig, points, scale) for scale in SCALES)
    return next((one for one in laid if _fits(one, room)), None) or _laid(view, rig, points, SCALES[-1])


def _lists(view: View) -> list[Node]:
    """What stands beside the plan."""
    return [node for node in view.nodes if node.kind in ("list", "loose")]


def _facts(view: View, scale: int) -> tuple[str, ...]:
    what, *others = view.facts
    return (what, f"scale 1:{scale}", *others)


def _room(view: View, inner: tuple[float, float]) -> tuple[float, float]:
    """How much of the sheet is left for the plan itself: at full size, or its scale would not be true."""
    beside, high = _lists_size(view)
    captions = title_size(view)[1] + notes_size(view)[1] + 4 * GAP
    return inner[0] - beside - 2 * GAP, inner[1] - captions if high <= inner[1] - captions else 0.0


def _lists_size(view: View) -> tuple[float, float]:
    sizes = [node_size(node) for node in _lists(view)]
    return max((wide + GAP for wide, _ in sizes), default=0.0), sum(high + GAP for _, high in sizes)


def _fits(laid: Laid, room: tuple[float, float]) -> bool:
    return laid.size[0] <= room[0] and laid.size[1] <= room[1]


def _laid(view: View, rig: Rig, here: Mapping[str, Point], scale: int) -> Laid:
    """Everything at one scale: first the ways, then each card where it covers least, then the words of each way."""
    k = PT_PER_M / scale
    points = {name: (x * k, y * k) for name, (x, y) in here.items()}
    edges = led([edge for edge in view.edges if edge.words_at == "beside"], points, rig)
    room = Room([edge.points for edge in edges], list(points.values()))
    sizes = {node.group: node_size(node) for node in view.nodes if node.kind == "zone"}
    cards = {name: room.beside(points[name], sizes[name]) for name in sorted(points, key=lambda n: _order(points[n]))}
    worded = {edge.id: replace(edge, label_at=room.along(edge.points, label_size(edge))) for edge in edges}
    for edge in view.edges:
        if edge.id not in worded:  # the leader from a point to its card
            zone = next(node.group for node in view.nodes if node.id == edge.left.node)
            end = nearest(points[zone], cards[zone], sizes[zone])
            worded[edge.id] = replace(edge, points=(points[zone], end))
    boxes = [*room.taken, *((x, y, x, y) for edge in edges for x, y in edge.points)]
    return Laid(view, scale, points, cards, tuple(worded[edge.id] for edge in view.edges), bounds(boxes))


def _order(at: Point) -> tuple[float, float]:
    """From upstage down, from the performer's right to the left."""
    return -at[1], at[0]


def _put(laid: Laid) -> View:
    """The view at its scale, moved so that nothing is below or left of nought, and its lists beside it."""
    view = laid.view
    under = grounds(laid.box, PT_PER_M / laid.scale)
    left, bottom, right, top = bounds([ground.box for ground in under] + [laid.box])
    by = (-left, -bottom)
    places = {node.id: moved(_place(laid, node), by) for node in view.nodes if node.kind in ("point", "zone")}
    places |= _stacked(_lists(view), (right - left + GAP, top - bottom))
    beside, high = _lists_size(view)
    return replace(
        view,
        nodes=tuple(replace(node, at=places[node.id]) for node in view.nodes),
        edges=tuple(_moved(edge, by) for edge in laid.edges),
        grounds=tuple(
            replace(ground, box=(*moved(ground.box[:2], by), *moved(ground.box[2:], by))) for ground in under
        ),
        size=(right - left + beside, max(top - bottom, high)),
        facts=_facts(view, laid.scale),
    )


def _place(laid: Laid, node: Node) -> Point:
    return laid.points[node.group] if node.kind == "point" else laid.cards[node.group]


def _moved(edge: Edge, by: Point) -> Edge:
    label_at = moved(edge.label_at, by) if edge.label_at and edge.label else None
    return replace(edge, points=tuple(moved(point, by) for point in edge.points), label_at=label_at)


def _stacked(nodes: Sequence[Node], corner: Point) -> dict[str, Point]:
    """Below each other, from a corner at the top left."""
    places, top = {}, corner[1]
    for node in nodes:
        wide, high = node_size(node)
        places[node.id] = (corner[0] + wide / 2, top - high / 2)
        top -= high + GAP
    return places


def _only_lists(view: View) -> View:
    """A rig without any position: the list of its zones says how to mend that."""
    nodes = _lists(view)
    wide, high = _lists_size(view)
    places = _stacked(nodes, (0.0, high))
    return replace(view, nodes=tuple(replace(node, at=places[node.id]) for node in nodes), edges=(), size=(wide, high))
