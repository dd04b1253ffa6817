"""What is left of a rig's paths when cables, boxes or plugs fail: the same questions, answered without them.

Nobody re-plugs or re-patches in the middle of a song: runs are judged as in the whole rig, patches and
processors keep their settings, and only the ways are looked for anew. A box that is gone is one that nothing
goes into and nothing comes out of. Only what is asked is worked out again, so a small loss is a small question.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Generic, TypeVar

from rigdsl.paths import patched
from rigdsl.paths.chains import Chains, find_chains, is_head
from rigdsl.paths.model import Piece, Route, Run
from rigdsl.paths.parts import parts
from rigdsl.paths.patched import Pair
from rigdsl.paths.paths import Paths
from rigdsl.paths.routes import Blame, Digital
from rigdsl.paths.runs import runs_by_port
from rigdsl.paths.wiring import Wiring
from rigdsl.rig import Leg, Port

__all__ = ["Gone", "Left", "Whole"]

Key = TypeVar("Key")
Item = TypeVar("Item")


@dataclass(frozen=True)
class Gone:
    """What has failed: links and boxes by name, and the own plugs of sources and outputs by theirs."""

    links: frozenset[str] = frozenset()
    boxes: frozenset[str] = frozenset()
    plugs: frozenset[str] = frozenset()

    @property
    def names(self) -> frozenset[str]:
        """All of it: names of links, boxes, sources and outputs are one set."""
        return self.links | self.boxes | self.plugs


@dataclass(frozen=True)
class Kept(Mapping[Key, tuple[Item, ...]], Generic[Key, Item]):
    """A table whose rows are looked through only when they are asked for; a row of which nothing is left is none."""

    whole: Mapping[Key, tuple[Item, ...]]
    stands: Callable[[Item], bool]

    def __getitem__(self, key: Key) -> tuple[Item, ...]:
        kept = tuple(item for item in self.whole[key] if self.stands(item))
        if not kept:
            raise KeyError(key)
        return kept

    def __iter__(self) -> Iterator[Key]:
        return (key for key in self.whole if key in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)


@dataclass(frozen=True)
class Again(Mapping[Port | Leg, tuple[Pair, ...]]):
    """Pairs by one of their ends, each with its route looked for again when somebody asks."""

    ends: Callable[[], Iterator[Port | Leg]]
    pairs: Callable[[Port | Leg], tuple[Pair, ...]]

    def __getitem__(self, key: Port | Leg) -> tuple[Pair, ...]:
        return self.pairs(key)

    def __iter__(self) -> Iterator[Port | Leg]:
        return self.ends()

    def __len__(self) -> int:
        return sum(1 for _ in self)


@dataclass(frozen=True, eq=False)
class Whole:
    """The paths of the whole rig, and what has to be looked up for any loss: found once."""

    paths: Paths

    @cached_property
    def runs_over(self) -> Mapping[str, tuple[Run, ...]]:
        """Working and other runs by the links and the boxes that they go over, panels included."""
        found: dict[str, dict[int, Run]] = {}
        body = self.paths.rig.body
        for run in self.paths.runs:
            for piece in run.pieces:
                ends = (piece.left.box, piece.right.box)
                for name in (piece.link.name, *ends, *map(body, ends)):
                    found.setdefault(name, {})[id(run)] = run
        return {name: tuple(runs.values()) for name, runs in found.items()}

    @cached_property
    def named_at(self) -> Mapping[Port, tuple[Pair, ...]]:
        """Pairs that name an output, by every socket that may feed it."""
        found: dict[Port, list[Pair]] = {}
        for pair in self.paths.pairs:
            if isinstance(pair.right, Leg):
                for port in self.paths.outlets_of(pair.right):
                    found.setdefault(port, []).append(pair)
        return {port: tuple(pairs) for port, pairs in found.items()}

    @cached_property
    def hung(self) -> Mapping[str, tuple[str, ...]]:
        """By the name of a run: the boxes that stand in their chain by it."""
        found: dict[str, list[str]] = {}
        for chain in self.paths.chains.values():
            found.setdefault(chain.run.name, []).append(chain.box)
        return {name: tuple(boxes) for name, boxes in found.items()}

    @cached_property
    def strings(self) -> Mapping[str, tuple[frozenset[str], tuple[Run, ...]]]:
        """By box: the boxes that hang together with it without a desk or switch between them, and all their runs."""
        rig = self.paths.rig
        joined = []
        for run in self.paths.runs:
            inside = [(rig.body(end.box),) for end in run.ends if not is_head(rig, end.box)]
            joined += [(inside[0], inside[-1])] if inside else []
        found: dict[str, tuple[frozenset[str], tuple[Run, ...]]] = {}
        for part in parts(joined):
            boxes = frozenset(box for (box,) in part)
            runs = {id(run): run for box in boxes for run in self.runs_over.get(box, ())}
            found |= dict.fromkeys(boxes, (boxes, tuple(runs.values())))
        return found


@dataclass(frozen=True, eq=False)
class Left(Paths):
    """The paths of a rig in which something is gone. `rig` is the whole one: what failed is still written there."""

    before: Whole = field(kw_only=True)
    gone: Gone = field(kw_only=True)

    @property
    def whole(self) -> Paths:
        """The paths as they were."""
        return self.before.paths

    # ---- wire

    @cached_property
    def wiring(self) -> Wiring:
        """Plugs and cables that are left."""
        return _Torn(self.rig, before=self.whole.wiring, gone=self.gone)

    @cached_property
    def speaker_inputs(self) -> Mapping[str, tuple[Port, ...]]:
        """Loudspeakers and their lines as they were: one of which the cable is gone is still a line of it."""
        return self.whole.speaker_inputs

    # ---- the digital graph

    @cached_property
    def lost_runs(self) -> frozenset[Run]:
        """Runs over anything that is gone."""
        return frozenset(run for name in self.gone.names for run in self.before.runs_over.get(name, ()))

    @cached_property
    def _misfits(self) -> Chains:
        """Chains as they hang together now: a ring that is cut is longer on one side. Its misfits are what counts."""
        moved = {box for run in self.lost_runs for box in self.before.hung.get(run.name, ())}
        whole = self.whole.chained
        strings = {id(string): string for box in moved if (string := self.before.strings.get(box))}
        if not strings:
            return Chains({}, {}, whole.misfits)
        boxes = frozenset(box for members, _ in strings.values() for box in members)
        runs = tuple(run for _, among in strings.values() for run in among if run not in self.lost_runs)
        again = find_chains(self.rig, runs, runs_by_port(runs))
        return Chains({}, {}, (*(one for one in whole.misfits if one.box not in boxes), *again.misfits))

    @cached_property
    def cut_off(self) -> frozenset[str]:
        """Boxes that stand further down a chain now, and too far."""
        cut = self._misfits.cut
        return frozenset(pair[1] for pair in cut if pair not in self.whole.chained.cut)

    @cached_property
    def digital(self) -> Digital:
        """The graph of the runs that are left."""
        whole = self.whole.digital
        run_at = Kept(whole.run_at, lambda run: run not in self.lost_runs)
        return Digital(self.rig, (), run_at, self._misfits, whole.ports_of)

    def _route(self, left: Port, right: Port) -> Route:
        found = self.whole.route(left, right)
        if found.works and not self._hit(found):
            return found
        ends = self.rig.body(left.box), self.rig.body(right.box)
        if ends[0] == ends[1] or not self._joined(*ends):
            return Route(left, right, (), ends[0] == ends[1])
        return super()._route(left, right)

    def _blame(self, root: str, box: str, outward: bool) -> tuple[Blame, ...]:
        return ()  # what is to blame is what is gone

    def _hit(self, route: Route) -> bool:
        return any(
            run in self.lost_runs or any(self.rig.body(end.box) in self.cut_off for end in run.ends)
            for run, _ in route.runs
        )

    @cached_property
    def _together(self) -> list[tuple[set[str], bool]]:
        """Boxes that are known to hang together, and whether they are all that do."""
        return []

    def _joined(self, one: str, other: str) -> bool:
        """Whether anything joins two boxes. Looked for from both ends by turns: what is cut off is mostly small."""
        for boxes, whole in self._together:
            if one in boxes and other in boxes:
                return True
            if whole and (one in boxes or other in boxes):
                return False
        floods = [({one}, [one], other), ({other}, [other], one)]
        while all(waiting for _, waiting, _ in floods):
            for seen, waiting, goal in floods:
                new = self._beside(waiting.pop()) - seen if waiting else set()
                seen |= new
                if goal in new:
                    self._together.append((floods[0][0] | floods[1][0], False))
                    return True
                waiting += sorted(new)
        self._together.extend((seen, True) for seen, waiting, _ in floods if not waiting)
        return False

    def _beside(self, box: str) -> set[str]:
        digital = self.digital
        runs = ((run, port) for port in digital.ports_of.get(box, ()) for run in digital.run_at.get(port, ()))
        return {self.rig.body(run.other(port).box) for run, port in runs if run.works}

    # ---- patches

    @cached_property
    def _patched_to(self) -> frozenset[Port]:
        return self.whole._patched_to

    @cached_property
    def _again(self) -> dict[int, Pair]:
        return {}

    def _now(self, pair: Pair) -> Pair:
        """A pair with the way that it takes now."""
        if id(pair) not in self._again:
            self._again[id(pair)] = patched.pair_of(
                self.rig, pair.patch, (pair.left, pair.right), self.inputs_of, self.outlets_of, self.route
            )
        return self._again[id(pair)]

    @cached_property
    def _pairs_by_left(self) -> Mapping[Port | Leg, tuple[Pair, ...]]:
        whole = self.whole._pairs_by_left
        return Again(lambda: iter(whole), lambda end: tuple(map(self._now, whole[end])))

    @cached_property
    def _pairs_by_right(self) -> Mapping[Port | Leg, tuple[Pair, ...]]:
        whole = self.whole._pairs_by_right

        def to(end: Port | Leg) -> tuple[Pair, ...]:
            found = [self._now(pair) for pair in whole.get(end, ()) if pair.right == end]
            named = (self._now(pair) for pair in self.before.named_at.get(end, ())) if isinstance(end, Port) else ()
            return (*found, *(pair for pair in named if pair.route is not None and pair.route.right == end))

        return Again(lambda: iter(whole), to)

    # ---- what still sounds

    def arrives(self, name: str) -> bool:
        """A source is still heard; not where its own plug, or the box that it is plugged into, is gone."""
        return not self._unplugged(name, self.rig.sources[name].ports) and super().arrives(name)

    def sounds(self, name: str) -> bool:
        """An output or loudspeaker is still fed; not where it is gone itself, or its plug or the box of that."""
        return not self._unplugged(name, self.sockets_of(Leg(name, 0))) and super().sounds(name)

    def _unplugged(self, name: str, ports: tuple[Port, ...]) -> bool:
        return name in self.gone.plugs or any(port.box in self.gone.boxes for port in ports)


@dataclass(frozen=True, eq=False)
class _Torn(Wiring):
    """Wiring without what is gone."""

    before: Wiring = field(kw_only=True)
    gone: Gone = field(kw_only=True)

    @cached_property
    def plugs(self) -> Mapping[Port, tuple[Leg, ...]]:
        """Lines of sources and outputs whose plug is still in."""
        return Kept(self.before.plugs, lambda leg: leg.name not in self.gone.plugs)

    @cached_property
    def pieces(self) -> Mapping[Port, tuple[Piece, ...]]:
        """Cables that are left between boxes that are left."""
        return Kept(self.before.pieces, self._stands)

    def stands(self, box: str) -> bool:
        """Whether a box is still there."""
        return box not in self.gone.boxes

    def _stands(self, piece: Piece) -> bool:
        boxes = self.gone.boxes
        return piece.link.name not in self.gone.links and piece.left.box not in boxes and piece.right.box not in boxes
