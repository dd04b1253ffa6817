"""A run that is nearly too long, or would be if its flexible pieces counted as they should."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.lint.words import merged, stage_end, ticked
from rigdsl.paths import Paths, Run
from rigdsl.rig import Link, Rig
from rigdsl_distance.words import ROUNDING_M, kinds, known_m, metres, other_pieces, poorest

__all__ = ["run_near_limit"]


@dataclass(frozen=True)
class Options:
    """Where the limit's neighbourhood begins, and what flexible cable costs."""

    share: float = field(
        default=0.9,
        metadata={"help": "the part of the reach above which a run is near its limit", "minimum": 0, "maximum": 1},
    )
    stranded: float = field(
        default=1.2, metadata={"help": "how many metres a metre of stranded cable counts for", "minimum": 1}
    )


@rule("run-near-limit", Level.NOTE, Options)
def run_near_limit(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """A digital run is within its reach by little, or only as long as stranded cable counts like solid cable.

    A piece of `stranded` cable counts 20 % longer here. Where that makes the difference it is a warning.

    ## On the night
    A run with nothing in hand fails first: a warm room, a tired plug or one more patch cord is enough.

    ## A rig that breaks it
    ```rig
    rig "Cable drum" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    cable reel6 "Cat 6 on a drum" { medium twisted-pair; category 6; shielded; stranded }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via reel6 85 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Shorter drum" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    cable reel6 "Cat 6 on a drum" { medium twisted-pair; category 6; shielded; stranded }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via reel6 75 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## Figures
    20 % is the de-rating of flexible cords in ISO/IEC 11801 (from memory). 90 % is common practice, no source.

    ## See also
    `run-too-long`, which takes lengths as they are.
    """
    yield from merged(paths, _found(rig, paths, options))


def _found(rig: Rig, paths: Paths, options: Options) -> Iterator[tuple[Run, Finding]]:
    for run in paths.runs:
        if not run.works or run.length_m is None or not run.reach_m:
            continue
        counted_m = run.length_m + sum(known_m(link) * (options.stranded - 1) for link in _stranded(run))
        limit_m = run.reach_m * options.share + ROUNDING_M
        if counted_m > limit_m:
            by_strands = run.length_m <= limit_m or counted_m > run.reach_m + ROUNDING_M
            yield run, _near(rig, paths, run, counted_m, by_strands=by_strands)


def _near(rig: Rig, paths: Paths, run: Run, counted_m: float, *, by_strands: bool) -> Finding:
    length_m, reach_m = run.length_m or 0.0, run.reach_m or 0.0
    all_of_it, weakest = kinds(run.links), kinds(poorest(rig, run))
    on = "it" if all_of_it == weakest else weakest
    reach = f"`{run.protocol}` reaches {metres(reach_m)} on {on}"
    message = f"`{run.name}` is {metres(length_m)} of {all_of_it}, and {reach}"
    if by_strands:
        message += f"; its stranded cable makes it count as {metres(counted_m)}"
        help_ = f"take solid cable for {ticked(link.name for link in _stranded(run))}, or shorter pieces"
    else:
        help_ = f"{metres(reach_m - length_m)} are left: take shorter pieces, or add no further one"
    return Finding(
        place=run.links[0].place,
        subject=run.name,
        message=message,
        level=Level.WARNING if by_strands else None,
        consequence="it has little in hand, and drops out first",
        help=help_,
        related=other_pieces(run, run.links[0]),
        ports=tuple(str(end) for end in run.ends),
        box=stage_end(paths, run).box,
    )


def _stranded(run: Run) -> list[Link]:
    return [link for link in run.links if link.lead and link.lead.cable.stranded]
