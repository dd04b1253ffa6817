"""The cables that a rig takes, against those that the house owns."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count, listed
from rigdsl.paths import Paths, Shortage, shortages
from rigdsl.rig import Rig, shown

__all__ = ["over_stock"]

ROUNDING_M = 1e-6


@rule("over-stock", Level.WARNING, NoOptions, edition=2)
def over_stock(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """The cable schedule needs more cables of a kind and length than the house has.

    Judged are kinds of cable that have a `stock` line. A longer cable serves where a shorter one is asked for. A
    cable of one line to four sockets is four cables; one of several lines (`lines 12`) counts as often as it takes.
    The leads of sources and outputs count, measured lengths too; a cable whose length nobody knows is left out.

    ## On the night
    The trunk is empty before the stage is wired, and two short cables are joined where one long one should lie.

    ## A rig that breaks it
    ```rig
    rig "Three leads, two owned" { rate 48 kHz }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk12 in stage
    source vox-1 dynamic in stage to DESK 1 via xlr 10 m
    source vox-2 dynamic in stage to DESK 2 via xlr 10 m
    source vox-3 dynamic in stage to DESK 3 via xlr 10 m
    stock xlr 10 m x 2
    stock xlr 5 m x 10
    ```

    ## A rig that keeps it
    ```rig
    rig "A longer one serves" { rate 48 kHz }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk12 in stage
    source vox-1 dynamic in stage to DESK 1 via xlr 10 m
    source vox-2 dynamic in stage to DESK 2 via xlr 10 m
    source vox-3 dynamic in stage to DESK 3 via xlr 10 m
    stock xlr 10 m x 2
    stock xlr 20 m x 1
    ```
    """
    for shortage in shortages(rig):
        yield _lacking(rig, shortage)


def _lacking(rig: Rig, shortage: Shortage) -> Finding:
    kind, size = shortage.cable.name, f"{shown(shortage.length_m)} m"
    lines = [line for line in rig.stock if line.cable == kind]
    line = max(lines, key=lambda line: (abs(line.length_m - shortage.length_m) < ROUNDING_M, line.length_m))
    return Finding(
        place=line.place,
        subject=f"{kind} {size}",
        message=f"{_takes(shortage, size)}{_unknown(shortage)}",
        consequence="the trunk is empty before the stage is wired",
        help=f"hire {shortage.missing}, or do with what there is at {listed([row.name for row in shortage.wanted])}",
        related=tuple(Related(row.place, f"`{row.name}` takes {row.count}") for row in shortage.wanted),
    )


def _takes(shortage: Shortage, size: str) -> str:
    """How many cables of that length or longer it takes; where the house has no shorter ones, a long one serves too."""
    lengths = [row.length_m for row in shortage.wanted if row.length_m is not None]
    cables = f"{count(shortage.needed, 'cable')} `{shortage.cable.name}`"
    if min(lengths, default=shortage.length_m) > shortage.length_m - ROUNDING_M:
        return f"the rig takes {cables} of {size} or longer, and the house has {shortage.owned or 'none'}"
    owned = f"{shortage.owned} of {size} or longer" if shortage.owned else "none that is long enough"
    return f"the rig takes {cables} of {shown(min(lengths))} m or longer, and the house has {owned}"


def _unknown(shortage: Shortage) -> str:
    """What is left out because nobody knows how long it is."""
    if not shortage.unknown:
        return ""
    if shortage.unknown == 1:
        return "; one more has no length yet and does not count"
    return f"; {shortage.unknown} more have no length yet and do not count"
