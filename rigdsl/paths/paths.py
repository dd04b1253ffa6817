"""`Paths(rig)`: every question about where sound goes, answered once. Nobody else walks cables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from rigdsl.paths import chains as chain
from rigdsl.paths import clock, control, feeding, latency, load, patched, routes, runs, trace, trunks
from rigdsl.paths.model import Chain, Gain, Island, Load, Network, Path, Route, Run
from rigdsl.paths.parts import parts
from rigdsl.paths.patched import Pair
from rigdsl.paths.stretches import Delay
from rigdsl.paths.wires import Wires
from rigdsl.rig import Leg, Patch, Port, natural

__all__ = ["Paths"]


@dataclass(frozen=True, eq=False)
class Paths(Wires):
    """What follows from a rig's cables and patches. Every answer is worked out when it is first asked for."""

    # ---- the digital graph

    @cached_property
    def _judged(self) -> tuple[tuple[Run, ...], tuple[Island, ...], tuple[Network, ...]]:
        found = runs.find_runs(self.wiring)
        islands = clock.find_islands(self.rig, found)
        networks = clock.find_networks(self.rig, found, islands)
        return trunks.with_networks(self.rig, found, islands, networks), islands, networks

    @property
    def runs(self) -> tuple[Run, ...]:
        """All digital and data runs, in natural order."""
        return self._judged[0]

    @property
    def islands(self) -> tuple[Island, ...]:
        """Boxes that must share one clock."""
        return self._judged[1]

    @property
    def networks(self) -> tuple[Network, ...]:
        """Switches that are joined."""
        return self._judged[2]

    @cached_property
    def run_at(self) -> Mapping[Port, tuple[Run, ...]]:
        """Runs by the ports at their ends."""
        return runs.runs_by_port(self.runs)

    @cached_property
    def chained(self) -> chain.Chains:
        """Who stands behind whom, and which boxes cannot be carried on."""
        return chain.find_chains(self.rig, self.runs, self.run_at)

    @property
    def chains(self) -> Mapping[str, Chain]:
        """Where each box of a chain stands."""
        return self.chained.by_box

    @property
    def misfits(self) -> tuple[chain.Misfit, ...]:
        """Boxes in a chain that the one before them cannot carry on."""
        return self.chained.misfits

    @cached_property
    def digital(self) -> routes.Digital:
        """The graph that routes go over."""
        return routes.Digital.of(self.rig, self.runs, self.run_at, self.chained)

    @cached_property
    def _searches(self) -> dict[tuple[str, bool], routes.Search]:
        return {}

    @cached_property
    def _routes(self) -> dict[tuple[Port, Port], Route]:
        return {}

    @cached_property
    def _faulty_ways(self) -> dict[tuple[str, bool], routes.Nearest]:
        return {}

    @cached_property
    def _blames(self) -> dict[tuple[str, str], tuple[routes.Blame, ...]]:
        return {}

    def route(self, left: Port, right: Port) -> Route:
        """The digital way of a patch, or what keeps the nearest one from working."""
        if (left, right) not in self._routes:
            self._routes[left, right] = self._route(left, right)
        return self._routes[left, right]

    def _route(self, left: Port, right: Port) -> Route:
        ends = self.rig.body(left.box), self.rig.body(right.box)
        outward = self.rig.boxes[ends[0]].mixes and not self.rig.boxes[ends[1]].mixes
        root = ends[0 if outward else 1]
        if (root, outward) not in self._searches:
            self._searches[root, outward] = routes.search(self.digital, root, outward=outward)
        found = routes.route(self.digital, self._searches[root, outward], left, right)
        if found.works:
            return found
        if ends not in self._blames:
            self._blames[ends] = self._blame(root, ends[1 if outward else 0], outward)
        return Route(left, right, (), False, self._blames[ends])

    def _blame(self, root: str, box: str, outward: bool) -> tuple[routes.Blame, ...]:
        """What keeps the nearest way from working, in the direction of the signal."""
        if (root, outward) not in self._faulty_ways:
            self._faulty_ways[root, outward] = routes.faulty_ways(self.digital, root, outward=outward)
        found = routes.blame(self._faulty_ways[root, outward], box)
        return found[::-1] if outward else found

    # ---- patches

    @cached_property
    def pairs(self) -> tuple[Pair, ...]:
        """Every pair of every patch, with its route."""
        return tuple(
            pair
            for patch in self.rig.patches
            for pair in patched.pairs_of(self.rig, patch, self.inputs_of, self.outlets_of, self.route)
        )

    @cached_property
    def patch_routes(self) -> Mapping[Patch, tuple[tuple[Port | Leg, Port | Leg, Route | None], ...]]:
        """The pairs of each patch with their routes; None where an end is plugged into nothing."""
        found: dict[Patch, list[tuple[Port | Leg, Port | Leg, Route | None]]] = {}
        for pair in self.pairs:
            found.setdefault(pair.patch, []).append((pair.left, pair.right, pair.route))
        return {patch: tuple(pairs) for patch, pairs in found.items()}

    @cached_property
    def _pairs_by_left(self) -> Mapping[Port | Leg, tuple[Pair, ...]]:
        found: dict[Port | Leg, list[Pair]] = defaultdict(list)
        for pair in self.pairs:
            found[pair.left].append(pair)
        return {end: tuple(pairs) for end, pairs in found.items()}

    @cached_property
    def _pairs_by_right(self) -> Mapping[Port | Leg, tuple[Pair, ...]]:
        found: dict[Port | Leg, list[Pair]] = defaultdict(list)
        for pair in self.pairs:
            found[pair.right].append(pair)
            if isinstance(pair.right, Leg) and pair.route is not None:
                found[pair.route.right].append(pair)  # whoever else hangs on that socket gets it too
        return {end: tuple(pairs) for end, pairs in found.items()}

    def pairs_from(self, leg: Leg) -> tuple[Pair, ...]:
        """The patches that take a line of a source on, by its name or by any input that it comes to."""
        found = list(self._pairs_by_left.get(leg, ()))
        for port in self.inputs_of(leg):
            found += self._pairs_by_left.get(port, ())
        return tuple(found)

    def pairs_on(self, port: Port) -> tuple[Pair, ...]:
        """The patches that take on a signal which comes out of a socket, by any input that it comes to."""
        return tuple(pair for reached in self.walk_from(port).came for pair in self._pairs_by_left.get(reached, ()))

    def pairs_to(self, port: Port, leg: Leg) -> tuple[Pair, ...]:
        """The patches that feed a socket, by itself or by the name of the output that hangs on it."""
        by_name = [pair for pair in self._pairs_by_right.get(leg, ()) if pair.route is None]
        return (*self._pairs_by_right.get(port, ()), *by_name)

    def can_be_patched(self, port: Port) -> bool:
        """An input whose signal a patch may take on: of a box with digital ports or channels, or a processor."""
        whole = self.rig.whole(port.box)
        return any(box.model.of_role("digital", "channels") for box in whole) or whole[0].kind == "processor"

    def leads_nowhere(self, port: Port) -> bool:
        """An output that nothing inside its box is wired to, and that no patch can feed: its model lacks a pass."""
        if self.rig.group(port).role != "outputs" or self.can_be_patched(port):
            return False
        return bool(self.rig.boxes[port.box].model.of_role("inputs")) and not any(True for _ in self.wiring.back(port))

    @cached_property
    def _patched_to(self) -> frozenset[Port]:
        ends = (pair.right if pair.route is None else pair.route.right for pair in self.pairs)
        return frozenset(end for end in ends if isinstance(end, Port))

    def mixed_from(self, port: Port) -> tuple[Port, ...]:
        """A processor's output with no patch of its own takes all that is plugged into its inputs: these."""
        whole = self.rig.whole(port.box)
        if whole[0].kind != "processor" or self.rig.group(port).role != "outputs" or port in self._patched_to:
            return ()
        ports = (entry for box in whole for group in box.model.of_role("inputs") for entry in box.ports(group))
        return tuple(entry for entry in ports if entry in self.pieces or entry in self.plugs)

    def mixed_to(self, port: Port) -> tuple[Port, ...]:
        """The other way about: the outputs of a processor that take what comes in at an input."""
        whole = self.rig.whole(port.box)
        if whole[0].kind != "processor" or self.rig.group(port).role != "inputs":
            return ()
        outs = (out for box in whole for group in box.model.of_role("outputs") for out in box.ports(group))
        return tuple(out for out in outs if out not in self._patched_to)

    # ---- power over the data cable

    @cached_property
    def cable_powers(self) -> tuple[feeding.CablePower, ...]:
        """The boxes that need power over a data cable, and who could give it."""
        return tuple(feeding.cable_powers(self.rig, self.run_at))

    # ---- whole paths

    @cached_property
    def _paths(self) -> dict[str, tuple[Path, ...]]:
        return {}

    def paths_of(self, name: str) -> tuple[Path, ...]:
        """All paths of a source, output or loudspeaker box: one for each line and where it comes from or goes to."""
        if name not in self._paths:
            if name in self.rig.sources:
                legs = self.legs_of(name)
                self._paths[name] = tuple(path for leg in legs for path in trace.source_paths(self, leg))
            else:
                count = len(self.sockets_of(Leg(name, 0)))
                legs = tuple(Leg(name, index) for index in range(max(1, count)))
                self._paths[name] = tuple(path for leg in legs for path in trace.output_paths(self, leg))
        return self._paths[name]

    def legs_of(self, name: str) -> tuple[Leg, ...]:
        """The lines of a source; at least one."""
        return tuple(Leg(name, index) for index in range(max(1, len(self.rig.sources[name].ports))))

    def arrives(self, name: str) -> bool:
        """A source is heard: every line of it reaches a channel, an output or a recorder."""
        return all(self._is_heard(leg) for leg in self.legs_of(name))

    def _is_heard(self, leg: Leg) -> bool:
        """Most lines end in a channel, which needs no whole path to be seen."""
        if leg.index < len(self.rig.sources[leg.name].ports):
            ends = [port for port in self.walk_of(leg).came if self.rig.group(port).role == "channels"]
            ends += [pair.route.right for pair in self.pairs_from(leg) if pair.route and pair.route.works]
            if any(self.rig.group(end).role == "channels" and self.comes_back(end) for end in ends):
                return True
        return any(path.complete for path in trace.source_paths(self, leg))

    def sounds(self, name: str) -> bool:
        """An output or loudspeaker is fed: every line of it comes from a mix, a channel or a source."""
        by_leg: dict[Leg | None, bool] = {}
        for path in self.paths_of(name):
            by_leg[path.leg] = by_leg.get(path.leg, False) or path.complete
        return all(by_leg.values())

    @cached_property
    def _delays(self) -> latency.Delays:
        return latency.Delays(self)

    def delay_of(self, output: str) -> Delay | None:
        """The longest way from any source to an output, part by part; None where no source reaches it."""
        return self._delays.of(output)

    # ---- loads, gains, silence

    @cached_property
    def _passing(self) -> load.Passing:
        return load.passing(pair.route for pair in self.pairs if pair.route is not None)

    def load_of(self, run: Run) -> tuple[Load, ...]:
        """Channels over a run, each way; the way in at its left end first."""
        return load.loads(self.digital, run, self._passing)

    @cached_property
    def bridge_loads(self) -> tuple[load.BridgeLoad, ...]:
        """Channels through every bridge that has any, each way."""
        return load.bridge_loads(self.rig, (pair.route for pair in self.pairs if pair.route is not None))

    @cached_property
    def gains(self) -> tuple[Gain, ...]:
        """Who can set the remote preamps, group by group."""
        patched_on = (control.Patched(pair.route.left, pair.route) for pair in self.pairs if pair.route is not None)
        return control.find_gains(self.rig, self._commands, patched_on)

    @cached_property
    def _commands(self) -> control.Commands:
        return control.Commands(self.rig, self.digital)

    def can_set(self, desk: str, box: str) -> bool:
        """Whether commands of a desk get to the remote preamps of a box."""
        return self._commands.reaches(self.rig.body(desk), self.rig.body(box))

    def joined_boxes(self, box: str) -> frozenset[str]:
        """The boxes a box is joined to over digital or data runs, straight or through switches."""
        return control.joined_boxes(self.rig, self.digital, box)

    @cached_property
    def _silenced(self) -> Mapping[Run | Patch | str, tuple[str, ...]]:
        return {
            what: tuple(sorted({name for pair in pairs for name in self._names_at(pair)}, key=natural))
            for what, pairs in self.lost_pairs.items()
        }

    @cached_property
    def lost_pairs(self) -> Mapping[Run | Patch | str, tuple[Pair, ...]]:
        """The pairs that do not get through: by patch, by the runs to blame, by the subjects of the faults."""
        found: dict[Run | Patch | str, list[Pair]] = defaultdict(list)
        for pair in self.pairs:
            if pair.route is None or pair.route.works:
                continue
            blamed = {what: None for run, _, subject in pair.route.blame for what in (run, subject) if what is not None}
            for what in (pair.patch, *blamed):
                found[what].append(pair)
        return {what: tuple(pairs) for what, pairs in found.items()}

    def _names_at(self, pair: Pair) -> Iterable[str]:
        """The sources that a lost pair silences, and the outputs where it feeds those."""
        if isinstance(pair.left, Leg):
            yield pair.left.name
        else:
            yield from (leg.name for leg in self.sources_at(pair.left))
        if isinstance(pair.right, Leg):
            yield pair.right.name
        elif self.rig.group(pair.right).role == "outputs":
            for reached in self.walk_from(pair.right).came:
                yield from (leg.name for leg in self.plugs.get(reached, ()) if leg.name in self.rig.outputs)
                if self.is_loudspeaker_input(reached):
                    yield reached.box

    def silenced_by(self, what: Run | Patch | str) -> tuple[str, ...]:
        """Names of sources and outputs whose patches do not get through: by run, by patch, or by a fault's subject."""
        return self._silenced.get(what, ())

    # ---- what could not be read, and what hangs on it

    def unsure(self, name: str) -> bool:
        """A source or output whose way touches something that could not be read: nothing can be said of it."""
        unread = self.rig.incomplete
        if name in unread:
            return True
        if "patch" in self.rig.left_out and not self._is_patched(name):
            return True
        thing = self.rig.sources.get(name)
        if thing is not None:
            walks = [self.walk_from(port) for port in thing.ports]
        else:
            walks = [self.walk_back(port) for port in self.sockets_of(Leg(name, 0))]
        return any(port.box in unread for found in walks for port in found.came)

    def _is_patched(self, name: str) -> bool:
        if name in self.rig.sources:
            return any(self.pairs_from(leg) for leg in self.legs_of(name))
        sockets = [(port, Leg(name, i)) for i, port in enumerate(self.sockets_of(Leg(name, 0)))]
        return any(self.pairs_to(out, leg) for port, leg in sockets for out in self.walk_back(port).came)

    def unsure_between(self, left: str, right: str) -> bool:
        """Two boxes between which a cable or a box may stand that could not be read."""
        if not self.rig.incomplete:
            return False
        return left in self._beside_unread or right in self._beside_unread

    @cached_property
    def _beside_unread(self) -> frozenset[str]:
        """The boxes that hang together digitally with something that could not be read, or are it."""
        pairs = [((run.ends[0].box, ""), (run.ends[1].box, "")) for run in self.runs]
        pairs += [((box, ""), (self.rig.body(box), "")) for box in self.rig.boxes]
        together = ([box for box, _ in nodes] for nodes in parts(pairs))
        return frozenset(box for part in together if not self.rig.incomplete.isdisjoint(part) for box in part)

    # ---- tracing anything

    @cached_property
    def all_paths(self) -> tuple[Path, ...]:
        """Every path of every source, output and loudspeaker, in natural order of names; then what desks record."""
        names = dict.fromkeys(leg.name for leg in (*self.legs, *self.output_legs))
        return (*(path for name in names for path in self.paths_of(name)), *trace.sent_paths(self))

    def trace(self, what: str | Port) -> tuple[Path, ...]:
        """The paths of a source, output or loudspeaker; of anything else, all that go through it."""
        if isinstance(what, Port):
            return tuple(path for path in self.all_paths if _touches(path, what))
        if what in self.rig.sources or what in self.rig.outputs or what in self.speaker_inputs:
            return self.paths_of(what)
        if what in self.rig.links:
            return tuple(p for p in self.all_paths if any(hop.link and hop.link.name == what for hop in p.hops))
        return tuple(path for path in self.all_paths if any(port.box == what for port in _ports(path)))


def _ports(path: Path) -> list[Port]:
    ends = (end for hop in path.hops for end in (hop.left, hop.right))
    return [end for end in (*ends, path.start, path.end) if isinstance(end, Port)]


def _touches(path: Path, port: Port) -> bool:
    return port in _ports(path)
