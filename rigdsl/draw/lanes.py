"""Lines led between columns of boxes, each in a lane of its own.

Columns of boxes stand in rows. Between two columns, and at either end of a row, is a channel for lines that
run up and down; between two rows is a street for lines that run across. A line leaves its socket sideways into the
channel there, and gets to any other channel by streets. No lane is shared, so lines cross but never lie on
each other. Positions are in points, y grows downwards.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

__all__ = ["PITCH", "Channel", "Ground", "Pin", "Plan", "Way", "plan"]

PITCH = 8.0  # between two lanes
UP, DOWN = float("-inf"), float("inf")


class Channel(NamedTuple):
    """The gap before column `column` of a row (or after its last)."""

    row: int
    column: int


@dataclass(frozen=True)
class Pin:
    """Where a line ends: the channel that its socket faces, how far down its row, and at which edge of the channel."""

    channel: Channel
    y: float
    edge: Literal["left", "right"]


@dataclass(frozen=True)
class Stretch:
    """A piece of a line in a channel, from `top` to `bottom` within the row; UP and DOWN are the streets there."""

    way: str
    channel: Channel
    top: float
    bottom: float
    slot: str  # which bundle of lanes: "left", "main" or "right"
    order: tuple[float, ...]


@dataclass(frozen=True)
class Way:
    """A line as stretches, and the street between each two of them (None: it is one stretch)."""

    id: str
    start: Pin
    end: Pin
    stretches: tuple[Stretch, ...]
    streets: tuple[int, ...]


@dataclass
class Plan:
    """All ways; `lanes` has for every stretch its lane in its bundle, `widths` how many lanes each bundle has."""

    ways: list[Way] = field(default_factory=list)
    lanes: dict[Stretch, int] = field(default_factory=dict)
    widths: dict[tuple[Channel, str], int] = field(default_factory=dict)


@dataclass(frozen=True)
class Ground:
    """What lines are led over: the height of each row, its channels between zones, and about where a channel lies."""

    heights: Mapping[int, float]
    outer: Mapping[int, list[int]]
    guess: Callable[[Channel], float]


def plan(pins: Iterable[tuple[str, Pin, Pin]], ground: Ground) -> Plan:
    """Lead every line."""
    made = Plan()
    across: dict[Channel, list[Across]] = {}
    for name, start, end in pins:
        if start.channel == end.channel and start.edge != end.edge:
            across.setdefault(start.channel, []).append(Across(name, start, end))
        else:
            made.ways.append(_way(name, start, end, ground))
    for lines in across.values():
        made.ways += _ordered(lines, ground)
    bundles: dict[tuple[Channel, str], list[Stretch]] = {}
    for way in made.ways:
        for stretch in way.stretches:
            bundles.setdefault((stretch.channel, stretch.slot), []).append(stretch)
    for key, stretches in bundles.items():
        made.widths[key] = _shared_out(sorted(stretches, key=lambda s: (s.order, s.way)), made.lanes)
    return made


def _shared_out(stretches: list[Stretch], lanes: dict[Stretch, int]) -> int:
    """Lanes from left to right in the order given; one that begins below where another ends may lie under it."""
    ends: list[float] = []
    last = 0
    for stretch in stretches:
        lane = next((k for k in range(last, len(ends)) if ends[k] + PITCH < stretch.top), len(ends))
        if lane == len(ends):
            ends.append(stretch.bottom)
        ends[lane] = max(ends[lane], stretch.bottom)
        lanes[stretch] = lane
        last = lane
    return len(ends)


# ---- across one channel


class Across(NamedTuple):
    """A line between two sockets that face each other over one channel."""

    way: str
    start: Pin
    end: Pin

    @property
    def ys(self) -> tuple[float, float]:
        """How far down it is at the channel's left edge and at its right edge."""
        return (self.start.y, self.end.y) if self.start.edge == "left" else (self.end.y, self.start.y)

    @property
    def order(self) -> tuple[float, str]:
        """From left to right so that few cross: of those that fall the lowest first, of those that rise the highest."""
        left, right = self.ys
        return (-left if left < right else left), self.way


def _ordered(lines: list[Across], ground: Ground) -> list[Way]:
    """Lanes for lines across a channel.

    Where one leaves a socket on the left just as high as another comes to one on the right, the first must turn off
    before the second comes in, or they would lie on each other. Where that goes round in a circle, one is led
    through a street.
    """
    waiting = sorted(lines, key=lambda line: line.order)
    ways: list[Way] = []
    while waiting:
        free = next((line for line in waiting if not any(_before(other, line) for other in waiting)), None)
        if free is None:
            free = waiting[-1]
            ways.append(_over_street(free.way, free.start, free.end, ground))
        else:
            top, bottom = sorted(free.ys)
            stretch = Stretch(free.way, free.start.channel, top, bottom, "main", (3.0, float(len(ways))))
            ways.append(Way(free.way, free.start, free.end, (stretch,), ()))
        waiting.remove(free)
    return ways


def _before(one: Across, other: Across) -> bool:
    """The one's lane must lie to the left of the other's."""
    return one is not other and abs(one.ys[0] - other.ys[1]) < PITCH / 2


# ---- from channel to channel


def _way(name: str, start: Pin, end: Pin, ground: Ground) -> Way:
    if start.channel == end.channel:
        return Way(name, start, end, (_loop(name, start, end),), ())
    if start.channel.row == end.channel.row:
        return _over_street(name, start, end, ground)
    falls = start.channel.row < end.channel.row
    step = 1 if falls else -1
    stretches = [_from(name, start, falls)]
    streets = [start.channel.row + (1 if falls else 0)]
    at, target = ground.guess(start.channel), ground.guess(end.channel)
    for row in range(start.channel.row + step, end.channel.row, step):
        channel = _passage(row, at, target, ground)
        stretches.append(Stretch(name, channel, UP, DOWN, "main", (3.5, at)))
        streets.append(row + (1 if falls else 0))
        at = ground.guess(channel)
    stretches.append(_from(name, end, not falls))
    return Way(name, start, end, tuple(stretches), tuple(streets))


def _passage(row: int, at: float, target: float, ground: Ground) -> Channel:
    """The channel of a row that is least out of the way between two places."""

    def detour(one: Channel) -> tuple[float, float, Channel]:
        here = ground.guess(one)
        return abs(here - at) + abs(here - target), abs(here - at), one

    return min((Channel(row, column) for column in ground.outer[row]), key=detour)


def _over_street(name: str, start: Pin, end: Pin, ground: Ground) -> Way:
    """Between two sockets of one row, over the street that is nearer to both."""
    row = start.channel.row
    down = start.y + end.y > ground.heights[row]
    return Way(name, start, end, (_from(name, start, down), _from(name, end, down)), (row + (1 if down else 0),))


def _from(name: str, pin: Pin, down: bool) -> Stretch:
    """From a socket to the street below or above: nested, so that the sockets' own lines do not cross them."""
    top, bottom = (pin.y, DOWN) if down else (UP, pin.y)
    orders = {
        ("left", True): (2.0, -pin.y),
        ("left", False): (1.0, pin.y),
        ("right", True): (4.0, pin.y),
        ("right", False): (5.0, -pin.y),
    }
    return Stretch(name, pin.channel, top, bottom, "main", orders[pin.edge, down])


def _loop(name: str, start: Pin, end: Pin) -> Stretch:
    """Between two sockets of one column: inside its zone, the longer the further out."""
    top, bottom = sorted((start.y, end.y))
    return Stretch(
        name, start.channel, top, bottom, start.edge, (bottom - top if start.edge == "left" else top - bottom,)
    )
