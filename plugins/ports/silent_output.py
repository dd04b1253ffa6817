"""Something must reach every output."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Paths
from rigdsl.rig import Box, Output, Port, Rig, ports_text
from rigdsl_ports.players import fed_sockets, loudspeakers
from rigdsl_ports.sockets import misspelt, silenced

__all__ = ["silent_output"]


@rule("silent-output", Level.ERROR, NoOptions)
def silent_output(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """An output or loudspeaker is plugged in, and nothing feeds it.

    Where a cable or patch that does not work is the reason, that is told instead.

    ## On the night
    It stays silent, and somebody swaps a wedge that is not broken.

    ## A rig that breaks it
    ```rig
    rig "A wedge without a mix" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    model nw16 {
      kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A { protocol fernlink }
    }
    model desk32 { kind console; channels ch 1-32; mixes mix 1-16; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source vox dynamic in wing to SL 1 via xlr 6 m
    output wdg1 wedge in wing from SL 1 via xlr 6 m
    output wdg2 wedge in wing from SL 2 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    patch DESK.mix 1 -> wdg1
    ```

    ## A rig that keeps it
    ```rig
    rig "A mix for each wedge" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    model nw16 {
      kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A { protocol fernlink }
    }
    model desk32 { kind console; channels ch 1-32; mixes mix 1-16; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source vox dynamic in wing to SL 1 via xlr 6 m
    output wdg1 wedge in wing from SL 1 via xlr 6 m
    output wdg2 wedge in wing from SL 2 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    patch DESK.mix 1-2 -> wdg1, wdg2
    ```

    ## See also
    `lost-patch`, `unplugged-output`.
    """
    told, unreadable = silenced(paths) | rig.incomplete, misspelt(rig)
    for output in rig.outputs.values():
        if output.name in told or not output.ports or unreadable(output.name):
            continue
        if _silent_at(paths, output.name):
            yield _silent(rig, paths, output, output.ports)
    for box in loudspeakers(rig):
        sockets = tuple(fed_sockets(paths, box))
        if box.name not in told and sockets and _silent_at(paths, box.name):
            yield _silent(rig, paths, box, sockets)


def _silent_at(paths: Paths, name: str) -> bool:
    """Nothing feeds it, and nothing that could not be read might."""
    return not paths.sounds(name) and not paths.unsure(name)


def _silent(rig: Rig, paths: Paths, thing: Output | Box, ports: tuple[Port, ...]) -> Finding:
    stopped = next((path for path in paths.paths_of(thing.name) if not path.complete), None)
    where = stopped.start if stopped else ports[0]
    because = f": {stopped.stops}" if stopped and stopped.stops else ""
    feed = f"patch something to it: `patch {_mixes(rig, paths, len(ports))} -> {thing.name}`"
    return Finding(
        place=thing.place,
        subject=thing.name,
        message=f"nothing reaches `{thing.name}`{because}",
        consequence="it stays silent",
        help=feed if thing.name in rig.outputs else f"feed `{where}` with a patch or a `link`",
        ports=tuple(str(port) for port in ports),
        silent=(thing.name,),
        box=ports[0].box,
    )


def _mixes(rig: Rig, paths: Paths, count: int) -> str:
    """So many mixes of one desk that feed nothing yet."""
    for box in rig.boxes.values():
        ports = [port for group in box.model.of_role("mixes") for port in box.ports(group)]
        free = [port for port in ports if not paths.feeds.get(port)]
        if len(free) >= count:
            return ports_text(free[:count])
    return "..."
