"""What falls silent when something fails: a cable, a box, a plug, a loom, a supply, or several of them at once.

What goes silent is what sounds now and would not: a source of which every line arrives now, an output or
loudspeaker of which every line is fed now. An output that is fed from a mix goes silent with its way from the
mix and with the desk; where the desk stands and no source reaches it any more, what it feeds still counts as fed.
A channel or mix whose outboard fails passes nothing. A box on no supply that has its power over the data cable
goes dark with the last of those that gave it any. Nothing is said of a clock leader that fails.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain
from typing import Literal

from rigdsl.paths.left import Gone, Left, Whole
from rigdsl.paths.model import Path, Run
from rigdsl.paths.paths import Paths
from rigdsl.rig import Leg, Port, Rig, natural

__all__ = ["LOOM", "Failures", "Lost", "Ranked", "gone_with"]

LOOM = "loom "  # before the name of a loom, which is no name of its own

NOTHING = Gone()

# All that a path goes over: links, boxes, plugs.
Way = frozenset[str]


@dataclass(frozen=True)
class Lost:
    """What goes silent with these, in natural order; `standing` went over them too and is heard another way."""

    names: tuple[str, ...]
    silent_sources: tuple[str, ...]
    silent_outputs: tuple[str, ...]
    standing: tuple[str, ...] = ()
    gone: Gone = NOTHING

    @property
    def size(self) -> int:
        """How many sources and outputs go silent."""
        return len(self.silent_sources) + len(self.silent_outputs)


@dataclass(frozen=True)
class Ranked:
    """One cable or box, and what goes silent with it."""

    name: str
    kind: Literal["cable", "box"]
    lost: Lost


def gone_with(rig: Rig, names: Iterable[str]) -> Gone:
    """The links, boxes and plugs that fail with these names; `loom T1` is all links of a loom.

    A box stands while one of its supplies does; an option card goes with the box that it sits in.
    Raises LookupError for a name that is none of these.
    """
    return _Named(rig).gone(names)


@dataclass(frozen=True, eq=False)
class _Named:
    """What goes with a name, looked up once for many questions."""

    rig: Rig

    @cached_property
    def looms(self) -> Mapping[str, frozenset[str]]:
        """The links of each loom."""
        found: dict[str, set[str]] = {}
        for link in self.rig.links.values():
            if link.loom:
                found.setdefault(LOOM + link.loom, set()).add(link.name)
        return {name: frozenset(links) for name, links in found.items()}

    @cached_property
    def cards(self) -> Mapping[str, frozenset[str]]:
        """The option cards of each box that has any."""
        found: dict[str, set[str]] = {}
        for name, box in self.rig.boxes.items():
            if box.slot is not None:
                found.setdefault(self.rig.body(name), set()).add(name)
        return {name: frozenset(cards) for name, cards in found.items()}

    @cached_property
    def fed_by(self) -> Mapping[str, frozenset[str]]:
        """The supplies of each box that is plugged into any."""
        found: dict[str, set[str]] = {}
        for power in self.rig.powers:
            for box in power.boxes:
                found.setdefault(box, set()).add(power.supply)
        return {box: frozenset(supplies) for box, supplies in found.items()}

    def gone(self, names: Iterable[str]) -> Gone:
        """The links, boxes and plugs that fail with these."""
        rig = self.rig
        links, boxes, plugs, supplies = set[str](), set[str](), set[str](), set[str]()
        kinds = (links, rig.links), (boxes, rig.boxes), (plugs, rig.sources), (plugs, rig.outputs)
        for name in names:
            into = next((found for found, things in (*kinds, (supplies, rig.supplies)) if name in things), None)
            if into is not None:
                into.add(name)
            elif name in self.looms:
                links |= self.looms[name]
            else:
                raise LookupError(name)
        if supplies:
            boxes.update(box for box, fed_by in self.fed_by.items() if fed_by <= supplies)
        for box in tuple(boxes):
            boxes |= self.cards.get(box, frozenset())
        return Gone(frozenset(links), frozenset(boxes), frozenset(plugs))


@dataclass(frozen=True, eq=False)
class Failures:
    """The questions about failures of one rig. What every path goes over is looked up once for all of them."""

    paths: Paths

    @cached_property
    def _whole(self) -> Whole:
        return Whole(self.paths)

    @cached_property
    def _named(self) -> _Named:
        return _Named(self.paths.rig)

    @cached_property
    def ways(self) -> Mapping[str, tuple[tuple[Way, ...], ...]]:
        """Of all that sounds now: what each path that arrives goes over, line by line. In natural order of names."""
        found = {}
        for name in dict.fromkeys(leg.name for leg in (*self.paths.legs, *self.paths.output_legs)):
            by_leg: dict[Leg | None, list[Way]] = {}
            for path in self.paths.paths_of(name):
                by_leg.setdefault(path.leg, []).extend([_way(path)] if path.complete else [])
            if all(by_leg.values()):
                found[name] = tuple(tuple(ways) for ways in by_leg.values())
        return found

    @cached_property
    def over(self) -> Mapping[str, tuple[str, ...]]:
        """The names of all that sounds now and goes over a thing, by the name of that."""
        found: dict[str, list[str]] = {}
        for name, lines in self.ways.items():
            for thing in set(chain.from_iterable(chain.from_iterable(lines))):
                found.setdefault(thing, []).append(name)
        return {thing: tuple(names) for thing, names in found.items()}

    def left(self, gone: Gone) -> Left:
        """The paths of the rig without these."""
        return Left(self.paths.rig, before=self._whole, gone=gone)

    def lost_with(self, names: Iterable[str]) -> Lost:
        """What goes silent if all of these fail at once. Raises LookupError for an unknown name."""
        asked = tuple(dict.fromkeys(names))
        gone = self._dark(self._named.gone(asked))
        left = self.left(gone)
        away = gone.names | left.cut_off
        touched = dict.fromkeys(name for thing in sorted(away) for name in self.over.get(thing, ()))
        silent = {name for name in touched if not self._stands(name, away, left)}
        sources = self.paths.rig.sources
        return Lost(
            asked,
            _ordered(name for name in silent if name in sources),
            _ordered(name for name in silent if name not in sources),
            _ordered(name for name in touched if name not in silent),
            gone,
        )

    @cached_property
    def _cable_fed(self) -> Mapping[str, tuple[Way, ...]]:
        """The boxes that have their power over the data cable alone, and what each cable from a giver goes over."""
        paths = self.paths
        return {
            power.box: tuple(
                _over(run, paths.rig) for own, far in power.givers for run in paths.run_at[own] if run.other(own) == far
            )
            for power in paths.cable_powers
            if power.givers and not power.wall
        }

    @cached_property
    def _cable_fed_over(self) -> Mapping[str, tuple[str, ...]]:
        """The same boxes, by all that their power comes over."""
        found: dict[str, list[str]] = {}
        for box, ways in self._cable_fed.items():
            for thing in frozenset[str]().union(*ways):
                found.setdefault(thing, []).append(box)
        return {thing: tuple(boxes) for thing, boxes in found.items()}

    def _dark(self, gone: Gone) -> Gone:
        """With the boxes that nobody is left to power over the cable, and what those gave power to in their turn."""
        away, boxes = set(gone.links | gone.boxes), set(gone.boxes)
        waiting = sorted(away)
        while waiting:
            for box in self._cable_fed_over.get(waiting.pop(), ()):
                if box not in boxes and not any(away.isdisjoint(way) for way in self._cable_fed[box]):
                    new = {box, *self._named.cards.get(box, ())} - boxes
                    boxes |= new
                    away |= new
                    waiting += sorted(new)
        return replace(gone, boxes=frozenset(boxes)) if len(boxes) > len(gone.boxes) else gone

    def _stands(self, name: str, away: Way, left: Left) -> bool:
        """Another path of every line goes clear of it all, or one is found that did not stand in use before."""
        if all(any(away.isdisjoint(way) for way in ways) for ways in self.ways[name]):
            return True
        return left.arrives(name) if name in self.paths.rig.sources else left.sounds(name)

    @cached_property
    def ranking(self) -> tuple[Ranked, ...]:
        """Every cable and every box, each failing alone: what silences most first, then in natural order."""
        rig = self.paths.rig
        ranked = [Ranked(name, "cable", self.lost_with((name,))) for name in rig.links]
        ranked += [Ranked(name, "box", self.lost_with((name,))) for name in rig.boxes]
        return tuple(sorted(ranked, key=lambda one: (-one.lost.size, natural(one.name))))


def _way(path: Path) -> Way:
    """The links, boxes and plugs that a path goes over."""
    ends = chain((path.start, path.end), *((hop.left, hop.right) for hop in path.hops))
    names = {end.box if isinstance(end, Port) else end.name for end in ends}
    return frozenset(names.union(hop.link.name for hop in path.hops if hop.link is not None))


def _over(run: Run, rig: Rig) -> Way:
    """The links that a run goes over, and the boxes along it with those at its ends."""
    boxes = {port.box for piece in run.pieces for port in (piece.left, piece.right)}
    return frozenset({piece.link.name for piece in run.pieces} | boxes | {rig.body(box) for box in boxes})


def _ordered(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(names, key=natural))
