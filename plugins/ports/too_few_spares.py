"""Inputs in hand for the night when one fails."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.lint.words import count
from rigdsl.paths import Paths
from rigdsl.rig import Box, Port, Rig, Zone, ports_text
from rigdsl_ports.sockets import LINE_KINDS, out_of_use, passed, plugged

__all__ = ["too_few_spares"]

# Boxes that a microphone is plugged into.
TAKES_SOURCES = ("stage-box", "sub-box", "panel", "splitter", "console", "engine")


@dataclass(frozen=True)
class Options:
    """How many free inputs are asked for; none by default."""

    each_box: int = field(default=0, metadata={"help": "free inputs that every stage box should have", "minimum": 0})
    each_zone: int = field(
        default=0, metadata={"help": "free inputs that every zone with a stage box should have", "minimum": 0}
    )
    at: Mapping[str, int] = field(
        default_factory=dict, metadata={"help": "free inputs that a box or zone should have, by its name"}
    )


@rule("too-few-spares", Level.WARNING, Options)
def too_few_spares(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """A box or zone has fewer free inputs than the configuration asks for.

    Nothing is asked for by default. What is kept by `keep` is a spare and counts; what `accept unused-port` calls
    faulty does not, nor does a line of a sub-box that leads nowhere.

    ## On the night
    A preamp fails, or one more microphone turns up, and there is no socket to move to.

    ```toml
    [rules.too-few-spares]
    at = { DESK = 2 }
    ```

    ## A rig that breaks it
    ```rig
    rig "No room" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    source bass dynamic in stage to DESK 3 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Room for two" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    ```

    ## See also
    `unused-port`, which lists what is free.

    ## Figures
    How many spares a show wants is its crew's own choice: nothing is asked for until somebody does.
    """
    faulty = out_of_use(rig)
    for thing, boxes, asked in _asked(rig, options):
        free = [port for box in boxes for port in _spares(paths, box, faulty)] if asked else []
        if len(free) < asked and rig.incomplete.isdisjoint(box.name for box in boxes):
            yield _too_few(thing, free, asked)


def _asked(rig: Rig, options: Options) -> Iterator[tuple[Box | Zone, list[Box], int]]:
    """Every box and zone of which spares are asked, with its boxes and how many."""
    for box in rig.boxes.values():
        asked = options.at.get(box.name, options.each_box if box.kind == "stage-box" else 0)
        yield box, [box], asked
    inside: dict[str, list[Box]] = {}
    for box in rig.boxes.values():
        if box.kind in TAKES_SOURCES:
            inside.setdefault(box.zone, []).append(box)
    for zone in rig.zones.values():
        boxes = inside.get(zone.name, [])
        has_stage_box = any(box.kind == "stage-box" for box in boxes)
        yield zone, boxes, options.at.get(zone.name, options.each_zone if has_stage_box else 0)


def _spares(paths: Paths, box: Box, faulty: frozenset[Port]) -> list[Port]:
    return [
        port
        for group in box.model.of_role("inputs")
        if group.pluggable and not group.wireless
        for port in box.ports(group)
        if port not in faulty and not plugged(paths, port) and _leads_on(paths, box, port)
    ]


def _leads_on(paths: Paths, box: Box, port: Port) -> bool:
    return box.kind not in LINE_KINDS or any(plugged(paths, far) for far in passed(paths, port))


def _too_few(thing: Box | Zone, free: list[Port], asked: int) -> Finding:
    has = f"{count(len(free), 'free input')} (`{ports_text(free)}`)" if free else "no free input"
    return Finding(
        place=thing.place,
        subject=thing.name,
        message=f"`{thing.name}` has {has}, and {asked} {'is' if asked == 1 else 'are'} asked for",
        consequence="there is nowhere to move to when a socket fails",
        help="move a source to another box, add a sub-box or stage box, or ask for fewer in the configuration",
        ports=tuple(str(port) for port in free),
        box=thing.name if isinstance(thing, Box) else "",
    )
