"""Lines that the view has led itself, as the engine's curves: straights, with their corners rounded off."""

from __future__ import annotations

import math

__all__ = ["Point", "corners", "curve"]

RADIUS = 4.0  # points, of a corner
ROUND = 0.5523  # how near its corner a curve's handle is for a quarter of a circle

Point = tuple[float, float]


def corners(points: tuple[Point, ...]) -> list[Point]:
    """The points at which a line turns: none twice, none in the middle of a straight."""
    made: list[Point] = []
    for point in points:
        if made and math.dist(made[-1], point) < 0.01:
            continue
        while len(made) > 1 and _straight(made[-2], made[-1], point):
            made.pop()
        made.append(point)
    return made if len(made) > 1 else [points[0], (points[0][0] + 0.1, points[0][1])]


def _straight(a: Point, b: Point, c: Point) -> bool:
    return abs((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])) < 0.01


def curve(points: list[Point]) -> str:
    """Straights with rounded corners as the engine's splines: a start, then three points for each piece."""
    out = [points[0]]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        near, far = _towards(corner, before), _towards(corner, after)
        out += _thirds(out[-1], near)
        out += [_between(near, corner, ROUND), _between(far, corner, ROUND), far]
    out += _thirds(out[-1], points[-1])
    return " ".join(f"{x:.2f},{y:.2f}" for x, y in out)


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _thirds(a: Point, b: Point) -> list[Point]:
    return [_between(a, b, 1 / 3), _between(a, b, 2 / 3), b]


def _towards(corner: Point, other: Point) -> Point:
    """Where the rounding of a corner begins: at most half way to the next one."""
    length = math.dist(corner, other)
    return _between(corner, other, min(RADIUS, length / 2) / length)
