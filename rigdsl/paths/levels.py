"""Levels on wire: at what level a signal comes to each input that takes it in, and where it got that level.

A source's level goes through wire and transformers as it is. It starts anew behind whatever is active, and behind
the transformer of a DI, at the level of the output there.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rigdsl.paths import walk
from rigdsl.paths.model import Hop
from rigdsl.paths.wiring import Wiring
from rigdsl.rig import Group, Leg, Pass, Port

__all__ = ["Signal", "find_signals"]

# These only pass on what comes in; their own sockets have no level.
LINE_KINDS = ("sub-box", "panel", "splitter")


@dataclass(frozen=True)
class Signal:
    """What comes to an input: one of `levels`, from a line of a source or an output's socket, by `walk`."""

    port: Port
    levels: tuple[str, ...]
    origin: Leg | Port
    walk: walk.Walk

    @property
    def hops(self) -> tuple[Hop, ...]:
        """How it comes there from the first socket on."""
        return self.walk.hops_to(self.port)


def find_signals(wiring: Wiring) -> Mapping[Port, tuple[Signal, ...]]:
    """The signals at every input that takes sound in rather than passing it on; sources first."""
    found: dict[Port, list[Signal]] = defaultdict(list)

    def as_it_is(port: Port, one: Pass) -> bool:
        return not _restarts(wiring.rig.boxes[port.box].kind, one)

    for origin, start, levels in (*_sources(wiring), *_outputs(wiring), *_sends(wiring)):
        came = walk.onward(wiring, start, as_it_is)
        for port in came.came:
            if _takes_in(wiring, port):
                found[port].append(Signal(port, levels, origin, came))
    return {port: tuple(signals) for port, signals in found.items()}


def _sources(wiring: Wiring) -> Iterator[tuple[Leg | Port, Port, tuple[str, ...]]]:
    """A radio microphone's receiver gives what it is set to, where nobody writes a level."""
    for source in wiring.rig.sources.values():
        levels = ("mic", "line") if source.type == "wireless" and source.level == "mic" else (source.level,)
        for index, port in enumerate(source.ports):
            yield Leg(source.name, index), port, levels


def _outputs(wiring: Wiring) -> Iterator[tuple[Leg | Port, Port, tuple[str, ...]]]:
    for port in wiring.pieces:
        group = wiring.rig.group(port)
        if group.role == "outputs" and _starts(wiring, port):
            yield port, port, _given(wiring, port, group)


def _sends(wiring: Wiring) -> Iterator[tuple[Leg | Port, Port, tuple[str, ...]]]:
    """An insert sends at line level into the outboard."""
    for insert in wiring.rig.inserts:
        yield insert.at, insert.send, ("line",)


def _starts(wiring: Wiring, port: Port) -> bool:
    """Whether a level starts at an output, which does not come from an input through wire or a transformer."""
    kind = wiring.rig.boxes[port.box].kind
    passes = [one for _, one in wiring.back(port)]
    if passes:
        return any(_restarts(kind, one) for one in passes)
    return kind not in LINE_KINDS and kind != "loudspeaker"


def _given(wiring: Wiring, port: Port, group: Group) -> tuple[str, ...]:
    """A DI that says nothing of its output may give either."""
    said_nothing = wiring.rig.boxes[port.box].kind == "di" and group.levels == ("line",)
    return ("mic", "line") if said_nothing else group.levels


def _restarts(kind: str, one: Pass) -> bool:
    """Whether the level behind a pass is another one; a transformer elsewhere than in a DI is one to one."""
    return one.active or (one.isolated and kind == "di")


def _takes_in(wiring: Wiring, port: Port) -> bool:
    """Whether a level matters at a socket: an input that has more behind it than wire."""
    group = wiring.rig.group(port)
    if group.role != "inputs" or group.wireless or group.soft:
        return False
    kind = wiring.rig.boxes[port.box].kind
    return kind not in LINE_KINDS or group.preamp or any(_restarts(kind, one) for _, one in wiring.onward(port))
