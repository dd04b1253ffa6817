"""The plugs of cables that do not go into the sockets of a rig, and so the adapters that it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rigdsl.paths.plug_fit import Ends, orientations, turned, wrong_at
from rigdsl.rig import Cable, Insert, Link, Output, Port, Rig, Source

if TYPE_CHECKING:
    from rigdsl.paths.paths import Paths

__all__ = ["PlugMisfit", "WrongPlug", "misfits"]

# AES14-1992: an output is male, so the plug at a source is female and the plug at what is fed is male.
NEVER_AT_SOURCE, NEVER_AT_FED = "xlr-m", "xlr-f"


@dataclass(frozen=True)
class WrongPlug:
    """A plug and the socket that it does not go into."""

    plug: str
    socket: str
    port: Port


@dataclass(frozen=True)
class PlugMisfit:
    """A cable of a link, source, output or insert, and which of its plugs do not fit."""

    thing: Link | Source | Output | Insert
    cable: Cable
    plugs: tuple[WrongPlug, ...]


def misfits(rig: Rig, paths: Paths) -> Iterator[PlugMisfit]:
    """All of them: links, then sources and outputs, then inserts; what could not be read is left out."""
    stopped = {link.name for run in paths.runs if run.faults for link in run.links}
    for link in rig.links.values():
        if link.lead and link.name not in stopped and _known(rig, link.name, [p for pair in link.joins for p in pair]):
            yield from _of_link(rig, link, link.lead.cable)
    plugs: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    for plug in plugs:
        if plug.lead and plug.name not in rig.incomplete and _known(rig, plug.name, plug.ports):
            yield from _of_plug(rig, plug, plug.lead.cable)
    for line in rig.insert_lines:
        lead, sockets = line[0].lead, [port for one in line for port in (one.send, one.back)]
        if lead and _known(rig, line[0].at.box, sockets):
            yield from _of_insert(rig, line[0], sockets, lead.cable)


def _known(rig: Rig, name: str, ports: Iterable[Port]) -> bool:
    return rig.incomplete.isdisjoint({name, *(port.box for port in ports)})


def _of_link(rig: Rig, link: Link, cable: Cable) -> Iterator[PlugMisfit]:
    ways = orientations(cable)
    wrong = [misfit for join in link.joins for misfit in _fewest(rig, ways, join)]
    if wrong:
        yield PlugMisfit(link, cable, tuple(wrong))


def _of_plug(rig: Rig, plug: Source | Output, cable: Cable) -> Iterator[PlugMisfit]:
    """The other end is the source or output itself, of which is known what AES14 says and no more."""
    never = NEVER_AT_SOURCE if isinstance(plug, Source) else NEVER_AT_FED
    ways = orientations(cable)
    likely = tuple(way for way in ways if way[1] != (never,)) or ways
    wrong = [misfit for port in plug.ports for misfit in _fewest(rig, likely, (port,))]
    if wrong:
        yield PlugMisfit(plug, cable, tuple(wrong))


def _of_insert(rig: Rig, insert: Insert, sockets: Iterable[Port], cable: Cable) -> Iterator[PlugMisfit]:
    """The end at the outboard. Of the desk's own socket nothing is known, nor which of two plugs is male."""
    ends = [end for way in orientations(cable) for end in way]
    plugs = tuple(dict.fromkeys(plug for end in ends for plug in end)) if all(ends) else ()
    found = [misfit for port in sockets for misfit in _fewest(rig, ((plugs, ()),), (port,))]
    wrong = [misfit for misfit in found if not turned(misfit.plug, misfit.socket)]
    if wrong:
        yield PlugMisfit(insert, cable, tuple(wrong))


def _fewest(rig: Rig, ways: Sequence[Ends], ports: Sequence[Port]) -> list[WrongPlug]:
    """What does not fit at one end or both, with the cable the better way round: rather at an input than an output."""
    found = [
        [
            WrongPlug(*wrong, port)
            for port, plugs in zip(ports, way, strict=False)
            if (wrong := wrong_at(plugs, rig.group(port).connectors))
        ]
        for way in ways
    ]
    return min(found, key=lambda way: (len(way), [rig.group(one.port).role == "outputs" for one in way]), default=[])
