"""A plug must go into its socket."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import called, count
from rigdsl.paths import Paths
from rigdsl.rig import Cable, Insert, Link, Output, Port, Rig, Source, ports_text
from rigdsl_power.plugs import Ends, orientations, turned, wrong_at

__all__ = ["connector_mismatch"]

# AES14-1992: an output is male, so the plug at a source is female and the plug at what is fed is male.
NEVER_AT_SOURCE, NEVER_AT_FED = "xlr-m", "xlr-f"


@dataclass(frozen=True)
class Misfit:
    """A plug and the socket that it does not go into."""

    plug: str
    socket: str
    port: Port


@rule("connector-mismatch", Level.WARNING, NoOptions, edition=2)
def connector_mismatch(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A cable's plug does not fit the socket that it goes into.

    Judged are cables and sockets that both name a `connector`; a socket that names several takes any of them. A
    cable that names two has one at each end, and lies whichever way round fits. `rj45`, `lc` and `bnc` have no
    gender. A cable from a source goes on with a male XLR, one to an output comes with a female one. The lead of an
    insert has a plug for each way: judged is what kind of plug it is, at the outboard.

    ## On the night
    The line is pulled, and it does not go in. The adapter is in the other case, or at home.

    ## A rig that breaks it
    ```rig
    rig "Microphone leads into a small mixer" { rate 48 kHz }
    model mix4 {
      kind console; channels ch 1-4
      inputs mic 1-2 { preamp; connector xlr-f }
      pass mic -> ch 1-2
    }
    model keys2 { kind computer; outputs out 1-2 { connector jack } }
    zone stage
    box DESK is mix4 in stage
    box KEYS is keys2 in stage
    source vox dynamic in stage to DESK.mic 1 via xlr 5 m
    link L01: KEYS.out 1 -- DESK.mic 2 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "A lead with both" { rate 48 kHz }
    cable jack-xlr "Jack to XLR" { medium analogue; connector jack, xlr-m }
    model mix4 {
      kind console; channels ch 1-4
      inputs mic 1-2 { preamp; connector xlr-f }
      pass mic -> ch 1-2
    }
    model keys2 { kind computer; outputs out 1-2 { connector jack } }
    zone stage
    box DESK is mix4 in stage
    box KEYS is keys2 in stage
    source vox dynamic in stage to DESK.mic 1 via xlr 5 m
    link L01: KEYS.out 1 -- DESK.mic 2 via jack-xlr 5 m
    ```

    ## Figures
    XLR outputs are male and inputs female (AES14-1992), so a cable has a female plug at the end of the output and
    a male one at the end of the input.

    ## See also
    `level-mismatch`, `medium-mismatch`.
    """
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


def _of_link(rig: Rig, link: Link, cable: Cable) -> Iterator[Finding]:
    ways = orientations(cable)
    misfits = [misfit for join in link.joins for misfit in _fewest(rig, ways, join)]
    if misfits:
        yield _told(rig, link, cable, misfits)


def _of_plug(rig: Rig, plug: Source | Output, cable: Cable) -> Iterator[Finding]:
    """The other end is the source or output itself, of which is known what AES14 says and no more."""
    never = NEVER_AT_SOURCE if isinstance(plug, Source) else NEVER_AT_FED
    ways = orientations(cable)
    likely = tuple(way for way in ways if way[1] != (never,)) or ways
    misfits = [misfit for port in plug.ports for misfit in _fewest(rig, likely, (port,))]
    if misfits:
        yield _told(rig, plug, cable, misfits)


def _of_insert(rig: Rig, insert: Insert, sockets: Iterable[Port], cable: Cable) -> Iterator[Finding]:
    """The end at the outboard. Of the desk's own socket nothing is known, nor which of two plugs is male."""
    ends = [end for way in orientations(cable) for end in way]
    plugs = tuple(dict.fromkeys(plug for end in ends for plug in end)) if all(ends) else ()
    found = [misfit for port in sockets for misfit in _fewest(rig, ((plugs, ()),), (port,))]
    misfits = [misfit for misfit in found if not turned(misfit.plug, misfit.socket)]
    if misfits:
        yield _told(rig, insert, cable, misfits)


def _fewest(rig: Rig, ways: Sequence[Ends], ports: Sequence[Port]) -> list[Misfit]:
    """What does not fit at one end or both, with the cable the better way round: rather at an input than an output."""
    found = [
        [
            Misfit(*wrong, port)
            for port, plugs in zip(ports, way, strict=False)
            if (wrong := wrong_at(plugs, rig.group(port).connectors))
        ]
        for way in ways
    ]
    return min(found, key=lambda way: (len(way), [rig.group(one.port).role == "outputs" for one in way]), default=[])


def _told(rig: Rig, thing: Link | Source | Output | Insert, cable: Cable, misfits: list[Misfit]) -> Finding:
    first = misfits[0]
    ports = list(dict.fromkeys(misfit.port for misfit in misfits))
    is_turned = turned(first.plug, first.socket)
    alike = "both are of one gender" if is_turned else f"its socket is `{first.socket}`"
    return Finding(
        place=thing.place,
        subject=thing.name,
        message=f"{called(thing)} has a plug `{first.plug}` at `{ports_text(ports)}`, and {alike}",
        consequence="it does not go in",
        help=f"for the kit list: {_adapters(misfits)}; or take another cable than `{cable.name}`",
        related=(Related(rig.group(first.port).place, f"`{first.port}` has its connector by this line"),),
        ports=tuple(str(port) for port in ports),
        box=first.port.box,
    )


def _adapters(misfits: list[Misfit]) -> str:
    """The adapters that would do, each kind once, with how many it takes."""
    kinds = Counter((misfit.plug, misfit.socket) for misfit in misfits)
    return ", ".join(
        f"{count(number, 'turnaround' if turned(*kind) else 'adapter')} from plug `{kind[0]}` to socket `{kind[1]}`"
        for kind, number in kinds.items()
    )
