"""Paths put together: plug, wire, preamp, digital way, patch, and so on to a channel or an output."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rigdsl.paths.hops import processed, route_hops
from rigdsl.paths.model import Hop, Path, Route
from rigdsl.paths.patched import Pair
from rigdsl.paths.walk import plug_hop
from rigdsl.rig import Leg, Port

if TYPE_CHECKING:
    from rigdsl.paths.paths import Paths

__all__ = ["feeding_paths", "output_paths", "sent_paths", "source_paths", "stop_words"]


NOBODY = Leg("", 0)


@dataclass(frozen=True)
class _Front:
    """Where a signal has come to: a socket, the hops so far, and whether a patch led there."""

    port: Port
    hops: tuple[Hop, ...]
    patched: bool = False


def source_paths(paths: Paths, leg: Leg) -> tuple[Path, ...]:
    """One path for each channel or output that a line of a source is sent to; else one that says where it stops."""
    source = paths.rig.sources[leg.name]
    if leg.index >= len(source.ports):
        return (_unplugged(paths, leg),)
    start = plug_hop(leg, source.ports[leg.index], source.lead)
    fronts = [_Front(source.ports[leg.index], (start,))]
    found: list[Path] = []
    done = {fronts[0].port}
    for front in fronts:
        before = len(found), len(fronts)
        found += _on_wire(paths, leg, front)
        for after in _through_processors(paths, front):
            if after.port not in done:
                done.add(after.port)
                fronts.append(after)
        for pair in paths.pairs_from(leg) if front is fronts[0] else paths.pairs_on(front.port):
            ended, after_patch = _patched_on(paths, leg, front, pair)
            found += ended
            if after_patch is not None and after_patch.port not in done:
                done.add(after_patch.port)
                fronts.append(after_patch)
        if front.patched and before == (len(found), len(fronts)):
            found.append(Path(leg, front.hops, leg, front.port, False, f"nothing is plugged into `{front.port}`"))
    return tuple(found) or (_stopped(paths, leg, start),)


def _on_wire(paths: Paths, leg: Leg, front: _Front) -> Iterator[Path]:
    """Over passes and cables to hard-wired channels, and to the outputs and loudspeakers that hang there."""
    walk = paths.walk_from(front.port)
    for reached in walk.came:
        hops = (*front.hops, *walk.hops_to(reached))
        if _role(paths, reached) == "channels" or paths.is_loudspeaker_input(reached):
            yield Path(leg, (*hops, *paths.insert_hops(reached)), leg, reached, paths.comes_back(reached))
        for other in paths.plugs.get(reached, ()):
            if other.name in paths.rig.outputs:
                lead = paths.rig.outputs[other.name].lead
                yield Path(leg, (*hops, plug_hop(other, reached, lead, out=True)), leg, other, True)


def _through_processors(paths: Paths, front: _Front) -> Iterator[_Front]:
    walk = paths.walk_from(front.port)
    for reached in walk.came:
        for out in paths.mixed_to(reached):
            yield _Front(out, (*front.hops, *walk.hops_to(reached), processed(paths.rig, reached, out)))


def _patched_on(paths: Paths, leg: Leg, front: _Front, pair: Pair) -> tuple[tuple[Path, ...], _Front | None]:
    """Over the digital way of a patch: it ends in a channel, or goes on from an output's socket."""
    route = pair.route
    if route is None:
        return (), None
    hops = (*front.hops, *paths.walk_from(front.port).hops_to(route.left), *route_hops(paths.rig, route))
    if not route.works:
        return (Path(leg, hops, leg, hops[-1].right, False, stop_words(route)),), None
    if _role(paths, route.right) == "channels":
        back = paths.comes_back(route.right)
        return (Path(leg, (*hops, *paths.insert_hops(route.right)), leg, route.right, back),), None
    return (), _Front(route.right, hops, patched=True)


def _role(paths: Paths, port: Port) -> str:
    return paths.rig.group(port).role


def _unplugged(paths: Paths, leg: Leg) -> Path:
    thing = paths.rig.thing(leg)
    why = (
        f"`{leg.name}` has no socket yet on `{thing.aimed}`" if thing.aimed else f"`{leg.name}` is plugged into nothing"
    )
    return Path(leg, (), leg, leg, False, why)


def _stopped(paths: Paths, leg: Leg, start: Hop) -> Path:
    """The way to the furthest socket that a source comes to, and why it goes no further."""
    walk = paths.walk_of(leg)
    port = list(walk.came)[-1]
    role = _role(paths, port)
    why = f"nothing is patched from `{port}`" if role == "inputs" else f"nothing is plugged into `{port}`"
    if role == "inputs" and not paths.can_be_patched(port):
        why = f"`{port}` leads nowhere"
    return Path(leg, (start, *walk.hops_to(port)), leg, port, False, why)


