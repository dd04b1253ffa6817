"""Digital boxes that are joined follow one clock."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import together
from rigdsl.paths import Island, Paths
from rigdsl.rig import Rig

__all__ = ["clock_leader"]


@rule("clock-leader", Level.ERROR, NoOptions)
def clock_leader(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Boxes that are joined digitally have two leaders of their clock, or several desks and none is named.

    Where there is one desk only it leads; with several, a `clock` line says which. What converts its rate
    keeps the clocks on its two sides apart. An error where two leaders are declared, else a warning.

    ## On the night
    Clicks, pops and dropouts that come and go, worst when it is too late to look for them.

    ## A rig that breaks it
    ```rig
    rig "Two desks" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box FOH is desk32 in foh
    box MON is desk32 in wing
    link C01: SL.A -- FOH.stage via cat6 60 m
    link C02: SL.B -- MON.stage via cat6 10 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Two desks, one clock" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box FOH is desk32 in foh
    box MON is desk32 in wing
    link C01: SL.A -- FOH.stage via cat6 60 m
    link C02: SL.B -- MON.stage via cat6 10 m
    clock FOH
    ```
    """
    for island in paths.islands:
        if len(island.declared) > 1:
            yield _two_leaders(rig, island)
        elif not island.declared and len(island.desks) > 1 and not _may_be_named(rig, island):
            yield _no_leader(rig, island)


def _may_be_named(rig: Rig, island: Island) -> bool:
    """A `clock` line could not be read, or a line that may be one and has one of these boxes in it."""
    return "clock" in rig.left_out or (bool(rig.left_out) and not rig.incomplete.isdisjoint(island.desks))


def _two_leaders(rig: Rig, island: Island) -> Finding:
    lines = [clock for clock in rig.clocks if clock.box in island.declared]
    return Finding(
        place=lines[-1].place,
        subject=island.boxes[0],
        message=f"{together(island.declared)} are named as leaders of one clock",
        consequence="the boxes do not stay in step: clicks, pops and dropouts",
        help="keep one `clock` line, or put in between what converts rates",
        related=tuple(Related(line.place, f"`{line.box}` is named leader here too") for line in lines[:-1]),
        box=island.boxes[0],
    )


def _no_leader(rig: Rig, island: Island) -> Finding:
    return Finding(
        place=rig.boxes[island.boxes[0]].place,
        subject=island.boxes[0],
        level=Level.WARNING,
        message=f"{together(island.desks)} are joined digitally, and no line says which of them leads the clock",
        consequence="if two of them lead, or none does, there are clicks, pops and dropouts",
        help=f"say who leads, as in `clock {island.desks[0]}`, and set the others to follow",
        related=tuple(Related(rig.boxes[name].place, f"`{name}` could lead") for name in island.desks),
        box=island.boxes[0],
    )
