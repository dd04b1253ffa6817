"""What a fibre run loses in glass, connectors and splices."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.lint.words import count, merged, stage_end
from rigdsl.paths import Paths, Run
from rigdsl.rig import Rig, shown
from rigdsl_distance.formulae import fibre_loss_db
from rigdsl_distance.words import known_m, metres, other_pieces, protocol_of

__all__ = ["fibre_budget"]


@dataclass(frozen=True)
class Options:
    """What one joint loses."""

    connector_db: float = field(
        default=0.75, metadata={"help": "loss of one mated pair of connectors, in dB", "minimum": 0}
    )
    splice_db: float = field(default=0.3, metadata={"help": "loss of one splice, in dB", "minimum": 0})


@rule("fibre-budget", Level.WARNING, Options)
def fibre_budget(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """A fibre run loses more light than its protocol stands.

    Counted are the glass, one mated pair of connectors at each end and where two pieces meet, and no splice; a link
    whose block says `connectors 4` or `splices 1` is counted as it says.

    ## On the night
    The link blinks and drops out, at first when somebody moves the cable. Dirty ends do the same: clean them first.
    Never look into a fibre or its socket: the light is not seen and can hurt the eye. Leave open ends to people
    who are trained for it.

    ## A rig that breaks it
    ```rig
    rig "Three panels" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over om3 600 m; budget 2.6 dB }
    cable om3x "OM3 duplex" { medium fibre; grade om3; loss 3.5 dB/km at 850 nm }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via om3x 300 m { connectors 4 }
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "One piece of fibre" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over om3 600 m; budget 2.6 dB }
    cable om3x "OM3 duplex" { medium fibre; grade om3; loss 3.5 dB/km at 850 nm }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via om3x 300 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## Figures
    0.75 dB for a mated pair of connectors (TIA-568, as the Fiber Optic Association gives it) and 0.3 dB for a splice
    (TIA-568, from memory) are the most that is allowed; typical is 0.3 dB and 0.15 dB. Cable is at most 3.5 dB/km
    at 850 nm and 1.5 dB/km at 1300 nm (TIA-568).
    """
    yield from merged(paths, _found(rig, paths, options))


def _found(rig: Rig, paths: Paths, options: Options) -> Iterator[tuple[Run, Finding]]:
    for run in paths.runs:
        protocol = protocol_of(rig, run)
        if not protocol or protocol.budget_db is None or not run.works or not _is_fibre(run):
            continue
        connectors, splices = _connectors(run), sum(link.splices or 0 for link in run.links)
        loss_db = fibre_loss_db(_glass_db(run), connectors, splices, options.connector_db, options.splice_db)
        if loss_db > protocol.budget_db + 1e-9:
            yield run, _over(paths, run, loss_db, protocol.budget_db, _counted(run, connectors, splices))


def _is_fibre(run: Run) -> bool:
    return all(link.lead and link.lead.cable.medium == "fibre" for link in run.links)


def _glass_db(run: Run) -> float:
    """The loss of the cable as far as it is known: it is at least that."""
    return sum(known_m(link) * (link.lead.cable.loss_db_per_m or 0.0) for link in run.links if link.lead)


def _connectors(run: Run) -> int:
    """Mated pairs: one at each end and one where two links meet; joints of a link that counts its own are its own."""
    links = run.links
    counted = [link.connectors is not None for link in links]
    joints = zip([False, *counted], [*counted, False], strict=True)
    usual = sum(1 for before, after in joints if not before and not after)
    return usual + sum(link.connectors or 0 for link in links)


def _counted(run: Run, connectors: int, splices: int) -> str:
    parts = [metres(sum(known_m(link) for link in run.links)) + " of fibre", count(connectors, "mated connector")]
    if splices:
        parts.append(count(splices, "splice"))
    return ", ".join(parts)


def _over(paths: Paths, run: Run, loss_db: float, budget_db: float, counted: str) -> Finding:
    return Finding(
        place=run.links[0].place,
        subject=run.name,
        message=(
            f"`{run.name}` loses {shown(loss_db, digits=2)} dB ({counted}),"
            f" and `{run.protocol}` stands {shown(budget_db, digits=2)} dB"
        ),
        consequence="the light may be too weak at the far end: the link drops out",
        help="take fewer pieces or shorter ones, or say `connectors` where fewer are mated; never look into a fibre",
        related=other_pieces(run, run.links[0]),
        ports=tuple(str(end) for end in run.ends),
        box=stage_end(paths, run).box,
    )
