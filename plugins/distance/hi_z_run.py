"""An instrument's lead before the DI."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from rigdsl_distance.copper import LeadOptions, unbalanced_leads
from rigdsl_distance.words import metres

__all__ = ["hi_z_run"]


@rule("hi-z-run", Level.WARNING, LeadOptions)
def hi_z_run(rig: Rig, paths: Paths, options: LeadOptions) -> Iterator[Finding]:
    """An instrument goes a long way unbalanced before it comes to a DI.

    ## On the night
    It sounds dull, and it hums: a pickup drives little cable, and an unbalanced lead picks up whatever is near.

    ## A rig that breaks it
    ```rig
    rig "DI at the wrong end" { rate 48 kHz }
    model di1 { kind di; inputs in { level instrument }; outputs out { level mic }; pass in -> out { isolated } }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch }
    zone stage
    zone wing
    box D1 is di1 in wing
    box DESK is desk12 in wing
    link L01: D1.out -- DESK.local 1 via xlr 3 m
    source bass "Bass guitar" instrument in stage to D1.in via jack 15 m
    ```

    ## A rig that keeps it
    ```rig
    rig "DI beside the player" { rate 48 kHz }
    model di1 { kind di; inputs in { level instrument }; outputs out { level mic }; pass in -> out { isolated } }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch }
    zone stage
    zone wing
    box D1 is di1 in stage
    box DESK is desk12 in wing
    link L01: D1.out -- DESK.local 1 via xlr 15 m
    source bass "Bass guitar" instrument in stage to D1.in via jack 5 m
    ```

    ## Figures
    15 to 20 ft, so up to 6 m: common practice, no source.

    ## See also
    `treble-loss`, `unbalanced-run`.
    """
    yield from unbalanced_leads(
        paths,
        options,
        "instrument",
        words="unbalanced at instrument level before a DI",
        consequence="it sounds dull and picks up hum",
        help=f"put a DI within {metres(options.most_m)} of it and go on balanced from there",
    )
