"""Left and right belong side by side."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Paths
from rigdsl.rig import Port, Rig, Source, natural, ports_text

__all__ = ["split_pair"]


@rule("split-pair", Level.WARNING, NoOptions)
def split_pair(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """The two sides of a stereo source are not on neighbouring sockets of one box.

    A source of two sockets that is no pair says `mono`.

    ## On the night
    The desk cannot link them as a stereo channel, and one side is easily forgotten in a change of patch.

    ## A rig that breaks it
    ```rig
    rig "Left here, right there" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source keys line in stage to DESK 1,3 via xlr 5 m
    source vox dynamic in stage to DESK 2 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Side by side" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source keys line in stage to DESK 1-2 via xlr 5 m
    source vox dynamic in stage to DESK 3 via xlr 5 m
    ```
    """
    for source in rig.sources.values():
        if source.name in rig.incomplete:
            continue
        if len(source.ports) == 2 and not source.mono and not _side_by_side(*source.ports):
            yield _split(source, source.ports, "its two sides")
        partner = _partner(rig, source)
        if partner and not _side_by_side(source.ports[0], partner.ports[0]):
            yield _split(source, source.ports + partner.ports, f"it and `{partner.name}`", partner)


def _partner(rig: Rig, source: Source) -> Source | None:
    """The other side of a pair of two sources, seen from the first of them; both on one socket."""
    partner = rig.sources.get(source.partner)
    if partner is None or partner.name in rig.incomplete or natural(partner.name) < natural(source.name):
        return None
    return partner if len(source.ports) == len(partner.ports) == 1 else None


def _side_by_side(left: Port, right: Port) -> bool:
    return left[:2] == right[:2] and abs(left.number - right.number) == 1


def _split(source: Source, ports: tuple[Port, ...], what: str, partner: Source | None = None) -> Finding:
    return Finding(
        place=source.place,
        subject=source.name,
        message=f"`{source.name}` is a stereo pair, and {what} are apart: `{ports_text(ports)}`",
        consequence="the desk may not be able to link them as one stereo channel",
        help="plug them into neighbouring sockets of one box, or say `mono` if they are no pair"
        if partner is None
        else "plug them into neighbouring sockets of one box",
        related=(Related(partner.place, "the other side is here"),) if partner else (),
        ports=tuple(str(port) for port in ports),
        box=ports[0].box,
    )
