"""The rig: every thing of the files, resolved, frozen, each with the place it came from."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from rigdsl.finding import Finding
from rigdsl.rig.gear import Cable, Group, Model, Protocol
from rigdsl.rig.port import Leg, Natural, Port, natural
from rigdsl.text import Span

__all__ = [
    "Accept",
    "Box",
    "Clock",
    "Control",
    "Head",
    "Keep",
    "Lead",
    "Link",
    "Output",
    "Patch",
    "Rig",
    "Source",
    "Stock",
    "Way",
    "Zone",
]

MIXING_KINDS = ("console", "engine")


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
class Zone:
    """A part of the stage or the room. Position in metres: x to stage left, y upstage, z up."""

    name: str
    label: str
    place: Span
    position_m: tuple[float, float, float] | None = None
    public: bool = False
    note: str = ""


@dataclass(frozen=True)
class Way:
    """How a cable really goes between two zones."""

    zones: frozenset[str]
    length_m: float
    label: str
    place: Span


@dataclass(frozen=True)
class Box:
    """A piece of gear that stands somewhere."""

    name: str
    label: str
    model: Model
    zone: str
    place: Span
    rate_hz: int | None = None
    net: Literal["", "primary", "secondary"] = ""
    converts_rate: bool = False
    latency_s: float = 0.0
    weight_kg: float | None = None
    power_w: float | None = None
    serial: str = ""
    address: str = ""
    firmware: str = ""
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def kind(self) -> str:
        """The kind of its model."""
        return self.model.kind

    @property
    def mixes(self) -> bool:
        """A console or an engine."""
        return self.model.kind in MIXING_KINDS

    @property
    def title(self) -> str:
        """How to call it in a sentence: its label, else its name."""
        return self.label or self.name

    def ports(self, group: Group) -> list[Port]:
        """Every socket of a group."""
        if group.count == 1:
            return [Port(self.name, group.name, 0)]
        return [Port(self.name, group.name, number) for number in range(1, group.count + 1)]


@dataclass(frozen=True)
class Lead:
    """A cable of a plug or a link. `length_m` None: nobody knows yet; `measured`: worked out from the zones."""

    cable: Cable
    length_m: float | None
    measured: bool = False


@dataclass(frozen=True)
class Link:
    """A cable with an identity, and the pairs of sockets that it joins."""

    name: str
    id: str
    joins: tuple[tuple[Port, Port], ...]
    lead: Lead | None
    place: Span
    redundant: bool = False
    loom: str = ""
    ring: str = ""
    bundle: str = ""
    rate_hz: int | None = None
    connectors: int | None = None
    splices: int | None = None
    label: str = ""
    ramp: bool = False
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)

    @cached_property
    def key(self) -> Natural:
        """Natural order of links."""
        return natural(self.name)


@dataclass(frozen=True)
class Source:
    """What makes the sound. `ports` has a socket for each leg; none: plugged into nothing.

    `width` is how many lines its own words give it, also where a box is gone; `aimed` names the box of a
    `to` that leaves the socket open. Impedance in ohms, current in amperes; `impedance_said` is false
    where the impedance is that of its type.
    """

    name: str
    label: str
    type: str
    zone: str
    ports: tuple[Port, ...]
    lead: Lead | None
    place: Span
    width: int = 1
    aimed: str = ""
    needs_phantom: bool = False
    current_a: float = 0.004
    impedance_ohm: float = 200.0
    impedance_said: bool = False
    level: str = "mic"
    balanced: bool = True
    pad_db: float = 0.0
    mono: bool = False
    partner: str = ""
    stand: str = ""
    mic: str = ""
    frequency_hz: float | None = None
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def title(self) -> str:
        """Its label, else its name."""
        return self.label or self.name


@dataclass(frozen=True)
class Output:
    """Where sound comes out: a wedge, an in-ear mix, a recorder's track."""

    name: str
    label: str
    type: str
    zone: str
    ports: tuple[Port, ...]
    lead: Lead | None
    place: Span
    width: int = 1
    aimed: str = ""
    impedance_ohm: float | None = None
    frequency_hz: float | None = None
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def title(self) -> str:
        """Its label, else its name."""
        return self.label or self.name


@dataclass(frozen=True)
class Patch:
    """Soft routing, number by number: each pair is what feeds, and what is fed."""

    name: str
    pairs: tuple[tuple[Port | Leg, Port | Leg], ...]
    place: Span
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)


@dataclass(frozen=True)
class Clock:
    """Who leads the digital clock."""

    box: str
    place: Span


@dataclass(frozen=True)
class Control:
    """Who owns gain and phantom of these inputs."""

    ports: tuple[Port, ...]
    by: str
    place: Span


@dataclass(frozen=True)
class Keep:
    """Sockets that are spare on purpose."""

    ports: tuple[Port, ...]
    what: str
    place: Span


@dataclass(frozen=True)
class Accept:
    """A finding that is known and stands, with its reason. `subject` is the text, `ports` the sockets it names."""

    rule: str
    subject: str
    ports: tuple[Port, ...]
    because: str
    until: str
    place: Span


@dataclass(frozen=True)
class Stock:
    """How many of one cable and length the house owns."""

    cable: str
    length_m: float
    count: int
    place: Span


@dataclass(frozen=True)
class Rig:
    """All of it. Names of zones, boxes, links, sources and outputs are one set; gear has sets of its own.

    `incomplete` are names that stand in the files but could not be resolved: rules stay quiet about them;
    `left_out` the first words of statements that could not be taken ("patch", "link").
    """

    head: Head
    zones: Mapping[str, Zone] = field(default_factory=dict)
    ways: Mapping[frozenset[str], Way] = field(default_factory=dict)
    boxes: Mapping[str, Box] = field(default_factory=dict)
    links: Mapping[str, Link] = field(default_factory=dict)
    sources: Mapping[str, Source] = field(default_factory=dict)
    outputs: Mapping[str, Output] = field(default_factory=dict)
    patches: tuple[Patch, ...] = ()
    clocks: tuple[Clock, ...] = ()
    controls: tuple[Control, ...] = ()
    keeps: tuple[Keep, ...] = ()
    accepts: tuple[Accept, ...] = ()
    stock: tuple[Stock, ...] = ()
    models: Mapping[str, Model] = field(default_factory=dict)
    cables: Mapping[str, Cable] = field(default_factory=dict)
    protocols: Mapping[str, Protocol] = field(default_factory=dict)
    incomplete: frozenset[str] = frozenset()
    left_out: frozenset[str] = frozenset()
    findings: tuple[Finding, ...] = ()

    def group(self, port: Port) -> Group:
        """The group a socket belongs to."""
        return self.boxes[port.box].model.groups[port.group]

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
        """The rate a digital port runs at, in Hz: its own, else its box's, else the rig's."""
        box = self.boxes[port.box]
        return box.model.groups[port.group].rate_hz or box.rate_hz or self.head.rate_hz
