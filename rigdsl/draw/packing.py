"""What goes on one sheet: units joined by many lines first, as long as they fit, then whatever else finds room."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from heapq import heapify, heappop, heappush

__all__ = ["in_order", "packed"]

Fits = Callable[[frozenset[int], frozenset[int]], bool]  # whether two have room on one sheet
Places = Sequence[int]
Weights = Mapping[tuple[int, int], float]  # between two units, the smaller number first

NEAR = 6  # sheets in reading order that a small one is tried on


def packed(count: int, weights: Weights, fits: Fits, places: Places = ()) -> list[frozenset[int]]:
    """Units 0 to `count` - 1 in sheets, so that what has most in common stands together.

    `places` say which of the units is read first, where that is not their own order.
    """
    sheets: dict[int, frozenset[int]] = {unit: frozenset((unit,)) for unit in range(count)}
    near: dict[int, dict[int, float]] = {unit: {} for unit in range(count)}
    for (a, b), weight in weights.items():
        near[a][b] = near[b][a] = weight
    heap = [(-weight, a, b) for (a, b), weight in weights.items()]
    heapify(heap)
    while heap:
        weight, a, b = heappop(heap)
        if near.get(a, {}).get(b) != -weight or not fits(sheets[a], sheets[b]):
            continue
        sheets[a] |= sheets.pop(b)
        for other, more in near.pop(b).items():
            del near[other][b]
            if other != a:
                near[a][other] = near[other][a] = near[a].get(other, 0.0) + more
        for other, more in near[a].items():
            heappush(heap, (-more, min(a, other), max(a, other)))
    ordered = in_order(list(sheets.values()), weights, places)
    return in_order(_filled(ordered, fits), weights, places)


def _filled(sheets: list[frozenset[int]], fits: Fits) -> list[frozenset[int]]:
    """The smaller ones put on sheets near by that have room."""
    for sheet in sorted(sheets, key=lambda one: (len(one), min(one))):
        if sheet not in sheets:
            continue  # it has taken in another one
        at = sheets.index(sheet)
        around = sorted(range(max(at - NEAR, 0), min(at + NEAR + 1, len(sheets))), key=lambda n: (abs(n - at), n))
        for other in around:
            if other != at and fits(sheets[other], sheet):
                sheets[other] |= sheet
                del sheets[at]
                break
    return sheets


def in_order(sheets: list[frozenset[int]], weights: Weights, places: Places = ()) -> list[frozenset[int]]:
    """As they are read: from the one that begins first on, always to the one that most lines go on to."""
    owner = {unit: index for index, sheet in enumerate(sheets) for unit in sheet}
    near: dict[int, dict[int, float]] = {index: {} for index in range(len(sheets))}
    for (a, b), weight in weights.items():
        here, there = owner[a], owner[b]
        if here != there:
            near[here][there] = near[here].get(there, 0.0) + weight
            near[there][here] = near[there].get(here, 0.0) + weight
    first = [min(places[unit] if places else unit for unit in sheet) for sheet in sheets]
    left = sorted(range(len(sheets)), key=lambda index: (first[index], index))
    made: list[int] = []
    done: set[int] = set()
    pull: dict[int, float] = {}
    heap: list[tuple[float, int, int]] = []
    for start in left:
        heappush(heap, (0.0, first[start], start))
        while heap:
            _, _, here = heappop(heap)
            if here in done:
                continue
            done.add(here)
            made.append(here)
            for there, weight in near[here].items():
                pull[there] = pull.get(there, 0.0) + weight
                heappush(heap, (-pull[there], first[there], there))
    return [sheets[index] for index in made]
