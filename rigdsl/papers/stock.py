"""Which cables of the stock are taken for what is needed: as few short as can be, few joins, little cable.

Without joins a choice from the shortest need on is best, since whatever is long enough for a need is long enough for
all shorter ones. With joins it is not: those are worked out by an optimiser (HiGHS, by way of scipy).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from rigdsl.paths import unserved

__all__ = ["Need", "Served", "TooManyError", "assigned", "plain"]

ROUNDING_M = 1e-6  # lengths that are equal but for the arithmetic

Lengths = tuple[float, ...]


class TooManyError(Exception):
    """So many lengths can be joined in so many ways that it would take minutes to choose."""


@dataclass(frozen=True, order=True)
class Need:
    """So many metres at least; `most_m` at most, `joins`: of how many cables more than one it may be made."""

    length_m: float
    most_m: float = float("inf")
    joins: int = 0

    def takes(self, lengths: Lengths) -> bool:
        """Whether these cables, joined, serve it."""
        total_m = sum(lengths)
        return (
            len(lengths) <= self.joins + 1
            and self.length_m - ROUNDING_M <= total_m <= max(self.most_m, self.length_m) + ROUNDING_M
        )


@dataclass(frozen=True)
class Served:
    """What each need gets, in the order of the needs: one length, several that are joined, or nothing (short)."""

    lengths: tuple[Lengths, ...]

    @property
    def short(self) -> int:
        """How many needs get nothing."""
        return sum(not one for one in self.lengths)

    @property
    def joins(self) -> int:
        """How many times cables are joined."""
        return sum(len(one) - 1 for one in self.lengths if one)

    @property
    def total_m(self) -> float:
        """All cable that is taken."""
        return sum(map(sum, self.lengths))

    @property
    def cost(self) -> tuple[int, int, float]:
        """What is made least: shorts first, then joins, then metres."""
        return self.short, self.joins, round(self.total_m, 6)


def assigned(needs: Sequence[Need], owned: Mapping[float, int]) -> Served:
    """The best choice. ImportError where it takes an optimiser and scipy is not installed, TooManyError where that
    would take minutes.
    """
    simple = _without_joins(needs, owned)
    too_long = any(length_m > need.most_m + ROUNDING_M for need in needs for length_m in owned)
    if not too_long and (not simple.short or not any(need.joins for need in needs)):
        return simple
    from rigdsl.papers.joining import best

    return _shared_out(needs, best(Counter(needs), owned))


def plain(needs: Sequence[Need], owned: Mapping[float, int]) -> Served:
    """A choice without joins and without an optimiser: what would be too long for its need is none."""
    found = _without_joins(needs, owned).lengths
    return Served(tuple(one if one and need.takes(one) else () for need, one in zip(needs, found, strict=True)))


def _without_joins(needs: Sequence[Need], owned: Mapping[float, int]) -> Served:
    """From the longest need down: who is served at all; then from the shortest up: each the shortest that will do."""
    left = Counter({length_m: count for length_m, count in owned.items() if count > 0})
    served: dict[int, float] = {}
    chosen = _servable(needs, owned)
    for at in sorted(chosen, key=lambda at: (needs[at].length_m, at)):
        length_m = min(have for have, count in left.items() if count and have >= needs[at].length_m - ROUNDING_M)
        left[length_m] -= 1
        served[at] = length_m
    return Served(tuple((served[at],) if at in served else () for at in range(len(needs))))


def _servable(needs: Sequence[Need], owned: Mapping[float, int]) -> list[int]:
    """As many needs as the stock can serve, longer ones rather than shorter ones, as the rule over-stock has it."""
    missing = unserved((need.length_m for need in needs), owned)
    chosen = []
    for at in sorted(range(len(needs)), key=lambda at: (-needs[at].length_m, at), reverse=True):
        if missing[needs[at].length_m]:
            missing[needs[at].length_m] -= 1
        else:
            chosen.append(at)
    return chosen


def _shared_out(needs: Sequence[Need], found: Mapping[Need, Iterable[Lengths]]) -> Served:
    """The cables for each kind of need, given out in the order of the needs."""
    waiting = {need: list(some) for need, some in found.items()}
    return Served(tuple(waiting[need].pop(0) if waiting.get(need) else () for need in needs))
