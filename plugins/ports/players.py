"""Where sound comes out: the outputs of a rig, and its loudspeaker boxes, which count as outputs too."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.paths import Paths
from rigdsl.rig import Box, Port, Rig
from rigdsl_ports.sockets import kept, plugged

__all__ = ["entries", "fed_sockets", "further", "loudspeakers", "wired_inputs"]


def loudspeakers(rig: Rig) -> Iterator[Box]:
    """The loudspeaker boxes that are not kept as spares."""
    spare = kept(rig)
    for box in rig.boxes.values():
        if box.kind == "loudspeaker" and box.name not in rig.incomplete and not spare.issuperset(entries(box)):
            yield box


def fed_sockets(paths: Paths, box: Box) -> list[Port]:
    """The sockets by which something may come in that have a plug or cable."""
    return [port for port in entries(box) if plugged(paths, port)]


def wired_inputs(paths: Paths, box: Box) -> list[Port]:
    """Those of them that are fed over wire. What comes over a network is not told apart by sockets."""
    return [port for port in fed_sockets(paths, box) if paths.rig.group(port).analogue]


def further(paths: Paths, box: Box) -> list[str]:
    """The outputs and loudspeakers that hang on this one, fed through it, in the order of the cables."""
    reached = dict.fromkeys(port for entry in entries(box) for port in paths.walk_from(entry).came)
    found = [leg.name for port in reached for leg in paths.plugs.get(port, ()) if leg.name in paths.rig.outputs]
    found += [port.box for port in reached if paths.is_loudspeaker_input(port) and port.box != box.name]
    return list(dict.fromkeys(found))


def entries(box: Box) -> list[Port]:
    """The sockets of a loudspeaker by which something may come in."""
    return [port for group in box.model.of_role("inputs", "digital") for port in box.ports(group)]
