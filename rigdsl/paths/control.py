"""Who can set gain and phantom of a remote preamp.

A command goes where a control dialect is understood: out of a port that names it,
over runs that work or carry data, through switches whatever they are, through
chained boxes and bridges only by ports that name it too.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rigdsl.paths.model import Gain, Route, Run
from rigdsl.paths.routes import Digital
from rigdsl.rig import Port, Rig, natural

__all__ = ["Patched", "find_gains", "joined_boxes"]


@dataclass(frozen=True)
class Patched:
    """A preamp that is patched to another box: its socket, and the route."""

    port: Port
    route: Route


def find_gains(rig: Rig, digital: Digital, patched: Iterable[Patched]) -> tuple[Gain, ...]:
    """Every group with remote preamps that are patched and heard, in natural order."""
    groups: dict[tuple[str, str], dict[Port, list[Route]]] = {}
    for one in patched:
        if one.route.works and rig.group(one.port).remote_gain:
            groups.setdefault((one.port.box, one.port.group), {}).setdefault(one.port, []).append(one.route)
    named = _named(rig)
    reaches: dict[str, frozenset[str]] = {}
    found = []
    for box, group in sorted(groups, key=lambda key: (natural(key[0]), natural(key[1]))):
        routes = groups[box, group]
        if box not in reaches:
            reaches[box] = frozenset(_commanders(rig, digital, box))
        found.append(_gain(rig, box, group, routes, named, reaches[box]))
    return tuple(found)


def _named(rig: Rig) -> Mapping[Port, tuple[str, ...]]:
    named: dict[Port, list[str]] = {}
    for control in rig.controls:
        for port in control.ports:
            named.setdefault(port, []).append(control.by)
    return {port: tuple(dict.fromkeys(boxes)) for port, boxes in named.items()}


def _gain(
    rig: Rig,
    box: str,
    group: str,
    routes: Mapping[Port, list[Route]],
    named: Mapping[Port, tuple[str, ...]],
    reach: frozenset[str],
) -> Gain:
    ports = tuple(sorted(routes, key=lambda port: port.key))
    desks: dict[Port, list[str]] = {
        port: sorted({r.right.box for r in routes[port] if rig.boxes[r.right.box].mixes}, key=natural) for port in ports
    }
    owners = {port: _owner(named.get(port, ()), desks[port]) for port in ports}
    return Gain(
        box=box,
        group=group,
        ports=ports,
        desks=tuple(sorted({desk for found in desks.values() for desk in found}, key=natural)),
        named=tuple(dict.fromkeys(name for port in ports for name in named.get(port, ()))),
        owner=next((owner for owner in owners.values() if owner), ""),
        cut=tuple(port for port in ports if owners[port] and owners[port] != box and owners[port] not in reach),
        shared=tuple(port for port in ports if len(desks[port]) > 1 and not named.get(port)),
        lone=tuple(port for port in ports if not desks[port] and not named.get(port)),
        owners=tuple(owners[port] for port in ports),
    )


def _owner(named: tuple[str, ...], desks: list[str]) -> str:
    if named:
        return named[0]
    return desks[0] if len(desks) == 1 else ""


def _commanders(rig: Rig, digital: Digital, box: str) -> set[str]:
    """All boxes that can set the preamps of one, over any dialect that it answers to."""
    dialects = {name for group in rig.boxes[box].model.groups.values() for name in group.dialects}
    return {other for dialect in dialects for other in _spoken_to(rig, digital, box, dialect)}


def _spoken_to(rig: Rig, digital: Digital, box: str, dialect: str) -> set[str]:
    seen: set[str] = set()
    waiting = [port for port in digital.ports_of.get(box, ()) if dialect in rig.group(port).dialects]
    done = set(waiting)
    while waiting:
        port = waiting.pop()
        for run in digital.run_at.get(port, ()):
            far = run.other(port)
            if far in done or not _carries_control(run):
                continue
            done.add(far)
            switch = rig.boxes[far.box].kind == "switch"
            if not switch and dialect not in rig.group(far).dialects:
                continue
            seen.add(far.box)
            onward = [port for port in _on(rig, digital, far, dialect) if port not in done]
            done.update(onward)
            waiting += onward
    return seen | _surfaces(rig, digital, seen)


def _carries_control(run: Run) -> bool:
    return not run.open and not run.faults


def _on(rig: Rig, digital: Digital, near: Port, dialect: str) -> list[Port]:
    """The ports by which a box passes a command on that came in at `near`."""
    box = rig.boxes[near.box]
    others = [port for port in digital.ports_of.get(near.box, ()) if port != near]
    if box.kind == "switch":
        return others
    if box.mixes:
        return []
    speaking = [port for port in others if dialect in rig.group(port).dialects]
    bridged = {frozenset((one.left, one.right)) for one in box.model.bridges}
    return [
        port
        for port in speaking
        if frozenset((near.group, port.group)) in bridged or (rig.group(port).chain and rig.group(near).chain)
    ]


def _surfaces(rig: Rig, digital: Digital, seen: set[str]) -> set[str]:
    """A surface sets what its engine sets."""
    engines = [name for name in seen if rig.boxes[name].kind == "engine"]
    return {
        name for engine in engines for name in joined_boxes(rig, digital, engine) if rig.boxes[name].kind == "surface"
    }


def joined_boxes(rig: Rig, digital: Digital, box: str) -> frozenset[str]:
    """All boxes that a box is joined to over digital or data runs, straight or through switches."""
    found: set[str] = set()
    waiting = [box]
    seen = {box}
    while waiting:
        for port in digital.ports_of.get(waiting.pop(), ()):
            for run in digital.run_at[port]:
                far = run.other(port).box
                if far not in seen and not run.open:
                    seen.add(far)
                    found.add(far)
                    if rig.boxes[far].kind == "switch":
                        waiting.append(far)
    return frozenset(found)
