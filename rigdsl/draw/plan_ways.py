"""How a line goes between two zones of a plan: straight, or along the edge where the rig gives a way. Points."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median
from typing import Literal

from rigdsl.draw.curves import Point
from rigdsl.draw.plan_names import point_id
from rigdsl.draw.shapes import Edge
from rigdsl.rig import Rig

__all__ = ["led"]

APART = 7.0  # between lines of two patterns that go the same way
EDGE = 30.0  # how far outside of all zones a way along the edge is drawn
LANE = 9.0  # between two ways along one edge
DOT = 6.0  # what a place takes with its air, half of it
MOST_LANES = 12  # that are tried further out, where a place lies in one
FARTHEST_M = 6.0  # how far outside that is in the room, on a small plan
NEAR_M = 0.5  # a way this near to a zone's place would seem to end there

Side = Literal["left", "right", "up", "down"]


def led(edges: Sequence[Edge], points: Mapping[str, Point], rig: Rig) -> list[Edge]:
    """The lines with their corners: from point to point, beside others between the same two zones."""
    zones = {point_id(name): name for name in points}
    beside: Counter[frozenset[str]] = Counter()
    lanes = {pair: lane for lane, pair in enumerate(sorted(rig.ways, key=sorted))}
    made = []
    for edge in edges:
        pair = frozenset((edge.left.node, edge.right.node))
        here, there = zones[edge.left.node], zones[edge.right.node]
        aside = APART * beside[pair]
        beside[pair] += 1
        lane = lanes.get(frozenset((here, there)))
        way = (_by_axes if rig.head.axes else _straight)(points[here], points[there], aside)
        if lane is not None:
            way = _along(rig, (here, there), points, EDGE + lane * LANE + aside)
        made.append(replace(edge, points=way))
    return made


def _straight(here: Point, there: Point, aside: float) -> tuple[Point, ...]:
    """From point to point, bowed a little where others go the same way."""
    if not aside:
        return here, there
    length = math.dist(here, there) or 1.0
    nx, ny = -(there[1] - here[1]) / length * aside, (there[0] - here[0]) / length * aside
    near, far = ((here[i] + (there[i] - here[i]) * share for i in (0, 1)) for share in (0.15, 0.85))
    (ax, ay), (bx, by) = near, far
    return here, (ax + nx, ay + ny), (bx + nx, by + ny), there


def _by_axes(here: Point, there: Point, aside: float) -> tuple[Point, ...]:
    """At right angles, as a rig measures that says so: across the stage first, then up or down it."""
    across, along = here[1] + aside, there[0] + aside
    return here, (here[0], across), (along, across), (along, there[1]), there


def _along(rig: Rig, zones: tuple[str, str], points: Mapping[str, Point], out: float) -> tuple[Point, ...]:
    """Round the outside, at right angles: of the sides, the first on which no other zone's place lies on the way.

    Which side is settled in metres, so that it is the same at every scale.
    """
    room = {name: at for name, at in ((name, _floor(rig, name)) for name in points) if at is not None}
    ends = room[zones[0]], room[zones[1]]
    others = [at for name, at in room.items() if name not in zones]

    def hits(side: Side) -> int:
        way = _round(side, *ends, room, FARTHEST_M)
        return sum(_near(at, here, there, NEAR_M) for at in others for here, there in pairwise(way))

    side = min(_sides(ends, room), key=hits)
    here, there = points[zones[0]], points[zones[1]]
    dots = [at for name, at in points.items() if name not in zones]
    ways = [_round(side, here, there, points, out + more * LANE) for more in range(MOST_LANES)]
    clear = (way for way in ways if not any(_near(at, *leg, DOT) for at in dots for leg in pairwise(way)))
    return next(clear, ways[0])


def _floor(rig: Rig, zone: str) -> Point | None:
    at = rig.zones[zone].position_m
    return None if at is None else (at[0], at[1])


def _sides(ends: tuple[Point, Point], room: Mapping[str, Point]) -> tuple[Side, ...]:
    """The likeliest first: by the side that is nearer where a way goes up or down the room, else behind or before."""
    (ax, ay), (bx, by) = ends
    xs, ys = [x for x, _ in room.values()], [y for _, y in room.values()]
    across: tuple[Side, Side] = ("right", "left") if ax + bx >= min(xs) + max(xs) else ("left", "right")
    along: tuple[Side, Side] = ("up", "down") if (ay + by) / 2 >= median(ys) else ("down", "up")
    return (*across, *along) if abs(ax - bx) <= abs(ay - by) else (*along, *across)


def _round(side: Side, here: Point, there: Point, points: Mapping[str, Point], out: float) -> tuple[Point, ...]:
    """The corners of a way by one side: left or right of all zones, or upstage or downstage of both ends."""
    if side in ("left", "right"):
        xs = [x for x, _ in points.values()]
        x = max(xs) + out if side == "right" else min(xs) - out
        return here, (x, here[1]), (x, there[1]), there
    y = max(here[1], there[1]) + out if side == "up" else min(here[1], there[1]) - out
    return here, (here[0], y), (there[0], y), there


def _near(at: Point, here: Point, there: Point, air: float) -> bool:
    """Whether a place lies on a stretch that goes across the room or along it."""
    return all(min(here[i], there[i]) - air <= at[i] <= max(here[i], there[i]) + air for i in (0, 1))
