"""Loudspeaker lines: what hangs on an amplifier's socket, and what the cables take of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from rigdsl.paths import Paths
from rigdsl.rig import Lead, Output, Port, Rig, natural
from rigdsl_distance.formulae import class5_ohm_per_m, in_parallel_ohm, loop_loss_db

__all__ = ["Branch", "branches", "names", "output_sockets", "worst"]

PASSIVE_KINDS = ("loudspeaker", "panel", "splitter", "sub-box")
MOST_SOCKETS = 200  # of one line: no amplifier drives so many

Load = tuple[str, float]  # a loudspeaker and its impedance in ohms


@dataclass(frozen=True)
class Branch:
    """A cable, the loudspeaker at its far end (name and ohms), and the cables that go on from there."""

    name: str
    length_m: float
    area_m2: float | None
    ohm_per_m: float
    load: Load | None = None
    further: tuple[Branch, ...] = ()

    def loop_ohm(self, least_area_m2: float = 0.0) -> float:
        """Both conductors; with a least area: as if thinner ones were replaced by that."""
        ohm_per_m = self.ohm_per_m
        if self.area_m2 is not None and self.area_m2 < least_area_m2:
            ohm_per_m = class5_ohm_per_m(least_area_m2)
        return 2 * self.length_m * ohm_per_m

    def far_ohm(self, least_area_m2: float = 0.0) -> float:
        """What stands at the far end: its loudspeaker in parallel with all that hangs on it."""
        rest = (branch.loop_ohm(least_area_m2) + branch.far_ohm(least_area_m2) for branch in self.further)
        return in_parallel_ohm([*((self.load[1],) if self.load else ()), *rest])


def output_sockets(rig: Rig) -> Iterator[Port]:
    """The sockets that drive loudspeakers: outputs at loudspeaker level, but those that only pass it on."""
    for box in rig.boxes.values():
        if box.kind not in PASSIVE_KINDS:
            for group in box.model.of_role("outputs"):
                if "loudspeaker" in group.levels:
                    yield from box.ports(group)


def branches(rig: Rig, paths: Paths, port: Port, seen: set[Port] | None = None) -> tuple[Branch, ...]:
    """The cables at a socket, each with all that hangs on it; no socket is passed twice."""
    seen = seen if seen is not None else set()
    seen.add(port)
    plugged = (rig.outputs[leg.name] for leg in paths.plugs.get(port, ()) if leg.name in rig.outputs)
    joined = (
        _cable(piece.link.name, piece.link.lead, *_hanging(rig, paths, piece.right, seen))
        for piece in paths.pieces.get(port, ())
        if piece.right not in seen and len(seen) < MOST_SOCKETS
    )
    return (*(_plug(output) for output in plugged), *joined)


def _plug(output: Output) -> Branch:
    return _cable(output.name, output.lead, (output.name, output.impedance_ohm) if output.impedance_ohm else None, ())


def _cable(name: str, lead: Lead | None, load: Load | None, further: tuple[Branch, ...]) -> Branch:
    """A branch of one cable; what is not known of it counts as nothing."""
    cable = lead.cable if lead else None
    length_m = lead.length_m or 0.0 if lead else 0.0
    area_m2 = cable.conductor_m2 if cable else None
    ohm_per_m = class5_ohm_per_m(area_m2) if area_m2 else (cable.resistance_ohm_per_m or 0.0) if cable else 0.0
    return Branch(name, length_m, area_m2, ohm_per_m, load, further)


def _hanging(rig: Rig, paths: Paths, port: Port, seen: set[Port]) -> tuple[Load | None, tuple[Branch, ...]]:
    """The loudspeaker at a socket, and the cables that go on from its box."""
    group = rig.group(port)
    load = (port.box, group.impedance_ohm) if group.role == "inputs" and group.impedance_ohm else None
    seen.add(port)
    further: list[Branch] = []
    for onward in _onward(rig, paths, port):
        if onward not in seen:
            further += branches(rig, paths, onward, seen)
    return load, tuple(further)


def _onward(rig: Rig, paths: Paths, port: Port) -> list[Port]:
    """The sockets of a box that are wired to this one: passive passes, and what says `thru`."""
    box, group = rig.boxes[port.box], rig.group(port)
    found = [other for other, wire in paths.wiring.onward(port) if wire.passive]
    for other in box.model.of_role("inputs", "outputs"):
        if other.thru and other.name == group.name:
            found += box.ports(other)
        elif other.thru:
            found += [to for to in box.ports(other) if other.count != group.count or to.number == port.number]
    return [other for other in dict.fromkeys(found) if other != port]


def names(found: tuple[Branch, ...]) -> list[str]:
    """Every cable of a line, in natural order."""
    every = {branch.name for branch in found}
    for branch in found:
        every.update(names(branch.further))
    return sorted(every, key=natural)


def worst(found: tuple[Branch, ...], least_area_m2: float = 0.0, lost_db: float = 0.0) -> tuple[float, str]:
    """The loudspeaker that loses most: decibels and its name; no loudspeaker of known impedance: nothing."""
    result = (0.0, "")
    for branch in found:
        far_ohm = branch.far_ohm(least_area_m2)
        if far_ohm == inf:
            continue
        here_db = lost_db + loop_loss_db(branch.loop_ohm(least_area_m2), far_ohm)
        if branch.load:
            result = max(result, (here_db, branch.load[0]), key=lambda item: item[0])
        result = max(result, worst(branch.further, least_area_m2, here_db), key=lambda item: item[0])
    return result
