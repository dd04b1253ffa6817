"""Channels that wait for something nobody plugs in."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Set
from functools import partial

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, Sockets, rule
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Port, Rig, ports_text
from rigdsl_ports.sockets import LINE_KINDS, aimed_at, kept
from rigdsl_ports.unread import unread_cables, unread_plugs

__all__ = ["empty_channel"]


@rule("empty-channel", Level.NOTE, NoOptions)
def empty_channel(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Sockets | Finding]:
    """Channels are patched from inputs that no source reaches.

    Told as well: channels that have outboard in them and nothing comes to them.

    Channels or inputs that are kept for something by `keep` are left out, and so are those whose patch does not work.

    ## On the night
    The fader moves and nothing comes: open it by mistake and it is one more way for noise.

    ## A rig that breaks it
    ```rig
    rig "Patched ahead" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp } }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    patch DESK.local 1-4 -> DESK.ch 1-4
    ```

    ## A rig that keeps it
    ```rig
    rig "Patched ahead for the guests" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp } }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    patch DESK.local 1-4 -> DESK.ch 1-4
    keep DESK.local 2-4 for "guests"
    ```
    """
    empty: dict[tuple[str, str], dict[Port, Port]] = {}
    if unread_plugs(rig):
        return
    spare, open_boxes, unread = kept(rig), aimed_at(rig), unread_cables(rig, paths)
    for patch in rig.patches:
        for left, right, route in paths.patch_routes.get(patch, ()):
            if route is None or not route.works or not isinstance(right, Port) or spare & {left, right}:
                continue
            socket = _socket(rig, left)
            if socket and rig.group(right).role == "channels" and not _alive(rig, paths, socket, open_boxes, unread):
                empty.setdefault((right.box, right.group), {})[right] = socket
    for (box, _), fed in empty.items():
        if box not in rig.incomplete:
            yield Sockets(tuple(sorted(fed, key=lambda port: port.key)), partial(_empty, rig, fed))
    yield from _idle(rig, paths, spare, open_boxes, unread)


def _socket(rig: Rig, end: Port | Leg) -> Port | None:
    """The input that a patch begins at; a patch by a source's name has its source."""
    return end if isinstance(end, Port) and rig.group(end).role == "inputs" else None


def _alive(rig: Rig, paths: Paths, socket: Port, open_boxes: frozenset[str], unread: Callable[[Port], bool]) -> bool:
    """Whether a source arrives at a socket, or something from another box that does not only pass sound on.

    A source that is aimed at a box on the way and has no socket yet may be the one, and so may what a cable
    brings that could not be read.
    """
    return bool(paths.sources_at(socket)) or any(
        port.box in open_boxes or unread(port) or (port != socket and _begins(rig, paths, port))
        for port in paths.walk_back(socket).came
    )


def _begins(rig: Rig, paths: Paths, port: Port) -> bool:
    """Whether sound may begin at a socket: a mix, or an output that no wire inside its box leads to."""
    role = rig.group(port).role
    if role == "outputs":
        return rig.boxes[port.box].kind not in LINE_KINDS and next(paths.wiring.back(port), None) is None
    return role in ("mixes", "channels")


def _idle(
    rig: Rig, paths: Paths, spare: Set[Port], open_boxes: frozenset[str], unread: Callable[[Port], bool]
) -> Iterator[Finding]:
    """Inserts in channels that no patch goes to, working or not, and no wire."""
    if not rig.inserts or "patch" in rig.left_out:
        return
    patched = {end for pair in paths.pairs for end in (pair.right, pair.route.right if pair.route else None)}
    told: set[Port] = set()
    for insert in rig.inserts:
        port = insert.at
        known = port.box not in rig.incomplete and rig.group(port).role == "channels"
        if not known or port in spare | patched | told or _alive(rig, paths, port, open_boxes, unread):
            continue
        told.add(port)
        yield Finding(
            place=insert.place,
            subject=str(port),
            message=f"`{port}` has outboard in it and nothing comes to it",
            consequence="the outboard is heard nowhere",
            help="put it into the channel that is meant, or patch something to this one",
            ports=(str(port),),
            box=port.box,
        )


def _empty(rig: Rig, fed: dict[Port, Port], ports: tuple[Port, ...]) -> Finding:
    box = rig.boxes[ports[0].box]
    sockets = ports_text(fed[port] for port in ports)
    return Finding(
        place=box.place,
        subject=f"{box.name}.{ports[0].group}",
        message=(
            f"`{ports_text(ports)}` {'waits' if len(ports) == 1 else 'wait'} for `{sockets}`,"
            " and no source is plugged in there"
        ),
        consequence="its fader does nothing" if len(ports) == 1 else "their faders do nothing",
        help=f'plug in what is missing, or say that it is meant: `keep {sockets} for "..."`',
        ports=tuple(str(port) for port in ports),
        box=box.name,
    )
