"""The digital way between two boxes: the one of fewest hops that works, or what keeps the nearest one from working.

One search serves all patches of a desk: it goes out from the box and leaves, at
every port it comes to, the next step towards it.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from rigdsl.paths.chains import Chains, Misfit, carries_on, is_head
from rigdsl.paths.model import Fault, Route, Run, Step
from rigdsl.rig import Port, Rig

__all__ = ["Blame", "Digital", "Nearest", "Search", "blame", "faulty_ways", "route", "search"]

Blame = tuple[Run | None, Fault, str]
Way = Literal["switch", "patch", "bridge", "chain"]
ANY = ""  # a protocol that nobody names: two boxes of which neither says what it speaks


class State(NamedTuple):
    """A signal at a port of a box, on the side away from the root, carried by a protocol."""

    port: Port
    protocol: str


@dataclass(frozen=True, eq=False)
class Digital:
    """The digital graph that searches go over."""

    rig: Rig
    runs: tuple[Run, ...]
    run_at: Mapping[Port, tuple[Run, ...]]
    chains: Chains
    ports_of: Mapping[str, tuple[Port, ...]]

    @classmethod
    def of(cls, rig: Rig, runs: tuple[Run, ...], run_at: Mapping[Port, tuple[Run, ...]], chains: Chains) -> Digital:
        """The graph of these runs."""
        ports: dict[str, list[Port]] = {}
        for port in sorted(run_at, key=lambda port: port.key):
            ports.setdefault(rig.body(port.box), []).append(port)
        return cls(rig, runs, run_at, chains, {box: tuple(found) for box, found in ports.items()})

    def passes(self, near: Port, far: Port, protocol: str) -> tuple[str, ...]:
        """By which protocols a signal may leave a box at `far` that is `near` by this one at the root's side."""
        box = self.rig.boxes[self.rig.body(near.box)]
        group = self.rig.group(far)
        if near == far or group.role != "digital":
            return ()
        if box.kind == "switch":
            return (protocol,)
        if box.mixes or box.kind == "processor":
            return group.protocols or (ANY,)
        if self._bridged(near, far):
            return group.protocols or (ANY,)
        if carries_on(self.rig, near, far, protocol):
            return (protocol,)
        return ()

    def way(self, near: Port, far: Port) -> Way:
        """What to call the passage through a box from one of its ports to another."""
        box = self.rig.boxes[self.rig.body(near.box)]
        if box.kind == "switch":
            return "switch"
        if box.mixes or box.kind == "processor":
            return "patch"
        return "bridge" if self._bridged(near, far) else "chain"

    def _bridged(self, near: Port, far: Port) -> bool:
        """Whether the two are the sides of a bridge of one box."""
        if near.box != far.box or near.group == far.group:
            return False
        bridges = self.rig.boxes[near.box].model.bridges
        return any({near.group, far.group} == {one.left, one.right} for one in bridges)

    def broken_off(self, near: Port, far: Port) -> Misfit | None:
        """The box on either side that this one cannot carry on in its chain; whichever way the signal goes."""
        if self.way(near, far) != "chain":
            return None
        cut = self.chains.cut
        runs = [(run, port) for port in (far, near) for run in self.run_at.get(port, ())]
        body = self.rig.body
        pairs = ((body(near.box), body(run.other(port).box)) for run, port in runs)
        return next((cut[pair] for pair in pairs if pair in cut), None)


@dataclass(frozen=True)
class Search:
    """All that can reach a root box (or, `outward`, be reached from it), and how.

    `came` has for every state the run over which it is one step nearer, and the state behind that.
    """

    root: str
    outward: bool
    came: Mapping[State, tuple[Run, State | None]]
    hops: Mapping[State, int]
    at_box: Mapping[str, tuple[State, ...]] = field(default_factory=dict)


def search(digital: Digital, root: str, *, outward: bool) -> Search:
    """Search from a box over everything that works, nearest first, ties to the link that comes first."""
    came: dict[State, tuple[Run, State | None]] = {}
    hops: dict[State, int] = {}
    at_box: dict[str, list[State]] = {}
    layer: list[tuple[Run, State, State | None]] = []
    for port in digital.ports_of.get(root, ()):
        layer += _over(digital, port, digital.rig.group(port).protocols or (ANY,), None, outward)
    depth = 1
    while layer:
        layer.sort(key=lambda one: (one[0].key, one[1].port.key))
        reached: list[State] = []
        for run, state, before in layer:
            body = digital.rig.body(state.port.box)
            if state not in came and body != root:
                came[state] = (run, before)
                hops[state] = depth
                at_box.setdefault(body, []).append(state)
                reached.append(state)
        layer = [step for state in reached for step in _beyond(digital, state, outward)]
        depth += 1
    return Search(root, outward, came, hops, {box: tuple(states) for box, states in at_box.items()})


def _over(
    digital: Digital, port: Port, protocols: tuple[str, ...], before: State | None, outward: bool
) -> Iterator[tuple[Run, State, State | None]]:
    """Over every working run at a port, by the protocols that it may be left by."""
    for run in digital.run_at.get(port, ()):
        far = run.other(port)
        if not run.works or not _right_way(digital.rig, port, far, outward):
            continue
        for protocol in _common(run, protocols):
            yield run, State(far, protocol), before


def _right_way(rig: Rig, port: Port, far: Port, outward: bool) -> bool:
    """One-way ports carry from the one that sends to the one that takes; a mirror only sends."""
    sender, taker = (rig.group(end) for end in ((port, far) if outward else (far, port)))
    return sender.direction != "takes" and taker.direction != "sends" and not taker.mirror


