"""Sound on wire: from a plug through passes and cables, forward to inputs and backward to outputs.

A walk is a tree: every socket it comes to, with the hop that led there. Nothing
digital happens here; a walk ends where a patch or a converter takes over.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from rigdsl.paths.model import Hop, Piece
from rigdsl.paths.wiring import Wiring
from rigdsl.rig import Lead, Leg, Pass, Port, Source

__all__ = ["Walk", "backward", "copper", "forward", "hop_over", "on_wire", "onward", "pass_latency", "plug_hop"]


@dataclass(frozen=True)
class Walk:
    """Sockets in the order in which they are come to, nearest first, each with the one before it and the hop between.

    Hops are in the direction of the signal, also where the walk goes backward. The first socket has no hop.
    """

    came: Mapping[Port, tuple[Port | None, Hop | None]]

    def hops_to(self, port: Port) -> tuple[Hop, ...]:
        """The hops between the start and a socket, in the order of the walk."""
        hops: list[Hop] = []
        at: Port | None = port
        while at is not None:
            at, hop = self.came[at]
            if hop is not None:
                hops.append(hop)
        return tuple(reversed(hops))


def hop_over(piece: Piece, *, protocol: str | None = None, latency_s: float = 0.0) -> Hop:
    """The hop over a cable."""
    lead = piece.link.lead
    cable, length = _lead(lead)
    return Hop(piece.left, piece.right, "link", piece.link, cable, length, protocol, latency_s)


def _lead(lead: Lead | None) -> tuple[str | None, float | None]:
    return (lead.cable.name, lead.length_m) if lead else (None, None)


def plug_hop(leg: Leg, port: Port, lead: Lead | None, *, out: bool = False) -> Hop:
    """The hop over a plug's own cable: into a socket, or out of it."""
    cable, length = _lead(lead)
    left, right = (port, leg) if out else (leg, port)
    return Hop(left, right, "plug", None, cable, length)


Through = Callable[[Port, Pass], bool]  # whether a walk goes on through a pass that it comes to at a socket


def forward(wiring: Wiring, start: Port) -> Walk:
    """All sockets that a signal which enters at `start` comes to."""
    return Walk(dict(_walked(wiring, start, _any, ahead=True)))


def backward(wiring: Wiring, start: Port) -> Walk:
    """All sockets whose signal leaves at `start`."""
    return Walk(dict(_walked(wiring, start, _any, ahead=False)))


def on_wire(wiring: Wiring, start: Port, *, ahead: bool) -> Walk:
    """All sockets that hang on one by wire alone: no active or isolated pass between. Ahead, or back to the sources."""
    return Walk(dict(_walked(wiring, start, lambda _, one: one.passive, ahead=ahead)))


def onward(wiring: Wiring, start: Port, through: Through) -> Walk:
    """All sockets that a signal which enters or leaves at `start` comes to, through some passes and not others."""
    return Walk(dict(_walked(wiring, start, through, ahead=True)))


def _any(port: Port, one: Pass) -> bool:
    return True


def _walked(
    wiring: Wiring, start: Port, through: Through, *, ahead: bool
) -> Iterator[tuple[Port, tuple[Port | None, Hop | None]]]:
    """One step is a pass and then, from its far side, every cable; backward the other way about."""
    seen = {start}
    waiting = deque([start])
    yield start, (None, None)
    while waiting:
        port = waiting.popleft()
        for step, hop in (*_passed(wiring, port, through, ahead), *_cabled(wiring, port, start, ahead)):
            if step not in seen:
                seen.add(step)
                waiting.append(step)
                yield step, (port, hop)


def _passed(wiring: Wiring, port: Port, through: Through, ahead: bool) -> Iterator[tuple[Port, Hop]]:
    for other, one in wiring.onward(port) if ahead else wiring.back(port):
        if not through(port, one):
            continue
        latency = pass_latency(wiring, port if ahead else other, one)
        yield (
            other,
            Hop(port, other, "pass", latency_s=latency) if ahead else Hop(other, port, "pass", latency_s=latency),
        )


def pass_latency(wiring: Wiring, entered: Port, one: Pass) -> float:
    """An active pass takes the time its input says, else its box; passive wire takes none."""
    if not one.active:
        return 0.0
    latency = wiring.rig.group(entered).latency_s
    return wiring.rig.boxes[entered.box].latency_s if latency is None else latency


def _cabled(wiring: Wiring, port: Port, start: Port, ahead: bool) -> Iterator[tuple[Port, Hop]]:
    """Cables lead on from where a signal leaves a box: an output ahead, an input on the way back."""
    role = wiring.rig.group(port).role
    if role not in ("inputs", "outputs") or (port == start and role == ("inputs" if ahead else "outputs")):
        return
    if not (wiring.gives(port) if ahead else wiring.takes(port)):
        return
    for piece in wiring.pieces.get(port, ()):
        if ahead and wiring.takes(piece.right):
            yield piece.right, hop_over(piece)
        elif not ahead and wiring.gives(piece.right):
            yield piece.right, hop_over(piece.turned)


def copper(wiring: Wiring, source: Source, index: int = 0) -> tuple[Hop, ...]:
    """The wire that a source drives: its plug, and every hop up to the first active or isolated pass or the input.

    Where the line splits, the longest way counts; a length that nobody knows counts as none.
    """
    if index >= len(source.ports):
        return ()
    start = source.ports[index]
    lead = plug_hop(Leg(source.name, index), start, source.lead)
    walk = on_wire(wiring, start, ahead=True)
    far = {start: 0.0}
    for port, (before, hop) in walk.came.items():
        if before is not None and hop is not None:
            far[port] = far[before] + (hop.length_m or 0.0)
    return (lead, *walk.hops_to(max(far, key=lambda port: far[port])))
