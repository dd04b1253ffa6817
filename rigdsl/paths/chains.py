"""Boxes behind boxes: who stands where in a chain, and which chains do not work."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from rigdsl.paths.model import Chain, Fault, Run
from rigdsl.rig import Link, Port, Rig, natural
from rigdsl.rig.units import counted

__all__ = ["Chains", "Misfit", "carries_on", "find_chains", "is_head"]

HEADS = ("console", "engine", "computer")
# Not in a chain, though not its owner either: a chain begins anew behind them.
FORKS = ("switch", "bridge", "processor")


@dataclass(frozen=True)
class Misfit:
    """A box that the one before it cannot carry on: what rule says so, at which link, and about which box."""

    fault: Fault
    run: Run
    box: str
    before: str


@dataclass(frozen=True)
class Chains:
    """Every box of a chain by name, the boxes behind each (nearest first), and what does not fit."""

    by_box: Mapping[str, Chain]
    behind: Mapping[str, tuple[str, ...]]
    misfits: tuple[Misfit, ...]

    @cached_property
    def cut(self) -> Mapping[tuple[str, str], Misfit]:
        """Misfits by (box before, box)."""
        return {(one.before, one.box): one for one in self.misfits}


def is_head(rig: Rig, box: str) -> bool:
    """A console, engine or computer, or a box that chains begin anew behind."""
    return rig.boxes[rig.body(box)].kind in (*HEADS, *FORKS)


def carries_on(rig: Rig, near: Port, far: Port, protocol: str) -> bool:
    """May a box pass on, at `near`, what comes in at `far`? Both ports must be chain ports of that protocol."""
    groups = rig.group(near), rig.group(far)
    if near == far or not all(group.chain for group in groups):
        return False
    return all(not protocol or not group.protocols or protocol in group.protocols for group in groups)


def find_chains(rig: Rig, runs: tuple[Run, ...], run_at: Mapping[Port, tuple[Run, ...]]) -> Chains:
    """Walk out from every head. A box belongs where it is reached by the fewest links, from a desk first.

    A misfit is the first box that is not carried on; those behind it have no misfit of their own.
    """
    by_box: dict[str, Chain] = {}
    misfits: list[Misfit] = []
    lost: set[str] = set()
    ports_of: dict[str, list[Port]] = {}
    for port in run_at:
        ports_of.setdefault(rig.body(port.box), []).append(port)
    waiting: deque[tuple[Run, Port, Chain | None, Port]] = deque()
    for kinds in (HEADS, FORKS):
        for box in sorted(ports_of, key=natural):
            if rig.boxes[box].kind in kinds:
                waiting.extend(
                    (run, port, None, port) for port in sorted(ports_of[box], key=_key) for run in run_at[port]
                )
        waiting = deque(sorted(waiting, key=lambda seed: rig.group(seed[0].other(seed[1])).chain == "far"))
        while waiting:
            run, port, before, head = waiting.popleft()
            near = run.other(port)
            box = rig.body(near.box)
            if not _chains(rig, run) or box in by_box or is_head(rig, box):
                continue
            misfit = _misfit(rig, run, port, near, before)
            if before is not None and before.box in lost:
                lost.add(box)  # what is lost already is lost for one reason only
            elif misfit:
                lost.add(box)
                misfits.append(misfit)
            position = before.position + 1 if before else 1
            here = Chain(box, head, position, near, run, before.box if before else rig.body(head.box))
            by_box[box] = here
            onward = sorted((other for other in ports_of[box] if other != near), key=_key)
            waiting.extend((other, far, here, head) for far in onward for other in run_at[far])
    return Chains(by_box, _behind(by_box, lost), tuple(misfits))


def _key(port: Port) -> Any:
    return port.key


def _chains(rig: Rig, run: Run) -> bool:
    """Digital at both ends, and no port that only repeats a box; whether it works is another matter."""
    groups = [rig.group(port) for port in run.ends]
    return not run.open and not run.data and all(group.role == "digital" and not group.mirror for group in groups)


def _misfit(rig: Rig, run: Run, far: Port, near: Port, before: Chain | None) -> Misfit | None:
    """What keeps the box at `near` from being carried on by the one before it, whose port is `far`."""
    if before is None:
        return None
    protocol = run.protocol or ""
    link = _first_link(run)
    if not carries_on(rig, before.near, far, protocol):
        because = f"`{before.box}` does not carry on at `{before.near}` what comes in at `{far}`"
        return Misfit(Fault("chain-not-supported", because), run, rig.body(near.box), before.box)
    if not protocol:
        return None
    spoken = rig.protocols[protocol]
    if spoken.topology == "point-to-point":
        because = f"`{protocol}` joins two boxes and no more, so `{link.name}` leads nowhere"
        return Misfit(Fault("chain-not-supported", because), run, rig.body(near.box), before.box)
    if spoken.topology == "chain" and before.position + 1 > spoken.depth:
        most = counted(spoken.depth, "box", "boxes")
        because = (
            f"`{protocol}` takes {most} behind one port, and `{rig.body(near.box)}` is number {before.position + 1}"
        )
        return Misfit(Fault("chain-too-deep", because), run, rig.body(near.box), before.box)
    return None


def _first_link(run: Run) -> Link:
    return min(run.links, key=lambda link: link.key)


def _behind(by_box: Mapping[str, Chain], lost: set[str]) -> dict[str, tuple[str, ...]]:
    """The boxes that each one carries; what cannot be carried on, and all behind it, sends nothing through."""
    behind: dict[str, list[str]] = {}
    for chain in sorted(by_box.values(), key=lambda one: one.position):
        if chain.box not in lost:
            for owner in _owners(chain, by_box):
                behind.setdefault(owner, []).append(chain.box)
    return {box: tuple(boxes) for box, boxes in behind.items()}


def _owners(chain: Chain, by_box: Mapping[str, Chain]) -> Iterator[str]:
    """The boxes between a box and the head of its chain."""
    at = by_box.get(chain.before)
    steps = 0
    while at is not None and steps < len(by_box):
        yield at.box
        at = by_box.get(at.before)
        steps += 1