def stop_words(route: Route) -> str:
    """Why a patch finds no way, in one line."""
    if route.blame:
        return route.blame[0][1].because
    return f"no digital way leads from `{route.left.box}` to `{route.right.box}`"


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


def feeding_paths(paths: Paths, port: Port) -> tuple[Path, ...]:
    """The same for a socket or channel, whatever hangs on it."""
    return tuple(_feeding(paths, NOBODY, port, (), port))


def _feeding(paths: Paths, leg: Leg, start: Port, end: tuple[Hop, ...], goal: Port | Leg) -> Iterator[Path]:
    """All that comes to a socket over wire, patches and processors."""
    fronts = [_Front(start, end)]
    done = {start}
    for front in fronts:
        before = len(fronts)
        found = 0
        walk = paths.walk_back(front.port)
        for port in walk.came:
            tail = (*_backwards(walk.hops_to(port)), *front.hops)
            for path in _begun(paths, leg, port, tail, goal):
                found += 1
                yield path
            for behind in _behind(paths, leg, port, tail):
                if behind.port not in done:
                    done.add(behind.port)
                    fronts.append(behind)
        if front.patched and not found and before == len(fronts):
            yield Path(leg, front.hops, front.port, goal, False, f"no source reaches `{front.port}`")


def _begun(paths: Paths, leg: Leg, port: Port, tail: tuple[Hop, ...], goal: Port | Leg) -> Iterator[Path]:
    """The paths that begin at a socket: at a mix, a source's plug, or the far end of a patch."""
    if _role(paths, port) == "mixes":
        yield Path(leg, (*paths.insert_hops(port), *tail), port, goal, paths.comes_back(port))
    for source in paths.plugs.get(port, ()):
        if source.name in paths.rig.sources:
            yield Path(leg, (plug_hop(source, port, paths.rig.sources[source.name].lead), *tail), source, goal, True)
    for pair in paths.pairs_to(port, leg):
        route = pair.route
        if route is None:
            yield Path(leg, tail, pair.left, goal, False, f"`{pair.left}` is plugged into nothing")
        elif not route.works:
            yield Path(leg, tail, route.left, goal, False, stop_words(route))
        elif _role(paths, route.left) != "inputs":
            hops = (*paths.insert_hops(route.left), *route_hops(paths.rig, route), *tail)
            yield Path(leg, hops, route.left, goal, paths.comes_back(route.left))


def _behind(paths: Paths, leg: Leg, port: Port, tail: tuple[Hop, ...]) -> Iterator[_Front]:
    """The inputs whose signal comes to a socket, by a patch or through a processor."""
    for entry in paths.mixed_from(port):
        yield _Front(entry, (processed(paths.rig, entry, port), *tail))
    for pair in paths.pairs_to(port, leg):
        route = pair.route
        if route is not None and route.works and _role(paths, route.left) == "inputs":
            yield _Front(route.left, (*route_hops(paths.rig, route), *tail), patched=True)


def _backwards(hops: tuple[Hop, ...]) -> tuple[Hop, ...]:
    """A walk back has its hops from the end to the start; the signal goes the other way."""
    return tuple(reversed(hops))


def _loose(leg: Leg) -> Path:
    return Path(leg, (), leg, leg, False, f"no cable is plugged into `{leg.name}`")


def _silent(paths: Paths, leg: Leg, start: Port, end: tuple[Hop, ...], goal: Port | Leg) -> Path:
    walk = paths.walk_back(start)
    port = list(walk.came)[-1]
    why = f"nothing is patched to `{port}`" if _role(paths, port) == "outputs" else f"nothing is plugged into `{port}`"
    if paths.leads_nowhere(port):
        why = f"nothing inside `{port.box}` leads to `{port}`"
    return Path(leg, (*_backwards(walk.hops_to(port)), *end), port, goal, False, why)


def sent_paths(paths: Paths) -> Iterator[Path]:
    """What desks send to channels: direct outs and mixes to a recorder's tracks, in the order of the patches."""
    for pair in paths.pairs:
        route = pair.route
        if route is None or _role(paths, route.right) != "channels" or _role(paths, route.left) == "inputs":
            continue
        stops = "" if route.works else stop_words(route)
        hops = route_hops(paths.rig, route)
        if route.works:
            hops = (*paths.insert_hops(route.left), *hops, *paths.insert_hops(route.right))
        yield Path(None, hops, route.left, route.right, route.works, stops)
