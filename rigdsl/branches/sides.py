"""The parts of two changed texts held against those of the one they came from, and against each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rigdsl.branches.identity import Known, by_key, known
from rigdsl.branches.naming import Key, key_of, names_of
from rigdsl.branches.parts import Part

__all__ = ["Both", "Side", "held", "taken_in"]

Name = tuple[Key, int]  # a key, and which of several of one key it is


class Side(NamedTuple):
    """The parts of a changed text, which of the old ones they were, and the names of those that are new."""

    parts: list[Part]
    known: Known
    new: dict[int, Name]


class Both(NamedTuple):
    """Both sides, the old parts, and what of the sides is the same."""

    base: list[Part]
    ours: Side
    theirs: Side
    twins: dict[int, int]  # what is new on both: from its number on our side to that on theirs
    in_step: list[tuple[int, int]]  # on both sides in one order: old parts that nobody moved, and new ones between them


def held(base: list[Part], ours: list[Part], theirs: list[Part]) -> Both:
    """Both sides against each other."""
    added = _new_keys(base, ours) & _new_keys(base, theirs)
    sides = _side(base, ours, added), _side(base, theirs, added)
    there = {name: number for number, name in sides[1].new.items()}
    twins = {at: there[name] for at, name in sides[0].new.items() if name in there}
    twins |= _one_name(sides[0], sides[1], twins)
    return Both(base, *sides, twins, list(_in_step(sides[0].known, sides[1].known, twins)))


def taken_in(base: Sequence[Part], side: Side, part: Part) -> list[int]:
    """The old lines that a new one of a side has taken in: they share it now, and are nowhere else there."""
    if len(part.nodes) < 2:
        return []
    keys = {key_of(node)[0] for node in part.nodes}
    return [old for old, was in enumerate(base) if was.key in keys and old not in side.known.at]


def _side(base: Sequence[Part], parts: list[Part], added: set[Key]) -> Side:
    found = known(base, parts, added)
    new = [number for number, was in enumerate(found.was) if was is None]
    names = by_key([parts[number] for number in new])
    return Side(parts, found, {new[number]: name for name, number in names.items()})


def _new_keys(base: Sequence[Part], side: Sequence[Part]) -> set[Key]:
    return {part.key for part in side if not part.is_gap} - {part.key for part in base}


def _one_name(ours: Side, theirs: Side, twins: dict[int, int]) -> dict[int, int]:
    """New lines that are not the same and give one name: where several things share a line."""
    taken = set(twins.values())
    there = {
        name: number
        for number in reversed(theirs.new)
        if number not in taken
        for node in theirs.parts[number].nodes
        for name in names_of(node)
    }
    found: dict[int, int] = {}
    for number in ours.new:
        if number not in twins:
            names = [name for node in ours.parts[number].nodes for name in names_of(node) if name in there]
            free = [there[name] for name in names if there[name] not in found.values()]
            found |= {number: free[0]} if free else {}
    return found


def _in_step(ours: Known, theirs: Known, twins: dict[int, int]) -> Iterator[tuple[int, int]]:
    stay = [(ours.at[number], theirs.at[number]) for number in sorted(ours.stay & theirs.stay)]
    new = sorted(twins.items())
    at, last = 0, -1
    for end_ours, end_theirs in [*stay, (len(ours.was), len(theirs.was))]:
        while at < len(new) and new[at][0] < end_ours:
            if last < new[at][1] < end_theirs:
                yield new[at]
                last = new[at][1]
            at += 1
        if end_ours < len(ours.was):
            yield end_ours, end_theirs
        last = end_theirs
