"""One cable or box on which much of the show hangs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.lint.words import count, listed
from rigdsl.paths import Paths
from rigdsl.rig import Rig

if TYPE_CHECKING:  # a check that has this rule off, or finds nothing for it, does not wait for what can fail
    from rigdsl.paths.failure import Ranked

__all__ = ["single_point"]


@dataclass(frozen=True)
class Options:
    """How much may hang on one thing."""

    sources: int = field(
        default=8, metadata={"help": "so many sources may fall silent with one cable or box", "minimum": 0}
    )


@rule("single-point", Level.NOTE, Options, on=False, edition=2)
def single_point(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """With one cable or box more sources fall silent than one thing should take with it.

    Redundant pairs, rings, other ways that work and second desks count: what is heard another way does not
    fall silent. `rigdsl lose` tells the same of every cable and box, whatever hangs on it.

    ## On the night
    One foot in one cable, one fuse in one box, and half the band is gone at once.

    ```toml
    [rules.single-point]
    sources = 2
    ```

    ## A rig that breaks it
    ```rig
    rig "One way" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; slots fixed }
    model nw4 { kind stage-box; inputs mic 1-4 { preamp }; digital A, B { protocol fernlink } }
    model desk8 {
      kind console
      channels ch 1-8
      inputs local 1-4 { preamp }
      digital stage 1-2 { protocol fernlink }
    }
    zone stage
    box SL is nw4 in stage
    box DESK is desk8 in stage
    link C01: SL.A -- DESK.stage 1 via cat6 60 m
    source kick dynamic in stage to SL 1 via xlr 6 m
    source snare dynamic in stage to SL 2 via xlr 6 m
    source vox dynamic in stage to SL 3 via xlr 6 m
    patch SL.mic 1-3 -> DESK.ch 1-3
    ```

    ## A rig that keeps it
    ```rig
    rig "Spread" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; slots fixed }
    model nw4 { kind stage-box; inputs mic 1-4 { preamp }; digital A, B { protocol fernlink } }
    model desk8 {
      kind console
      channels ch 1-8
      inputs local 1-4 { preamp }
      digital stage 1-2 { protocol fernlink }
    }
    zone stage
    box SL is nw4 in stage
    box DESK is desk8 in stage
    link C01: SL.A -- DESK.stage 1 via cat6 60 m { redundant }
    link C02: SL.B -- DESK.stage 2 via cat6 70 m { redundant }
    source kick dynamic in stage to SL 1 via xlr 6 m
    source snare dynamic in stage to SL 2 via xlr 6 m
    patch SL.mic 1-2 -> DESK.ch 1-2
    ```

    ## Figures
    Eight sources, a small band's worth: common practice, no source.

    ## See also
    shared-fate
    """
    from rigdsl.paths.failure import Failures

    for ranked in Failures(paths).ranking:
        if len(ranked.lost.silent_sources) > options.sources and ranked.name not in rig.incomplete:
            yield _told(rig, ranked)


def _told(rig: Rig, ranked: Ranked) -> Finding:
    lost = ranked.lost
    more = f", and {count(len(lost.silent_outputs), 'output')}" if lost.silent_outputs else ""
    cable = ranked.kind == "cable"
    help = "give it a second half by another way" if cable else "spread them over two boxes"
    return Finding(
        place=(rig.links if cable else rig.boxes)[ranked.name].place,
        subject=ranked.name,
        message=f"{count(len(lost.silent_sources), 'source')}{more} hang on `{ranked.name}` alone",
        consequence=f"if it fails, these fall silent: {listed(lost.silent_sources)}",
        help=f"{help}, or have a spare at hand and know who swaps it",
        box=min(end.box for pair in rig.links[ranked.name].joins for end in pair) if cable else ranked.name,
    )
