"""What paths are made of: hops, paths, runs, routes, loads, islands. Lengths in metres, times in seconds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rigdsl.rig import Leg, Link, Port, natural

__all__ = ["Chain", "Fault", "Gain", "Hop", "Island", "Load", "Network", "Path", "Piece", "Route", "Run", "Step"]

By = Literal["plug", "link", "pass", "preamp", "convert", "chain", "switch", "bridge", "patch", "mix"]


@dataclass(frozen=True)
class Piece:
    """One line of a link: the two sockets that it joins, in the order in which they are passed."""

    link: Link
    left: Port
    right: Port

    @property
    def turned(self) -> Piece:
        """The same piece, passed the other way."""
        return Piece(self.link, self.right, self.left)


@dataclass(frozen=True)
class Hop:
    """One step of a path, in the direction of the signal. `link` where `by` is "link"; cable and length on cables."""

    left: Port | Leg
    right: Port | Leg
    by: By
    link: Link | None = None
    cable: str | None = None
    length_m: float | None = None
    protocol: str | None = None
    latency_s: float = 0.0


@dataclass(frozen=True)
class Path:
    """One way of one leg, from where sound begins to where it goes, or to where it stops and why."""

    leg: Leg | None
    hops: tuple[Hop, ...]
    start: Port | Leg
    end: Port | Leg
    complete: bool
    stops: str = ""

    @property
    def latency_s(self) -> float:
        """All hops added up."""
        return sum(hop.latency_s for hop in self.hops)

    @property
    def length_m(self) -> float | None:
        """All cables added up; None where one is not known."""
        lengths = [hop.length_m for hop in self.hops if hop.cable is not None or hop.by == "link"]
        return None if None in lengths else sum(length for length in lengths if length is not None)


@dataclass(frozen=True)
class Fault:
    """Why a run does not work: the name of the rule that says so, and the facts that it needs in plain words."""

    rule: str
    because: str


@dataclass(frozen=True)
class Run:
    """Digital or data cables joined by passive panels, from one working port to another.

    `ends` are in the order of `pieces`: the end whose name comes first in natural order is left.
    `protocols` are the ones it works by, best first; empty with no faults: the ends name none, so any will
    do. `protocol` is the first of them, else the nearest to working; `faults` why it does not, worst
    first (empty: it works). `length_m` is None where a piece has no length; `known_m` is what the others
    come to. `open`: it ends in a panel with nothing behind. `data`: both ends carry control data only.
    """

    name: str
    pieces: tuple[Piece, ...]
    ends: tuple[Port, Port]
    length_m: float | None
    known_m: float
    protocols: tuple[str, ...]
    protocol: str | None
    rate_hz: int
    faults: tuple[Fault, ...]
    reach_m: float | None = None
    open: bool = False
    data: bool = False

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def links(self) -> tuple[Link, ...]:
        """Its links in the order in which they are passed, each once."""
        return tuple(dict.fromkeys(piece.link for piece in self.pieces))

    @property
    def works(self) -> bool:
        """Sound passes."""
        return not self.faults and not self.open and not self.data

    def other(self, port: Port) -> Port:
        """The far end."""
        return self.ends[1] if port == self.ends[0] else self.ends[0]

    @property
    def key(self) -> tuple[tuple[tuple[int, int, str], ...], tuple[object, ...]]:
        """Natural order of runs."""
        return natural(self.name), self.ends[0].key


@dataclass(frozen=True)
class Step:
    """One step of a route between boxes: over a run, or inside a box from one of its ports to another."""

    left: Port
    right: Port
    by: Literal["run", "chain", "switch", "bridge", "patch"]
    run: Run | None = None
    protocol: str | None = None


@dataclass(frozen=True)
class Route:
    """How a patched signal gets from one box to another.

    `steps` is the way of fewest hops that works (empty inside one box). Where none does,
    `works` is false and `blame` holds the faults of the way that is nearest to working:
    (run or None, fault, subject of the rule that tells it); no blame: nothing joins the two at all.
    """

    left: Port
    right: Port
    steps: tuple[Step, ...]
    works: bool
    blame: tuple[tuple[Run | None, Fault, str], ...] = ()

    @property
    def runs(self) -> tuple[tuple[Run, Port], ...]:
        """The runs that it goes over, each with the end that it enters by."""
        return tuple((step.run, step.left) for step in self.steps if step.run is not None)


@dataclass(frozen=True)
class Load:
    """Channels one way over a run: `enters` is the end where they go in. `limit` None: nothing limits it.

    `by_box` has each box that counts and its channels: where slots are fixed nearest to the desk first, where
    they are routed in natural order.
    """

    run: Run
    enters: Port
    channels: int
    limit: int | None
    by_box: tuple[tuple[str, int], ...]

    @property
    def tips(self) -> str:
        """The box that takes it over the limit, or nothing."""
        total = 0
        for box, channels in self.by_box:
            total += channels
            if self.limit is not None and total > self.limit:
                return box
        return ""


@dataclass(frozen=True)
class Chain:
    """Where a box stands in a chain: behind port `head` of a desk or another head, `position` from 1.

    `near` is its port towards the head; `run` leads to the box (or head) before it.
    """

    box: str
    head: Port
    position: int
    near: Port
    run: Run
    before: str


@dataclass(frozen=True)
class Island:
    """Boxes that must share one clock. `declared` by `clock` lines, `leader` who leads (or nothing)."""

    boxes: tuple[str, ...]
    declared: tuple[str, ...]
    desks: tuple[str, ...]
    leader: str


@dataclass(frozen=True)
class Network:
    """Switches joined by links. `side` is primary, secondary or nothing; `loops` the links of each circle."""

    switches: tuple[str, ...]
    side: str
    loops: tuple[tuple[Link, ...], ...]


@dataclass(frozen=True)
class Gain:
    """Who can set the preamps of one group.

    `ports` are its remote preamps that are patched and whose sound arrives, `owners` whose each is (or
    nothing), `owner` the first of those; `desks` the consoles and engines that any is patched to, `named`
    whom `control` lines name. `cut` are ports whose owner cannot set them, `shared` those patched to
    several desks with no `control` line, `lone` those patched to no desk, and nobody named.
    """

    box: str
    group: str
    ports: tuple[Port, ...]
    desks: tuple[str, ...]
    named: tuple[str, ...]
    owner: str
    owners: tuple[str, ...]
    cut: tuple[Port, ...]
    shared: tuple[Port, ...]
    lone: tuple[Port, ...]
