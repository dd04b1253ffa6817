"""Outboard in a channel or a mix: out over its cable, through it, and back."""

from __future__ import annotations

from collections.abc import Iterable

from rigdsl.paths.model import Hop
from rigdsl.paths.walk import pass_latency
from rigdsl.paths.wiring import Wiring
from rigdsl.rig import Insert, Port

__all__ = ["insert_hops"]


def insert_hops(wiring: Wiring, inserts: Iterable[Insert]) -> tuple[Hop, ...]:
    """The hops of inserts one after the other: each out over its cable, through the outboard, and back."""
    return tuple(hop for insert in inserts for hop in _there_and_back(wiring, insert))


def _there_and_back(wiring: Wiring, insert: Insert) -> tuple[Hop, Hop, Hop]:
    cable, length = (insert.lead.cable.name, insert.lead.length_m) if insert.lead else (None, None)
    out = Hop(insert.at, insert.send, "plug", cable=cable, length_m=length)
    inside = Hop(insert.send, insert.back, "pass", latency_s=_latency(wiring, insert.send, insert.back))
    return out, inside, Hop(insert.back, insert.at, "plug", cable=cable, length_m=length)


def _latency(wiring: Wiring, send: Port, back: Port) -> float:
    """What the pass takes; outboard whose model has none still works on what goes through it."""
    for other, one in wiring.onward(send):
        if other == back:
            return pass_latency(wiring, send, one)
    group, box = wiring.rig.group(send), wiring.rig.boxes[send.box]
    return box.latency_s if group.latency_s is None else group.latency_s
