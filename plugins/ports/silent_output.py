"""Something must reach every output."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Path, Paths
from rigdsl.rig import Box, Leg, Output, Port, Rig, ports_text
from rigdsl_ports.players import fed_sockets, loudspeakers, wired_inputs
from rigdsl_ports.sockets import silenced
from rigdsl_ports.unread import in_doubt

__all__ = ["silent_output"]


@rule("silent-output", Level.ERROR, NoOptions)
def silent_output(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """An output or loudspeaker is plugged in, and nothing feeds it.

    Where a cable or patch that does not work is the reason, or a source or loudspeaker before it that is plugged into
    nothing, that is told instead. Of a stereo output it names the side that is silent.

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
        wired = tuple(wired_inputs(paths, box))
        networked = () if wired or box.name not in paths.speaker_inputs else tuple(fed_sockets(paths, box))
        if (wired or networked) and is_silent(box.name):
            yield _silent(rig, paths, box, wired) if wired else _not_patched(rig, paths, box, networked)


def _silent(rig: Rig, paths: Paths, thing: Output | Box, ports: tuple[Port, ...]) -> Finding:
    """Nothing comes to any of its sockets, or to some of them."""
    lines = _silent_lines(paths, thing.name)
    here = tuple(ports[path.leg.index] for path in lines if path.leg and path.leg.index < len(ports)) or ports
    whole = len(here) == len(ports)
    stops = next((path.stops for path in lines if path.stops), "")
    which = f"`{thing.name}`" if whole else f"`{ports_text(here)}` of `{thing.name}`"
    return Finding(
        place=thing.place,
        subject=thing.name,
        message=f"nothing reaches {which}{f': {stops}' if stops else ''}",
        consequence="it stays silent" if whole else "nothing comes out there",
        help=_help(rig, paths, thing, ports if whole else (), [path.start for path in lines] or ports),
        ports=tuple(str(port) for port in here),
        silent=(thing.name,),
        box=ports[0].box,
    )


def _help(rig: Rig, paths: Paths, thing: Output | Box, whole: tuple[Port, ...], starts: Sequence[Port | Leg]) -> str:
    """`whole` are all its sockets, where it is silent altogether; `starts` is where its silent lines begin."""
    for start in starts:
        if isinstance(start, Port) and paths.leads_nowhere(start):
            model = rig.boxes[start.box].model
            entry = model.of_role("inputs")[0].name
            return f"write in model `{model.name}` what is wired to it, as in `pass {entry} -> {start.group}`"
    if whole and thing.name in rig.outputs:
        return _patched(rig, paths, len(whole), thing.name)
    return _way_out(rig, paths, starts)


def _not_patched(rig: Rig, paths: Paths, box: Box, ports: tuple[Port, ...]) -> Finding:
    """A loudspeaker that a network feeds is patched by its name."""
    return Finding(
        place=box.place,
        subject=box.name,
        message=f"nothing reaches `{box.name}`: nothing is patched to `{box.name}`",
        consequence="it stays silent",
        help=_patched(rig, paths, 1, box.name),
        ports=tuple(str(port) for port in ports),
        silent=(box.name,),
        box=box.name,
    )


def _silent_lines(paths: Paths, name: str) -> list[Path]:
    """One path for each line that nothing feeds, with where it stops."""
    found = paths.paths_of(name)
    fed = {path.leg for path in found if path.complete}
    return list({path.leg: path for path in reversed(found) if path.leg not in fed}.values())[::-1]


def _way_out(rig: Rig, paths: Paths, starts: Sequence[Port | Leg]) -> str:
    """Feed the silent lines where they begin."""
    sockets = ports_text(starts)
    if all(isinstance(start, Port) and _takes_patches(rig, paths, start) for start in starts):
        return _patched(rig, paths, len(starts), sockets)
    return f"feed `{sockets}` with a patch or a `link`"


def _patched(rig: Rig, paths: Paths, count: int, to: str) -> str:
    return f"patch something to it: `patch {_mixes(rig, paths, count)} -> {to}`"


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
