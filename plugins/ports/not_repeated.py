"""What one desk has, another may need too."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.lint.words import listed
from rigdsl.paths import Paths
from rigdsl.rig import Port, Rig, Source

__all__ = ["not_repeated"]


@dataclass(frozen=True)
class Options:
    """Which desks should have everything."""

    desks: tuple[str, ...] = field(
        default=(), metadata={"help": "desks that should have every source; none named: all consoles and engines"}
    )


@rule("not-repeated", Level.NOTE, Options, on=False)
def not_repeated(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """A source reaches one desk and not another that should have everything.

    ## On the night
    The monitor engineer has no fader for it, and the musician waits.

    ## A rig that breaks it
    ```rig
    rig "Two desks" { rate 48 kHz }
    model split4 { kind splitter; inputs in 1-4; outputs a 1-4; outputs b 1-4; pass in -> a; pass in -> b { isolated } }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box SP is split4 in stage
    box FOH is desk4 in stage
    box MON is desk4 in stage
    link L01: SP.a 1-2 -- FOH.local 1-2 via xlr 10 m
    link L02: SP.b 1 -- MON.local 1 via xlr 3 m
    source vox dynamic in stage to SP 1 via xlr 5 m
    source gtr dynamic in stage to SP 2 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Two desks" { rate 48 kHz }
    model split4 { kind splitter; inputs in 1-4; outputs a 1-4; outputs b 1-4; pass in -> a; pass in -> b { isolated } }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box SP is split4 in stage
    box FOH is desk4 in stage
    box MON is desk4 in stage
    link L01: SP.a 1-2 -- FOH.local 1-2 via xlr 10 m
    link L02: SP.b 1-2 -- MON.local 1-2 via xlr 3 m
    source vox dynamic in stage to SP 1 via xlr 5 m
    source gtr dynamic in stage to SP 2 via xlr 5 m
    ```
    """
    desks = [name for name in options.desks or _mixers(rig) if name in rig.boxes]
    for source in rig.sources.values():
        reached = _reached(paths, source)
        missed = [name for name in desks if name not in reached]
        if missed and any(name in reached for name in _mixers(rig)) and source.name not in rig.incomplete:
            yield Finding(
                place=source.place,
                subject=source.name,
                message=f"`{source.name}` does not reach {listed(missed)}",
                consequence="there is no fader for it",
                help=f"patch it to a channel of {listed(missed)} too, or name the desks that need all in `desks`",
                ports=tuple(str(port) for port in source.ports),
                box=missed[0],
            )


def _mixers(rig: Rig) -> list[str]:
    return [box.name for box in rig.boxes.values() if box.mixes]


def _reached(paths: Paths, source: Source) -> set[str]:
    """The boxes in which a path of the source ends."""
    return {path.end.box for path in paths.paths_of(source.name) if path.complete and isinstance(path.end, Port)}
