"""Columns of boxes in rows of zones, and how far down and across each of them stands. Points; y grows downwards."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from rigdsl.draw.lanes import PITCH, Channel, Pin, Plan
from rigdsl.draw.measure import wrapped
from rigdsl.draw.shapes import Edge, End, Node
from rigdsl.draw.stage import Grid
from rigdsl.draw.tables import label_size, node_size, row_middles

__all__ = ["BORDER", "Column", "Rows", "Spacing", "columns", "spaced"]

GAP = 18.0  # between two boxes of a column
TITLE_LINE = 13.0  # of a zone's name
HEAD = 12.0  # above a column, beside the name
FOOT = 12.0
BORDER = 9.0  # of air on either side of a zone's frame
STUB = 9.0  # a line's length before its words, and after them


@dataclass(frozen=True)
class Column:
    """Boxes of one zone that stand above each other, all as wide as the widest. `tops` are below the row's top."""

    zone: str
    nodes: tuple[Node, ...]
    width: float
    tops: tuple[float, ...]
    height: float


@dataclass(frozen=True)
class Rows:
    """The rows of columns, with where each node is among them, and the lines of each zone's name."""

    rows: tuple[tuple[Column, ...], ...]
    titles: Mapping[str, tuple[str, ...]]
    places: Mapping[str, tuple[int, int, int]]

    def height(self, row: int) -> float:
        """How high a row is."""
        return max((column.height for column in self.rows[row]), default=0.0) + FOOT

    def is_outer(self, channel: Channel) -> bool:
        """A channel between two zones, or at the end of a row."""
        row = self.rows[channel.row]
        return channel.index in (0, len(row)) or row[channel.index - 1].zone != row[channel.index].zone

    def outer(self) -> dict[int, list[int]]:
        """The outer channels of each row."""
        return {r: [i for i in range(len(row) + 1) if self.is_outer(Channel(r, i))] for r, row in enumerate(self.rows)}

    def pin(self, end: End) -> Pin:
        """Where a line's end is."""
        r, c, n = self.places[end.node]
        column = self.rows[r][c]
        node = column.nodes[n]
        row = next(i for i, one in enumerate(node.rows) if any(cell.key == end.key for cell in one.cells))
        y = column.tops[n] + row_middles(node)[row]
        # a socket on the east side of its box is at the left edge of the channel to the east of it
        return Pin(Channel(r, c + (end.side == "e")), y, "left" if end.side == "e" else "right", column.zone)


def columns(nodes: Sequence[Node], names: Mapping[str, str], grid: Grid) -> Rows:
    """Stack the nodes: in each zone first what is plugged in, then the boxes, then what is plugged out.

    `names` are what the zones are called on the sheet.
    """
    by_zone: dict[str, list[Node]] = {}
    for node in nodes:
        by_zone.setdefault(node.group, []).append(node)
    titles: dict[str, tuple[str, ...]] = {}
    rows = []
    for zones in grid.rows:
        row: list[Column] = []
        for zone in zones:
            row += _zone(zone, names.get(zone, zone), by_zone.get(zone, []), titles)
        rows.append(tuple(row))
    places = {
        node.id: (r, c, n)
        for r, row in enumerate(rows)
        for c, column in enumerate(row)
        for n, node in enumerate(column.nodes)
    }
    return Rows(tuple(rows), titles, places)


def _zone(zone: str, name: str, nodes: list[Node], titles: dict[str, tuple[str, ...]]) -> list[Column]:
    stacks = [[node for node in nodes if _is(node, kind)] for kind in ("sources", "box", "outputs")]
    stacks = [stack for stack in stacks if stack]
    wide = sum(max(node_size(node)[0] for node in stack) for stack in stacks)
    titles[zone] = tuple(wrapped(name, wide + 30, bold=True))
    top = HEAD + TITLE_LINE * len(titles[zone])
    return [_column(zone, stack, top) for stack in stacks]


