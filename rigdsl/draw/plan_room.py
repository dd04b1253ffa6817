"""Room on a plan: where a card or words cover nothing. Points; boxes are left, bottom, right, top."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from rigdsl.draw.curves import Point

__all__ = ["Room", "Spot", "apart", "bounds", "moved", "nearest", "tie"]

Box = tuple[float, float, float, float]
Spot = tuple[Point, Point]  # where the middle of something stands, and the place that it is at

AIR = 4.0  # round a card or words
DOT = 6.0  # half of what a point takes with its air
SIDES = ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, 1), (1, -1), (-1, -1))
FAR = (10.0, 24.0, 44.0, 70.0, 100.0, 140.0, 190.0, 250.0, 330.0, 450.0, 700.0)  # from a point to its card
BESIDE = (5.0, 14.0, 30.0, 55.0, 90.0, 140.0, 220.0)  # from a line to its words
SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)  # how far along a stretch of the line
CARD_CROSSED, WORDS_CROSSED = 300.0, 200.0  # what a line under a card or words costs, in points of distance
TIE_CROSSED = 130.0  # and a thin line to them that goes through others


def moved(at: Point, by: Point) -> Point:
    """A point moved."""
    return at[0] + by[0], at[1] + by[1]


def nearest(at: Point, middle: Point, size: tuple[float, float]) -> Point:
    """The point of a card's edge that is nearest to a point outside."""
    x, y = (min(max(at[i], middle[i] - size[i] / 2), middle[i] + size[i] / 2) for i in (0, 1))
    return x, y


def apart(at: Point, size: tuple[float, float], line: Sequence[Point]) -> float:
    """How far words stand from a line, looked for in small steps."""
    steps = (
        (here[0] + (there[0] - here[0]) * n / 40, here[1] + (there[1] - here[1]) * n / 40)
        for here, there in pairwise(line)
        for n in range(41)
    )
    return min(math.dist(step, nearest(step, at, size)) for step in steps)


def bounds(boxes: Iterable[Box]) -> Box:
    """The box round boxes."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


class Room:
    """What is taken so far: it grows as cards and words are put, and where it can no further than a sheet is large."""

    def __init__(self, lines: Sequence[Sequence[Point]], dots: Sequence[Point], sheet: tuple[float, float]) -> None:
        self.stretches = [stretch for line in lines for stretch in pairwise(line)]
        self.taken: list[Box] = [(x - DOT, y - DOT, x + DOT, y + DOT) for x, y in dots]
        self.sheet = sheet
        self.all = bounds([*self.taken, *((x, y, x, y) for line in lines for x, y in line)])
        self.full = not self._on_sheet(self.all)  # something has found no room
        self.paid = 0.0  # distances and lines crossed: the less, the better it reads

    def beside(self, point: Point, size: tuple[float, float]) -> Spot:
        """The middle of a card near a point, and the point."""
        wide, high = size
        choices = (
            (gap, ((point[0] + dx * (wide / 2 + gap), point[1] + dy * (high / 2 + gap)), point))
            for gap in FAR
            for dx, dy in SIDES
        )
        return self._best(choices, size, CARD_CROSSED)

    def along(self, line: Sequence[Point], size: tuple[float, float]) -> Spot:
        """The middle of words beside a line, and the place of the line that they are at."""
        return self._best(_beside(line, size), size, WORDS_CROSSED)

    def _best(self, choices: Iterator[tuple[float, Spot]], size: tuple[float, float], crossed: float) -> Spot:
        best: tuple[float, Spot] | None = None
        last: Spot | None = None
        for cost, spot in choices:
            last = last or spot
            if best is not None and cost >= best[0]:
                break  # they only get further away
            box = _box(spot[0], size)
            if not self._on_sheet(box) or any(_overlap(box, other) for other in self.taken):
                continue
            price = cost + crossed * sum(_crosses(stretch, box) for stretch in self.stretches)
            price += TIE_CROSSED * self._under(tie(spot, size))
            if best is None or price < best[0]:
                best = price, spot
        assert last is not None
        self.paid += best[0] if best else FAR[-1]
        return self._take(best[1] if best else (self._free(size), last[1]), size)

    def _take(self, spot: Spot, size: tuple[float, float]) -> Spot:
        """What is put there is in the way of all that comes, and so is the thin line to it."""
        box = _box(spot[0], size)
        self.full = self.full or not self._on_sheet(box)
        self.taken.append(box)
        self.stretches.append(tie(spot, size))
        self.all = bounds((self.all, box))
        return spot

    def _on_sheet(self, box: Box) -> bool:
        """Whether all that is put and a box together are no larger than the sheet."""
        left, bottom, right, top = self.all
        return (
            max(right, box[2]) - min(left, box[0]) <= self.sheet[0]
            and max(top, box[3]) - min(bottom, box[1]) <= self.sheet[1]
        )

    def _under(self, stretch: tuple[Point, Point]) -> int:
        """How many cards, words and points a thin line would go through; it begins beside its own point."""
        return sum(_crosses(stretch, box) for box in self.taken if not _holds(box, stretch[1]))

    def _free(self, size: tuple[float, float]) -> Point:
        """Below everything, where nothing else has found room."""
        left, bottom, _, _ = self.all
        return left + size[0] / 2, bottom - size[1] / 2 - AIR


def tie(spot: Spot, size: tuple[float, float]) -> tuple[Point, Point]:
    """The thin line from a card or words to what they are at."""
    at, of = spot
    return nearest(of, at, size), of


def _beside(line: Sequence[Point], size: tuple[float, float]) -> Iterator[tuple[float, Spot]]:
    """Places beside the stretches of a line, the nearest first, of these the longest stretch's first."""
    stretches = sorted(pairwise(line), key=lambda ends: -math.dist(*ends))
    for away in BESIDE:
        for index, (here, there) in enumerate(stretches):
            length = math.dist(here, there) or 1.0
            nx, ny = (there[1] - here[1]) / length, (here[0] - there[0]) / length
            reach = away + abs(nx) * size[0] / 2 + abs(ny) * size[1] / 2
            for share in SHARES:
                x, y = (here[i] + (there[i] - here[i]) * share for i in (0, 1))
                for side in (1, -1):
                    yield away + index, ((x + nx * reach * side, y + ny * reach * side), (x, y))


def _holds(box: Box, at: Point) -> bool:
    return box[0] <= at[0] <= box[2] and box[1] <= at[1] <= box[3]


def _box(at: Point, size: tuple[float, float]) -> Box:
    wide, high = size[0] / 2 + AIR, size[1] / 2 + AIR
    return at[0] - wide, at[1] - high, at[0] + wide, at[1] + high


def _overlap(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _crosses(stretch: tuple[Point, Point], box: Box) -> bool:
    """Whether a straight goes through a box: clipped side by side (Liang and Barsky, 1984)."""
    (ax, ay), (bx, by) = stretch
    low, high = 0.0, 1.0
    for start, step, least, most in ((ax, bx - ax, box[0], box[2]), (ay, by - ay, box[1], box[3])):
        if step == 0:
            if not least < start < most:
                return False
            continue
        enter, leave = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, enter), min(high, leave)
    return low < high
