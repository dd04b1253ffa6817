"""One socket takes one plug."""

from __future__ import annotations

from collections.abc import Iterator, Set

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import silence, ticked
from rigdsl.paths import Paths
from rigdsl.rig import Insert, Link, Output, Port, Rig, Source
from rigdsl_ports.sockets import kept, plugged

__all__ = ["port_taken"]

Plug = Source | Output | Link | Insert


@rule("port-taken", Level.ERROR, NoOptions)
def port_taken(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Two plugs are meant for one socket.

    Several may hear one wireless sender, and several tablets may share one wireless port.

    ## On the night
    Only one of them fits. The other is found lying on the floor during the line check.

    ## A rig that breaks it
    ```rig
    rig "Twice the same socket" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 1 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "One socket each" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    ```
    """
    spare = set(kept(rig))
    for port in sorted({*paths.plugs, *paths.pieces, *paths.wiring.inserted}, key=lambda port: port.key):
        plugs = _plugs(rig, paths, port)
        if len(plugs) > 1 and not _shared(rig, port) and not _told_at_send(port, plugs):
            free = _free_neighbour(rig, paths, port, spare)
            spare.update([free] if free else [])  # it is offered once
            yield _taken(paths, port, plugs, free)


def _plugs(rig: Rig, paths: Paths, port: Port) -> list[Plug]:
    """What is plugged in, in the order of the files."""
    plugs: list[Plug] = [rig.thing(leg) for leg in paths.plugs.get(port, ())]
    plugs += [piece.link for piece in paths.pieces.get(port, ())]
    plugs += paths.inserts_through(port)
    return plugs


def _told_at_send(port: Port, plugs: list[Plug]) -> bool:
    """Inserts through one socket come back by one socket, too: that is told where they go in."""
    return all(isinstance(plug, Insert) and port == plug.back for plug in plugs) and (
        len({plug.send for plug in plugs if isinstance(plug, Insert)}) == 1
    )


def _shared(rig: Rig, port: Port) -> bool:
    """A wireless port that many may use at once: a sender has any number of listeners, a receiver one sender."""
    group = rig.group(port)
    return group.wireless and group.role != "inputs"


def _taken(paths: Paths, port: Port, plugs: list[Plug], free: Port | None) -> Finding:
    names = [_called(plug) for plug in plugs]
    night, silent = silence(paths, str(port))
    many = "two plugs are" if len(plugs) == 2 else f"{len(plugs)} plugs are"
    return Finding(
        place=plugs[-1].place,
        subject=str(port),
        message=f"{many} meant for `{port}`: {ticked(dict.fromkeys(names))}",
        consequence=f"only one of them fits{f': {night}' if night else ''}",
        help=f"`{free}` is free" if free else f"`{port.box}` has no other free: find another box for one of them",
        related=tuple(Related(plug.place, f"`{_called(plug)}` goes here too") for plug in plugs[:-1]),
        ports=(str(port),),
        silent=tuple(dict.fromkeys((*silent, *_unheard(paths, plugs)))),
        box=port.box,
    )


def _unheard(paths: Paths, plugs: list[Plug]) -> list[str]:
    """Sources and outputs that no patch knows in this place: where they go is not settled before they have a socket."""
    sources = [plug.name for plug in plugs if isinstance(plug, Source) and not paths.arrives(plug.name)]
    return sources + [plug.name for plug in plugs if isinstance(plug, Output) and not paths.sounds(plug.name)]


def _called(plug: Plug) -> str:
    """Its name; an insert goes by the channel or mix that it is in."""
    return str(plug.at) if isinstance(plug, Insert) else plug.name


def _free_neighbour(rig: Rig, paths: Paths, port: Port, spare: Set[Port]) -> Port | None:
    """A free socket of the same sort: of this group first, then of the others of the box."""
    box, own = rig.boxes[port.box], rig.group(port)
    groups = [own, *(group for group in box.model.of_role(own.role) if group.name != own.name)]
    for group in groups:
        if group.protocols == own.protocols and group.wireless == own.wireless and group.soft == own.soft:
            for other in box.ports(group):
                if other not in spare and not plugged(paths, other):
                    return other
    return None
