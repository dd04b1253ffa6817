"""How a line goes between two zones of a plan: straight, or along the edge where the rig gives a way. Points."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from statistics import median

from rigdsl.draw.curves import Point
from rigdsl.draw.plan_names import point_id
from rigdsl.draw.shapes import Edge
from rigdsl.rig import Rig

__all__ = ["led"]

APART = 7.0  # between lines of two patterns that go the same way
EDGE = 30.0  # how far outside of all zones a way along the edge is drawn
LANE = 9.0  # between two ways along one edge


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
            way = _along(points[here], points[there], points, EDGE + lane * LANE + aside)
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


def _along(here: Point, there: Point, points: Mapping[str, Point], out: float) -> tuple[Point, ...]:
    """Round the outside, at right angles: by the side that is nearer, or upstage or downstage of both."""
    xs, ys = [x for x, _ in points.values()], [y for _, y in points.values()]
    if abs(here[0] - there[0]) <= abs(here[1] - there[1]):
        right = here[0] + there[0] >= min(xs) + max(xs)
        x = max(xs) + out if right else min(xs) - out
        return here, (x, here[1]), (x, there[1]), there
    upstage = (here[1] + there[1]) / 2 >= median(ys)
    y = max(here[1], there[1]) + out if upstage else min(here[1], there[1]) - out
    return here, (here[0], y), (there[0], y), there
