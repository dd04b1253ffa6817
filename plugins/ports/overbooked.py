"""A box has so many inputs and no more."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count, listed
from rigdsl.paths import Paths
from rigdsl.rig import Box, Rig, Source
from rigdsl_ports.sockets import plugged

__all__ = ["overbooked"]


@rule("overbooked", Level.ERROR, NoOptions)
def overbooked(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """More sources are aimed at a box than it has inputs left.

    Aimed is what names the box and no socket: `to SL`. Sockets with a plug or cable in them are not left.

    ## On the night
    The last microphones find no socket.

    ## A rig that breaks it
    ```rig
    rig "Five into four" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    source bass dynamic in stage to DESK 3 via xlr 5 m
    source kick dynamic in stage to DESK via xlr 5 m
    source snare dynamic in stage to DESK via xlr 5 m
    accept unplugged-source on kick because "goes where there is room"
    accept unplugged-source on snare because "goes where there is room"
    ```

    ## A rig that keeps it
    ```rig
    rig "Four into four" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    source bass dynamic in stage to DESK 3 via xlr 5 m
    source kick dynamic in stage to DESK via xlr 5 m
    accept unplugged-source on kick because "goes where there is room"
    ```
    """
    aimed: dict[tuple[str, bool], list[Source]] = {}
    for source in rig.sources.values():
        if source.aimed in rig.boxes and not source.ports:
            aimed.setdefault((source.aimed, source.type == "wireless"), []).append(source)
    for (name, wireless), sources in aimed.items():
        total, free = _inputs(rig.boxes[name], paths, wireless=wireless)
        if len(sources) > free and name not in rig.incomplete:
            yield _overbooked(rig.boxes[name], sources, total, free)


def _inputs(box: Box, paths: Paths, *, wireless: bool) -> tuple[int, int]:
    """How many inputs a box has for a source, and how many have nothing plugged in."""
    groups = [group for group in box.model.of_role("inputs") if wireless or not group.wireless]
    if wireless and any(group.wireless for group in groups):
        groups = [group for group in groups if group.wireless]
    ports = [port for group in groups for port in box.ports(group)]
    return len(ports), sum(1 for port in ports if not plugged(paths, port))


def _overbooked(box: Box, aimed: list[Source], total: int, free: int) -> Finding:
    left = "none is" if free == 0 else "one is" if free == 1 else f"{free} are"
    many = "one more source is" if len(aimed) == 1 else f"{len(aimed)} more sources are"
    return Finding(
        place=box.place,
        subject=box.name,
        message=f"{many} aimed at `{box.name}`, and of its {count(total, 'input')} {left} free",
        consequence=f"there is no socket for {count(len(aimed) - free, 'source')}",
        help=f"send some of them to another box: {listed([source.name for source in aimed])}",
        related=tuple(Related(source.place, f"`{source.name}` goes to `{box.name}`") for source in aimed),
        box=box.name,
    )
