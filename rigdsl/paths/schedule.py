"""The cable schedule: how many cables of which kind and length a rig takes, and which of them the house has.

A cable of one line that is joined to n sockets is n cables of one name; with `lines k` it is n/k of them, rounded up.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from rigdsl.rig import Cable, Insert, Lead, Link, Output, Rig, Source, natural
from rigdsl.text import Span

__all__ = ["Shortage", "Wanted", "schedule", "shortages", "unserved"]

ROUNDING_M = 1e-6  # lengths that are equal but for the arithmetic

Thing = Link | Source | Output | Insert


@dataclass(frozen=True)
class Wanted:
    """So many cables of one kind and length for one link, source, output or insert; length None: to be measured."""

    name: str
    cable: Cable
    length_m: float | None
    measured: bool
    count: int
    place: Span


@dataclass(frozen=True)
class Shortage:
    """What the house lacks of one kind: `missing` cables of `length_m`, which `wanted` ask for.

    `needed` and `owned` are all of that length or longer. `unknown` cables of the kind have no length yet and are
    not among them.
    """

    cable: Cable
    length_m: float
    missing: int
    needed: int
    owned: int
    unknown: int
    wanted: tuple[Wanted, ...]


def schedule(rig: Rig) -> tuple[Wanted, ...]:
    """Every cable that the rig takes: links, sources, outputs and inserts in natural order.

    What one line of the file inserts goes over its one lead; a second line for the same channel has its own.
    """
    things: dict[tuple[str, Span], list[Thing]] = defaultdict(list)
    every: Iterable[Thing] = (*rig.links.values(), *rig.sources.values(), *rig.outputs.values(), *rig.inserts)
    for thing in every:
        things[thing.name, thing.place].append(thing)
    rows = (_wanted(alike[0], sum(_lines(thing) for thing in alike)) for alike in things.values())
    return tuple(sorted((row for row in rows if row), key=lambda row: natural(row.name)))


def _lines(thing: Thing) -> int:
    if isinstance(thing, Link):
        return len(thing.joins)
    return 1 if isinstance(thing, Insert) else len(thing.ports)


def _wanted(thing: Thing, lines: int) -> Wanted | None:
    lead: Lead | None = thing.lead
    if lead is None or not lines:
        return None
    count = -(-lines // lead.cable.lines)
    return Wanted(thing.name, lead.cable, lead.length_m, lead.measured, count, thing.place)


def unserved(needed_m: Iterable[float], owned_m: Mapping[float, int]) -> Counter[float]:
    """The lengths that no cable of the stock is left for, as few of them as can be.

    A longer cable serves a shorter need. From the longest need on: whatever is long enough for it is long enough
    for all that follow, so no choice among them can be wrong.
    """
    missing: Counter[float] = Counter()
    used = 0
    for length_m in sorted(needed_m, reverse=True):
        if used < _long_enough(owned_m, length_m):
            used += 1
        else:
            missing[length_m] += 1
    return missing


def _long_enough(owned_m: Mapping[float, int], length_m: float) -> int:
    return sum(count for owned, count in owned_m.items() if owned >= length_m - ROUNDING_M)


def shortages(rig: Rig) -> Iterator[Shortage]:
    """What the stock lacks, of the kinds of cable that it has any of: by kind, and by the length to be found."""
    owned: dict[str, Counter[float]] = defaultdict(Counter)
    for line in rig.stock:
        owned[line.cable][line.length_m] += line.count
    by_kind: dict[str, list[Wanted]] = defaultdict(list)
    for row in schedule(rig) if owned else ():
        by_kind[row.cable.name].append(row)
    for kind in sorted(owned.keys() & by_kind.keys(), key=natural):
        yield from _short_of(by_kind[kind], owned[kind])


def _short_of(rows: list[Wanted], owned_m: Mapping[float, int]) -> Iterator[Shortage]:
    known = [(row, row.length_m) for row in rows if row.length_m is not None]
    missing = unserved((length_m for row, length_m in known for _ in range(row.count)), owned_m)
    by_size: Counter[float] = Counter()
    for length_m, count in missing.items():
        by_size[_size(length_m, owned_m)] += count
    unknown = sum(row.count for row in rows if row.length_m is None)
    for size_m, count in sorted(by_size.items()):
        wanted = tuple(row for row, length_m in known if _size(length_m, owned_m) == size_m)
        needed = sum(row.count for row, length_m in known if _size(length_m, owned_m) >= size_m)
        owned = _long_enough(owned_m, size_m)
        yield Shortage(rows[0].cable, size_m, count, needed, owned, unknown, wanted)


def _size(length_m: float, owned_m: Mapping[float, int]) -> float:
    """The length in which the house has cables that would do; a need longer than any is its own."""
    return min((owned for owned in owned_m if owned >= length_m - ROUNDING_M), default=length_m)
