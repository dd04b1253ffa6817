"""The rig: every thing of the files, resolved, frozen, each with the place it came from."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from rigdsl.finding import Finding
from rigdsl.rig.edits import NightEdit
from rigdsl.rig.gear import Cable, Group, Model, Protocol
from rigdsl.rig.port import Leg, Port
from rigdsl.rig.signals import Accept, Clock, Control, Insert, Keep, Output, Patch, Source, Stock
from rigdsl.rig.stage import Box, Link, Power, Supply, Way, Zone
from rigdsl.text import Span

__all__ = ["Head", "Rig"]


@dataclass(frozen=True)
class Head:
    """What holds for the whole rig. Lengths in metres, the rate in Hz; `title` is None in a library."""

    title: str | None = None
    place: Span | None = None
    rate_hz: int = 48_000
    slack_m: float | None = None
    lead: str = ""
    date: str = ""
    revision: str = ""
    demo: bool = False
    axes: bool = False
    note: str = ""


@dataclass(frozen=True)
class Rig:
    """All of it. Names of zones, boxes, links, sources, outputs and supplies are one set; gear has sets of its own.

    `incomplete` are names that stand in the files but could not be resolved: rules stay quiet about them;
    `left_out` the first words of statements that could not be taken ("patch", "link"); `edits` what the night makes
    of the files that it uses.
    """

    head: Head
    zones: Mapping[str, Zone] = field(default_factory=dict)
    ways: Mapping[frozenset[str], Way] = field(default_factory=dict)
    boxes: Mapping[str, Box] = field(default_factory=dict)
    links: Mapping[str, Link] = field(default_factory=dict)
    sources: Mapping[str, Source] = field(default_factory=dict)
    outputs: Mapping[str, Output] = field(default_factory=dict)
    patches: tuple[Patch, ...] = ()
    inserts: tuple[Insert, ...] = ()
    supplies: Mapping[str, Supply] = field(default_factory=dict)
    powers: tuple[Power, ...] = ()
    clocks: tuple[Clock, ...] = ()
    controls: tuple[Control, ...] = ()
    keeps: tuple[Keep, ...] = ()
    accepts: tuple[Accept, ...] = ()
    stock: tuple[Stock, ...] = ()
    edits: tuple[NightEdit, ...] = ()
    models: Mapping[str, Model] = field(default_factory=dict)
    cables: Mapping[str, Cable] = field(default_factory=dict)
    protocols: Mapping[str, Protocol] = field(default_factory=dict)
    incomplete: frozenset[str] = frozenset()
    left_out: frozenset[str] = frozenset()
    findings: tuple[Finding, ...] = ()

    def group(self, port: Port) -> Group:
        """The group a socket belongs to."""
        return self.boxes[port.box].model.groups[port.group]

    def body(self, box: str) -> str:
        """The box itself, or for an option card the box that it sits in."""
        slot = self.boxes[box].slot
        return slot.box if slot else box

    @property
    def insert_lines(self) -> tuple[tuple[Insert, ...], ...]:
        """The inserts of each line of the file: they go over one lead."""
        lines: dict[tuple[str, Span], list[Insert]] = {}
        for insert in self.inserts:
            lines.setdefault((insert.name, insert.place), []).append(insert)
        return tuple(map(tuple, lines.values()))

    @cached_property
    def _cards(self) -> Mapping[str, tuple[Box, ...]]:
        found: dict[str, list[Box]] = {}
        for box in sorted(self.boxes.values(), key=lambda box: box.slot.key if box.slot else ()):
            if box.slot:
                found.setdefault(box.slot.box, []).append(box)
        return {host: tuple(cards) for host, cards in found.items()}

    def whole(self, box: str) -> tuple[Box, ...]:
        """A box with the cards in its slots; of a card, the box that it sits in with all of its cards."""
        body = self.body(box)
        return self.boxes[body], *self._cards.get(body, ())

    def groups_of(self, box: str, *roles: str) -> list[tuple[Box, Group]]:
        """The groups of these roles of a box and of the cards in it, each with the one that has it."""
        return [(one, group) for one in self.whole(box) for group in one.model.of_role(*roles)]

    def thing(self, leg: Leg) -> Source | Output:
        """The source or output of a leg."""
        return self.sources[leg.name] if leg.name in self.sources else self.outputs[leg.name]

    def distance_m(self, one: str, other: str) -> float | None:
        """The least length between two zones: the way, else by their positions; None: not known, or one zone."""
        way = self.ways.get(frozenset((one, other)))
        if one == other or way is not None:
            return way.length_m if way is not None and one != other else None
        here, there = (self.zones[name].position_m if name in self.zones else None for name in (one, other))
        if here is None or there is None:
            return None
        steps = [abs(a - b) for a, b in zip(here, there, strict=True)]
        return sum(steps) if self.head.axes else math.hypot(*steps)

    def measured_m(self, one: str, other: str) -> float | None:
        """How long a cable is made whose length nobody gave: the distance and the slack; the slack inside one zone."""
        slack = self.head.slack_m
        if one == other:
            return slack if one and slack else None
        distance = self.distance_m(one, other)
        return None if distance is None else distance + (slack or 0.0)

    def converts_rate(self, port: Port) -> bool:
        """Whether the rate is converted at a port: by its group, its whole box, or a bridge that it is a side of."""
        box = self.boxes[port.box]
        bridged = any(one.converts_rate and port.group in (one.left, one.right) for one in box.model.bridges)
        return bridged or box.converts_rate or box.model.groups[port.group].converts_rate

    def rate_of(self, port: Port) -> int:
        """The rate a digital port runs at, in Hz: its own, else its box's (a card's: its host's), else the rig's."""
        box, body = self.boxes[port.box], self.boxes[self.body(port.box)]
        return box.model.groups[port.group].rate_hz or box.rate_hz or body.rate_hz or self.head.rate_hz
