"""Loudspeaker lines: the sockets that drive them, and what hangs on each, cable by cable."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import inf

from rigdsl.paths.wires import Wires
from rigdsl.rig import Cable, Lead, Output, Port, Rig, natural

__all__ = ["Branch", "Loudspeaker", "branches", "in_parallel_ohm", "line_names", "loudspeakers", "output_sockets"]

PASSIVE_KINDS = ("loudspeaker", "panel", "splitter", "sub-box")
MOST_SOCKETS = 200  # of one line: no amplifier drives so many

Loudspeaker = tuple[str, float]  # a loudspeaker and its impedance in ohms


@dataclass(frozen=True)
class Branch:
    """A cable, the loudspeaker at its far end (name and ohms), and the cables that go on from there.

    A length that nobody knows counts as none.
    """

    name: str
    length_m: float
    cable: Cable | None
    load: Loudspeaker | None = None
    further: tuple[Branch, ...] = ()


def output_sockets(rig: Rig) -> Iterator[Port]:
    """The sockets that drive loudspeakers: outputs at loudspeaker level, but those that only pass it on."""
    for box in rig.boxes.values():
        if box.kind not in PASSIVE_KINDS:
            for group in box.model.of_role("outputs"):
                if "loudspeaker" in group.levels:
                    yield from box.ports(group)


def branches(wires: Wires, port: Port, seen: set[Port] | None = None) -> tuple[Branch, ...]:
    """The cables at a socket, each with all that hangs on it; no socket is passed twice."""
    seen = seen if seen is not None else set()
    seen.add(port)
    outputs = wires.rig.outputs
    plugged = (outputs[leg.name] for leg in wires.plugs.get(port, ()) if leg.name in outputs)
    joined = (
        _cable(piece.link.name, piece.link.lead, *_hanging(wires, piece.right, seen))
        for piece in wires.pieces.get(port, ())
        if piece.right not in seen and len(seen) < MOST_SOCKETS
    )
    return (*(_plug(output) for output in plugged), *joined)


def _plug(output: Output) -> Branch:
    return _cable(output.name, output.lead, (output.name, output.impedance_ohm) if output.impedance_ohm else None, ())


def _cable(name: str, lead: Lead | None, load: Loudspeaker | None, further: tuple[Branch, ...]) -> Branch:
    return Branch(name, lead.length_m or 0.0 if lead else 0.0, lead.cable if lead else None, load, further)


def _hanging(wires: Wires, port: Port, seen: set[Port]) -> tuple[Loudspeaker | None, tuple[Branch, ...]]:
    """The loudspeaker at a socket, and the cables that go on from its box."""
    group = wires.rig.group(port)
    load = (port.box, group.impedance_ohm) if group.role == "inputs" and group.impedance_ohm else None
    seen.add(port)
    further: list[Branch] = []
    for onward, wire in wires.wiring.onward(port):
        if wire.passive and onward not in seen:
            further += branches(wires, onward, seen)
    return load, tuple(further)


def line_names(found: Iterable[Branch]) -> list[str]:
    """Every cable of a line, in natural order."""
    return sorted({branch.name for branch in _all(found)}, key=natural)


def loudspeakers(found: Iterable[Branch]) -> list[Loudspeaker]:
    """Every loudspeaker of known impedance on a line, in the order in which it is come to."""
    return [branch.load for branch in _all(found) if branch.load]


def _all(found: Iterable[Branch]) -> Iterator[Branch]:
    for branch in found:
        yield branch
        yield from _all(branch.further)


def in_parallel_ohm(impedances: Iterable[float]) -> float:
    """Impedances in parallel, taken as resistances; none of them: endless."""
    conductance = sum(1 / impedance for impedance in impedances)
    return 1 / conductance if conductance else inf
