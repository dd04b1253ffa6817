"""A patch needs a way to go."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import silence
from rigdsl.paths import Paths, Route
from rigdsl.rig import Patch, Port, Rig, ports_text
from rigdsl_protocol.runs import unsure
from rigdsl_protocol.ways import audio_ports, is_one_way, joinable

__all__ = ["lost_patch"]


@rule("lost-patch", Level.ERROR, NoOptions)
def lost_patch(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A patch joins ends that no working way joins, and nothing else says why.

    Where a cable between them has a fault of its own, that fault is told instead.

    ## On the night
    The patch is there on the screen, and nothing comes of it.

    ## A rig that breaks it
    ```rig
    rig "No cable yet" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Joined" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```
    """
    for patch, routes in paths.patch_routes.items():
        lost = [route for _, _, route in routes if route and _is_lost(rig, paths, route)]
        if lost:
            yield _lost(rig, paths, patch, [(route.left, route.right) for route in lost])


def _is_lost(rig: Rig, paths: Paths, route: Route) -> bool:
    return not (route.works or route.blame or is_one_way(rig, paths, route) or unsure(paths, route))


def _lost(rig: Rig, paths: Paths, patch: Patch, pairs: list[tuple[Port, Port]]) -> Finding:
    left, right = pairs[0]
    night, silent = silence(paths, patch)
    return Finding(
        place=patch.place,
        subject=patch.name,
        message=f"nothing carries sound from `{ports_text(port for port, _ in pairs)}` "
        f"to `{ports_text(port for _, port in pairs)}`: {_why(rig, paths, left, right)}",
        consequence=night or "the patch is there, and nothing comes of it",
        help=_way_out(rig, paths, left.box, right.box),
        related=tuple(Related(rig.boxes[name].place, f"`{name}` stands here") for name in (left.box, right.box)),
        ports=tuple(str(port) for pair in pairs for port in pair),
        silent=silent,
        box=right.box if rig.boxes[left.box].mixes else left.box,
    )


def _why(rig: Rig, paths: Paths, left: Port, right: Port) -> str:
    boxes = left.box, right.box
    without = [name for name in boxes if not audio_ports(rig, paths, name)]
    if without:
        return f"`{without[0]}` has no digital audio port"
    plugged = {port.box for port in paths.run_at if rig.group(port).role == "digital"}
    ends = [run for run in paths.runs if run.open and run.ends[0].box != run.ends[1].box]
    for run in ends:
        for near, far in (run.ends, run.ends[::-1]):
            if near.box in boxes and rig.boxes[far.box].kind == "panel":
                return f"`{run.name}` ends at `{far}`, and no cable goes on from there"
    bare = [name for name in boxes if name not in plugged]
    if bare:
        return f"no cable is in a digital port of `{bare[0]}`"
    if paths.route(right, left).works:
        return f"the cables between them carry sound from `{right.box}` to `{left.box}` only"
    return "no way of working cables leads from the one to the other"


def _way_out(rig: Rig, paths: Paths, left: str, right: str) -> str:
    for one, other, protocol in joinable(rig, paths, left, right):
        return f"`{one}` and `{other}` both speak `{protocol}`: join them"
    if not audio_ports(rig, paths, left) or not audio_ports(rig, paths, right):
        return "bring the lines over in analogue, from outputs to inputs, and patch from there"
    return "join the two by cables that work, or patch it another way"
