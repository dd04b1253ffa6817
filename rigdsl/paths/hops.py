"""The hops of a patch: into the digital world, over it, and out again; and those inside one box. Each with its time."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.paths.model import Hop, Piece, Route, Run
from rigdsl.paths.walk import hop_over
from rigdsl.rig import Port, Rig

__all__ = ["processed", "route_hops"]


def route_hops(rig: Rig, route: Route) -> tuple[Hop, ...]:
    """The hops of a patch: into the digital world, over it, and out to where it goes; none where no way works."""
    if not route.works:
        return ()
    if not route.steps:
        return (Hop(route.left, route.right, "patch", latency_s=_across_latency(rig, route.left, route.right)),)
    hops = [_into(rig, route.left, route.steps[0].left)]
    once: set[str] = set()
    for step in route.steps:
        if step.by != "run" or step.run is None:
            hops.append(Hop(step.left, step.right, "link" if step.by == "run" else step.by))
            continue
        hops += _over(step.run, step.left, step.protocol, _run_latency(rig, step.protocol, once))
    hops.append(_out_of(rig, route.steps[-1].right, route.right))
    return tuple(hops)


def _run_latency(rig: Rig, name: str | None, once: set[str]) -> float:
    """What a run adds; a protocol whose latency is set once for the whole path adds it on its first run only."""
    protocol = rig.protocols.get(name or "")
    if protocol is None or protocol.name in once:
        return 0.0
    if protocol.latency_once:
        once.add(protocol.name)
    return protocol.latency_s


def _across_latency(rig: Rig, left: Port, right: Port) -> float:
    """Inside one box: what its input and its output take to convert, and a processor for its work."""
    ends = (left, "inputs"), (right, "outputs")
    taken = sum(rig.group(port).latency_s or 0.0 for port, role in ends if rig.group(port).role == role)
    return taken + _work_latency(rig, left)


def _work_latency(rig: Rig, port: Port) -> float:
    box = rig.boxes[rig.body(port.box)]
    return box.latency_s if box.kind == "processor" else 0.0


def _into(rig: Rig, socket: Port, port: Port) -> Hop:
    """A preamp or a converter; what is a mix or channel already is only patched."""
    group = rig.group(socket)
    if group.role == "inputs":
        return Hop(socket, port, "preamp" if group.preamp else "convert", latency_s=group.latency_s or 0.0)
    return Hop(socket, port, "patch")


def _out_of(rig: Rig, port: Port, socket: Port) -> Hop:
    group = rig.group(socket)
    if group.role == "outputs":
        latency = (group.latency_s or 0.0) + _work_latency(rig, socket)
        return Hop(port, socket, "convert", latency_s=latency)
    return Hop(port, socket, "patch")


def _over(run: Run, enters: Port, protocol: str | None, latency_s: float) -> Iterator[Hop]:
    """A run's cables one by one, and the panels between them; its latency stands on the first cable."""
    pieces = run.pieces if enters == run.ends[0] else tuple(piece.turned for piece in reversed(run.pieces))
    before: Piece | None = None
    for piece in pieces:
        if before is not None:
            yield Hop(before.right, piece.left, "pass")
        yield hop_over(piece, protocol=protocol, latency_s=0.0 if before else latency_s)
        before = piece


def processed(rig: Rig, entry: Port, port: Port) -> Hop:
    """Across a processor: in, through, and out again."""
    return Hop(entry, port, "mix", latency_s=_across_latency(rig, entry, port))
