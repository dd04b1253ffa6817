"""A source must be plugged in somewhere."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Paths
from rigdsl.rig import Port, Rig, Source
from rigdsl_ports.sockets import free_inputs, kept

__all__ = ["unplugged_source"]


@rule("unplugged-source", Level.ERROR, NoOptions)
def unplugged_source(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A source is plugged into nothing, or has no socket yet.

    ## On the night
    Nobody hears it.

    ## A rig that breaks it
    ```rig
    rig "Where does it go" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Plugged in" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    ```

    ## See also
    `overbooked` for boxes with too few inputs, `lost-source` for sources that are plugged in and still not heard.
    """
    spare = kept(rig)
    for source in rig.sources.values():
        if not source.ports and source.name not in rig.incomplete:
            yield Finding(
                place=source.place,
                subject=source.name,
                message=f"`{source.name}` goes to `{source.aimed}` and has no socket yet"
                if source.aimed
                else f"`{source.name}` is plugged into nothing",
                consequence="nobody hears it",
                help=_way_out(rig, paths, source, spare),
                silent=(source.name,),
                box=source.aimed,
            )


def _way_out(rig: Rig, paths: Paths, source: Source, spare: frozenset[Port]) -> str:
    boxes = [rig.boxes[source.aimed]] if source.aimed in rig.boxes else []
    boxes = boxes or [box for box in rig.boxes.values() if box.kind == "stage-box"]
    boxes.sort(key=lambda box: box.zone != source.zone)
    wireless = source.type == "wireless"
    free = next((port for box in boxes for port in free_inputs(paths, box, spare, wireless=wireless)), None)
    if free:
        return f"`{free}` is free: `to {free}`"
    return f"no input of `{source.aimed}` is free" if source.aimed else "say where it goes: `to BOX.group 1`"
