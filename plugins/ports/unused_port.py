"""Sockets that nobody uses yet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import partial

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import Sockets, rule
from rigdsl.paths import Paths
from rigdsl.rig import Box, Group, Port, Rig, ports_text
from rigdsl_ports.sockets import UNUSED, in_use, kept, out_of_use

__all__ = ["unused_port"]

# What converts, mixes or plays. The loose lines of a sub-box, panel or splitter are spares by nature.
KINDS = (
    "console",
    "engine",
    "stage-box",
    "di",
    "bridge",
    "processor",
    "outboard",
    "computer",
    "receiver",
    "monitor-sender",
    "amplifier",
    "card",
)


@dataclass(frozen=True)
class Options:
    """Which sockets are looked at."""

    kinds: tuple[str, ...] = field(default=KINDS, metadata={"help": "kinds of boxes that are looked at"})
    roles: tuple[str, ...] = field(
        default=("inputs", "outputs"),
        metadata={"help": "kinds of groups: inputs, outputs, channels, mixes, digital, data"},
    )
    idle_boxes: bool = field(default=False, metadata={"help": "also boxes that have nothing in use at all"})


@rule(UNUSED, Level.NOTE, Options)
def unused_port(rig: Rig, paths: Paths, options: Options) -> Iterator[Sockets]:
    """Inputs and outputs are free, of a box that has others in use.

    Free is what has no plug, no cable and no patch, and is not kept for anything by `keep`.

    ## On the night
    Nothing goes wrong: this is the list to look at when a socket fails or one more microphone turns up.

    ## A rig that breaks it
    ```rig
    rig "Room for more" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Room for the guests" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    keep DESK.local 3-4 for "guests"
    ```

    ## See also
    `too-few-spares` for how many there should be.
    """
    spare, named = kept(rig), out_of_use(rig)

    def is_free(port: Port) -> bool:
        # A loom's spare line may sit in a socket that an `accept` line calls out of use: it is, while nothing comes.
        return not in_use(paths, port) or (port in named and not paths.plugs.get(port) and not paths.sources_at(port))

    for box in rig.boxes.values():
        if box.kind not in options.kinds or box.name in rig.incomplete:
            continue
        if options.idle_boxes or _some_in_use(box, paths, options):
            for group in box.model.of_role(*options.roles):
                free = tuple(port for port in _sockets(box, group) if port not in spare and is_free(port))
                if free:
                    yield Sockets(free, partial(_free, box))


def _some_in_use(box: Box, paths: Paths, options: Options) -> bool:
    groups = box.model.of_role(*options.roles)
    return any(in_use(paths, port) for group in groups for port in box.ports(group))


def _sockets(box: Box, group: Group) -> list[Port]:
    """The sockets of a group that could take something; an output that only links an input through is none."""
    linked = any(wire.right == group.name and wire.passive for wire in box.model.passes)
    if group.wireless or group.soft or (group.role == "outputs" and linked):
        return []
    return box.ports(group)


def _free(box: Box, ports: tuple[Port, ...]) -> Finding:
    return Finding(
        place=box.place,
        subject=f"{box.name}.{ports[0].group}",
        message=f"`{ports_text(ports)}` {'is' if len(ports) == 1 else 'are'} free",
        consequence="there is room for more",
        help=f'if that is meant, say so: `keep {ports_text(ports)} for "..."`',
        ports=tuple(str(port) for port in ports),
        box=box.name,
    )