def _common(run: Run, protocols: tuple[str, ...]) -> tuple[str, ...]:
    if not run.protocols:
        return protocols
    if protocols == (ANY,):
        return run.protocols
    return tuple(name for name in run.protocols if name in protocols)


def _beyond(digital: Digital, state: State, outward: bool) -> Iterator[tuple[Run, State, State | None]]:
    """Through the box, and on over the runs of its other ports."""
    near = state.port
    for far in digital.ports_of.get(digital.rig.body(near.box), ()):
        protocols = digital.passes(near, far, state.protocol)
        if protocols and digital.broken_off(near, far) is None:
            yield from _over(digital, far, protocols, state, outward)


def route(digital: Digital, found: Search, left: Port, right: Port) -> Route:
    """The way from one socket to another, by a search whose root is the box of either."""
    ends = digital.rig.body(left.box), digital.rig.body(right.box)
    if ends[0] == ends[1]:
        return Route(left, right, (), True)
    target = ends[0] if found.root == ends[1] and not found.outward else ends[1]
    states = found.at_box.get(target, ())
    if not states:
        return Route(left, right, (), False)
    best = min(states, key=lambda state: (found.hops[state], found.came[state][0].key, state.port.key))
    steps = list(_steps(digital, found, best))
    if found.outward:
        steps = [_turned(step) for step in reversed(steps)]
    return Route(left, right, tuple(steps), True)


def _steps(digital: Digital, found: Search, state: State) -> Iterator[Step]:
    """From a state towards the root: a run, then through the box at its end, and so on."""
    at: State | None = state
    while at is not None:
        run, before = found.came[at]
        entered = run.other(at.port)
        yield Step(at.port, entered, "run", run, at.protocol or None)
        if before is not None:
            yield Step(entered, before.port, digital.way(entered, before.port))
        at = before


def _turned(step: Step) -> Step:
    return Step(step.right, step.left, step.by, step.run, step.protocol)


# By box: the box nearer to where the search began, and the faults of the step between the two.
Nearest = Mapping[str, tuple[str, tuple[Blame, ...]]]


# A cable for control data is blamed only where no audio cable is there to blame.
DATA_WEIGHT = 1000


def faulty_ways(digital: Digital, root: str, *, outward: bool) -> Nearest:
    """From a box to all that cables join it to, working or not: the ways of fewest faults, then the shortest.

    A one-way cable is a way only in its direction, whatever else is wrong with it.
    """
    best: dict[str, tuple[int, int]] = {root: (0, 0)}
    came: dict[str, tuple[str, tuple[Blame, ...]]] = {}
    near: dict[str, Port | None] = {root: None}
    waiting: list[tuple[int, int, str]] = [(0, 0, root)]
    while waiting:
        faults, steps, box = heapq.heappop(waiting)
        if (faults, steps) > best[box]:
            continue
        for port in digital.ports_of.get(box, ()):
            for run in digital.run_at[port]:
                far = run.other(port)
                if run.open or _runs_against(digital.rig, port, far, outward):
                    continue
                through = _why_not_through(digital, near[box], port)
                if through is None:
                    continue
                why = (*through, *_why_not_over(run))
                cost = (faults + sum(_weight(one) for one in why), steps + 1)
                body = digital.rig.body(far.box)
                if cost < best.get(body, (1 << 60, 0)):
                    best[body] = cost
                    came[body] = (box, why)
                    near[body] = far
                    heapq.heappush(waiting, (*cost, body))
    return came


def _runs_against(rig: Rig, port: Port, far: Port, outward: bool) -> bool:
    sender, taker = (port, far) if outward else (far, port)
    return rig.group(sender).direction == "takes" and rig.group(taker).direction == "sends"


def _weight(one: Blame) -> int:
    run, fault, _ = one
    return DATA_WEIGHT if (run is not None and run.data) or fault.rule == "not-an-audio-port" else 1


def blame(ways: Nearest, box: str) -> tuple[Blame, ...]:
    """The faults between a box and where the search began, nearest to the box first; none: no cable joins them."""
    found: list[Blame] = []
    while box in ways:
        box, why = ways[box]
        found += reversed(why)
    return tuple(found)


def _why_not_over(run: Run) -> tuple[Blame, ...]:
    if run.faults:
        return ((run, run.faults[0], run.name),)
    if run.data:
        return ((run, Fault("not-an-audio-port", _data_words(run)), run.name),)
    return ()


def _data_words(run: Run) -> str:
    return f"`{run.name}` carries remote control only, never audio"


def _why_not_through(digital: Digital, near: Port | None, far: Port) -> tuple[Blame, ...] | None:
    """What keeps a box on the way from carrying on; `near` is where the way came in (None: it begins here).

    None: no way leads through at all, and no rule has anything to say of that.
    """
    if near is None:
        return ()
    if near == far:
        return () if digital.rig.group(near).wireless else _two_in_one(near)
    misfit = digital.broken_off(near, far)
    if misfit is not None:
        subject = misfit.box if misfit.fault.rule == "chain-too-deep" else _link_name(misfit.run)
        return ((misfit.run, misfit.fault, subject),)
    if is_head(digital.rig, near.box) or digital.chains.by_box.get(digital.rig.body(near.box)) is None:
        return ()
    if any(digital.passes(near, far, name) for name in (digital.rig.group(near).protocols or (ANY,))):
        return ()
    return None


def _two_in_one(port: Port) -> tuple[Blame, ...]:
    """The way comes in by a socket that it would have to go out by: one of the two cables is for another."""
    return ((None, Fault("port-taken", f"two cables are meant for `{port}`"), str(port)),)


def _link_name(run: Run) -> str:
    return min(run.links, key=lambda link: link.key).name
