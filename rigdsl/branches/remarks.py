"""Where the new remarks and blank lines of both sides stand in a merge: a remark above the thing it is about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from rigdsl.branches.parts import BLANK, REMARK, Part
from rigdsl.branches.sides import Both, Side, taken_in

__all__ = ["Remarks", "last_remarks", "shared", "with_others"]

Numbers = Sequence[int]
Place = tuple[bool, int]  # whether on our side, and the number of the part there


class Remarks(NamedTuple):
    """New remarks that do not stay where their side has them: what they stand above goes elsewhere, or is gone."""

    ours: frozenset[int]  # numbers of the remarks
    theirs: frozenset[int]
    above_ours: Mapping[int, str]  # from the number of a part to what stands above it now
    above_theirs: Mapping[int, str]


def with_others(both: Both) -> Remarks:
    """The remarks that go with what they stand above. A heading stays: it is about more than one thing."""
    told = {there: here for here, there in both.twins.items()}
    away: dict[bool, set[int]] = {True: set(), False: set()}
    above: dict[bool, dict[int, str]] = {True: {}, False: {}}
    for is_ours, side in ((True, both.ours), (False, both.theirs)):
        step = {pair[not is_ours] for pair in both.in_step}
        for number, part in enumerate(side.parts):
            found = [] if part.is_gap or number in step else list(_above(side, number, step))
            place = _place(both, is_ours, number, told) if found else None
            if place is None:
                continue
            away[is_ours].update(found)
            on_ours, host = place
            there = both.ours if on_ours else both.theirs
            said = {there.parts[one].text for one in _above(there, host, set())} if there is not side else set()
            texts = [side.parts[one].text for one in reversed(found)]
            above[on_ours][host] = "".join(text for text in texts if text not in said)
    return Remarks(frozenset(away[True]), frozenset(away[False]), above[True], above[False])


def _place(both: Both, is_ours: bool, number: int, told: Mapping[int, int]) -> Place | None:
    """Where a part stands in the merge, if not in its place on its own side; its own place if the other took it out."""
    side, other = (both.ours, both.theirs) if is_ours else (both.theirs, both.ours)
    was = side.known.was[number]
    if was is None:
        return (True, told[number]) if not is_ours and number in told else None
    if was not in other.known.at:
        shares_a_line = any(was in taken_in(both.base, other, other.parts[new]) for new in other.new)
        return None if shares_a_line else (is_ours, number)
    here = was not in both.ours.known.stay  # where both moved it, it stands where ours has it
    return None if here == is_ours else (here, other.known.at[was])


def _above(side: Side, number: int, step: set[int]) -> Iterator[int]:
    """The new remarks right above a part, the lowest first; between them may be old ones that go with it."""
    for one in range(number - 1, -1, -1):
        part = side.parts[one]
        if part.key != REMARK or part.is_heading or one in step:
            return
        if side.known.was[one] is None:
            yield one


def shared(both: Both, ours: Numbers, theirs: Numbers) -> tuple[int, int]:
    """With how many new remarks and blank lines both stretches begin, and end, in the same way: they come in once."""
    mine, other = _new_lines(both.ours, ours), _new_lines(both.theirs, theirs)
    shorter = min(len(mine), len(other))
    first = 0
    while first < shorter and mine[first] and mine[first] == other[first]:
        first += 1
    last = 0
    while last < shorter - first and mine[-1 - last] and mine[-1 - last] == other[-1 - last]:
        last += 1
    rest = [both.theirs.parts[number] for number in theirs[first : len(theirs) - last]]
    if len(mine) > first + last and rest[:1] and rest[0].key == REMARK:  # a heading of theirs stays apart from ours
        first = first if any(map(str.strip, other[:first])) else 0
        last = last if any(map(str.strip, other[len(other) - last :])) else 0
    return first, last


def _new_lines(side: Side, run: Numbers) -> list[str]:
    """The remarks and blank lines of a stretch that are new; nothing for each other part of it."""
    pairs = ((side.parts[number], side.known.was[number]) for number in run)
    return [part.text if part.is_gap and was is None else "" for part, was in pairs]


def last_remarks(both: Both, ours: Numbers, theirs: Numbers, end: int) -> int:
    """How many of our lines at the end of a stretch belong to what both sides have behind it, our part `end`.

    What is new on their side does not come between.
    """
    parts = both.ours.parts
    between = [both.theirs.parts[one] for one in theirs]
    apart = any(not part.is_gap for part in between) or (between and between[-1].key == BLANK)
    if not apart or not ours or ours[-1] != end - 1 or end >= len(parts):
        return 0
    if parts[ours[-1]].key != REMARK or _heads_nothing(parts[end]):
        return 0
    lines = _new_lines(both.ours, ours)
    count = 0
    while count < len(lines) and lines[-1 - count]:
        count += 1
    return count


def _heads_nothing(part: Part) -> bool:
    return part.key == BLANK or part.is_heading
