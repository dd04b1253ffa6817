"""Digital runs in a flow drawing: from which stand of a box to which, and where the sound stops."""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from rigdsl.draw.wires import Side, Stand
from rigdsl.paths import Paths
from rigdsl.paths.model import Route, Run
from rigdsl.rig import Port, Rig

__all__ = ["Trunk", "Trunks", "find_trunks"]

FAULTY = 1000  # a way over cables that do not work counts as so many steps longer


@dataclass(frozen=True)
class Trunk:
    """One run, one way: where sound goes in and comes out, or would. `patched` counts the pairs that take it."""

    run: Run
    enters: Port
    leaves: Port
    left: Stand
    right: Stand
    patched: int
    stops: bool


@dataclass(frozen=True)
class Trunks:
    """All of them, and for each socket what it feeds and what feeds it, by patches whose ends are known."""

    trunks: tuple[Trunk, ...]
    inside: tuple[tuple[Port, Port], ...]
    feeds: Mapping[Port, tuple[Port, ...]]
    fed: Mapping[Port, tuple[Port, ...]]


@dataclass
class _Ledger:
    """What has been found so far: how often each trunk is taken."""

    paths: Paths
    counts: dict[tuple[str, Port, Port, Stand, Stand], int] = field(default_factory=dict)
    runs: dict[tuple[str, Port, Port], Run] = field(default_factory=dict)
    inside: dict[tuple[Port, Port], None] = field(default_factory=dict)

    @cached_property
    def hubs(self) -> frozenset[str]:
        """The boxes that mix."""
        return frozenset(name for name, box in self.paths.rig.boxes.items() if box.mixes)

    @cached_property
    def runs_of(self) -> Mapping[str, Sequence[Run]]:
        """The runs at each box."""
        found: dict[str, list[Run]] = {}
        for run in self.paths.runs:
            for port in run.ends:
                found.setdefault(self.body(port), []).append(run)
        return found

    def body(self, port: Port) -> str:
        """The box that a socket is drawn at: of a card, the one that it sits in."""
        return self.paths.rig.body(port.box)

    def take(self, run: Run, enters: Port, left: Stand, right: Stand, count: int = 1) -> None:
        """One more signal over a run."""
        leaves = run.other(enters)
        self.runs[run.name, enters, leaves] = run
        key = (run.name, enters, leaves, left, right)
        self.counts[key] = self.counts.get(key, 0) + count


def find_trunks(paths: Paths) -> Trunks:
    """Every digital run that carries sound, or should, and each spare one."""
    ledger = _Ledger(paths)
    found = {(pair.route.left, pair.route.right): pair.route for pair in paths.pairs if pair.route is not None}
    routes = [found[key] for key in sorted(found, key=lambda key: (key[0].key, key[1].key))]
    for route in sorted(routes, key=lambda route: ledger.body(route.left) in ledger.hubs):
        _take(ledger, route)
    _spares(ledger)
    feeds: dict[Port, list[Port]] = {}
    fed: dict[Port, list[Port]] = {}
    for route in routes:
        feeds.setdefault(route.left, []).append(route.right)
        fed.setdefault(route.right, []).append(route.left)
    trunks = sorted(_trunks(ledger), key=lambda trunk: (trunk.run.key, trunk.enters.key, trunk.left, trunk.right))
    return Trunks(tuple(trunks), tuple(ledger.inside), _frozen(feeds), _frozen(fed))


def _frozen(found: Mapping[Port, list[Port]]) -> Mapping[Port, tuple[Port, ...]]:
    return {port: tuple(sorted(set(ends), key=lambda end: end.key)) for port, ends in found.items()}


def _trunks(ledger: _Ledger) -> Iterator[Trunk]:
    for (name, enters, leaves, left, right), count in ledger.counts.items():
        run = ledger.runs[name, enters, leaves]
        yield Trunk(run, enters, leaves, left, right, count, stops=bool(run.faults) or run.data)


def _take(ledger: _Ledger, route: Route) -> None:
    """Follow one patched signal from box to box."""
    hubs = ledger.hubs
    left, right = ledger.body(route.left), ledger.body(route.right)
    if left == right:
        if left not in hubs:
            ledger.inside[route.left, route.right] = None
        return
    side = _side(ledger, left in hubs, right in hubs, left)
    legs = list(route.runs) if route.works else _as_it_would(ledger, left, right)
    for index, (run, enters) in enumerate(legs):
        leaves = run.other(enters)
        start = (
            Stand(left, "hub" if left in hubs else "in") if index == 0 else _between(ledger.body(enters), side, hubs)
        )
        end = _arrival(right, hubs) if index == len(legs) - 1 else _between(ledger.body(leaves), side, hubs)
        ledger.take(run, enters, start, end)


