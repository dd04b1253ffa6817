"""Power over the data cable: who needs it, who may give it, over which ports."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rigdsl.paths.model import Run
from rigdsl.rig import Box, Port, Rig

__all__ = ["CablePower", "cable_powers"]

CARRIES = "twisted-pair"


@dataclass(frozen=True)
class CablePower:
    """A box that wants `needs_w` over the cable, and the ports that could give it, each with its far port.

    `wall` is true where it is plugged into a supply too: then it needs nothing over the cable.
    """

    box: str
    needs_w: float
    wall: bool
    givers: tuple[tuple[Port, Port], ...]
    joined: tuple[Port, ...]


def cable_powers(rig: Rig, run_at: Mapping[Port, tuple[Run, ...]]) -> Iterator[CablePower]:
    """Every box that needs power over the cable, in the order of the file."""
    walls = {name for power in rig.powers for name in power.boxes}
    for box in rig.boxes.values():
        ports = tuple(_wanting(box))
        needs_w = box.poe_w if box.poe_w is not None else max((_need(rig, port) for port in ports), default=0.0)
        if needs_w <= 0:
            continue
        runs = [(port, run.other(port)) for port in ports for run in run_at.get(port, ()) if _copper(run)]
        givers = tuple((own, far) for own, far in runs if _gives(rig, far))
        yield CablePower(box.name, needs_w, rig.body(box.name) in walls, givers, tuple(far for _, far in runs))


def _wanting(box: Box) -> Iterator[Port]:
    """The ports that power comes in by: those that say so, and all of them where the box itself does."""
    for group in box.model.of_role("digital", "data"):
        if group.pluggable and not group.wireless and (box.poe_w is not None or group.poe_w is not None):
            yield from box.ports(group)


def _need(rig: Rig, port: Port) -> float:
    return rig.group(port).poe_w or 0.0


def _gives(rig: Rig, port: Port) -> bool:
    return bool(rig.group(port).gives_poe_w or rig.boxes[port.box].gives_poe_w)


def _copper(run: Run) -> bool:
    """Twisted pair from end to end; a cable that nobody named may be that."""
    cables = (piece.link.lead.cable if piece.link.lead else None for piece in run.pieces)
    return all(cable is None or cable.medium in ("", CARRIES) for cable in cables)
