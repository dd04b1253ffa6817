"""What `too-many-channels` needs to know of runs that are too full: which end is the desk's, and what would help."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rigdsl.paths import Load, Paths, Run
from rigdsl.rig import Port, Rig, shown
from rigdsl_protocol.runs import chained_before
from rigdsl_protocol.ways import audio_ports, free

__all__ = ["hops_to_a_desk", "inwards", "nearest", "relief"]


def hops_to_a_desk(rig: Rig, paths: Paths) -> Mapping[str, int]:
    """How many runs lie between each box and the nearest desk or engine."""
    hops = {name: 0 for name, box in rig.boxes.items() if box.mixes}
    joins: dict[str, list[str]] = {}
    for run in paths.runs:
        left, right = (rig.body(end.box) for end in run.ends)
        joins.setdefault(left, []).append(right)
        joins.setdefault(right, []).append(left)
    waiting = list(hops)
    for name in waiting:
        for other in joins.get(name, ()):
            if other not in hops:
                hops[other] = hops[name] + 1
                waiting.append(other)
    return hops | {name: hops[body] for name in rig.boxes if (body := rig.body(name)) in hops}


def nearest(run: Run, hops: Mapping[str, int]) -> int:
    """How many runs lie between a run and the nearest desk."""
    return min(hops.get(end.box, len(hops)) for end in run.ends)


def inwards(load: Load, hops: Mapping[str, int]) -> bool:
    """The load goes towards the desk."""
    far = load.run.other(load.enters)
    return hops.get(load.enters.box, len(hops)) > hops.get(far.box, len(hops))


def relief(rig: Rig, paths: Paths, loads: Sequence[Load]) -> str:
    """A way out for the overloads of one run: a free port of the desk where that helps, else a lower load."""
    main = loads[0]
    box = main.tips or rig.body(main.enters.box)
    desk = next((end for end in main.run.ends if rig.boxes[rig.body(end.box)].mixes), None)
    for port in audio_ports(rig, paths, desk.box) if desk else ():
        if free(paths, port) and _relieves(rig, paths, port, box, loads):
            return f"`{port}` is free and speaks `{main.run.protocol}`: join `{box}` to it"
    if not any(count > (load.limit or 0) for load in loads for _, count in load.by_box):
        return f"bring `{box}` to the desk another way"
    return _lower_load(rig, loads)


def _relieves(rig: Rig, paths: Paths, port: Port, box: str, loads: Sequence[Load]) -> bool:
    """Without a box (and those behind it) the run is full at most, and they fit into the port by themselves."""
    name = loads[0].run.protocol or ""
    limit = rig.protocols[name].channels_at(rig.rate_of(port))
    spoken = [group.protocols for group in (rig.group(port), *(one for _, one in rig.groups_of(box, "digital")))]
    if limit is None or name not in spoken[0] or not any(name in group for group in spoken[1:]):
        return False
    moved = [sum(count for one, count in load.by_box if box in (one, *chained_before(paths, one))) for load in loads]
    return all(
        load.channels - away <= (load.limit or 0) and away <= limit for load, away in zip(loads, moved, strict=True)
    )


def _lower_load(rig: Rig, loads: Sequence[Load]) -> str:
    """For a box that is too much by itself."""
    run, most = loads[0].run, max(count for load in loads for _, count in load.by_box)
    protocol = rig.protocols[run.protocol or ""]
    rates = [rate for rate, carries in sorted(protocol.capacity.items()) if rate < run.rate_hz and carries >= most]
    ways = ["take a smaller box" if protocol.slots == "fixed" else "patch fewer channels over it"]
    ways += [f"run at {shown(rates[-1], 1000)} kHz"] if rates else []
    return f"{', '.join(ways)}, or use a protocol that carries more"
