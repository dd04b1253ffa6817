"""Paths put together: plug, wire, preamp, digital way, patch, and so on to a channel or an output."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigdsl.paths.model import Hop, Path, Piece, Route, Run
from rigdsl.paths.patched import Pair
from rigdsl.paths.walk import hop_over, plug_hop
from rigdsl.rig import Leg, Port

if TYPE_CHECKING:
    from rigdsl.paths.paths import Paths

__all__ = ["output_paths", "route_hops", "sent_paths", "source_paths", "stop_words"]


def source_paths(paths: Paths, leg: Leg) -> tuple[Path, ...]:
    """One path for each channel or output that a line of a source is sent to; else one that says where it stops."""
    source = paths.rig.sources[leg.name]
    if leg.index >= len(source.ports):
        return (_unplugged(paths, leg),)
    walk = paths.walk_of(leg)
    start = plug_hop(leg, source.ports[leg.index], source.lead)
    found = [_to_wired_channel(paths, leg, start, port) for port in walk.came if _role(paths, port) == "channels"]
    found += [Path(leg, (start, *tail), leg, end, True) for tail, end in _to_outputs(paths, source.ports[leg.index])]
    for pair in paths.pairs_from(leg):
        if pair.route is not None:
            hops = (start, *walk.hops_to(pair.route.left))
            found += _patched_on(paths, leg, hops, pair)
    return tuple(found) or (_stopped(paths, leg, start),)


def _role(paths: Paths, port: Port) -> str:
    return paths.rig.group(port).role


def _unplugged(paths: Paths, leg: Leg) -> Path:
    thing = paths.rig.thing(leg)
    why = (
        f"`{leg.name}` has no socket yet on `{thing.aimed}`" if thing.aimed else f"`{leg.name}` is plugged into nothing"
    )
    return Path(leg, (), leg, leg, False, why)


def _to_wired_channel(paths: Paths, leg: Leg, start: Hop, port: Port) -> Path:
    return Path(leg, (start, *paths.walk_of(leg).hops_to(port)), leg, port, True)


def _stopped(paths: Paths, leg: Leg, start: Hop) -> Path:
    """The way to the furthest socket that a source comes to, and why it goes no further."""
    walk = paths.walk_of(leg)
    port = list(walk.came)[-1]
    role = _role(paths, port)
    why = f"nothing is patched from `{port}`" if role == "inputs" else f"nothing is plugged into `{port}`"
    if role == "inputs" and not paths.can_be_patched(port):
        why = f"`{port}` leads nowhere"
    return Path(leg, (start, *walk.hops_to(port)), leg, port, False, why)


def _patched_on(paths: Paths, leg: Leg, hops: tuple[Hop, ...], pair: Pair) -> Iterator[Path]:
    """Over the digital way of a patch, and where it ends in an output's socket, on to what hangs there."""
    route = pair.route
    assert route is not None
    here = (*hops, *route_hops(paths, route))
    if not route.works:
        yield Path(leg, here, leg, here[-1].right, False, stop_words(route))
        return
    if _role(paths, route.right) == "channels":
        yield Path(leg, here, leg, route.right, True)
        return
    tails = list(_to_outputs(paths, route.right))
    for tail, end in tails:
        yield Path(leg, (*here, *tail), leg, end, True)
    if not tails:
        yield Path(leg, here, leg, route.right, False, f"nothing is plugged into `{route.right}`")


def stop_words(route: Route) -> str:
    """Why a patch finds no way, in one line."""
    if route.blame:
        return route.blame[0][1].because
    return f"no digital cable leads from `{route.left.box}` to `{route.right.box}`"


def _to_outputs(paths: Paths, port: Port) -> Iterator[tuple[tuple[Hop, ...], Port | Leg]]:
    """From a socket over passes, cables and processors to every output and loudspeaker that hangs on it."""
    waiting: list[tuple[Port, tuple[Hop, ...]]] = [(port, ())]
    done = {port}
    for start, before in waiting:
        walk = paths.walk_from(start)
        for reached in walk.came:
            hops = (*before, *walk.hops_to(reached))
            for leg in paths.plugs.get(reached, ()):
                if leg.name in paths.rig.outputs:
                    yield (*hops, plug_hop(leg, reached, paths.rig.outputs[leg.name].lead, out=True)), leg
            if paths.is_loudspeaker_input(reached):
                yield hops, reached
            for out in paths.mixed_to(reached):
                if out not in done:
                    done.add(out)
                    waiting.append((out, (*hops, _processed(paths, reached, out))))


def output_paths(paths: Paths, leg: Leg) -> tuple[Path, ...]:
    """One path for each mix, direct out or source that a line of an output (or a loudspeaker) is fed from."""
    starts = paths.sockets_of(leg)
    if leg.index >= len(starts):
        return (_unplugged(paths, leg),) if leg.name in paths.rig.outputs else (_loose(leg),)
    start = starts[leg.index]
    end: tuple[Hop, ...] = ()
    if leg.name in paths.rig.outputs:
        end = (plug_hop(leg, start, paths.rig.outputs[leg.name].lead, out=True),)
    goal: Port | Leg = leg if end else start
    found = tuple(_feeding(paths, leg, start, end, goal))
    return found or (_silent(paths, leg, start, end, goal),)


def _feeding(paths: Paths, leg: Leg, start: Port, end: tuple[Hop, ...], goal: Port | Leg) -> Iterator[Path]:
    """All that comes to a socket over wire, patches and processors."""
    waiting = [(start, end)]
    done = {start}
    for begin, after in waiting:
        walk = paths.walk_back(begin)
        for port in walk.came:
            tail = (*_backwards(walk.hops_to(port)), *after)
            yield from _plugged_or_patched(paths, leg, port, tail, goal)
            for entry in paths.mixed_from(port):
                if entry not in done:
                    done.add(entry)
                    waiting.append((entry, (_processed(paths, entry, port), *tail)))


