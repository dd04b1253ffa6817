"""Gear as it is in the catalogue: protocols, cables, and models with their groups of sockets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from rigdsl.text import Span

__all__ = ["Bridge", "Cable", "Group", "Model", "Pass", "Phantom", "Protocol", "Slot"]

Role = Literal["inputs", "outputs", "channels", "mixes", "digital", "data"]

# A better category or grade serves where a lesser one is asked; each row is a ladder of its own (the order of
# ISO/IEC 11801, from memory).
CATEGORIES = ("5", "5e", "6", "6a", "7", "7a", "8")
MULTIMODE = ("om1", "om2", "om3", "om4", "om5")
SINGLE_MODE = ("os1", "os2")
LARGEST_SOCKET = 99_999
DIGITAL_PAIR_OHM = 110  # AES3: the impedance of its balanced pair


@dataclass(frozen=True)
class Protocol:
    """How boxes talk: what a port carries each way, over what cable how far.

    `capacity` maps a rate in Hz to channels each way, `reach` the name of a cable,
    category or grade to metres. `depth` is how many boxes a chain may have.
    """

    name: str
    label: str
    place: Span
    capacity: Mapping[int, int]
    reach: Mapping[str, float]
    slots: Literal["fixed", "routed"] = "routed"
    topology: Literal["point-to-point", "chain", "network"] = "point-to-point"
    depth: int = 1
    latency_s: float = 0.0
    latency_once: bool = False
    budget_db: float | None = None
    one_way: bool = False
    needs_shielded: bool = False
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)

    def channels_at(self, rate_hz: float) -> int | None:
        """Channels each way at a rate, or None where the protocol has no such rate.

        44.1 and 88.2 kHz (and 176.4) use the rows of 48, 96 and 192 kHz: AES50 counts both families as one (AES
        Standards News Blog on AES-R6-2011), for others it is common practice, no source.
        """
        rate = int(rate_hz)
        return self.capacity.get(rate, self.capacity.get(RATE_FAMILY.get(rate, rate)))


RATE_FAMILY = {44_100: 48_000, 88_200: 96_000, 176_400: 192_000}


@dataclass(frozen=True)
class Cable:
    """A kind of cable; `lines` is how many signals one piece carries."""

    name: str
    label: str
    place: Span
    medium: str = "analogue"
    category: str = ""
    grade: str = ""
    lines: int = 1
    shielded: bool = False
    stranded: bool = False
    capacitance_f_per_m: float | None = None
    resistance_ohm_per_m: float | None = None
    loss_db_per_m: float | None = None
    conductor_m2: float | None = None
    weight_kg_per_m: float | None = None
    impedance_ohm: float | None = None
    connectors: tuple[str, ...] = ()
    ends: tuple[str, ...] = ()
    tails_m: float | None = None
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def rungs(self) -> tuple[str, ...]:
        """What this cable may be named by in a protocol's `over`: itself, its category, its grade, and lesser ones."""
        names = [self.name]
        if self.category in CATEGORIES:
            names += [f"cat{step}" for step in CATEGORIES[: CATEGORIES.index(self.category) + 1]]
        elif self.category:
            names.append(f"cat{self.category}")
        for ladder in (MULTIMODE, SINGLE_MODE):
            if self.grade in ladder:
                names += ladder[: ladder.index(self.grade) + 1]
        if self.medium == "coax" and self.impedance_ohm:
            names.append(f"coax{self.impedance_ohm:g}")
        if self.medium == "analogue" and self.impedance_ohm == DIGITAL_PAIR_OHM:
            names.append("aes-pair")
        return tuple(names)


@dataclass(frozen=True)
class Phantom:
    """Phantom power of an input: volts, and what one input can give.

    The defaults are P48 of IEC 61938 (48 V, at most 10 mA to a microphone, as a magazine's glossary reports it).
    """

    voltage_v: float = 48.0
    current_a: float = 0.010


@dataclass(frozen=True)
class Group:
    """A row of sockets (or of channels, or mixes) that are alike."""

    name: str
    role: Role
    count: int
    place: Span
    protocols: tuple[str, ...] = ()
    dialects: tuple[str, ...] = ()
    levels: tuple[str, ...] = ()
    connectors: tuple[str, ...] = ()
    preamp: bool = False
    phantom: Phantom | None = None
    bank: int = 1
    gain: tuple[str, ...] = ()
    chain: Literal["", "both", "near", "far"] = ""
    direction: Literal["", "sends", "takes"] = ""
    wireless: bool = False
    soft: bool = False
    redundant: bool = False
    mirror: bool = False
    net: Literal["", "primary", "secondary"] = ""
    rate_hz: int | None = None
    converts_rate: bool = False
    impedance_ohm: float | None = None
    latency_s: float | None = None
    least_ohm: float | None = None
    thru: bool = False
    speed_bit_s: float | None = None
    poe_w: float | None = None
    gives_poe_w: float | None = None
    frequency_hz: float | None = None
    note: str = ""
    line: int = 0  # groups declared on one line share this number within their model

    @property
    def analogue(self) -> bool:
        """A socket for an analogue (or loudspeaker) plug."""
        return self.role in ("inputs", "outputs")

    @property
    def pluggable(self) -> bool:
        """Takes a cable: not a channel or mix, nor wireless or soft."""
        return self.role not in ("channels", "mixes") and not self.soft

    @property
    def remote_gain(self) -> bool:
        """A preamp whose gain and phantom are set from elsewhere."""
        return self.preamp and "remote" in self.gain


@dataclass(frozen=True)
class Pass:
    """What is wired inside: socket `left` n goes to `right` n, from the given first numbers on.

    `active` ends the copper run and restarts the level; `isolated` is a transformer.
    """

    left: str
    right: str
    left_first: int
    right_first: int
    count: int
    place: Span
    two_way: bool = False
    active: bool = False
    isolated: bool = False

    @property
    def passive(self) -> bool:
        """Wire only: runs add up through it."""
        return not self.active and not self.isolated


@dataclass(frozen=True)
class Bridge:
    """A translator between two digital groups, both ways, `channels` each way (None: not limited)."""

    left: str
    right: str
    place: Span
    channels: int | None = None
    converts_rate: bool = False


@dataclass(frozen=True)
class Slot:
    """Places for option cards: `count` of them, and what they take: forms of cards, or models by name."""

    name: str
    count: int
    takes: tuple[str, ...]
    place: Span


@dataclass(frozen=True)
class Model:
    """A piece of gear as it is bought.

    `slots` are its places for option cards; `fits` the forms of slot that it fits itself, being a card. `poe_w` is
    what it needs over the cable, `gives_poe_w` what it gives over all its ports together.
    """

    name: str
    label: str
    place: Span
    kind: str
    groups: Mapping[str, Group]
    passes: tuple[Pass, ...] = ()
    bridges: tuple[Bridge, ...] = ()
    slots: Mapping[str, Slot] = field(default_factory=dict)
    fits: tuple[str, ...] = ()
    weight_kg: float | None = None
    power_w: float | None = None
    latency_s: float = 0.0
    rate_hz: int | None = None
    net: Literal["", "primary", "secondary"] = ""
    converts_rate: bool = False
    poe_w: float | None = None
    gives_poe_w: float | None = None
    serial: str = ""
    address: str = ""
    firmware: str = ""
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)

    def of_role(self, *roles: str) -> tuple[Group, ...]:
        """The groups of these roles, in the order of the catalogue entry."""
        return tuple(group for group in self.groups.values() if group.role in roles)
