"""Unbalanced line level over a distance."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from rigdsl_distance.copper import LeadOptions, unbalanced_leads
from rigdsl_distance.words import metres

__all__ = ["unbalanced_run"]


@rule("unbalanced-run", Level.WARNING, LeadOptions)
def unbalanced_run(rig: Rig, paths: Paths, options: LeadOptions) -> Iterator[Finding]:
    """A source at line level goes a long way on an unbalanced lead.

    ## On the night
    It hums. Never mend that by taking off a protective earth: a transformer or a DI does it safely.

    ## A rig that breaks it
    ```rig
    rig "Keys across the stage" { rate 48 kHz }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12; pass local -> ch }
    zone stage
    zone wing
    box DESK is desk12 in wing
    source keys "Keys" line in stage to DESK 1-2 via jack 10 m { balanced no }
    ```

    ## A rig that keeps it
    ```rig
    rig "Keys across the stage" { rate 48 kHz }
    model di2 { kind di; inputs in 1-2 { level line, instrument }; outputs out 1-2; pass in -> out { isolated } }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12; pass local -> ch }
    zone stage
    zone wing
    box D1 is di2 in stage
    box DESK is desk12 in wing
    link L01: D1.out 1-2 -- DESK.local 1-2 via xlr 10 m
    source keys "Keys" line in stage to D1 1-2 via jack 3 m { balanced no }
    ```

    ## Figures
    6 m is common practice, no source.

    ## See also
    `hi-z-run` for instruments.
    """
    yield from unbalanced_leads(
        paths,
        options,
        "line",
        words="unbalanced at line level",
        consequence="it picks up hum",
        help=(
            f"put a DI within {metres(options.most_m)} of it, or take its balanced output if it has one;"
            " never take off a protective earth against hum"
        ),
    )
