"""A run that has a limit, and a length that nobody knows."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import merged, stage_end, ticked
from rigdsl.paths import Paths, Piece, Run
from rigdsl.rig import Link, Rig
from rigdsl_distance.words import kinds, metres, poorest

__all__ = ["length_missing"]


@rule("length-missing", Level.WARNING, NoOptions)
def length_missing(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A digital run has a longest length, and how long it is nobody knows: none is written, and nothing to measure.

    A cable between boxes of one zone is taken to be short.

    ## On the night
    The run may be too long for its protocol, and it shows when the cable is already under the floor.

    ## A rig that breaks it
    ```rig
    rig "No length" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Measured by the plan" { rate 48 kHz; slack 3 m }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing at (6, 1) m
    zone foh at (0, -28) m
    way foh -- wing 65 m "under the balcony"
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```
    """
    yield from merged(paths, _found(rig, paths))


def _found(rig: Rig, paths: Paths) -> Iterator[tuple[Run, Finding]]:
    for run in paths.runs:
        unknown = list(dict.fromkeys(piece.link for piece in run.pieces if _unknown(rig, piece)))
        if unknown and run.works and (run.reach_m is not None or _bare(rig, run)):
            yield run, _missing(rig, paths, run, unknown)


def _unknown(rig: Rig, piece: Piece) -> bool:
    """A link whose length nobody can know; what joins two boxes of one zone is short."""
    # its length, or where its ends stand, may be written where it could not be read
    if not rig.incomplete.isdisjoint((piece.link.name, piece.left.box, piece.right.box)):
        return False
    if piece.link.lead is None:  # not even the kind of cable is said
        return True
    return piece.link.lead.length_m is None and not _in_one_zone(rig, piece)


def _bare(rig: Rig, run: Run) -> bool:
    """A cable is left out of which not even the kind is said; radio needs none."""
    return any(piece.link.lead is None for piece in run.pieces) and not any(rig.group(end).wireless for end in run.ends)


def _in_one_zone(rig: Rig, piece: Piece) -> bool:
    zone = rig.boxes[piece.left.box].zone
    return bool(zone) and zone == rig.boxes[piece.right.box].zone


def _message(rig: Rig, run: Run, unknown: list[Link]) -> str:
    names = ticked(link.name for link in unknown)
    if run.reach_m is None:
        return f"nobody knows what cable {names} {'is' if len(unknown) == 1 else 'are'}, nor how long"
    reaches = f"`{run.protocol}` reaches {metres(run.reach_m)} on {kinds(poorest(rig, run))}"
    return f"nobody knows how long {names} {'is' if len(unknown) == 1 else 'are'}, and {reaches}"


def _missing(rig: Rig, paths: Paths, run: Run, unknown: list[Link]) -> Finding:
    return Finding(
        place=unknown[0].place,
        subject=run.name,
        message=_message(rig, run, unknown),
        consequence="the run may be too long, and then no sound passes it",
        help="write what it is and how long, as in `via cat6 60 m`"
        if run.reach_m is None
        else "write its length, or a position for the zones of both ends, or a `way` between them",
        related=tuple(Related(link.place, "no length here either") for link in unknown[1:]),
        ports=tuple(str(end) for end in run.ends),
        box=stage_end(paths, run).box,
    )
