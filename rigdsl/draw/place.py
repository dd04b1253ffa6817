"""A cabling drawing with everything in its place, in points with y upwards."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from rigdsl.draw.columns import Rows, columns
from rigdsl.draw.curves import Point
from rigdsl.draw.lanes import PITCH, Channel, Ground, Plan, Stretch, Way, plan
from rigdsl.draw.segments import slug
from rigdsl.draw.shapes import Edge, Group, View
from rigdsl.draw.sizes import label_size
from rigdsl.draw.spacing import STUB, Spacing, spaced, words_widths
from rigdsl.draw.stage import Grid

__all__ = ["placed"]

STREET = 14.0  # the least height of a street between two rows
FRAME = 1.0  # the thickness of a box's frame: a line ends in the field behind it
Flip = Callable[[Sequence[Point]], tuple[Point, ...]]  # from y downwards to y upwards


def placed(view: View, grid: Grid) -> View:
    """The view with all its nodes, lines and zones placed."""
    rows = columns(view.nodes, view.edges, {group.id: group.title for group in view.groups}, grid)
    room = words_widths(rows, view.edges)
    rough = spaced(rows, room, Plan(), grid.lean)
    heights = {r: rows.height(r) for r in range(len(rows.rows))}
    pins = [(edge.id, rows.pin(edge.left), rows.pin(edge.right)) for edge in view.edges]
    ways = plan(pins, Ground(heights, rows.outer(), rough.middle))
    across = spaced(rows, room, ways, grid.lean)
    crossings, counts = _crossings(ways, across)
    tops, streets, height = _down(heights, counts)
    led = {way.id: _points(way, ways, across, crossings, tops, streets) for way in ways.ways}
    width = across.width

    def up(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((x, height - y) for x, y in points)

    edges = tuple(_edge(edge, rows, across, tops, led[edge.id], up) for edge in view.edges)
    nodes = []
    for r, row in enumerate(rows.rows):
        for c, column in enumerate(row):
            for box, top in zip(column.boxes, column.tops, strict=True):
                at = (across.column[r, c] + column.width / 2, height - tops[r] - top - box.height / 2)
                nodes.append(replace(box.node, width=column.width, at=at))
    states = {group.id: group.state for group in view.groups}
    groups = tuple(replace(one, state=states.get(zone, "")) for zone, one in _groups(rows, across, tops, height))
    return replace(view, nodes=tuple(nodes), edges=edges, groups=groups, size=(width, height))


def _lane(stretch: Stretch, ways: Plan, across: Spacing) -> float:
    return across.lane[stretch.channel, stretch.slot] + ways.lanes[stretch] * PITCH


def _crossings(ways: Plan, across: Spacing) -> tuple[dict[tuple[str, int], int], dict[int, int]]:
    """For each line and each street that it takes its lane there, and how many lanes each street has."""
    wanted: dict[int, list[tuple[float, float, str, int]]] = {}
    for way in ways.ways:
        for index, street in enumerate(way.streets):
            a, b = (_lane(stretch, ways, across) for stretch in way.stretches[index : index + 2])
            wanted.setdefault(street, []).append((min(a, b), max(a, b), way.id, index))
    lanes: dict[tuple[str, int], int] = {}
    counts: dict[int, int] = {}
    for street, pieces in wanted.items():
        ends: list[float] = []
        for left, right, name, index in sorted(pieces):
            lane = next((k for k, end in enumerate(ends) if end + PITCH < left), len(ends))
            ends[lane : lane + 1] = [right]
            lanes[name, index] = lane
        counts[street] = len(ends)
    return lanes, counts


def _down(heights: dict[int, float], counts: dict[int, int]) -> tuple[list[float], list[float], float]:
    """The y of each row's top and of each street's first lane, and the height of it all."""
    y, tops, streets = 0.0, [], []
    for row in range(len(heights) + 1):
        streets.append(y + STREET)
        y += 2 * STREET + max(counts.get(row, 0) - 1, 0) * PITCH if counts.get(row) or 0 < row < len(heights) else 0.0
        if row < len(heights):
            tops.append(y)
            y += heights[row]
    return tops, streets, y


def _points(
    way: Way,
    ways: Plan,
    across: Spacing,
    crossings: dict[tuple[str, int], int],
    tops: list[float],
    streets: list[float],
) -> list[Point]:
    """The corners of a line between the two channels' first lanes; its ends at the sockets are added by `_edge`."""
    points: list[Point] = []
    at = tops[way.start.channel.row] + way.start.y
    for index, stretch in enumerate(way.stretches):
        x = _lane(stretch, ways, across)
        points.append((x, at))
        if index < len(way.streets):
            at = streets[way.streets[index]] + crossings[way.id, index] * PITCH
        else:
            at = tops[way.end.channel.row] + way.end.y
        points.append((x, at))
    return points


def _edge(edge: Edge, rows: Rows, across: Spacing, tops: list[float], led: list[Point], up: Flip) -> Edge:
    """A line with its ends at its sockets, and its words just beside one of them."""
    ends = []
    for end in (edge.left, edge.right):
        r, c, y = rows.sockets[end.node, end.key]
        x = across.column[r, c] + (rows.rows[r][c].width - FRAME if end.side == "e" else FRAME)
        ends.append((x, tops[r] + y))
    points = up([ends[0], *led, ends[1]])
    if not edge.label and not edge.marks:
        return replace(edge, points=points)
    from_left = edge.words_at == "left"
    x, y = points[0] if from_left else points[-1]
    side = (edge.left if from_left else edge.right).side
    away = STUB + label_size(edge)[0] / 2
    return replace(edge, points=points, label_at=(x + (away if side == "e" else -away), y))


def _groups(rows: Rows, across: Spacing, tops: list[float], height: float) -> list[tuple[str, Group]]:
    """Each zone by its name with its frame."""
    groups = []
    for r, row in enumerate(rows.rows):
        for zone in dict.fromkeys(column.zone for column in row):
            inside = [c for c, column in enumerate(row) if column.zone == zone]
            left = across.frame[Channel(r, inside[0]), "right"]
            right = across.frame[Channel(r, inside[-1] + 1), "left"]
            box = (left, height - tops[r] - rows.zone_height(r, zone), right, height - tops[r])
            groups.append((zone, Group(slug("zone", zone), "\n".join(rows.titles[zone]), box=box)))
    return groups
