"""Islands of one clock, and networks of switches."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Literal

from rigdsl.paths.model import Island, Network, Run
from rigdsl.paths.parts import Parts, parts
from rigdsl.rig import Link, Port, Rig, natural

__all__ = ["find_islands", "find_networks"]

# They join what is on either side and have no clock of their own to lead.
JOINERS = ("switch", "panel", "bridge")
Node = tuple[str, str]


def find_islands(rig: Rig, runs: tuple[Run, ...]) -> tuple[Island, ...]:
    """Boxes that are joined digitally and so must share one clock, working or not."""
    found = []
    clocks = {rig.body(clock.box) for clock in rig.clocks}
    for nodes in parts(_joined(rig, runs)):
        boxes = tuple(sorted({box for box, _ in nodes if rig.boxes[box].kind not in JOINERS}, key=natural))
        if len(boxes) < 2:
            continue
        # A box that converts the rate on this side keeps a clock of its own: it leads nothing here.
        inside = {node for node in nodes if not node[1]}
        declared = tuple(sorted({box for box, _ in inside if box in clocks}, key=natural))
        desks = tuple(box for box in boxes if rig.boxes[box].mixes and (box, "") in inside)
        leader = declared[0] if len(declared) == 1 else desks[0] if not declared and len(desks) == 1 else ""
        found.append(Island(boxes, declared, desks, leader))
    return tuple(sorted(found, key=lambda island: natural(island.boxes[0])))


def _joined(rig: Rig, runs: tuple[Run, ...]) -> Iterator[tuple[Node, Node]]:
    for run in runs:
        if not run.data and not run.open and all(rig.group(port).role == "digital" for port in run.ends):
            yield _side(rig, run.ends[0]), _side(rig, run.ends[1])


def _side(rig: Rig, port: Port) -> Node:
    """The clock side of a port: its box, or a side of its own where the rate is converted."""
    body = rig.body(port.box)
    side = port.group if body == port.box else f"{port.box}.{port.group}"
    return body, side if rig.converts_rate(port) else ""


def find_networks(rig: Rig, runs: tuple[Run, ...], islands: tuple[Island, ...]) -> tuple[Network, ...]:
    """The switches that are joined, each switch in one network; a switch alone is a network too."""
    trunks = [run for run in runs if all(rig.boxes[port.box].kind == "switch" for port in run.ends) and not run.open]
    pairs: list[tuple[Node, Node]] = [((run.ends[0].box, ""), (run.ends[1].box, "")) for run in trunks]
    pairs += [((name, ""), (name, "")) for name, box in rig.boxes.items() if box.kind == "switch"]
    together = [tuple(sorted((box for box, _ in nodes), key=natural)) for nodes in parts(pairs)]
    network_of = {switch: index for index, switches in enumerate(together) for switch in switches}
    sides = _sides(rig, runs, network_of, {island.leader for island in islands if island.leader})
    inside: dict[int, list[Run]] = {}
    for run in trunks:
        inside.setdefault(network_of[run.ends[0].box], []).append(run)
    found = [
        Network(switches, sides.get(index, ""), tuple(_loops(inside.get(index, []))))
        for index, switches in enumerate(together)
    ]
    return tuple(sorted(found, key=lambda network: natural(network.switches[0])))


def _sides(rig: Rig, runs: tuple[Run, ...], network_of: Mapping[str, int], leaders: set[str]) -> dict[int, str]:
    """Primary or secondary, by what a switch says, else by the port of the clock leader that is plugged into it."""
    sides: dict[int, str] = {}
    for switch in sorted(network_of, key=natural):
        if rig.boxes[switch].net:
            sides.setdefault(network_of[switch], rig.boxes[switch].net)
    for run in runs:
        for here, far in (run.ends, run.ends[::-1]):
            if here.box in network_of and rig.body(far.box) in leaders and rig.group(far).net:
                sides.setdefault(network_of[here.box], rig.group(far).net)
    return sides


def _loops(trunks: list[Run]) -> Iterator[tuple[Link, ...]]:
    """Circles of cables between switches that nobody says are meant, one for each cable too many.

    Cables of one `bundle` between the same two switches are one way. A circle is meant where a way of it names
    a `ring`; two ways side by side are only where both name the same. Ways of a ring are laid first, so that
    it is the odd cable that closes a circle.
    """
    tree: dict[str, list[tuple[str, Run]]] = {}
    joined: Parts[Node] = Parts()
    bundled: set[tuple[str, frozenset[str]]] = set()
    beside: dict[frozenset[str], Run] = {}
    for run in sorted(trunks, key=lambda run: (not _said(run, "ring"), run.key)):
        left, right = run.ends[0].box, run.ends[1].box
        bundle = _said(run, "bundle"), frozenset((left, right))
        if bundle[0] and bundle in bundled:
            continue
        bundled.add(bundle)
        if left != right and joined.join((left, ""), (right, "")):
            beside[bundle[1]] = run
            tree.setdefault(left, []).append((right, run))
            tree.setdefault(right, []).append((left, run))
            continue
        other = beside.get(bundle[1])
        circle = [run, other] if other else [run, *_between(tree, left, right)]
        beside.setdefault(bundle[1], run)
        rings = {_said(one, "ring") for one in circle}
        meant = rings != {""} and (len(rings) == 1 or len(circle) > 2)
        if not meant:
            yield tuple(sorted({link for one in circle for link in one.links}, key=lambda link: link.key))


def _said(run: Run, what: Literal["ring", "bundle"]) -> str:
    """The ring or bundle that the links of a run name."""
    return next((name for link in run.links if (name := link.ring if what == "ring" else link.bundle)), "")


def _between(tree: Mapping[str, list[tuple[str, Run]]], left: str, right: str) -> list[Run]:
    came: dict[str, tuple[str, Run] | None] = {left: None}
    waiting = [left]
    for box in waiting:
        for other, run in tree.get(box, ()):
            if other not in came:
                came[other] = (box, run)
                waiting.append(other)
    found = []
    at = came.get(right)
    while at is not None:
        found.append(at[1])
        at = came[at[0]]
    return found
