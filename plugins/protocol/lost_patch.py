"""A patch needs a way to go."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import silence
from rigdsl.paths import Paths, Route, Run
from rigdsl.rig import Patch, Port, Rig, ports_text
from rigdsl_protocol.runs import unsure
from rigdsl_protocol.ways import audio_ports, carrying, crosses, is_one_way, over_a_switch, taken

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
    ends = _Ends.of(rig, paths)
    for patch, routes in paths.patch_routes.items():
        lost = [route for _, _, route in routes if route and _is_lost(rig, paths, route)]
        if lost:
            yield _lost(rig, paths, ends, patch, [(route.left, route.right) for route in lost])


@dataclass(frozen=True)
class _Ends:
    """Where digital cables end: boxes that have one, and by box the runs to a panel with nothing behind."""

    plugged: frozenset[str]
    open: Mapping[str, list[tuple[Run, Port]]]

    @classmethod
    def of(cls, rig: Rig, paths: Paths) -> _Ends:
        """Looked for once, whatever the number of patches that are lost."""
        found: dict[str, list[tuple[Run, Port]]] = {}
        for run in paths.runs:
            for near, far in (run.ends, run.ends[::-1]):
                if run.open and near.box != far.box and rig.boxes[far.box].kind == "panel":
                    found.setdefault(rig.body(near.box), []).append((run, far))
        return cls(frozenset(rig.body(port.box) for port in paths.run_at if rig.group(port).role == "digital"), found)

    def beside(self, *boxes: str) -> list[tuple[Run, Port]]:
        """The runs from one of these boxes to a panel with nothing behind, each with that end."""
        return [end for box in boxes for end in self.open.get(box, ())]


def _is_lost(rig: Rig, paths: Paths, route: Route) -> bool:
    return not (route.works or route.blame or is_one_way(rig, paths, route) or unsure(paths, route))


def _lost(rig: Rig, paths: Paths, ends: _Ends, patch: Patch, pairs: list[tuple[Port, Port]]) -> Finding:
    left, right = pairs[0]
    night, silent = silence(paths, patch)
    return Finding(
        place=patch.place,
        subject=patch.name,
        message=f"nothing carries sound from `{ports_text(port for port, _ in pairs)}` "
        f"to `{ports_text(port for _, port in pairs)}`: {_why(rig, paths, ends, left, right)}",
        consequence=night or "the patch is there, and nothing comes of it",
        help=_further_on(rig, paths, pairs) or _way_out(rig, paths, ends, left, right),
        related=tuple(Related(rig.boxes[name].place, f"`{name}` stands here") for name in (left.box, right.box)),
        ports=tuple(str(port) for pair in pairs for port in pair),
        silent=silent,
        box=right.box if rig.boxes[rig.body(left.box)].mixes else left.box,
    )


def _why(rig: Rig, paths: Paths, ends: _Ends, left: Port, right: Port) -> str:
    boxes = rig.body(left.box), rig.body(right.box)
    loose = _loose_input(rig, paths, right)
    if loose:
        return f"nothing is plugged into `{loose}`"
    without = [name for name in boxes if not audio_ports(rig, paths, name)]
    if without:
        return f"`{without[0]}` has no digital audio port"
    for run, end in ends.beside(*boxes):
        return f"`{run.name}` ends at `{end}`, and no cable goes on from there"
    bare = [name for name in boxes if name not in ends.plugged]
    if bare:
        return f"no cable is in a digital port of `{bare[0]}`"
    if paths.route(right, left).works:
        return f"the cables between them carry sound from `{right.box}` to `{left.box}` only"
    return "no way of working cables leads from the one to the other"


def _loose_input(rig: Rig, paths: Paths, right: Port) -> Port | None:
    """Where a patch is to feed a box without digital ports, the input behind it that waits for a cable."""
    if rig.group(right).role != "outputs" or audio_ports(rig, paths, right.box):
        return None
    came = paths.walk_back(right).came
    return next((port for port in came if rig.group(port).role == "inputs" and not _used(paths, port)), None)


def _further_on(rig: Rig, paths: Paths, pairs: list[tuple[Port, Port]]) -> str:
    """Where a patch takes lines from a box without digital ports: the inputs that they come to, which it can take."""
    if audio_ports(rig, paths, rig.body(pairs[0][0].box)):
        return ""
    found = [
        next((port for port in paths.walk_from(left).came if _patchable(rig, paths, port, right)), None)
        for left, right in pairs
    ]
    ports = [port for port in found if port is not None]
    if len(ports) < len(pairs):
        return ""
    return f"the lines come to `{ports_text(ports)}`: patch from there"


def _patchable(rig: Rig, paths: Paths, port: Port, right: Port) -> bool:
    """An input from which a way leads to where a patch goes."""
    return rig.group(port).role == "inputs" and paths.can_be_patched(port) and paths.route(port, right).works


def _used(paths: Paths, port: Port) -> bool:
    return bool(paths.pieces.get(port) or paths.inserts_through(port))


def _way_out(rig: Rig, paths: Paths, ends: _Ends, left_port: Port, right_port: Port) -> str:
    left, right = rig.body(left_port.box), rig.body(right_port.box)
    loose = _loose_input(rig, paths, right_port)
    if loose:
        return f"bring a cable to `{loose}` from an output that `{left}` can feed; the patch then finds it"
    if not audio_ports(rig, paths, left) or not audio_ports(rig, paths, right):
        return "bring the lines over in analogue, from outputs to inputs, and patch from there"
    loose_ends = ends.beside(left, right)
    if loose_ends:
        return _go_on(rig, paths, loose_ends, left, right)
    straight = sorted(carrying(rig, paths, left, right), key=lambda ends: crosses(rig, *ends[:2]))
    for one, other, protocol in straight:
        if rig.protocols[protocol].topology == "network" and (found := over_a_switch(rig, paths, one, other)):
            return found
    for one, other, protocol in straight:
        return f"`{one}` and `{other}` both speak `{protocol}`: join them{taken(paths, one, other)}"
    return "join the two by cables that work, or patch it another way"


def _go_on(rig: Rig, paths: Paths, ends: list[tuple[Run, Port]], left: str, right: str) -> str:
    """For runs that end in a panel: on from its other side, to the cable that ends there too or to the other box."""
    run, end = ends[0]
    beyond = next((port for port, _ in paths.wiring.onward(end)), end)
    start = run.other(end)
    for other, stop in ends:
        if stop.box == end.box and other.other(stop).box != start.box:
            return f"plug `{other.name}` into `{beyond}`: it is one line with `{end}`"
    target = right if rig.body(start.box) == left else left
    for port in audio_ports(rig, paths, target):
        if set(rig.group(port).protocols) & set(rig.group(start).protocols):
            return f"bring a cable on from `{beyond}` to `{port}`{taken(paths, port)}"
    return f"bring a cable on from `{beyond}`"
