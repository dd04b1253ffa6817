"""The cables of a plan: which lie between which two zones, one line for all of one pattern, and how far it is."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from rigdsl.draw.cables import Cabling, Stub
from rigdsl.draw.patterns import LINE, LOOM, PATTERNS, Pattern
from rigdsl.draw.plan_names import point_id, zone_label
from rigdsl.draw.segments import slug
from rigdsl.draw.shapes import Edge, End
from rigdsl.draw.words import length_text
from rigdsl.rig import Leg, Rig, Zone, natural

__all__ = ["Laid", "laid", "lines"]

MOST_LINES = 6  # of words beside a line; what is more is counted


@dataclass(frozen=True)
class Laid:
    """A cable, or some alike, between two zones: what it is in words, and what it joins."""

    zones: tuple[str, str]
    pattern: Pattern
    words: str
    joins: tuple[tuple[str, str], ...]
    cables: tuple[str, ...] = ()
    about: tuple[str, ...] = ()
    ids: str = ""


def laid(facts: Cabling) -> Iterator[Laid]:
    """Every cable with the zones that it lies between, those of plugs in bunches."""
    boxes = facts.rig.boxes
    for cable in facts.cables:
        zones = boxes[cable.left.box].zone, boxes[cable.right.box].zone
        names = tuple(dict.fromkeys(link.name for link in cable.links))
        runs = {run.name: run for name in names for run in facts.runs_of.get(name, ())}
        ramp = ", under a ramp" if any(link.ramp for link in cable.links) else ""
        words = " ".join(filter(None, [cable.ids, cable.label])) + ramp
        yield _turned(Laid(zones, cable.pattern, words, cable.joins, names, (*names, *runs), cable.ids))
    for stub, legs in facts.stubs.items():
        if facts.stub_ports(stub):
            zones = stub.zone, boxes[stub.box].zone
            joins = tuple(_plugged(facts, stub, leg) for leg in legs)
            pattern = LOOM if len(legs) > 1 else LINE
            words = f"{facts.stub_label(stub)} of {stub.what} at {stub.box}"
            yield _turned(Laid(zones, pattern, words, joins))


def _plugged(facts: Cabling, stub: Stub, leg: Leg) -> tuple[str, str]:
    """A source and its socket, or a socket and its output: first what stands in the stub's zone."""
    return leg.name, str(facts.rig.thing(leg).ports[leg.index])


def _turned(one: Laid) -> Laid:
    """The same cable from the zone whose name comes first."""
    joins = tuple(one.joins)
    left, right = one.zones
    if natural(left) <= natural(right):
        return Laid(one.zones, one.pattern, one.words, joins, one.cables, one.about, one.ids)
    turned = tuple((b, a) for a, b in joins)
    return Laid((right, left), one.pattern, one.words, turned, one.cables, one.about, one.ids)


def lines(rig: Rig, placed: set[str], some: Iterable[Laid]) -> Iterator[Edge]:
    """One line for all cables of one pattern between two zones; the first of them says how the way goes."""
    between: dict[tuple[str, str], dict[Pattern, list[Laid]]] = {}
    for one in some:
        if one.zones[0] != one.zones[1] and set(one.zones) <= placed:
            between.setdefault(one.zones, {}).setdefault(one.pattern, []).append(one)
    for pair in sorted(between, key=lambda pair: (natural(pair[0]), natural(pair[1]))):
        first = True
        for pattern in (pattern for pattern in PATTERNS if pattern in between[pair]):
            yield _line(rig, pair, pattern, between[pair][pattern], way=first)
            first = False


def _line(rig: Rig, pair: tuple[str, str], pattern: Pattern, some: list[Laid], *, way: bool) -> Edge:
    words = [one.words for one in some]
    if len(words) > MOST_LINES:
        words = [*words[: MOST_LINES - 1], f"and {len(words) - MOST_LINES + 1} more: see cabling"]
    label = (*words, *(_way_words(rig, pair) if way else ()))
    return Edge(
        slug("way", *pair, pattern.name),
        End(point_id(pair[0]), "", "e"),
        End(point_id(pair[1]), "", "w"),
        pattern,
        label,
        tuple(dict.fromkeys(name for one in some for name in one.about)),
        f"{zone_label(rig, pair[0])} to {zone_label(rig, pair[1])}: {'; '.join(one.words for one in some)}",
        forward=False,
        bold=len(some[0].ids),
        words_at="beside",
        joins=tuple(join for one in some for join in one.joins),
        cables=tuple(name for one in some for name in one.cables),
    )


def _way_words(rig: Rig, pair: tuple[str, str]) -> tuple[str, ...]:
    """How far it is: along the way that is given, or straight."""
    way = rig.ways.get(frozenset(pair))
    straight = straight_m(rig.zones, pair)
    if way is None and rig.head.axes:
        return (f"{length_text(rig.distance_m(*pair))} along the axes, {length_text(straight)} straight",)
    if way is None:
        return (f"{length_text(straight)} straight",)
    label = f" {way.label}" if way.label else ""
    return (f"way {length_text(way.length_m)}{label}, {length_text(straight)} straight",)


def straight_m(zones: Mapping[str, Zone], pair: tuple[str, str]) -> float:
    """From place to place through the air, heights and all, to a tenth of a metre."""
    here, there = (zones[name].position_m for name in pair)
    assert here is not None
    assert there is not None
    return round(math.dist(here, there), 1)
