"""What sounds and where it goes: sources, outputs, inserts, patches, and the lines about sockets."""

from __future__ import annotations

from dataclasses import dataclass

from rigdsl.rig.port import Leg, Port
from rigdsl.rig.stage import Lead
from rigdsl.text import Span

__all__ = ["Accept", "Clock", "Control", "Insert", "Keep", "Output", "Patch", "Source", "Stock"]


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
    ramp: bool = False
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
    mono: bool = False
    partner: str = ""
    impedance_ohm: float | None = None
    frequency_hz: float | None = None
    ramp: bool = False
    note: str = ""

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def title(self) -> str:
        """Its label, else its name."""
        return self.label or self.name


@dataclass(frozen=True)
class Insert:
    """Outboard on a channel or mix: `send` is the input of the outboard that it goes to, `back` where it returns.

    One cable has both ways. A line of the file that inserts several is several inserts with one `name`.
    """

    name: str
    at: Port
    send: Port
    back: Port
    lead: Lead | None
    place: Span
    note: str = ""

    def __hash__(self) -> int:
        return hash((self.name, self.at))


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
