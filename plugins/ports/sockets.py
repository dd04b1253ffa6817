"""Which sockets are in use, which are free, and where a free one is."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping

from rigdsl.paths import Paths
from rigdsl.rig import Box, Output, Patch, Port, Rig, Source

__all__ = [
    "LINE_KINDS",
    "UNUSED",
    "Rows",
    "aimed_at",
    "broken_patches",
    "free_channels",
    "free_inputs",
    "free_outputs",
    "in_use",
    "kept",
    "offered",
    "out_of_use",
    "passed",
    "plugged",
    "silenced",
]

# Boxes that only pass on what is plugged into them: their loose lines are spares.
LINE_KINDS = ("sub-box", "panel", "splitter")

UNUSED = "unused-port"  # the rule whose `accept` lines say which sockets are out of use


def kept(rig: Rig) -> frozenset[Port]:
    """Sockets that are spare on purpose."""
    return frozenset(port for keep in rig.keeps for port in keep.ports)


def out_of_use(rig: Rig) -> frozenset[Port]:
    """Sockets that an `accept unused-port` line calls so: broken, or not to be used for some reason of its own."""
    return frozenset(port for line in rig.accepts if line.rule == UNUSED for port in line.ports)


def aimed_at(rig: Rig) -> frozenset[str]:
    """Boxes at which a source or output is aimed that has no socket yet: that is told for itself."""
    things: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    return frozenset(thing.aimed for thing in things if thing.aimed and not thing.ports)


def plugged(paths: Paths, port: Port) -> bool:
    """Whether a source, an output, a cable or an insert is plugged in."""
    return bool(paths.plugs.get(port) or paths.pieces.get(port) or paths.inserts_through(port))


def in_use(paths: Paths, port: Port) -> bool:
    """Plugged or patched."""
    return plugged(paths, port) or bool(paths.feeds.get(port) or paths.fed.get(port))


def free_inputs(paths: Paths, box: Box, spare: frozenset[Port], *, wireless: bool = False) -> Iterator[Port]:
    """The inputs of a box with nothing plugged in, without those kept as `spare` for something."""
    for group in box.model.of_role("inputs"):
        if group.pluggable and group.wireless == wireless:
            yield from (port for port in box.ports(group) if port not in spare and not plugged(paths, port))


def free_outputs(paths: Paths, box: Box, spare: frozenset[Port], *, wireless: bool = False) -> Iterator[Port]:
    """The outputs of a box with nothing plugged in and nothing patched; wireless ones first, or last."""
    for group in sorted(box.model.of_role("outputs"), key=lambda group: group.wireless != wireless):
        if group.pluggable:
            yield from (port for port in box.ports(group) if port not in spare and not in_use(paths, port))


Rows = dict[tuple[str, bool], Iterator[Port]]


def offered(rows: Rows, boxes: Iterable[Box], wireless: bool, open_row: Callable[[Box], Iterator[Port]]) -> Port | None:
    """The next free socket of the first of these boxes that has one; what is offered once is offered to nobody else."""
    for box in boxes:
        key = box.name, wireless
        if key not in rows:
            rows[key] = open_row(box)
        port = next(rows[key], None)
        if port is not None:
            return port
    return None


def passed(paths: Paths, port: Port) -> list[Port]:
    """The sockets at the other side of a box's wires: where this line comes out, either way."""
    wires = (*paths.wiring.onward(port), *paths.wiring.back(port))
    return list(dict.fromkeys(other for other, _ in wires))


def free_channels(rig: Rig, paths: Paths) -> Mapping[str, deque[Port]]:
    """For each box, the channels that nothing is patched to: of the desk that its other inputs are patched to.

    Where nothing is patched from a box, they are its own, or else those of the first desk. Boxes of one desk
    share one row: who takes a channel off it leaves the next one to the others.
    """
    spare = kept(rig)
    by_desk: dict[str, deque[Port]] = {}
    for box in rig.boxes.values():
        if box.model.of_role("channels"):
            ports = (port for group in box.model.of_role("channels") for port in box.ports(group))
            free = deque(port for port in ports if port not in spare and not paths.fed.get(port))
            by_desk |= {box.name: free} if free else {}
    desks = [box.name for box in rig.boxes.values() if box.mixes and box.name in by_desk]
    found = (dict.fromkeys(rig.boxes, by_desk[desks[0]]) if desks else {}) | by_desk
    for patch in reversed(rig.patches):
        for left, right in patch.pairs:
            if isinstance(left, Port) and isinstance(right, Port) and right.box in by_desk:
                found[left.box] = by_desk[right.box]
    return found


def broken_patches(paths: Paths) -> Iterator[Patch]:
    """Patches with a pair that no working way joins."""
    for patch, routes in paths.patch_routes.items():
        if any(route is not None and not route.works for _, _, route in routes):
            yield patch


def silenced(paths: Paths) -> frozenset[str]:
    """Sources and outputs whose sound stops at a run or patch that does not work: that is told there."""
    stopped = [run for run in paths.runs if run.faults]
    names = [paths.silenced_by(run) for run in stopped]
    names += [paths.silenced_by(patch) for patch in broken_patches(paths)]
    names += [_on_wire(paths, end) for run in stopped for end in run.ends]
    return frozenset(name for some in names for name in some)


def _on_wire(paths: Paths, end: Port) -> tuple[str, ...]:
    """What hangs on an analogue socket that is joined to a digital one."""
    if not paths.rig.group(end).analogue:
        return ()
    reached = paths.walk_from(end).came
    heard = [leg.name for port in reached for leg in paths.plugs.get(port, ())]
    speakers = [port.box for port in reached if paths.is_loudspeaker_input(port)]
    return (*(leg.name for leg in paths.sources_at(end)), *heard, *speakers)
