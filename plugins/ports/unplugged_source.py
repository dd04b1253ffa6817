"""A source must be plugged in somewhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import listed
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Port, Rig, Source
from rigdsl_ports.sockets import Rows, free_inputs, kept, offered

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
    unplugged = [source for source in rig.sources.values() if not source.ports and source.name not in rig.incomplete]
    spare, waiting = kept(rig), _waiting(rig, paths) if unplugged else {}
    rows: Rows = {}
    for source in unplugged:
        silent = waiting.get(source.name, [])
        yield Finding(
            place=source.place,
            subject=source.name,
            message=f"`{source.name}` goes to `{source.aimed}` and has no socket yet"
            if source.aimed
            else f"`{source.name}` is plugged into nothing",
            consequence=f"nobody hears it{_and(silent)}",
            help=_way_out(rig, paths, source, spare, rows),
            silent=(source.name, *silent),
            box=source.aimed,
        )


def _waiting(rig: Rig, paths: Paths) -> Mapping[str, list[str]]:
    """The outputs and loudspeakers that stay silent, by the sources that they are patched from."""
    found: dict[str, list[str]] = {}
    for name in (*rig.outputs, *paths.speaker_inputs):
        starts = (path.start for path in paths.paths_of(name) if not path.complete)
        for source in {start.name for start in starts if isinstance(start, Leg)} if not paths.sounds(name) else ():
            found.setdefault(source, []).append(name)
    return found


def _and(waiting: list[str]) -> str:
    return f", and {listed(waiting)} {'stays' if len(waiting) == 1 else 'stay'} silent" if waiting else ""


def _way_out(rig: Rig, paths: Paths, source: Source, spare: frozenset[Port], rows: Rows) -> str:
    boxes = [rig.boxes[source.aimed]] if source.aimed in rig.boxes else []
    boxes = boxes or [box for box in rig.boxes.values() if box.kind == "stage-box"]
    boxes.sort(key=lambda box: box.zone != source.zone)
    wireless = source.type == "wireless"
    free = offered(rows, boxes, wireless, lambda box: free_inputs(paths, box, spare, wireless=wireless))
    if free:
        return f"`{free}` is free: `to {free}`"
    return f"no input of `{source.aimed}` is free" if source.aimed else "say where it goes: `to BOX.group 1`"
