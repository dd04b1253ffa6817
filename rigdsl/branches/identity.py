"""Which part of a changed text is which part of the one it came from.

By name first. Between those that kept their order, remarks and blank lines are held against each other as lines, and
of what is left over the likest of one kind are one that was changed. Last, what is gone may have been moved and
changed: it is looked for in the whole text.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Collection, Sequence
from itertools import pairwise
from typing import NamedTuple

from rigdsl.branches.likeness import MOST_PAIRS, TooMuchError, likest, moved
from rigdsl.branches.naming import Key
from rigdsl.branches.parts import BLANK, Part

__all__ = ["Known", "by_key", "known", "unmoved"]


class Known(NamedTuple):
    """The parts of a changed text: for each the number of the part it was, or None; and those that kept their order."""

    was: tuple[int | None, ...]
    at: dict[int, int]  # from the number in the old text to that in the new one
    stay: frozenset[int]  # numbers in the old text


def by_key(parts: Sequence[Part]) -> dict[tuple[Key, int], int]:
    """The number of each part that says something, by its key, and which of several of one key it is."""
    seen: Counter[Key] = Counter()
    found = {}
    for number, part in enumerate(parts):
        if not part.is_gap:
            found[part.key, seen[part.key]] = number
            seen[part.key] += 1
    return found


def known(base: Sequence[Part], side: Sequence[Part], added: Collection[Key]) -> Known:
    """Which parts are which. What is `added` on both sides is new, and nothing that was only changed."""
    there = by_key(base)
    at = {there[key]: number for key, number in by_key(side).items() if key in there}
    between = _between(at, len(base), len(side))
    for olds, news in between:
        at |= _lines(base, side, olds, news)
    at |= _same_remarks(base, side, *_left(base, side, at, added))
    gone, new = _left(base, side, at, added)
    for olds, news in between:
        at |= likest(base, side, _within(gone, olds), _within(new, news))
    at |= moved(base, side, *_left(base, side, at, added))
    was: list[int | None] = [None] * len(side)
    for old, now in at.items():
        was[now] = old
    return Known(tuple(was), at, unmoved([old for old in was if old is not None]))


def _left(
    base: Sequence[Part], side: Sequence[Part], at: dict[int, int], added: Collection[Key]
) -> tuple[list[int], list[int]]:
    """What is gone, and what came for which nothing is known yet that it was. Blank lines tell nothing."""
    taken = set(at.values())
    gone = [old for old, part in enumerate(base) if old not in at and part.key != BLANK]
    return gone, [
        one for one, part in enumerate(side) if one not in taken and part.key != BLANK and part.key not in added
    ]


def _within(numbers: Sequence[int], stretch: range) -> Sequence[int]:
    return numbers[bisect_left(numbers, stretch.start) : bisect_left(numbers, stretch.stop)]


def _same_remarks(
    base: Sequence[Part], side: Sequence[Part], gone: Sequence[int], new: Sequence[int]
) -> dict[int, int]:
    """Remarks that stand at another place."""
    places: dict[str, list[int]] = {}
    for one in reversed(new):
        if side[one].is_gap:
            places.setdefault(side[one].text.strip(), []).append(one)
    texts = ((old, base[old].text.strip()) for old in gone if base[old].is_gap)
    return {old: places[text].pop() for old, text in texts if places.get(text)}


def unmoved(order: Sequence[int]) -> frozenset[int]:
    """The most numbers of a list that already stand in rising order."""
    ends: list[int] = []
    before: dict[int, int | None] = {}
    for number in order:
        place = bisect_left(ends, number)
        before[number] = ends[place - 1] if place else None
        ends[place : place + 1] = [number]
    found = set()
    number_or_none = ends[-1] if ends else None
    while number_or_none is not None:
        found.add(number_or_none)
        number_or_none = before[number_or_none]
    return frozenset(found)


Stretch = tuple[range, range]


def _between(at: dict[int, int], old_count: int, new_count: int) -> list[Stretch]:
    """The stretches between parts that kept their order, in both texts."""
    by_new = sorted((new, old) for old, new in at.items())
    stay = unmoved([old for _, old in by_new])
    marks = [(-1, -1), *((old, new) for new, old in by_new if old in stay), (old_count, new_count)]
    return [
        (range(old + 1, next_old), range(new + 1, next_new))
        for (old, new), (next_old, next_new) in pairwise(marks)
        if next_old - old > 1 and next_new - new > 1
    ]


def _lines(base: Sequence[Part], side: Sequence[Part], olds: range, news: range) -> dict[int, int]:
    """Remarks and blank lines that are in both stretches, in the same order."""
    from difflib import SequenceMatcher

    before = [old for old in olds if base[old].is_gap]
    after = [new for new in news if side[new].is_gap]
    if len(before) * len(after) > MOST_PAIRS:
        raise TooMuchError
    texts = [base[old].text for old in before], [side[new].text for new in after]
    blocks = SequenceMatcher(None, *texts, autojunk=False).get_matching_blocks()
    return {before[one + step]: after[other + step] for one, other, size in blocks for step in range(size)}
