"""Cables of the stock joined for what is longer: a whole-number programme for scipy's HiGHS.

Unknown is how often each kind of need is served by each set of lengths that serves it. The aims come one
after the other, each held while the next is made least: needs that stay short, joins, metres, and last that short
needs stay short rather than long ones.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations_with_replacement, islice
from typing import Any

from rigdsl.papers.stock import Lengths, Need, TooManyError

__all__ = ["best"]

MOST_USES = 5000  # beyond it the optimiser takes minutes; a count, so that every machine gives up on the same rig
HELD = 0.5  # counts are whole, and lengths are in millimetres: less than this is arithmetic

Use = tuple[int, Lengths]  # a kind of need by its place, and a set of lengths that serves it


def best(needs: Mapping[Need, int], owned: Mapping[float, int]) -> dict[Need, list[Lengths]]:
    """For each kind of need the sets of lengths that serve it, as many as it has of them; fewer where some are short.

    ImportError where scipy is not installed, TooManyError where it would take too long.
    """
    import numpy as np
    from scipy.optimize import LinearConstraint
    from scipy.sparse import csr_array

    kinds, lengths = sorted(needs), sorted(length for length, count in owned.items() if count > 0)
    ways = ((at, some) for at, need in enumerate(kinds) for some in _sets(need, lengths, owned))
    uses = list(islice(ways, MOST_USES + 1))
    if len(uses) > MOST_USES:
        raise TooManyError
    if not uses:
        return {}
    taken = csr_array(np.array([[float(some.count(length)) for _, some in uses] for length in lengths]))
    served = csr_array(np.array([[float(at == kind) for at, _ in uses] for kind in range(len(kinds))]))
    limits = [
        LinearConstraint(taken, ub=np.array([owned[length] for length in lengths])),
        LinearConstraint(served, ub=np.array([needs[need] for need in kinds])),
    ]
    made: dict[Need, list[Lengths]] = {need: [] for need in kinds}
    for (at, some), count in zip(uses, _counts(limits, _aims(kinds, uses)), strict=True):
        made[kinds[at]] += [some] * count
    return made


def _aims(kinds: Sequence[Need], uses: Sequence[Use]) -> tuple[list[float], ...]:
    """What is made least, one after the other: shorts, joins, millimetres, and short needs that are long."""
    return (
        [-1.0 for _ in uses],
        [len(some) - 1.0 for _, some in uses],
        [float(round(1000 * sum(some))) for _, some in uses],
        [-float(round(1000 * kinds[at].length_m)) for at, _ in uses],
    )


def _counts(limits: list[Any], aims: Sequence[Sequence[float]]) -> list[int]:
    """How often each use is made: each aim is held while the next is made least."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    counts = np.zeros(len(aims[0]))
    for aim in map(np.array, aims):
        whole = np.ones(len(aim), dtype=np.int8)
        found = milp(aim, constraints=limits, integrality=whole, bounds=Bounds(0), options={"mip_rel_gap": 0.0})
        assert found.x is not None, "nothing at all is always a solution"
        counts = np.round(found.x)
        limits = [*limits, LinearConstraint(csr_array(aim[None, :]), ub=float(aim @ counts) + HELD)]
    return [int(count) for count in counts]


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
