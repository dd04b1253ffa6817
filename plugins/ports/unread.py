"""Cables and plugs that could not be read: that is told once, and nobody guesses at what hangs on them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache

from rigdsl.finding import near
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Output, Port, Rig, Source
from rigdsl_ports.sockets import plugged

__all__ = ["in_doubt", "unread_cables", "unread_plugs"]

MOST_WORDS = 200  # of a file that cannot be read: looking for near ones takes time

Doubt = Callable[[Port], bool]


def _misspelt(rig: Rig) -> Callable[[str], bool]:
    """Whether a name is nearly one that the files say and nobody knows: what was meant for it may be lost by that."""
    known = {*rig.boxes, *rig.zones, *rig.links, *rig.sources, *rig.outputs, *rig.supplies}
    unknown = sorted(rig.incomplete - known)[:MOST_WORDS]
    return lru_cache(maxsize=None)(lambda name: bool(unknown and near(name, unknown)))


def unread_cables(rig: Rig, paths: Paths) -> Doubt:
    """Whether a cable that was left out may be plugged in at a socket that is loose.

    It may where it names the socket's box or group, or nearly its box.
    """
    nearly = _misspelt(rig)

    def may_be(port: Port) -> bool:
        if plugged(paths, port) or not rig.group(port).pluggable:
            return False
        return port.box in rig.incomplete or port.group in rig.incomplete or nearly(port.box)

    return may_be if "link" in rig.left_out else lambda port: False


def unread_plugs(rig: Rig) -> bool:
    """Whether a source or output has no socket because its words could not be read: it may hang anywhere."""
    things: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    return any(thing.name in rig.incomplete and len(thing.ports) < thing.width for thing in things)


def in_doubt(rig: Rig, paths: Paths) -> Callable[[str], bool]:
    """Whether a source, output or loudspeaker that is not heard may be so by something that could not be read."""
    nearly, unread = _misspelt(rig), unread_cables(rig, paths)
    return lambda name: paths.unsure(name) or nearly(name) or any(unread(port) for port in _wanting(paths, name))


def _wanting(paths: Paths, name: str) -> Iterator[Port]:
    """The sockets at which the cables of what is not heard may end too soon."""
    source = paths.rig.sources.get(name)
    walk = paths.walk_from if source else paths.walk_back
    stops = (path.end if source else path.start for path in paths.paths_of(name) if not path.complete)
    for start in (*(source.ports if source else paths.sockets_of(Leg(name, 0))), *stops):
        if isinstance(start, Port):
            yield from walk(start).came
