"""A chain falls silent from the first bad plug on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.lint.words import count
from rigdsl.paths import Paths
from rigdsl.rig import Rig, natural

__all__ = ["chained_boxes"]


@dataclass(frozen=True)
class Options:
    """What a project may set."""

    most: int = field(default=2, metadata={"help": "how many boxes may stand one behind the other", "minimum": 1})


@rule("road-rules/chained-boxes", Level.WARNING, Options)
def chained_boxes(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """More boxes stand one behind the other than the house chains.

    ## On the night
    One bad plug near the desk silences every box behind it, and the search begins at the desk each time.

    ## A rig that breaks it
    ```rig
    rig "Three in a row" { rate 48 kHz }
    zone wing
    zone foh
    box SL "Stage left" is marsh16 in wing
    box SR "Stage right" is marsh16 in wing
    box BACK "Riser" is marsh16 in wing
    box DESK "Desk" is marsh-desk in foh
    link C01: SL.A -- DESK.stage 1 via cat6 60 m { note "red" }
    link C02: SL.B -- SR.A via cat6 10 m { note "yellow" }
    link C03: SR.B -- BACK.A via cat6 10 m { note "yellow" }
    source vox dynamic in wing to SL 1 via xlr 6 m
    source snare dynamic in wing to SR 1 via xlr 6 m
    source kick dynamic in wing to BACK 1 via xlr 6 m
    patch vox, snare, kick -> DESK.ch 1-3
    ```

    ## A rig that keeps it
    ```rig
    rig "Two in a row" { rate 48 kHz }
    zone wing
    zone foh
    box SL "Stage left" is marsh16 in wing
    box SR "Stage right" is marsh16 in wing
    box BACK "Riser" is marsh16 in wing
    box DESK "Desk" is marsh-desk in foh
    link C01: SL.A -- DESK.stage 1 via cat6 60 m { note "red" }
    link C02: SL.B -- SR.A via cat6 10 m { note "yellow" }
    link C03: BACK.A -- DESK.stage 2 via cat6 60 m { note "red" }
    source vox dynamic in wing to SL 1 via xlr 6 m
    source snare dynamic in wing to SR 1 via xlr 6 m
    source kick dynamic in wing to BACK 1 via xlr 6 m
    patch vox, snare, kick -> DESK.ch 1-3
    ```

    ## Figures
    Two boxes: the house's own rule. What the gear itself can chain is judged by `chain-too-deep`.

    ## See also
    `chain-too-deep`.
    """
    for chain in sorted(paths.chains.values(), key=lambda one: natural(one.box)):
        if chain.position != options.most + 1:
            continue
        box = rig.boxes[chain.box]
        yield Finding(
            place=box.place,
            subject=box.name,
            message=f"`{box.name}` is box {chain.position} behind `{chain.head}`,"
            f" and the house chains {count(options.most, 'box', 'boxes')} at most",
            consequence="one bad plug near the desk silences every box behind it",
            help=f"give `{box.name}` a cable of its own to the desk",
            box=box.name,
            ports=(str(chain.near),),
        )
