"""Cables where the public walks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import rule
from rigdsl.lint.words import called, together
from rigdsl.paths import Paths
from rigdsl.rig import Insert, Link, Output, Port, Rig, Source, natural

__all__ = ["walkway"]

Thing = Link | Source | Output | Insert

CAUTION = "cables where people walk are fixed down, covered or flown as local rules ask"


@dataclass(frozen=True)
class Options:
    """Which cables stay with the gear."""

    beside_m: float = field(
        default=5.0,
        metadata={"help": "longest lead in one zone that lies with the gear, in m", "minimum": 0},
    )


@rule("walkway", Level.WARNING, Options, edition=2)
def walkway(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """A cable goes through a zone where the public walks, and nothing says that it is covered.

    That is a cable with an end, or a source or output, in a zone that says `public`, without a `ramp` in its own
    block; of an insert `accept walkway on DESK.ch 3 because "covered"` says so. A short lead between two things of
    one zone lies with them and not in the way. What a cable passes between its two ends no file says, so a `way` is
    not judged.

    ## On the night
    Somebody trips, and is hurt; the plug is torn out, and the show stops. How cables are laid where people walk, and
    which ways must stay free to get out, local rules and the house say: fix them down, cover them, or fly them.

    ## A rig that breaks it
    ```rig
    rig "Across the aisle" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 } }
    zone wing
    zone hall "The hall, among the seats" { public }
    box SL is nw16 in wing
    box DESK is desk32 in hall
    link C01: SL.A -- DESK.stage via cat6 60 m
    source vox dynamic in wing to SL 1 via xlr 5 m
    patch vox -> DESK.ch 1
    clock DESK
    ```

    ## A rig that keeps it
    ```rig
    rig "Under a ramp" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 } }
    zone wing
    zone hall "The hall, among the seats" { public }
    box SL is nw16 in wing
    box DESK is desk32 in hall
    link C01: SL.A -- DESK.stage via cat6 60 m { ramp }
    source vox dynamic in wing to SL 1 via xlr 5 m
    patch vox -> DESK.ch 1
    clock DESK
    ```

    ## Figures
    That a lead of 5 m stays with the gear is common practice, no source.

    ## See also
    `link-too-short`: a cable that is pulled tight lifts off the floor.
    """
    for link in rig.links.values():
        if not _cordless(rig, link):
            ends = {rig.boxes[port.box].zone for join in link.joins for port in join}
            yield from _judged(rig, link, ends, (port for join in link.joins for port in join), options)
    plugs: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    for plug in plugs:
        if plug.lead and plug.ports:
            ends = {plug.zone, *(rig.boxes[port.box].zone for port in plug.ports)} - {""}
            yield from _judged(rig, plug, ends, plug.ports, options)
    for line in rig.insert_lines:
        ports = [port for insert in line for port in (insert.at, insert.send)]
        if line[0].lead:
            yield from _judged(rig, line[0], {rig.boxes[port.box].zone for port in ports} - {""}, ports, options)


def _cordless(rig: Rig, link: Link) -> bool:
    """Joined through the air: a tablet."""
    return all(rig.group(port).wireless for join in link.joins for port in join)


def _judged(rig: Rig, thing: Thing, ends: set[str], ports: Iterable[Port], options: Options) -> Iterator[Finding]:
    public = sorted((name for name in ends if name in rig.zones and rig.zones[name].public), key=natural)
    boxes = list(dict.fromkeys(port.box for port in ports))
    covered = not isinstance(thing, Insert) and thing.ramp
    if not public or covered or not rig.incomplete.isdisjoint({thing.name, *boxes}):
        return
    if len(ends) == 1 and _beside(thing, options.beside_m):
        return
    say = f'accept walkway on {thing.name} because "covered"' if isinstance(thing, Insert) else "ramp"
    where = "" if isinstance(thing, Insert) else " in its block"
    yield Finding(
        place=thing.place,
        subject=thing.name,
        message=f"{called(thing)} goes through {together(public)}, where the public walks",
        consequence="somebody trips over it, and is hurt",
        help=f"lay it another way, or cover it and write `{say}`{where}; {CAUTION}",
        related=tuple(Related(rig.zones[name].place, f"`{name}` is public by this line") for name in public),
        box=next((name for name in boxes if rig.boxes[name].zone in public), boxes[0]),
    )


def _beside(thing: Thing, most_m: float) -> bool:
    """A lead that is short, or of which nobody knows how long it is."""
    return thing.lead is None or thing.lead.length_m is None or thing.lead.length_m <= most_m
