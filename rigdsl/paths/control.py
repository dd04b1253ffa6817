"""Who can set gain and phantom of a remote preamp.

A command goes where a control dialect is understood: out of a port that names it,
over runs that work or carry data, through switches whatever they are, through
chained boxes and bridges only by ports that name it too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise

from rigdsl.paths.model import Gain, Route
from rigdsl.paths.parts import Parts
from rigdsl.paths.routes import Digital
from rigdsl.rig import Port, Rig, natural

__all__ = ["Commands", "Patched", "find_gains", "joined_boxes", "named_owners"]

Spoken = tuple[str, Port]  # a dialect at a port


@dataclass(frozen=True)
class Patched:
    """A preamp that is patched to another box: its socket, and the route."""

    port: Port
    route: Route


def find_gains(rig: Rig, commands: Commands, patched: Iterable[Patched]) -> tuple[Gain, ...]:
    """Every group with remote preamps that are patched and heard, in natural order."""
    groups: dict[tuple[str, str], dict[Port, list[Route]]] = {}
    for one in patched:
        if one.route.works and rig.group(one.port).remote_gain:
            groups.setdefault((one.port.box, one.port.group), {}).setdefault(one.port, []).append(one.route)
    named = named_owners(rig)
    found = []
    for box, group in sorted(groups, key=lambda key: (natural(key[0]), natural(key[1]))):
        routes = groups[box, group]
        found.append(_gain(rig, box, group, routes, named, commands))
    return tuple(found)


def named_owners(rig: Rig) -> Mapping[Port, tuple[str, ...]]:
    """Whom `control` lines name as the owner of each preamp."""
    named: dict[Port, list[str]] = {}
    for control in rig.controls:
        for port in control.ports:
            named.setdefault(port, []).append(rig.body(control.by))
    return {port: tuple(dict.fromkeys(boxes)) for port, boxes in named.items()}


def _gain(
    rig: Rig,
    box: str,
    group: str,
    routes: Mapping[Port, list[Route]],
    named: Mapping[Port, tuple[str, ...]],
    commands: Commands,
) -> Gain:
    ports = tuple(sorted(routes, key=lambda port: port.key))
    desks: dict[Port, list[str]] = {
        port: sorted({d for r in routes[port] if rig.boxes[d := rig.body(r.right.box)].mixes}, key=natural)
        for port in ports
    }
    body = rig.body(box)
    owners = {port: _owner(named.get(port, ()), desks[port]) for port in ports}
    return Gain(
        box=box,
        group=group,
        ports=ports,
        desks=tuple(sorted({desk for found in desks.values() for desk in found}, key=natural)),
        named=tuple(dict.fromkeys(name for port in ports for name in named.get(port, ()))),
        owner=next((owner for owner in owners.values() if owner), ""),
        cut=tuple(
            port for port in ports if owners[port] not in ("", body) and not commands.reaches(owners[port], body)
        ),
        shared=tuple(port for port in ports if len(desks[port]) > 1 and not named.get(port)),
        lone=tuple(port for port in ports if not desks[port] and not named.get(port)),
        owners=tuple(owners[port] for port in ports),
    )


def _owner(named: tuple[str, ...], desks: list[str]) -> str:
    if named:
        return named[0]
    return desks[0] if len(desks) == 1 else ""


@dataclass(frozen=True, eq=False)
class Commands:
    """Who can command whom: boxes are in touch where their ports hang together in one dialect."""

    rig: Rig
    digital: Digital

    @cached_property
    def heard(self) -> Mapping[str, frozenset[Spoken]]:
        """By box, what stands for everything that its ports hang together with."""
        joined: Parts[Spoken] = Parts()
        every = _all_dialects(self.rig)
        for one, other in (*_over_runs(self.rig, self.digital, every), *_inside(self.rig, self.digital, every)):
            joined.join(one, other)
        found: dict[str, set[Spoken]] = {}
        for thing in list(joined.parent):
            found.setdefault(self.rig.body(thing[1].box), set()).add(joined.top(thing))
        return {box: frozenset(tops) for box, tops in found.items()}

    def reaches(self, owner: str, box: str) -> bool:
        """A box can set the preamps of another; a surface sets what its engine sets."""
        if not self.heard.get(owner, frozenset()).isdisjoint(self.heard.get(box, frozenset())):
            return True
        return self.rig.boxes[owner].kind == "surface" and any(
            self.rig.boxes[engine].kind == "engine" and self.reaches(engine, box)
            for engine in joined_boxes(self.rig, self.digital, owner)
        )


def _all_dialects(rig: Rig) -> Sequence[str]:
    models = dict.fromkeys(box.model for box in rig.boxes.values())
    return sorted({name for model in models for group in model.groups.values() for name in group.dialects})


def _over_runs(rig: Rig, digital: Digital, every: Sequence[str]) -> Iterator[tuple[Spoken, Spoken]]:
    """The two ends of every run that carries commands, in each dialect that both name; a switch takes any."""
    for run in digital.runs:
        if run.open or run.faults:
            continue
        left, right = (_dialects(rig, port, every) for port in run.ends)
        for name in left:
            if name in right:
                yield (name, run.ends[0]), (name, run.ends[1])


def _dialects(rig: Rig, port: Port, every: Sequence[str]) -> Sequence[str]:
    return every if rig.boxes[rig.body(port.box)].kind == "switch" else rig.group(port).dialects


def _inside(rig: Rig, digital: Digital, every: Sequence[str]) -> Iterator[tuple[Spoken, Spoken]]:
    """Ports of one box between which it passes commands on: a switch all, others what both ports name."""
    for box, ports in digital.ports_of.items():
        switch = rig.boxes[box].kind == "switch"
        # In a switch all ports hang together, so each is joined to the next and no more.
        for near, far in pairwise(ports) if switch else combinations(ports, 2):
            if switch or _passes(rig, near, far):
                for name in _dialects(rig, near, every):
                    if name in _dialects(rig, far, every):
                        yield (name, near), (name, far)


def _passes(rig: Rig, near: Port, far: Port) -> bool:
    """A chained box carries on from one chain port to another, a bridge from side to side; a desk passes nothing on."""
    if rig.boxes[rig.body(near.box)].mixes:
        return False
    box = rig.boxes[near.box]
    bridged = near.box == far.box and any({near.group, far.group} == {one.left, one.right} for one in box.model.bridges)
    return bridged or bool(rig.group(near).chain and rig.group(far).chain)


def joined_boxes(rig: Rig, digital: Digital, box: str) -> frozenset[str]:
    """All boxes that a box is joined to over digital or data runs, straight or through switches."""
    found: set[str] = set()
    waiting = [rig.body(box)]
    seen = {rig.body(box)}
    while waiting:
        for port in digital.ports_of.get(waiting.pop(), ()):
            for run in digital.run_at[port]:
                far = rig.body(run.other(port).box)
                if far not in seen and not run.open:
                    seen.add(far)
                    found.add(far)
                    if rig.boxes[far].kind == "switch":
                        waiting.append(far)
    return frozenset(found)
