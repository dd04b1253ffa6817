"""Which way each analogue line carries sound, and on which side of the desk it lies.

Sound comes in on one side of the mixing desk and goes out on the other. A box that does both, as a stage box
with its inputs and its outputs, stands on both sides of a flow drawing: `Stand` says which of the two is meant.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from rigdsl.paths import Paths
from rigdsl.paths.model import Piece
from rigdsl.paths.wiring import Wiring
from rigdsl.rig import Link, Port, Rig

__all__ = ["Side", "Stand", "Wire", "Wires", "find_wires", "stand_of"]

Side = Literal["in", "between", "out", "hub"]

OUT_KINDS = ("amplifier", "loudspeaker", "monitor-sender")
ANY_TO_ANY = ("processor", "outboard")


class Stand(NamedTuple):
    """A box on one side of the desk; what mixes is a `hub` and stands in the middle, once."""

    box: str
    side: Side

    @property
    def id(self) -> str:
        """Its name in a drawing."""
        return f"box--{self.box}" if self.side == "hub" else f"box--{self.box}--{self.side}"


@dataclass(frozen=True)
class Wire:
    """One analogue line of a link, in the direction of the signal."""

    link: Link
    left: Port
    right: Port


@dataclass(frozen=True)
class Wires:
    """All analogue lines, and for each socket that one touches the side that it is on."""

    wires: tuple[Wire, ...]
    sides: Mapping[Port, Side]


def stand_of(rig: Rig, port: Port, sides: Mapping[Port, Side], otherwise: Side) -> Stand:
    """Where a socket stands."""
    body = rig.body(port.box)
    if rig.boxes[body].mixes:
        return Stand(body, "hub")
    return Stand(body, sides.get(port, otherwise))


@dataclass
class _Walk:
    """The walk over all lines: `sides` and `wires` grow as sockets are come to, each once."""

    wiring: Wiring
    sides: dict[Port, Side]
    wires: dict[tuple[str, frozenset[Port]], Wire]
    waiting: deque[tuple[Port, Side, bool]]

    def begin(self, port: Port, side: Side, *, arrives: bool) -> None:
        """Walk on from a socket, as sound that arrives there or leaves from there."""
        self.waiting.append((port, side, arrives))
        while self.waiting:
            self._step(*self.waiting.popleft())

    def _step(self, port: Port, side: Side, arrives: bool) -> None:
        if port in self.sides:
            return
        rig = self.wiring.rig
        box = rig.boxes[rig.body(port.box)]
        onward = [] if box.mixes else [other for other, _ in self.wiring.onward(port)]
        if arrives and box.kind == "stage-box" and not onward:
            side = "in"
        self.sides[port] = side
        if arrives:
            self.waiting.extend((other, side, False) for other in onward if rig.group(other).analogue)
        else:
            self.waiting.extend((wire.right, side, True) for wire in self._cabled(port))

    def _cabled(self, port: Port) -> Iterator[Wire]:
        for piece in self.wiring.pieces.get(port, ()):
            key = (piece.link.name, frozenset((piece.left, piece.right)))
            if key not in self.wires and _is_analogue(self.wiring.rig, piece):
                self.wires[key] = Wire(piece.link, piece.left, piece.right)
                yield self.wires[key]


def _is_analogue(rig: Rig, piece: Piece) -> bool:
    return rig.group(piece.left).analogue and rig.group(piece.right).analogue


def find_wires(paths: Paths) -> Wires:
    """Every analogue line with its direction: from sources first, then from outputs, then what carries nothing yet."""
    walk = _Walk(paths.wiring, {}, {}, deque())
    for port in _sorted(port for source in paths.rig.sources.values() for port in source.ports):
        walk.begin(port, "in", arrives=True)
    for port, side in _senders(walk):
        walk.begin(port, side, arrives=False)
    for port in _sorted(walk.wiring.pieces):
        if paths.rig.group(port).role == "inputs" and any(True for _ in walk.wiring.onward(port)):
            walk.begin(port, _usual(paths.rig, port), arrives=True)
    for port in _sorted(walk.wiring.pieces):
        if paths.rig.group(port).role == "outputs":
            walk.begin(port, _usual(paths.rig, port), arrives=False)
    _leftovers(walk)
    return Wires(tuple(sorted(walk.wires.values(), key=lambda w: (w.link.key, w.left.key, w.right.key))), walk.sides)


def _sorted(ports: Iterator[Port] | Mapping[Port, object]) -> list[Port]:
    return sorted(ports, key=lambda port: port.key)


def _senders(walk: _Walk) -> Iterator[tuple[Port, Side]]:
    """Outputs that no pass leads to. In a box of any input to any output they are on the side of its inputs."""
    rig = walk.wiring.rig
    later: list[Port] = []
    plugged = {port for output in rig.outputs.values() for port in output.ports}
    for port in _sorted({**walk.wiring.pieces, **dict.fromkeys(plugged)}):
        passed_to = any(True for _ in walk.wiring.back(port)) and not rig.boxes[port.box].mixes
        if rig.group(port).role != "outputs" or passed_to:
            continue
        if rig.boxes[port.box].kind in ANY_TO_ANY:
            later.append(port)
        else:
            yield port, "in" if rig.boxes[port.box].kind in ("computer", "receiver") else "out"
    for port in later:
        yield port, next((side for at, side in walk.sides.items() if at.box == port.box), "out")


def _usual(rig: Rig, port: Port) -> Side:
    return "out" if rig.boxes[port.box].kind in OUT_KINDS else "in"


def _leftovers(walk: _Walk) -> None:
    """Lines that no sound is led over: from an output to an input where that is plain, else as they are written."""
    for link in sorted(walk.wiring.rig.links.values(), key=lambda link: link.key):
        for left, right in link.joins:
            if not _is_analogue(walk.wiring.rig, Piece(link, left, right)):
                continue
            if walk.wiring.rig.group(left).role == "inputs" and walk.wiring.rig.group(right).role == "outputs":
                left, right = right, left
            walk.wires.setdefault((link.name, frozenset((left, right))), Wire(link, left, right))
            for port in (left, right):
                walk.sides.setdefault(port, _usual(walk.wiring.rig, port))