def _arrival(box: str, hubs: frozenset[str]) -> Stand:
    return Stand(box, "hub" if box in hubs else "out")


def _between(box: str, side: Side, hubs: frozenset[str]) -> Stand:
    return Stand(box, "hub" if box in hubs else side)


def _side(ledger: _Ledger, from_hub: bool, to_hub: bool, left: str) -> Side:
    """On which side a signal passes through the boxes on its way.

    From desk to desk it takes the way in to the second one, but not where that also leads to the first: it
    would come back to where it began.
    """
    if not from_hub:
        return "in"
    if not to_hub:
        return "out"
    leads = any(key[4] == Stand(left, "hub") and key[3].side == "in" for key in ledger.counts)
    return "between" if leads and _shares(ledger, left) else "in"


def _shares(ledger: _Ledger, hub: str) -> bool:
    """Whether what leads into a desk passes a switch that the desk also sends into."""
    ahead = {key[3].box for key in ledger.counts if key[4] == Stand(hub, "hub") and key[3].side == "in"}
    return any(ledger.paths.rig.boxes[box].kind in ("switch", "bridge") for box in ahead)


def _as_it_would(ledger: _Ledger, left: str, right: str) -> list[tuple[Run, Port]]:
    """The way between two boxes that sound cannot take, over as few cables that do not work as can be."""
    came: dict[str, tuple[int, Run | None, Port | None]] = {left: (0, None, None)}
    waiting: list[tuple[int, str]] = [(0, left)]
    while waiting:
        cost, box = heapq.heappop(waiting)
        for run in ledger.runs_of.get(box, ()):
            enters = next(port for port in run.ends if ledger.body(port) == box)
            far = ledger.body(run.other(enters))
            price = cost + (1 if run.works else FAULTY)
            if far not in came or price < came[far][0]:
                came[far] = (price, run, enters)
                heapq.heappush(waiting, (price, far))
    legs: list[tuple[Run, Port]] = []
    box = right
    while box in came and came[box][1] is not None:
        _, step, enters_at = came[box]
        assert step is not None
        assert enters_at is not None
        legs.append((step, enters_at))
        box = ledger.body(enters_at)
    return legs[::-1]


def _spares(ledger: _Ledger) -> None:
    """Runs that no patch takes: the other half of a pair goes where the first goes, the rest towards the desk."""
    hubs = ledger.hubs
    taken = {name for name, _, _ in ledger.runs}
    stands: dict[tuple[str, str], dict[tuple[Stand, Stand], None]] = {}
    for _, enters, leaves, left, right in list(ledger.counts):
        stands.setdefault((ledger.body(enters), ledger.body(leaves)), {})[left, right] = None
    for run in ledger.paths.runs:
        if run.name in taken or run.data or run.open or _silent_kind(ledger.paths.rig, run):
            continue
        drawn = False
        for enters in _senders(ledger.paths.rig, run):
            for left, right in stands.get((ledger.body(enters), ledger.body(run.other(enters))), {}):
                ledger.take(run, enters, left, right, 0)
                drawn = True
        if not drawn:
            enters = _outer_end(ledger, run)
            left, right = (_between(ledger.body(port), "in", hubs) for port in (enters, run.other(enters)))
            ledger.take(run, enters, left, right, 0)


def _senders(rig: Rig, run: Run) -> tuple[Port, ...]:
    """The ends that sound may go in by: of a one-way run only one."""
    ways = ((end, rig.group(end), rig.group(run.other(end))) for end in run.ends)
    return tuple(end for end, here, far in ways if here.direction != "takes" and far.direction != "sends")


def _silent_kind(rig: Rig, run: Run) -> bool:
    """A surface carries no sound: what it is joined by is told in its engine's heading."""
    return any(rig.boxes[port.box].kind == "surface" for port in run.ends)


def _outer_end(ledger: _Ledger, run: Run) -> Port:
    """The end that is further from a desk: a desk is never it; in a chain the box behind is."""
    senders = _senders(ledger.paths.rig, run)
    if len(senders) == 1:
        return senders[0]
    first, second = run.ends
    bodies = [ledger.body(port) for port in run.ends]
    if (bodies[0] in ledger.hubs) != (bodies[1] in ledger.hubs):
        return second if bodies[0] in ledger.hubs else first
    chains = ledger.paths.chains
    places = [chains[box].position if box in chains else 0 for box in bodies]
    return second if places[1] > places[0] else first
