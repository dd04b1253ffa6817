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

__all__ = ["PITCH", "Channel", "Pin", "Plan", "Way", "plan"]

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
    inner: str  # the zone it stands in


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


def plan(
    pins: Iterable[tuple[str, Pin, Pin]],
    heights: Mapping[int, float],
    outer: Mapping[int, list[int]],
    guess: Callable[[Channel], float],
) -> Plan:
    """Lead every line. `outer` are the channels of each row between zones, `guess` says about where a channel lies."""
    made = Plan()
    for name, start, end in pins:
        made.ways.append(_way(name, start, end, heights, outer, guess))
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
        last = max(lane, 0)
    return len(ends)


def _way(
    name: str,
    start: Pin,
    end: Pin,
    heights: Mapping[int, float],
    outer: Mapping[int, list[int]],
    guess: Callable[[Channel], float],
) -> Way:
    if start.channel == end.channel:
        return Way(name, start, end, (_within(name, start, end),), ())
    if start.channel.row == end.channel.row:
        down = start.y + end.y > heights[start.channel.row]
        street = start.channel.row + (1 if down else 0)
        return Way(name, start, end, (_from(name, start, down), _from(name, end, down)), (street,))
    falls = start.channel.row < end.channel.row
    step = 1 if falls else -1
    stretches = [_from(name, start, falls)]
    streets = [start.channel.row + (1 if falls else 0)]
    at = guess(start.channel)
    for row in range(start.channel.row + step, end.channel.row, step):
        channel = min(
            (Channel(row, column) for column in outer[row]),
            key=lambda one: (abs(guess(one) - at) + abs(guess(one) - guess(end.channel)), abs(guess(one) - at), one),
        )
        at = guess(channel)
        stretches.append(Stretch(name, channel, UP, DOWN, "main", (3, guess(start.channel))))
        streets.append(row + (1 if falls else 0))
    stretches.append(_from(name, end, not falls))
    return Way(name, start, end, tuple(stretches), tuple(streets))


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


def _within(name: str, start: Pin, end: Pin) -> Stretch:
    """Between two sockets at one channel; of one zone and one edge it stays inside the zone."""
    top, bottom = sorted((start.y, end.y))
    if start.edge == end.edge:
        depth = bottom - top
        slot = start.edge if start.inner == end.inner else "main"
        return Stretch(name, start.channel, top, bottom, slot, (0.0, depth if start.edge == "left" else -depth))
    left, right = (start, end) if start.edge == "left" else (end, start)
    order = (3.0, -left.y) if left.y < right.y else (3.0, left.y)
    return Stretch(name, start.channel, top, bottom, "main", order)
