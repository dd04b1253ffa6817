"""What the phantom rules share: lines in need, what is on for whom, and what is better not judged."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.paths import Live, Paths
from rigdsl.rig import Leg, Port, Rig, Source

__all__ = ["OWN_SUPPLY", "askers", "bank_text", "free_preamps", "in_doubt", "needy", "quiet_sockets"]

OWN_SUPPLY = "where it has a battery or a supply of its own, say `phantom no`"


def needy(rig: Rig, paths: Paths) -> Iterator[tuple[Source, tuple[Leg, ...]]]:
    """The sources in need with their plugged lines, where nothing about them is in doubt."""
    for name, legs in paths.in_need.items():
        if not in_doubt(rig, paths, rig.sources[name]):
            yield rig.sources[name], legs


def in_doubt(rig: Rig, paths: Paths, source: Source) -> bool:
    """Whether something on its way could not be read, or a cable that could not be read may go on from there."""
    if not rig.incomplete and not rig.left_out:
        return False
    if paths.unsure(source.name):
        return True
    return "link" in rig.left_out and any(
        port not in paths.pieces and rig.group(port).role == "outputs"
        for start in source.ports
        for port in paths.walk_from(start).came
    )


def askers(rig: Rig, paths: Paths, live: Live) -> tuple[Leg, ...]:
    """The lines in need that hang on a preamp's own wire; two plugs in one socket are another matter."""
    return tuple(leg for leg in live.own if not _crowded(paths, rig.sources[leg.name].ports[leg.index]))


def _crowded(paths: Paths, port: Port) -> bool:
    return len(paths.plugs.get(port, ())) + len(paths.pieces.get(port, ())) > 1


def bank_text(rig: Rig, port: Port) -> str:
    """The sockets that are switched with one: `SL.mic 1-8`."""
    group = rig.group(port)
    first = (max(port.number, 1) - 1) // group.bank * group.bank + 1
    last = min(first + group.bank - 1, group.count)
    return f"`{port}`" if first == last else f"`{port.box}.{port.group} {first}-{last}`"


def free_preamps(rig: Rig, paths: Paths, box: str) -> Iterator[Port]:
    """The free inputs with phantom on a box, in the order of its groups."""
    for group in rig.boxes[box].model.of_role("inputs"):
        if group.phantom is not None and group.pluggable and not group.wireless:
            yield from (port for port in rig.boxes[box].ports(group) if not _used(paths, port))


def quiet_sockets(rig: Rig, paths: Paths, box: str, group: str) -> Iterator[Port]:
    """The free sockets of a group on which phantom stays off."""
    ports = rig.boxes[box].ports(rig.boxes[box].model.groups[group])
    return (port for port in ports if port not in paths.phantom_on and not _used(paths, port))


def _used(paths: Paths, port: Port) -> bool:
    return port in paths.plugs or port in paths.pieces
