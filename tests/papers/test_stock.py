"""Which cables of the stock are taken: the best choice, held against trying all of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from rigdsl.papers.stock import Lengths, Need, Served, TooManyError, assigned, plain


def every_choice(needs: Sequence[Need], pieces: Lengths) -> Iterator[Served]:
    """Every way to serve some of the needs from these pieces, each piece once."""
    if not needs:
        yield Served(())
        return
    first, rest = needs[0], needs[1:]
    options = {()} | {some for size in range(1, first.joins + 2) for some in combinations(pieces, size)}
    for some in options:
        if some and not first.takes(some):
            continue
        left = list(pieces)
        for one in some:
            left.remove(one)
        for others in every_choice(rest, tuple(left)):
            yield Served((some, *others.lengths))


def brute(needs: Sequence[Need], owned: Mapping[float, int]) -> tuple[int, int, float]:
    pieces = tuple(length for length, count in sorted(owned.items()) for _ in range(count))
    return min(choice.cost for choice in every_choice(needs, pieces))


lengths = st.sampled_from([2.0, 3.0, 5.0, 6.0, 7.5, 10.0, 15.0, 20.0])
stocks = st.dictionaries(lengths, st.integers(0, 2), max_size=4)


@pytest.mark.parametrize(
    ("needed", "joins", "owned", "taken"),
    [
        ([5], 0, {5: 1}, [(5,)]),
        ([4.2], 0, {5: 1, 10: 1}, [(5,)]),  # the shortest that is long enough
        ([5, 8], 0, {5: 1, 10: 1}, [(5,), (10,)]),
        ([8, 5], 0, {10: 2}, [(10,), (10,)]),
        ([12], 0, {10: 2}, [()]),  # nothing joined unless it is asked for
        ([12], 1, {10: 1, 5: 1}, [(10, 5)]),
        ([12], 1, {20: 1, 10: 1, 5: 1}, [(20,)]),  # rather one cable than two that are shorter
        ([12], 1, {10: 2, 5: 1, 3: 1}, [(10, 3)]),  # of two that are joined the least
        ([25], 2, {10: 3}, [(10, 10, 10)]),
        ([25], 1, {10: 3}, [()]),
        # From the longest need on, each the nearest: 12 takes 10 + 3 and leaves 11 short. The best serves both.
        ([12, 11], 1, {10: 1, 3: 1, 6: 2}, [(6, 6), (10, 3)]),
        ([10, 5], 0, {10: 1}, [(10,), ()]),  # what is short is rather the short one
        ([], 2, {10: 1}, []),
        ([5], 1, {}, [()]),
    ],
)
def test_what_is_taken(
    needed: list[float], joins: int, owned: dict[float, int], taken: list[tuple[float, ...]]
) -> None:
    served = assigned([Need(length, joins=joins) for length in needed], owned)
    assert served.lengths == tuple(taken)


def test_copper_data_is_not_taken_past_its_reach() -> None:
    """A 100 m reel on a run that may have 60 m is silence: it stays in the case, and the run is short."""
    assert assigned([Need(50, most_m=60)], {100: 1}).lengths == ((),)
    assert assigned([Need(50, most_m=60)], {100: 1, 55: 1}).lengths == ((55,),)
    assert assigned([Need(50, most_m=60), Need(50)], {100: 1, 55: 1}).lengths == ((100,), (55,))[::-1]
    assert assigned([Need(70, most_m=60)], {70: 1}).lengths == ((70,),)  # past it already: run-too-long says so


@given(st.lists(st.builds(Need, lengths, joins=st.just(0)), max_size=5), stocks)
def test_without_joins_nothing_is_better(needs: list[Need], owned: dict[float, int]) -> None:
    assert assigned(needs, owned).cost == brute(needs, owned)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.builds(Need, lengths, joins=st.sampled_from([1, 2])), max_size=3), stocks)
def test_with_joins_nothing_is_better(needs: list[Need], owned: dict[float, int]) -> None:
    assert assigned(needs, owned).cost == brute(needs, owned)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.builds(Need, lengths, st.sampled_from([8.0, 12.0, float("inf")])), max_size=4), stocks)
def test_with_reaches_nothing_is_better(needs: list[Need], owned: dict[float, int]) -> None:
    assert assigned(needs, owned).cost == brute(needs, owned)


@given(st.lists(lengths, min_size=1, max_size=12), st.dictionaries(lengths, st.integers(0, 4), min_size=1))
def test_metres_are_those_of_the_assignment_problem(needed: list[float], owned: dict[float, int]) -> None:
    """Held against scipy's linear_sum_assignment (Crouse 2016): a need that is short costs more than all cable."""
    pieces = [length for length, count in owned.items() for _ in range(count)]
    dear, shorts = 10_000.0, [10_000.0] * len(needed)
    costs = np.array([[piece if piece >= need else 1e9 for piece in pieces] + shorts for need in needed])
    at, to = linear_sum_assignment(costs)
    total = costs[at, to].sum()
    served = assigned([Need(length) for length in needed], owned)
    assert served.short == round(total // dear)
    assert served.total_m == pytest.approx(total - served.short * dear)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.builds(Need, lengths, joins=st.sampled_from([0, 1])), max_size=12), stocks)
def test_no_cable_is_taken_twice_and_each_need_is_served(needs: list[Need], owned: dict[float, int]) -> None:
    served = assigned(needs, owned)
    used = Counter(one for some in served.lengths for one in some)
    assert all(count <= owned[length] for length, count in used.items())
    assert all(not some or need.takes(some) for need, some in zip(needs, served.lengths, strict=True))


def test_what_would_take_minutes_is_refused() -> None:
    """300 lengths to be joined of 20: the optimiser has more than ten thousand ways to serve them."""
    needs = [Need(3 + number / 7, joins=2) for number in range(300)]
    owned = {1.5 + 1.3 * number: 10 for number in range(20)}
    with pytest.raises(TooManyError):
        assigned(needs, owned)
    assert plain(needs, owned).joins == 0


def test_without_an_optimiser_nothing_is_too_long_either() -> None:
    """A data cable beyond the reach of its protocol is none."""
    assert plain([Need(30, 100), Need(20)], {120.0: 2}).lengths == ((), (120.0,))
