"""Ways that take time, part by part, and which of several is the longest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from rigdsl.paths.model import Hop
from rigdsl.rig import Leg, Port, natural

__all__ = ["Delay", "Longest", "Network", "Stretch", "Way", "longest", "stretch"]

# What a whole network adds once: the protocol, and the switches (or the one cable) that it goes through.
Network = tuple[str, str]


@dataclass(frozen=True)
class Stretch:
    """A part of a way that takes time: at a socket, over a protocol, in a box, or through what is inserted there.

    `at` is the socket, the name of the protocol, of the box, or the outboard.
    """

    by: Literal["convert", "hop", "network", "pass", "desk", "insert"]
    at: str
    latency_s: float


@dataclass(frozen=True)
class Delay:
    """The longest way to a line of an output, from the source that it begins at, part by part."""

    source: Leg
    output: Leg
    parts: tuple[Stretch, ...]

    @property
    def latency_s(self) -> float:
        """All parts added up."""
        return sum(part.latency_s for part in self.parts)


@dataclass(frozen=True)
class Way:
    """A way so far: its parts, but each network's once and for all in `networks`."""

    source: Leg
    parts: tuple[Stretch, ...]
    networks: frozenset[Network]

    @property
    def latency_s(self) -> float:
        """All parts added up, but those of networks."""
        return sum(part.latency_s for part in self.parts if part.by != "network")


# The longest way for each set of networks: which of them is the longest in the end hangs on what follows.
Longest = Mapping[frozenset[Network], Way]


def longest(ways: Iterable[Way]) -> Longest:
    """Of the ways over the same networks the longest; of several the source that comes first."""
    best: dict[frozenset[Network], Way] = {}
    for way in ways:
        known = best.get(way.networks)
        if known is None or (way.latency_s, _later(known.source)) > (known.latency_s, _later(way.source)):
            best[way.networks] = way
    return best


def _later(leg: Leg) -> tuple[object, int]:
    return natural(leg.name), leg.index


def stretch(hop: Hop, *, inserted: bool = False) -> Stretch:
    """A hop that takes time; `inserted`: through outboard in a channel or mix."""
    if hop.protocol is not None:
        return Stretch("hop", hop.protocol, hop.latency_s)
    if hop.by in ("preamp", "convert", "patch"):
        inward = isinstance(hop.left, Port) and hop.by == "preamp"
        return Stretch("convert", str(hop.left if inward else hop.right), hop.latency_s)
    name = hop.right.box if isinstance(hop.right, Port) else hop.right.name
    return Stretch("insert" if inserted else "pass", name, hop.latency_s)
