"""A cable goes by the colour of its tape."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.lint.words import ticked
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from rigdsl_road_rules.colours import HOUSE, colour_of, metres, named

__all__ = ["cable_colour"]


@dataclass(frozen=True)
class Options:
    """What a project may set."""

    colours: Mapping[str, str] = field(
        default_factory=lambda: dict(HOUSE), metadata={"help": "the colour of the tape, by the length in metres"}
    )


@rule("road-rules/cable-colour", Level.WARNING, Options)
def cable_colour(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """A cable of a length that the house marks does not name the colour of its tape.

    ## On the night
    Whoever packs the trunk looks for colours, not for lengths: a cable without one stays in the van, or a shorter
    one is taken and does not reach.

    ## A rig that breaks it
    ```rig
    rig "The wrong tape" { rate 48 kHz }
    zone wing
    zone foh
    box SL "Stage left" is marsh16 in wing
    box DESK "Desk" is marsh-desk in foh
    link C01: SL.A -- DESK.stage 1 via cat6 60 m { note "blue, from drum 4" }
    source vox dynamic in wing to SL 1 via xlr 6 m
    patch vox -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "The right tape" { rate 48 kHz }
    zone wing
    zone foh
    box SL "Stage left" is marsh16 in wing
    box DESK "Desk" is marsh-desk in foh
    link C01: SL.A -- DESK.stage 1 via cat6 60 m { note "red, from drum 4" }
    source vox dynamic in wing to SL 1 via xlr 6 m
    patch vox -> DESK.ch 1
    ```

    ## Figures
    The colours are the house's own.
    """
    for link in rig.links.values():
        colour, others = colour_of(link, options.colours), named(link, options.colours)
        if not colour or colour in others:
            continue
        length = f"{metres(link)} m"
        wrong = f"is noted as {ticked(others)}" if others else "names no colour"
        yield Finding(
            place=link.place,
            subject=link.name,
            message=f"`{link.name}` {wrong}, and the house marks {length} with `{colour}`",
            consequence="whoever packs the trunk looks for colours: the cable stays in the van, or a wrong one comes",
            help=f'write the colour into its note: `{{ note "{colour}" }}`',
            ports=tuple(str(port) for pair in link.joins for port in pair),
        )
