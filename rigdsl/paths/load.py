"""How many channels go over a run, each way, and over a bridge."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from rigdsl.paths.chains import Chains, is_head
from rigdsl.paths.model import Load, Route, Run
from rigdsl.paths.routes import Digital
from rigdsl.rig import Box, Bridge, Port, Rig, natural

__all__ = ["BridgeLoad", "Passing", "bridge_loads", "loads", "passing", "twins"]

# For each run and the end where they go in: the patched sockets whose channels pass, each once.
Passing = Mapping[tuple[str, Port], tuple[Port, ...]]


@dataclass(frozen=True)
class BridgeLoad:
    """Channels through a bridge one way: from one of its groups, which sockets they come from, and the limit."""

    box: Box
    bridge: Bridge
    enters: str
    channels: int
    ports: tuple[Port, ...]


def passing(routes: Iterable[Route]) -> Passing:
    """What the patches send over each run; however many take a channel, it counts once."""
    found: dict[tuple[str, Port], dict[Port, None]] = defaultdict(dict)
    for route in routes:
        if route.works:
            for run, enters in route.runs:
                found[run.name, enters][route.left] = None
    return {key: tuple(ports) for key, ports in found.items()}


def loads(digital: Digital, run: Run, passed: Passing) -> tuple[Load, ...]:
    """The load of a run both ways, the way in at its left end first."""
    return tuple(_load(digital, run, enters, passed) for enters in run.ends)


def _load(digital: Digital, run: Run, enters: Port, passed: Passing) -> Load:
    if _is_fixed(digital.rig, run):
        by_box = dict(_fixed(digital, run, enters, passed))
    else:
        by_box = _routed(digital, run, enters, passed)
    return Load(run, enters, sum(by_box.values()), _limit(digital.rig, run), tuple(by_box.items()))


def _is_fixed(rig: Rig, run: Run) -> bool:
    return run.protocol is not None and rig.protocols[run.protocol].slots == "fixed"


def _limit(rig: Rig, run: Run) -> int | None:
    """What the protocol carries at the run's rate; between two switches only bandwidth counts."""
    if run.protocol is None or all(rig.boxes[port.box].kind == "switch" for port in run.ends):
        return None
    return rig.protocols[run.protocol].channels_at(run.rate_hz)


def _fixed(digital: Digital, run: Run, enters: Port, passed: Passing) -> Iterator[tuple[str, int]]:
    """Every box behind this run takes its channels, used or not: its inputs towards the desk, its outputs from it.

    So does a box that stands nearer to another desk, where this one takes something from it.
    """
    rig, chains = digital.rig, digital.chains
    outer = _outer(rig, run, chains)
    if outer is None:
        yield from _between_heads(rig, _all_passing(run, enters, passed))
        return
    role = "inputs" if rig.body(enters.box) == outer else "outputs"
    mirror = rig.group(enters if rig.body(enters.box) == outer else run.other(enters)).mirror
    if mirror and role == "outputs":
        return
    boxes = [outer, *(() if mirror else chains.behind.get(outer, ()))]
    if role == "inputs":
        more = {rig.body(port.box) for port in _all_passing(run, enters, passed) if not is_head(rig, port.box)}
        boxes += sorted(more - set(boxes), key=natural)
    for box in boxes:
        channels = _count(rig, box, role)
        if channels:
            yield box, channels


def _between_heads(rig: Rig, ports: tuple[Port, ...]) -> Iterator[tuple[str, int]]:
    """Between two desks, or a desk and a bridge: whole boxes, and of desks what they send."""
    bodies = [rig.body(port.box) for port in ports]
    for box in sorted(set(bodies), key=natural):
        plain = not is_head(rig, box)
        yield box, _count(rig, box, "inputs") if plain else bodies.count(box)


def _outer(rig: Rig, run: Run, chains: Chains) -> str | None:
    """The box of a run that is further from the desk; None between two desks or other heads."""
    heads = [is_head(rig, port.box) for port in run.ends]
    if heads[0] != heads[1]:
        return rig.body(run.ends[0 if heads[1] else 1].box)
    if any(heads):
        return None
    bodies = [rig.body(port.box) for port in run.ends]
    positions = [chains.by_box[box].position if box in chains.by_box else 0 for box in bodies]
    return bodies[0 if positions[0] > positions[1] else 1]


def _count(rig: Rig, box: str, role: str) -> int:
    """The same of a box with its cards."""
    return sum(count(one, role) for one in rig.whole(box))


def count(box: Box, role: str) -> int:
    """The inputs or outputs of a box that take slots: outputs that only repeat an input do not."""
    repeats = {one.right for one in box.model.passes}
    return sum(group.count for group in box.model.of_role(role) if role == "inputs" or group.name not in repeats)


def _all_passing(run: Run, enters: Port, passed: Passing) -> tuple[Port, ...]:
    return passed.get((run.name, enters), ())


def _routed(digital: Digital, run: Run, enters: Port, passed: Passing) -> dict[str, int]:
    """What is patched over a run, or over the other half of its pair."""
    ports = dict.fromkeys(_all_passing(run, enters, passed))
    for twin, twin_enters in _twin_runs(digital, run, enters):
        ports |= dict.fromkeys(_all_passing(twin, twin_enters, passed))
    by_box: dict[str, int] = {}
    for port in sorted(ports, key=lambda port: port.key):
        body = digital.rig.body(port.box)
        by_box[body] = by_box.get(body, 0) + 1
    return by_box


def _twin_runs(digital: Digital, run: Run, enters: Port) -> Iterator[tuple[Run, Port]]:
    """The other halves of a redundant pair, each with the end that channels enter by."""
    for end in run.ends:
        for mate in twins(digital.rig, end):
            for other in digital.run_at.get(mate, ()):
                yield other, mate if end == enters else other.other(mate)
    if any(link.redundant for link in run.links):
        body = digital.rig.body
        boxes = {body(port.box) for port in run.ends}
        for port in digital.ports_of[body(enters.box)]:
            for other in digital.run_at[port]:
                if (
                    other is not run
                    and {body(p.box) for p in other.ends} == boxes
                    and any(k.redundant for k in other.links)
                ):
                    yield other, port


def twins(rig: Rig, port: Port) -> Iterator[Port]:
    """The ports that carry the same as this one: `redundant` ports of one line, or primary and secondary."""
    box, group = rig.boxes[port.box], rig.group(port)
    for other in box.model.groups.values():
        alike = group.redundant and other.redundant and other.line == group.line
        sides = {group.net, other.net} == {"primary", "secondary"} and other.role == group.role
        if alike or sides:
            for mate in box.ports(other):
                if mate != port and (other.name == group.name or mate.number == port.number):
                    yield mate


def bridge_loads(rig: Rig, routes: Iterable[Route]) -> tuple[BridgeLoad, ...]:
    """What goes through every bridge, each way, where anything does."""
    found: dict[tuple[str, str, str], dict[Port, None]] = defaultdict(dict)
    for route in routes:
        for step in route.steps if route.works else ():
            if step.by == "bridge":
                found[step.left.box, step.left.group, step.right.group][route.left] = None
    made = []
    for (name, enters, leaves), ports in sorted(found.items()):
        box = rig.boxes[name]
        made += [
            BridgeLoad(box, bridge, enters, len(ports), tuple(ports))
            for bridge in box.model.bridges
            if {bridge.left, bridge.right} == {enters, leaves}
        ]
    return tuple(made)
