"""Phantom power: which preamps can feed a source, what keeps others from it, and where phantom is on.

Phantom goes from a preamp back over analogue cables and through every pass that is neither active nor
isolated (IEC 61938: it is the same on both wires of the pair, and comes back by the screen).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from rigdsl.paths.walk import Walk, on_wire
from rigdsl.paths.wiring import Wiring
from rigdsl.rig import Leg, Pass, Port, Rig, Source

__all__ = [
    "Barrier",
    "Feed",
    "Live",
    "Reach",
    "chosen",
    "feeds",
    "gives_phantom",
    "in_need",
    "keep_off",
    "live",
    "reach",
]

# Their own battery, or no microphone at all.
NEVER = ("wireless", "playback")


@dataclass(frozen=True)
class Barrier:
    """A pass that lets sound through and stops phantom: a transformer, or an active stage."""

    left: Port
    right: Port
    by: Pass


@dataclass(frozen=True)
class Feed:
    """A preamp with phantom that a line of a source comes to; `barrier` None: its phantom reaches the source."""

    preamp: Port
    barrier: Barrier | None = None


@dataclass(frozen=True)
class Reach:
    """Where the phantom of a preamp comes to: sockets, its own first, and the lines of sources plugged into them."""

    preamp: Port
    sockets: tuple[Port, ...]
    legs: tuple[Leg, ...]


@dataclass(frozen=True)
class Live:
    """A preamp whose phantom is on: `own` lines in need on its wire, `bank` all for whose sake its bank is on."""

    preamp: Port
    own: tuple[Leg, ...]
    bank: tuple[Leg, ...]

    @property
    def others(self) -> tuple[Leg, ...]:
        """The lines of its bank that hang on other preamps."""
        return tuple(leg for leg in self.bank if leg not in self.own)


def keep_off(source: Source) -> bool:
    """A ribbon that runs without phantom may be damaged by it."""
    return source.type == "ribbon" and not source.needs_phantom


def gives_phantom(rig: Rig, port: Port) -> bool:
    """An input that takes a cable and has phantom."""
    group = rig.group(port)
    return group.phantom is not None and group.pluggable and not group.wireless


def in_need(rig: Rig) -> Mapping[str, tuple[Leg, ...]]:
    """The lines that must get phantom, by source; what is sent by radio has a battery."""
    found = {}
    for source in rig.sources.values():
        if source.needs_phantom and source.type not in NEVER:
            legs = tuple(Leg(source.name, index) for index, port in enumerate(source.ports) if _by_cable(rig, port))
            if legs:
                found[source.name] = legs
    return found


def _by_cable(rig: Rig, port: Port) -> bool:
    group = rig.group(port)
    return not group.wireless and not group.soft


def feeds(wiring: Wiring, walk: Walk, start: Port) -> tuple[Feed, ...]:
    """The preamps with phantom on the walk of a line, those that reach it first, nearest first."""
    preamps = [port for port in walk.came if gives_phantom(wiring.rig, port)]
    if not preamps:
        return ()
    stopped = _barriers(wiring, walk)
    if not stopped:
        return tuple(Feed(port) for port in preamps)
    near = on_wire(wiring, start, ahead=True).came
    direct = [Feed(port) for port in near if gives_phantom(wiring.rig, port)]
    return (*direct, *(Feed(port, stopped[port]) for port in preamps if port not in near))


def _barriers(wiring: Wiring, walk: Walk) -> Mapping[Port, Barrier]:
    """The sockets of a walk behind something that stops phantom, each with the first that does."""
    found: dict[Port, Barrier] = {}
    for port, (before, hop) in walk.came.items():
        if before is None or hop is None:
            continue
        if before in found:
            found[port] = found[before]
        elif hop.by == "pass":
            passes = [one for other, one in wiring.onward(before) if other == port]
            if not any(one.passive for one in passes):
                found[port] = Barrier(before, port, passes[0])
    return found


def reach(wiring: Wiring, preamp: Port) -> Reach:
    """All that the phantom of a preamp comes to."""
    sockets = tuple(on_wire(wiring, preamp, ahead=False).came) if preamp in wiring.pieces else (preamp,)
    plugged = (leg for port in sockets for leg in wiring.plugs.get(port, ()))
    return Reach(preamp, sockets, tuple(leg for leg in plugged if leg.name in wiring.rig.sources))


def chosen(rig: Rig, named: Mapping[Port, tuple[str, ...]], found: Iterable[Feed]) -> tuple[Port, ...]:
    """The preamps that will be on for a line: all that reach it, or of several those whose one owner is named."""
    ports = tuple(feed.preamp for feed in found if feed.barrier is None)
    if len(ports) < 2:
        return ports
    if "control" in rig.left_out:
        return ()  # the line that says which could not be read
    owned = tuple(port for port in ports if named.get(port))
    return owned if len({named[port][0] for port in owned}) == 1 else ports


def live(rig: Rig, wanted: Iterable[tuple[Leg, Iterable[Port]]]) -> Mapping[Port, Live]:
    """The preamps whose phantom is on, given for each line in need the preamps that are on for it."""
    own: dict[Port, list[Leg]] = {}
    banks: dict[tuple[str, str, int], list[Leg]] = {}
    for leg, preamps in wanted:
        for port in preamps:
            own.setdefault(port, []).append(leg)
            banks.setdefault(_bank(rig, port), []).append(leg)
    found = {}
    for (box, group, number), legs in banks.items():
        together = tuple(dict.fromkeys(legs))
        for port in _ports(rig, box, group, number):
            found[port] = Live(port, tuple(own.get(port, ())), together)
    return found


def _bank(rig: Rig, port: Port) -> tuple[str, str, int]:
    return port.box, port.group, (max(port.number, 1) - 1) // max(rig.group(port).bank, 1)


def _ports(rig: Rig, box: str, group: str, number: int) -> Iterator[Port]:
    """The sockets of a bank: 1 to 8, 9 to 16 and so on."""
    whole = rig.boxes[box].model.groups[group]
    if whole.count == 1:
        yield Port(box, group, 0)
        return
    size = max(whole.bank, 1)
    for socket in range(number * size + 1, min((number + 1) * size, whole.count) + 1):
        yield Port(box, group, socket)
