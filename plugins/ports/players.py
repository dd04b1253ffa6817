"""Where sound comes out: the outputs of a rig, and its loudspeaker boxes, which count as outputs too."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.paths import Paths
from rigdsl.rig import Box, Port, Rig
from rigdsl_ports.sockets import kept, plugged

__all__ = ["fed_sockets", "loudspeakers"]


def loudspeakers(rig: Rig) -> Iterator[Box]:
    """The loudspeaker boxes that are not kept as spares."""
    spare = kept(rig)
    for box in rig.boxes.values():
        if box.kind == "loudspeaker" and box.name not in rig.incomplete and not spare.issuperset(_inputs(box)):
            yield box


def fed_sockets(paths: Paths, box: Box) -> list[Port]:
    """The sockets by which something may come in that have a plug or cable."""
    return [port for port in _inputs(box) if plugged(paths, port)]


def _inputs(box: Box) -> list[Port]:
    return [port for group in box.model.of_role("inputs", "digital") for port in box.ports(group)]
