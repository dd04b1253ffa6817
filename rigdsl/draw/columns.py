"""Columns of boxes in rows of zones, and how far down its row each of them stands. Points; y grows downwards."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from rigdsl.draw.lanes import Channel, Pin
from rigdsl.draw.measure import wrapped
from rigdsl.draw.shapes import Edge, End, Node
from rigdsl.draw.sizes import node_size, row_middles
from rigdsl.draw.stage import COLUMNS, Grid, column_of

__all__ = ["Column", "Rows", "Stood", "columns"]

FIRST, LAST = 0, len(COLUMNS) - 1
MOST_LOWERED = 40.0  # that boxes stand lower so that what is plugged into them can stand level
ELSEWHERE = 108.0  # how far down a plug stands whose socket is in another zone
GAP = 18.0  # between two boxes of a column
TITLE_LINE = 13.0  # of a zone's name
HEAD = 12.0  # above a column, beside the name
FOOT = 12.0


@dataclass(frozen=True)
class Stood:
    """A node that has been measured. `sockets` says how far below its top each field is that a line may end in."""

    node: Node
    width: float
    height: float
    sockets: Mapping[str, float]


@dataclass(frozen=True)
class Column:
    """Boxes of one zone that stand above each other, all as wide as the widest. `tops` are below the row's top."""

    zone: str
    boxes: tuple[Stood, ...]
    width: float
    tops: tuple[float, ...]

    @property
    def height(self) -> float:
        """How far down its row the column reaches."""
        return self.tops[-1] + self.boxes[-1].height


@dataclass(frozen=True)
class Rows:
    """The rows of columns, the lines of each zone's name, and where a line's end is, by its node and field."""

    rows: tuple[tuple[Column, ...], ...]
    titles: Mapping[str, tuple[str, ...]]
    sockets: Mapping[tuple[str, str], tuple[int, int, float]]

    def height(self, row: int) -> float:
        """How high a row is."""
        return max((column.height for column in self.rows[row]), default=0.0) + FOOT

    def zone_height(self, row: int, zone: str) -> float:
        """How high a zone's frame is."""
        return max(column.height for column in self.rows[row] if column.zone == zone) + FOOT

    def is_outer(self, channel: Channel) -> bool:
        """A channel between two zones, or at the end of a row."""
        row = self.rows[channel.row]
        return channel.column in (0, len(row)) or row[channel.column - 1].zone != row[channel.column].zone

    def outer(self) -> dict[int, list[int]]:
        """The outer channels of each row."""
        return {r: [i for i in range(len(row) + 1) if self.is_outer(Channel(r, i))] for r, row in enumerate(self.rows)}

    def pin(self, end: End) -> Pin:
        """Where a line's end is: a socket on the east side of its box is at the left edge of the channel there."""
        r, c, y = self.sockets[end.node, end.key]
        east = end.side == "e"
        return Pin(Channel(r, c + east), y, "left" if east else "right")


def columns(nodes: Sequence[Node], edges: Iterable[Edge], names: Mapping[str, str], grid: Grid) -> Rows:
    """Stack the nodes: in each zone first what is plugged in, then the boxes, then what is plugged out.

    `names` are what the zones are called on the sheet.
    """
    by_zone: dict[str, list[Stood]] = {}
    for node in nodes:
        by_zone.setdefault(node.group, []).append(_measured(node))
    pairs = [pair for edge in edges for pair in ((edge.left, edge.right), (edge.right, edge.left))]
    partners = {mine.node: other for mine, other in pairs}
    titles: dict[str, tuple[str, ...]] = {}
    rows = []
    for zones in grid.rows:
        row: list[Column] = []
        for zone in zones:
            row += _zone(zone, names.get(zone, zone), by_zone.get(zone, []), partners, titles)
        rows.append(tuple(row))
    sockets = {
        (box.node.id, key): (r, c, top + y)
        for r, made in enumerate(rows)
        for c, column in enumerate(made)
        for box, top in zip(column.boxes, column.tops, strict=True)
        for key, y in box.sockets.items()
    }
    return Rows(tuple(rows), titles, sockets)


def _measured(node: Node) -> Stood:
    width, height = node_size(node)
    middles = zip(node.rows, row_middles(node), strict=True)
    return Stood(node, width, height, {cell.key: y for row, y in middles for cell in row.cells if cell.key})


def _zone(
    zone: str, name: str, boxes: list[Stood], partners: Mapping[str, End], titles: dict[str, tuple[str, ...]]
) -> list[Column]:
    stacks: dict[int, list[Stood]] = {}
    for box in boxes:
        stacks.setdefault(column_of(box.node.kind.split()[-1]), []).append(box)
    wide = sum(max(box.width for box in stack) for stack in stacks.values())
    titles[zone] = wrapped(name, wide + 10, bold=True)
    top = HEAD + TITLE_LINE * len(titles[zone])
    ends = [at for at in (FIRST, LAST) if at in stacks]
    made = _boxes(zone, stacks, top)
    wishes = {at: _levels(stacks[at], made, partners) for at in ends}
    highest = min((level for at in ends for _, level in wishes[at]), default=top)
    if highest < top:
        made = _boxes(zone, stacks, top + min(top - highest, MOST_LOWERED))
        wishes = {at: _levels(stacks[at], made, partners) for at in ends}
    made |= {at: _stacked(zone, [(box, max(level, top)) for box, level in wishes[at]]) for at in ends}
    return [made[at] for at in sorted(made)]


def _boxes(zone: str, stacks: Mapping[int, list[Stood]], top: float) -> dict[int, Column]:
    return {
        at: _stacked(zone, [(box, top) for box in stack]) for at, stack in stacks.items() if at not in (FIRST, LAST)
    }


def _stacked(zone: str, wishes: list[tuple[Stood, float]]) -> Column:
    """Each box as far down as it wishes, but below the one before it."""
    tops: list[float] = []
    free = 0.0
    for box, wish in wishes:
        tops.append(max(wish, free))
        free = tops[-1] + box.height + GAP
    return Column(zone, tuple(box for box, _ in wishes), max(box.width for box, _ in wishes), tuple(tops))


def _levels(boxes: list[Stood], made: Mapping[int, Column], partners: Mapping[str, End]) -> list[tuple[Stood, float]]:
    """How far down each plug has to be to stand level with its socket; those of other zones come last."""
    heights = {
        (box.node.id, key): top + y
        for column in made.values()
        for box, top in zip(column.boxes, column.tops, strict=True)
        for key, y in box.sockets.items()
    }
    wishes = []
    for box in boxes:
        other = partners.get(box.node.id)
        level = heights.get((other.node, other.key)) if other else None
        wishes.append((level is None, (level or ELSEWHERE) - next(iter(box.sockets.values()), 0.0), box))
    return [(box, level) for _, level, box in sorted(wishes, key=lambda wish: wish[:2])]
