"""A source must arrive somewhere."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Path, Paths
from rigdsl.rig import Port, Rig, Source, ports_text
from rigdsl_ports.sockets import free_channels, silenced
from rigdsl_ports.unread import in_doubt

__all__ = ["lost_source"]


@rule("lost-source", Level.ERROR, NoOptions)
def lost_source(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A source is plugged in and reaches no channel, output or recorder.

    A source of several sockets is lost if one of them is. A `talkback` needs no channel. Where a cable or patch that
    does not work is the reason, that is told instead.

    ## On the night
    Nobody hears it, and the line check goes looking for it.

    ## A rig that breaks it
    ```rig
    rig "Not patched" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    source snare dynamic in wing to SL 2 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "All patched" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    source snare dynamic in wing to SL 2 via xlr 6 m
    patch SL.mic 1-2 -> DESK.ch 1-2
    ```

    ## See also
    `lost-patch`, `unplugged-source`, `dead-end-line`.
    """
    told = silenced(paths) | rig.incomplete
    channels, doubtful = free_channels(rig, paths), in_doubt(rig, paths)
    for source in rig.sources.values():
        if not source.ports or source.type == "talkback" or source.name in told or paths.arrives(source.name):
            continue
        if not doubtful(source.name):
            stopped = {path.leg: path for path in reversed(paths.paths_of(source.name)) if not path.complete}
            yield _lost(rig, source, list(stopped.values())[::-1], channels)


def _lost(rig: Rig, source: Source, stopped: list[Path], channels: Mapping[str, deque[Port]]) -> Finding:
    path = stopped[0] if stopped else None
    end = path.end if path else source.ports[0]
    ends = [path.end for path in stopped if isinstance(path.end, Port)]
    because = f": {path.stops}" if path and path.stops else ""
    place = rig.boxes[end.box] if isinstance(end, Port) else None
    return Finding(
        place=source.place,
        subject=source.name,
        message=f"`{source.name}` gets as far as `{end}`{because}",
        consequence="nobody hears it",
        help=_way_out(rig, ends, channels) if ends else "say where it goes",
        related=(Related(place.place, f"`{place.name}` is here"),) if place else (),
        ports=tuple(str(port) for port in source.ports),
        silent=(source.name,),
        box=source.ports[0].box,
    )


def _way_out(rig: Rig, ends: list[Port], channels: Mapping[str, deque[Port]]) -> str:
    """A channel for each line, each told to one source only."""
    end = ends[0]
    if rig.group(end).role != "inputs":
        return f"go on from `{end}` with a `link`, or plug an output in"
    row = channels.get(end.box, deque())
    free = [row.popleft() for _ in ends if row]
    if len(free) < len(ends):
        return f"patch `{ports_text(ends)}` to channels of a desk that has some free"
    return f"patch it: `patch {ports_text(ends)} -> {ports_text(free)}`"
