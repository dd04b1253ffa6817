"""Cables of the stock joined for what is longer: a whole-number programme for scipy's HiGHS.

Unknown is how often each kind of need is served by each set of lengths that serves it. The aims come one
after the other, each held while the next is made least: needs that stay short, joins, metres, and last that short
needs stay short rather than long ones.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations_with_replacement

from rigdsl.papers.stock import Lengths, Need

__all__ = ["best"]

HELD = 0.5  # counts are whole, and lengths are in millimetres: less than this is arithmetic


def best(needs: Mapping[Need, int], owned: Mapping[float, int]) -> dict[Need, list[Lengths]]:
    """For each kind of need the sets of lengths that serve it, as many as it has of them; fewer where some are short.

    ImportError where scipy is not installed.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    kinds, lengths = sorted(needs), sorted(length for length, count in owned.items() if count > 0)
    uses = [(at, some) for at, need in enumerate(kinds) for some in _sets(need, lengths, owned)]
    if not uses:
        return {}
    taken = np.array([[some.count(length) for _, some in uses] for length in lengths])
    served = np.array([[int(at == kind) for at, _ in uses] for kind in range(len(kinds))])
    limits = [
        LinearConstraint(taken, ub=np.array([owned[length] for length in lengths])),
        LinearConstraint(served, ub=np.array([needs[need] for need in kinds])),
    ]
    aims = (
        -np.ones(len(uses)),
        np.array([len(some) - 1.0 for _, some in uses]),
        np.array([round(1000 * sum(some)) for _, some in uses], dtype=float),
        -np.array([round(1000 * kinds[at].length_m) for at, _ in uses], dtype=float),
    )
    counts = np.zeros(len(uses))
    for aim in aims:
        found = milp(aim, constraints=limits, integrality=np.ones(len(uses), dtype=np.int8), bounds=Bounds(0))
        assert found.x is not None, "nothing at all is always a solution"
        counts = np.round(found.x)
        limits.append(LinearConstraint(aim, ub=float(aim @ counts) + HELD))
    made: dict[Need, list[Lengths]] = {need: [] for need in kinds}
    for (at, some), count in zip(uses, counts, strict=True):
        made[kinds[at]] += [some] * int(count)
    return made


def _sets(need: Need, lengths: list[float], owned: Mapping[float, int]) -> Iterator[Lengths]:
    """The sets of lengths that serve a need, longest first, none of which has a cable too many."""
    for size in range(1, need.joins + 2):
        for some in combinations_with_replacement(sorted(lengths, reverse=True), size):
            spare = size > 1 and any(need.takes(_without(some, one)) for one in set(some))
            if need.takes(some) and not spare and all(some.count(one) <= owned[one] for one in set(some)):
                yield some


def _without(some: Lengths, one: float) -> Lengths:
    at = some.index(one)
    return (*some[:at], *some[at + 1 :])
