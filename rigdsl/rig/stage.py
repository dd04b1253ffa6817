"""What stands on the stage and in the room: zones, ways, boxes, the cables that join them, what powers them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from rigdsl.rig.gear import Cable, Group, Model
from rigdsl.rig.port import Natural, Port, natural
from rigdsl.text import Span

__all__ = ["Box", "Lead", "Link", "Power", "Supply", "Way", "Zone"]


MIXING_KINDS = ("console", "engine")


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
    """A piece of gear that stands somewhere, or an option card: `slot` is then the place that it sits in.

    `poe_w` is what it needs over the cable, `gives_poe_w` what it gives over all its ports together.
    """

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
    poe_w: float | None = None
    gives_poe_w: float | None = None
    serial: str = ""
    address: str = ""
    firmware: str = ""
    note: str = ""
    slot: Port | None = None

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
class Supply:
    """A circuit of the house: volts and amperes, as whoever is licensed for it says."""

    name: str
    label: str
    voltage_v: float
    current_a: float
    zone: str
    place: Span
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def power_w(self) -> float:
        """What it can give: volts times amperes."""
        return self.voltage_v * self.current_a


@dataclass(frozen=True)
class Power:
    """Which boxes are plugged into which supply."""

    boxes: tuple[str, ...]
    supply: str
    place: Span
