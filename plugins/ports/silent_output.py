"""Something must reach every output."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Path, Paths
from rigdsl.rig import Box, Leg, Output, Port, Rig, ports_text
from rigdsl_ports.players import loudspeakers, wired_inputs
from rigdsl_ports.sockets import silenced
from rigdsl_ports.unread import in_doubt

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
    told, doubtful = silenced(paths) | rig.incomplete, in_doubt(rig, paths)

    def is_silent(name: str) -> bool:
        return name not in told and not paths.sounds(name) and not doubtful(name)

    for output in rig.outputs.values():
        if output.ports and is_silent(output.name):
            yield _silent(rig, paths, output, output.ports)
    for box in loudspeakers(rig):
        sockets = tuple(wired_inputs(paths, box))
        if sockets and is_silent(box.name):
            yield _silent(rig, paths, box, sockets)


def _silent(rig: Rig, paths: Paths, thing: Output | Box, ports: tuple[Port, ...]) -> Finding:
    silent = _silent_lines(paths, thing.name)
    here = tuple(ports[path.leg.index] for path in silent if path.leg and path.leg.index < len(ports)) or ports
    stops = next((path.stops for path in silent if path.stops), "")
    which = f"`{thing.name}`" if len(here) == len(ports) else f"`{ports_text(here)}` of `{thing.name}`"
    return Finding(
        place=thing.place,
        subject=thing.name,
        message=f"nothing reaches {which}{f': {stops}' if stops else ''}",
        consequence="it stays silent" if len(here) == len(ports) else "nothing comes out there",
        help=_way_out(rig, paths, thing, [path.start for path in silent] or ports, whole=len(here) == len(ports)),
        ports=tuple(str(port) for port in here),
        silent=(thing.name,),
        box=ports[0].box,
    )


def _silent_lines(paths: Paths, name: str) -> list[Path]:
    """One path for each line that nothing feeds, with where it stops."""
    found = paths.paths_of(name)
    fed = {path.leg for path in found if path.complete}
    return list({path.leg: path for path in reversed(found) if path.leg not in fed}.values())[::-1]


def _way_out(
    rig: Rig, paths: Paths, thing: Output | Box, starts: Sequence[Port | Leg], *, whole: bool
) -> str:
    """Patch it by its name, or only the lines of it that are silent, at the sockets where they begin."""
    mixes = _mixes(rig, paths, len(starts))
    if thing.name in rig.outputs and whole:
        return f"patch something to it: `patch {mixes} -> {thing.name}`"
    sockets = ports_text(starts)
    if all(isinstance(start, Port) and _takes_patches(rig, paths, start) for start in starts):
        return f"patch something to it: `patch {mixes} -> {sockets}`"
    return f"feed `{sockets}` with a patch or a `link`"


def _takes_patches(rig: Rig, paths: Paths, port: Port) -> bool:
    return rig.group(port).role == "outputs" and paths.can_be_patched(port)


def _mixes(rig: Rig, paths: Paths, count: int) -> str:
    """So many mixes of one desk that feed nothing yet."""
    for box in rig.boxes.values():
        ports = [port for group in box.model.of_role("mixes") for port in box.ports(group)]
        free = [port for port in ports if not paths.feeds.get(port)]
        if len(free) >= count:
            return ports_text(free[:count])
    return "..."
