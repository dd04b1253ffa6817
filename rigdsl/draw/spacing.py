"""How wide every channel between the columns has to be, and so where everything stands across the sheet. Points."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from rigdsl.draw.columns import Rows
from rigdsl.draw.lanes import PITCH, Channel, Plan
from rigdsl.draw.shapes import Edge
from rigdsl.draw.sizes import label_size

__all__ = ["STUB", "Spacing", "spaced", "words_widths"]

BORDER = 9.0  # of air on either side of a zone's frame
STUB = 9.0  # a line's length before its words, and after them


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
    x += room.get((channel, "left"), STUB) if channel.column > 0 else 0.0
    x = _bundle(made, channel, "left", plan, x)
    if outer and channel.column > 0:
        made.frame[channel, "left"] = x + BORDER
        x += 2 * BORDER
    x = _bundle(made, channel, "main", plan, x)
    if outer and channel.column < last:
        made.frame[channel, "right"] = x + BORDER
        x += 2 * BORDER
    x = _bundle(made, channel, "right", plan, x)
    return x + (room.get((channel, "right"), STUB) if channel.column < last else 0.0)


def _bundle(made: Spacing, channel: Channel, slot: str, plan: Plan, x: float) -> float:
    """Lanes stand on a lattice, that of every other row half a step aside: no two of neighbouring rows are in line."""
    aside = PITCH / 2 if channel.row % 2 else 0.0
    first = -(-(x - aside) // PITCH) * PITCH + aside
    made.lane[channel, slot] = first
    count = plan.widths.get((channel, slot), 0)
    return first + count * PITCH if count else x


def _push(made: Spacing, row: int, by: float) -> None:
    for column in [key for key in made.column if key[0] == row]:
        made.column[column] += by
    for places in (made.lane, made.frame):
        for key in [key for key in places if key[0].row == row]:
            places[key] += by
