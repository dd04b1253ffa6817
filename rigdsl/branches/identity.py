"""Which part of a changed text is which part of the one it came from.

By name first. Between those that kept their order, remarks and blank lines are held against each other as lines, and
of what is left over the likest of one kind are one that was changed.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Collection, Sequence
from itertools import pairwise
from typing import NamedTuple

from rigdsl.branches.parts import BLANK, Key, Part, words

__all__ = ["Known", "TooMuchError", "by_key", "known", "unmoved"]

MOST_PAIRS = 250_000  # that are held against each other between two statements


class TooMuchError(Exception):
    """Two texts have so little in common that what became of what is anybody's guess."""


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
    taken = set(at.values())
    for olds, news in _between(at, len(base), len(side)):
        lines = _lines(base, side, olds, news)
        at |= lines
        taken |= set(lines.values())
        new = [one for one in news if one not in taken and side[one].key not in added]
        at |= _changed(base, side, [old for old in olds if old not in at], new)
    was: list[int | None] = [None] * len(side)
    for old, now in at.items():
        was[now] = old
    return Known(tuple(was), at, unmoved([old for old in was if old is not None]))


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


def _changed(base: Sequence[Part], side: Sequence[Part], gone: Sequence[int], new: Sequence[int]) -> dict[int, int]:
    """What is gone and what came in its place, the likest first."""
    if len(gone) * len(new) > MOST_PAIRS:
        raise TooMuchError
    bags = {("old", old): Counter(_bag(base[old])) for old in gone}
    bags |= {("new", one): Counter(_bag(side[one])) for one in new}
    pairs = [
        (-_alike(bags["old", old], bags["new", one]), old, one)
        for old in gone
        for one in new
        if base[old].key[0] == side[one].key[0] and base[old].key != BLANK
    ]
    at: dict[int, int] = {}
    taken: set[int] = set()
    for _, old, one in sorted(pairs):
        if old not in at and one not in taken:
            at[old] = one
            taken.add(one)
    return at


def _bag(part: Part) -> Sequence[str]:
    return part.text.split() if part.is_gap else words(part.text)


def _alike(one: Counter[str], other: Counter[str]) -> float:
    """How alike two bags of words are, from 0 to 1."""
    return 2 * (one & other).total() / max(1, one.total() + other.total())
