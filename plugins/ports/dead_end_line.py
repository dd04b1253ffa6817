"""A cable that leads into a box and not out of it again."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, Sockets, rule
from rigdsl.paths import Paths, Run, parts
from rigdsl.rig import Link, Port, Rig, ports_text
from rigdsl_ports.sockets import LINE_KINDS, aimed_at, kept, passed, plugged
from rigdsl_ports.unread import unread_cables, unread_plugs

__all__ = ["dead_end_line"]


@rule("dead-end-line", Level.WARNING, NoOptions)
def dead_end_line(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Sockets]:
    """A cable enters a panel or sub-box, and none of its lines goes on from there.

    Single loose lines are spares. A house's tie line that is loose at both ends is not in use, and that is fine. Where
    a source hangs on one of the lines, `lost-source` says so; where a patch waits for what should come over it,
    `lost-patch`; where a surface is joined to nothing, `surface-alone`.

    ## On the night
    Somebody forgot the other half of the way, or plugged it into the wrong panel.

    ## A rig that breaks it
    ```rig
    rig "The wrong panel" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    model desk32 {
      kind console; channels ch 1-32; inputs local 1-8 { preamp }; digital stage 1-2 { protocol fernlink }
    }
    model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
    zone wing
    zone foh
    box WP is panel4 in wing
    box DESK is desk32 in foh
    link C01: WP.rear 1 -- DESK.stage 1 via cat6 60 m
    source talk dynamic in foh to DESK 1 via xlr 3 m
    patch DESK.local 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "All the way" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    model desk32 {
      kind console; channels ch 1-32; inputs local 1-8 { preamp }; digital stage 1-2 { protocol fernlink }
    }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
    zone wing
    zone foh
    box SL is nw16 in wing
    box WP is panel4 in wing
    box DESK is desk32 in foh
    link C01: WP.rear 1 -- DESK.stage 1 via cat6 60 m
    link C02: SL.A -- WP.front 1 via cat6 3 m
    source talk dynamic in foh to DESK 1 via xlr 3 m
    patch DESK.local 1 -> DESK.ch 1
    ```
    """
    spare, explained = kept(rig), _explained(rig, paths)
    ends: dict[tuple[str, str], dict[Port, Link]] = {}
    for link in rig.links.values():
        for entered, others in _entries(rig, link):
            loose = [far for port in entered for far in passed(paths, port)]
            if not loose or spare.issuperset(loose) or any(explained(port) for port in (*entered, *loose)):
                continue
            if _dead(rig, paths, entered, others, loose):
                ends.setdefault((entered[0].box, entered[0].group), {}).update(dict.fromkeys(entered, link))
    quiet = rig.incomplete | aimed_at(rig)
    for (box, _), lines in ends.items():
        if box not in quiet:
            yield Sockets(tuple(sorted(lines, key=lambda port: port.key)), partial(_dead_end, paths, lines))


def _entries(rig: Rig, link: Link) -> Iterator[tuple[list[Port], list[Port]]]:
    """For each group of a passive box that a link enters: the sockets there, and those at its other end."""
    entries: dict[tuple[str, str], tuple[list[Port], list[Port]]] = {}
    for pair in link.joins:
        for port, other in (pair, pair[::-1]):
            if rig.boxes[port.box].kind in LINE_KINDS:
                entered, others = entries.setdefault((port.box, port.group), ([], []))
                entered.append(port)
                others.append(other)
    yield from entries.values()


def _explained(rig: Rig, paths: Paths) -> Callable[[Port], bool]:
    """Whether something else is told of a line: what could not be read may go on there, or a patch is lost over it."""
    unread, over, loose_plugs = unread_cables(rig, paths), _lost_over(paths), unread_plugs(rig)
    return lambda port: port in over or unread(port) or (loose_plugs and rig.group(port).analogue)


def _lost_over(paths: Paths) -> frozenset[Port]:
    """The sockets of runs that end open at a panel, and may be what a lost patch or a surface by itself waits for."""
    routes = [route for pairs in paths.patch_routes.values() for *_, route in pairs if route and not route.works]
    body = paths.rig.body
    waiting = {(body(port.box),) for route in routes for port in (route.left, route.right)}
    together = parts(((body(left.box),), (body(right.box),)) for left, right in (run.ends for run in paths.runs))
    lost = {box for part in together if not waiting.isdisjoint(part) for box in part}
    runs = [run for run in paths.runs if run.open and ((body(run.ends[0].box),) in lost or _may_steer(paths, run))]
    return frozenset(port for run in runs for piece in run.pieces for port in (piece.left, piece.right))


def _may_steer(paths: Paths, run: Run) -> bool:
    """A control line, while some surface is joined to nothing: `surface-alone` tells that."""
    rig = paths.rig
    surfaces = (box.name for box in rig.boxes.values() if box.kind == "surface")
    return any(rig.group(end).role == "data" for end in run.ends) and not all(map(paths.joined_boxes, surfaces))


def _dead(rig: Rig, paths: Paths, entered: list[Port], others: list[Port], loose: list[Port]) -> bool:
    """Nothing is plugged in at the far side, the other end is in use, and no source or output hangs on the lines."""
    if any(plugged(paths, port) for port in loose) or any(paths.sources_at(port) for port in entered):
        return False
    behind = [far for port in others for far in passed(paths, port)]
    if any(paths.plugs.get(port) for port in behind):
        return False
    return any(plugged(paths, port) for port in behind) or any(
        rig.boxes[port.box].kind not in LINE_KINDS for port in others
    )


def _dead_end(paths: Paths, lines: dict[Port, Link], ports: tuple[Port, ...]) -> Finding:
    box = paths.rig.boxes[ports[0].box]
    links = list(dict.fromkeys(lines[port] for port in ports))
    loose = ports_text(far for port in ports for far in passed(paths, port))
    return Finding(
        place=links[0].place,
        subject=f"{box.name}.{ports[0].group}",
        message=f"`{links[0].name}` goes into `{ports_text(ports)}`, and nothing is plugged in at `{loose}`",
        consequence="the line ends there",
        help=f'go on from `{loose}` with a `link` or a plug, or say that it is spare: `keep {loose} for "..."`',
        related=tuple(Related(link.place, f"`{link.name}` goes in here too") for link in links[1:]),
        ports=tuple(str(port) for port in ports),
        box=box.name,
    )