def _is(node: Node, kind: str) -> bool:
    return node.kind.split()[0] == kind


def _column(zone: str, nodes: list[Node], top: float) -> Column:
    width = max(node_size(node)[0] for node in nodes)
    tops = []
    for node in nodes:
        tops.append(top)
        top += node_size(node)[1] + GAP
    return Column(zone, tuple(replace(node, width=width) for node in nodes), width, tuple(tops), top - GAP)


@dataclass
class Spacing:
    """Across: the x of each column, of each bundle's first lane and of each frame; `width` is of the widest row."""

    column: dict[tuple[int, int], float] = field(default_factory=dict)
    lane: dict[tuple[Channel, str], float] = field(default_factory=dict)
    frame: dict[tuple[Channel, str], float] = field(default_factory=dict)
    width: float = 0.0

    def middle(self, channel: Channel) -> float:
        """About where a channel is."""
        return self.lane[channel, "main"]


def words_widths(rows: Rows, edges: Iterable[Edge]) -> dict[tuple[Channel, str], float]:
    """How much room a channel needs at either edge for words beside sockets."""
    room: dict[tuple[Channel, str], float] = {}
    for edge in edges:
        for end, at in ((edge.left, "left"), (edge.right, "right")):
            pin = rows.pin(end)
            need = STUB + (label_size(edge)[0] + STUB if edge.words_at == at else 0.0)
            room[pin.channel, pin.edge] = max(room.get((pin.channel, pin.edge), 0.0), need)
    return room


def spaced(rows: Rows, room: Mapping[tuple[Channel, str], float], plan: Plan, lean: Sequence[float]) -> Spacing:
    """Give every channel the width that its words and lanes need; then push each row to its side of the sheet."""
    made = Spacing()
    ends = []
    for r, row in enumerate(rows.rows):
        x = 0.0
        for c in range(len(row) + 1):
            x = _channel(made, rows, Channel(r, c), room, plan, x)
            if c < len(row):
                made.column[r, c] = x
                x += row[c].width
        ends.append(x)
    made.width = max(ends, default=0.0)
    for r, (end, share) in enumerate(zip(ends, lean, strict=True)):
        _push(made, r, (made.width - end) * share // PITCH * PITCH)
    return made


def _channel(
    made: Spacing, rows: Rows, channel: Channel, room: Mapping[tuple[Channel, str], float], plan: Plan, x: float
) -> float:
    """One channel from left to right: words, inner lanes, frame, lanes, frame, inner lanes, words."""
    outer = rows.is_outer(channel)
    last = len(rows.rows[channel.row])
    x += room.get((channel, "left"), STUB) if channel.index > 0 else 0.0
    x = _bundle(made, channel, "left", plan, x)
    if outer and channel.index > 0:
        made.frame[channel, "left"] = x + BORDER
        x += 2 * BORDER
    x = _bundle(made, channel, "main", plan, x)
    if outer and channel.index < last:
        made.frame[channel, "right"] = x + BORDER
        x += 2 * BORDER
    x = _bundle(made, channel, "right", plan, x)
    return x + (room.get((channel, "right"), STUB) if channel.index < last else 0.0)


def _bundle(made: Spacing, channel: Channel, slot: str, plan: Plan, x: float) -> float:
    """Lanes stand on a lattice, that of every other row half a step aside: no two of neighbouring rows are in line."""
    aside = PITCH / 2 if channel.row % 2 else 0.0
    first = -(-(x - aside) // PITCH) * PITCH + aside
    made.lane[channel, slot] = first
    count = plan.widths.get((channel, slot), 0)
    return first + (count - 1) * PITCH if count else x


def _push(made: Spacing, row: int, by: float) -> None:
    for column in [key for key in made.column if key[0] == row]:
        made.column[column] += by
    for places in (made.lane, made.frame):
        for key in [key for key in places if key[0].row == row]:
            places[key] += by
