"""Redundant pairs: the two runs of each, and what they have in common."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product

from rigdsl.paths import Paths, Run, twins
from rigdsl.rig import Rig, natural

__all__ = ["Half", "Halves", "Pairs", "pairs"]


@dataclass(frozen=True)
class Half:
    """One run of a pair, and the boxes of it that are the pair's own ends."""

    run: Run
    at: frozenset[str]

    def between(self, rig: Rig, kind: str) -> tuple[str, ...]:
        """The boxes of a kind that it runs over, without those that the pair is there for."""
        boxes = {port.box for piece in self.run.pieces for port in (piece.left, piece.right)} - self.at
        return tuple(sorted((name for name in boxes if rig.boxes[name].kind == kind), key=natural))


Halves = tuple[Half, Half]
Pairs = tuple[Halves, ...]


def pairs(rig: Rig, paths: Paths) -> Pairs:
    """Every redundant pair that works, each once, in natural order of its runs."""
    found: dict[tuple[str, ...], Halves] = {}
    for one, other, at in (*_by_ports(rig, paths), *_by_links(paths), *_by_networks(rig, paths)):
        if one is not other and one.works and other.works:
            first, second = sorted((one, other), key=lambda run: run.key)
            key = tuple(f"{run.name} {run.ends[0]} {run.ends[1]}" for run in (first, second))
            found.setdefault(key, (Half(first, at), Half(second, at)))
    return tuple(sorted(found.values(), key=lambda halves: [half.run.key for half in halves]))


Found = Iterator[tuple[Run, Run, frozenset[str]]]


def _by_ports(rig: Rig, paths: Paths) -> Found:
    """Ports that carry the same: `redundant`, or primary and secondary. The pair is there for their box.

    Both must go to one box, or to switches: from one port to the desk and from the other to the next box is a chain.
    """
    for port, runs in paths.run_at.items():
        for mate in twins(rig, port):
            for one, other in product(runs, paths.run_at.get(mate, ())):
                far = {one.other(port).box, other.other(mate).box}
                if len(far) == 1 or all(rig.boxes[box].kind == "switch" for box in far):
                    yield one, other, frozenset((port.box,))


def _by_links(paths: Paths) -> Found:
    """Links that say `redundant` between the same two boxes, for which the pair is there."""
    beside: dict[frozenset[str], list[Run]] = {}
    for run in paths.runs:
        if any(link.redundant for link in run.links):
            beside.setdefault(frozenset(port.box for port in run.ends), []).append(run)
    for boxes, runs in beside.items():
        yield from ((one, other, boxes) for one, other in combinations(runs, 2))


def _by_networks(rig: Rig, paths: Paths) -> Found:
    """Trunks of the primary and of the secondary network that are pulled in one loom."""
    sides = {switch: network.side for network in paths.networks for switch in network.switches}
    pulled: dict[str, dict[str, list[Run]]] = {}
    for run in paths.runs:
        side = sides.get(run.ends[0].box, "")
        if side and all(rig.boxes[port.box].kind == "switch" for port in run.ends):
            for loom in dict.fromkeys(link.loom for link in run.links if link.loom):
                pulled.setdefault(loom, {}).setdefault(side, []).append(run)
    for by_side in pulled.values():
        for one, other in product(by_side.get("primary", ()), by_side.get("secondary", ())):
            yield one, other, frozenset(port.box for run in (one, other) for port in run.ends)