def _plugged_or_patched(paths: Paths, leg: Leg, port: Port, tail: tuple[Hop, ...], goal: Port | Leg) -> Iterator[Path]:
    if _role(paths, port) == "mixes":
        yield Path(leg, tail, port, goal, True)
    for source in paths.plugs.get(port, ()):
        if source.name in paths.rig.sources:
            yield Path(leg, (plug_hop(source, port, paths.rig.sources[source.name].lead), *tail), source, goal, True)
    for pair in paths.pairs_to(port, leg):
        yield from _fed(paths, leg, pair, tail, goal)


def _backwards(hops: tuple[Hop, ...]) -> tuple[Hop, ...]:
    """A walk back has its hops from the end to the start; the signal goes the other way."""
    return tuple(reversed(hops))


def _loose(leg: Leg) -> Path:
    return Path(leg, (), leg, leg, False, f"no cable is plugged into `{leg.name}`")


def _silent(paths: Paths, leg: Leg, start: Port, end: tuple[Hop, ...], goal: Port | Leg) -> Path:
    walk = paths.walk_back(start)
    port = list(walk.came)[-1]
    role = _role(paths, port)
    why = f"nothing is patched to `{port}`" if role == "outputs" else f"nothing is plugged into `{port}`"
    return Path(leg, (*_backwards(walk.hops_to(port)), *end), port, goal, False, why)


def _fed(paths: Paths, leg: Leg, pair: Pair, tail: tuple[Hop, ...], goal: Port | Leg) -> Iterator[Path]:
    route = pair.route
    if route is None:
        yield Path(leg, tail, pair.left, goal, False, f"`{pair.left}` is plugged into nothing")
        return
    hops = (*route_hops(paths, route), *tail)
    if not route.works:
        yield Path(leg, hops, route.left, goal, False, stop_words(route))
    elif _role(paths, route.left) != "inputs":
        yield Path(leg, hops, route.left, goal, True)
    else:
        yield from _from_sources(paths, leg, route.left, hops, goal)


def _from_sources(paths: Paths, leg: Leg, port: Port, hops: tuple[Hop, ...], goal: Port | Leg) -> Iterator[Path]:
    """An input that goes straight to an output: the path begins at the sources that come to it."""
    feeding = paths.sources_at(port)
    for source in feeding:
        thing = paths.rig.sources[source.name]
        start = plug_hop(source, thing.ports[source.index], thing.lead)
        yield Path(leg, (start, *paths.walk_of(source).hops_to(port), *hops), source, goal, True)
    if not feeding:
        yield Path(leg, hops, port, goal, False, f"no source reaches `{port}`")


def _processed(paths: Paths, entry: Port, port: Port) -> Hop:
    """Across a processor: in, through, and out again."""
    return Hop(entry, port, "mix", latency_s=_across_latency(paths, entry, port))


def sent_paths(paths: Paths) -> Iterator[Path]:
    """What desks send to channels: direct outs and mixes to a recorder's tracks, in the order of the patches."""
    for pair in paths.pairs:
        route = pair.route
        if route is None or _role(paths, route.right) != "channels" or _role(paths, route.left) == "inputs":
            continue
        stops = "" if route.works else stop_words(route)
        yield Path(None, route_hops(paths, route), route.left, route.right, route.works, stops)


def route_hops(paths: Paths, route: Route) -> tuple[Hop, ...]:
    """The hops of a patch: into the digital world, over it, and out to where it goes; none where no way works."""
    if not route.works:
        return ()
    if not route.steps:
        return (Hop(route.left, route.right, "patch", latency_s=_across_latency(paths, route.left, route.right)),)
    hops = [_into(paths, route.left, route.steps[0].left)]
    once: set[str] = set()
    for step in route.steps:
        if step.by != "run" or step.run is None:
            hops.append(Hop(step.left, step.right, "link" if step.by == "run" else step.by))
            continue
        hops += _over(step.run, step.left, step.protocol, _run_latency(paths, step.protocol, once))
    hops.append(_out_of(paths, route.steps[-1].right, route.right))
    return tuple(hops)


def _run_latency(paths: Paths, name: str | None, once: set[str]) -> float:
    """What a run adds; a protocol whose latency is set once for the whole path adds it on its first run only."""
    protocol = paths.rig.protocols.get(name or "")
    if protocol is None or protocol.name in once:
        return 0.0
    if protocol.latency_once:
        once.add(protocol.name)
    return protocol.latency_s


def _across_latency(paths: Paths, left: Port, right: Port) -> float:
    """Inside one box: what its input and its output take to convert, and a processor for its work."""
    ends = (left, "inputs"), (right, "outputs")
    taken = sum(paths.rig.group(port).latency_s or 0.0 for port, role in ends if _role(paths, port) == role)
    return taken + _work_latency(paths, left)


def _work_latency(paths: Paths, port: Port) -> float:
    box = paths.rig.boxes[port.box]
    return box.latency_s if box.kind == "processor" else 0.0


def _into(paths: Paths, socket: Port, port: Port) -> Hop:
    """A preamp or a converter; what is a mix or channel already is only patched."""
    group = paths.rig.group(socket)
    if group.role == "inputs":
        return Hop(socket, port, "preamp" if group.preamp else "convert", latency_s=group.latency_s or 0.0)
    return Hop(socket, port, "patch")


def _out_of(paths: Paths, port: Port, socket: Port) -> Hop:
    group = paths.rig.group(socket)
    if group.role == "outputs":
        latency = (group.latency_s or 0.0) + _work_latency(paths, socket)
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
