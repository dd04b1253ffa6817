"""Shielded cable where the protocol asks for it."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import merged, stage_end, ticked
from rigdsl.paths import Paths, Run
from rigdsl.rig import Link, Protocol, Rig
from rigdsl_distance.words import protocol_of

__all__ = ["shield_missing"]


@rule("shield-missing", Level.WARNING, NoOptions)
def shield_missing(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """The protocol needs shielded cable, and a piece of the run has no shield.

    ## On the night
    A spark from a carpet or a dimmer's hash gets into the line: clicks, or the link drops out for a second.

    ## A rig that breaks it
    ```rig
    rig "Plain cable" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; needs shielded }
    cable flat6 "Cat 6 without a shield" { medium twisted-pair; category 6 }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via flat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Shielded cable" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; needs shielded }
    cable foil6 "Cat 6 F/UTP" { medium twisted-pair; category 6; shielded }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via foil6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```
    """
    yield from merged(paths, _found(rig, paths))


def _found(rig: Rig, paths: Paths) -> Iterator[tuple[Run, Finding]]:
    for run in paths.runs:
        bare = [link for link in run.links if _unshielded(link)]
        if bare and run.works and _asks(protocol_of(rig, run)):
            yield run, _missing(rig, paths, run, bare)


def _asks(protocol: Protocol | None) -> bool:
    return protocol is not None and protocol.needs_shielded


def _unshielded(link: Link) -> bool:
    """Copper without a shield; fibre needs none, and a cable that nobody knows has no medium."""
    return link.lead is not None and link.lead.cable.medium not in ("", "fibre") and not link.lead.cable.shielded


def _missing(rig: Rig, paths: Paths, run: Run, bare: list[Link]) -> Finding:
    cables = list(dict.fromkeys(link.lead.cable for link in bare if link.lead))
    media = {cable.medium for cable in cables}
    others = [name for name, cable in sorted(rig.cables.items()) if cable.shielded and cable.medium in media]
    ways_out = f"; {ticked(others[:3])} {'is' if len(others) == 1 else 'are'} shielded" if others else ""
    return Finding(
        place=bare[0].place,
        subject=run.name,
        message=f"`{run.protocol}` needs shielded cable, and {ticked(cable.name for cable in cables)} has no shield",
        consequence="interference and static sparks get in: clicks, or the link drops out",
        help=f"take a shielded cable for {ticked(link.name for link in bare)}{ways_out}",
        related=tuple(Related(link.place, "no shield here either") for link in bare[1:]),
        ports=tuple(str(end) for end in run.ends),
        box=stage_end(paths, run).box,
    )
