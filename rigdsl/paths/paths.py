"""`Paths(rig)`: every question about where sound goes, answered once. Nobody else walks cables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from rigdsl.paths import chains as chain
from rigdsl.paths import clock, control, load, patched, routes, runs, trace, walk
from rigdsl.paths.model import Chain, Gain, Hop, Island, Load, Network, Path, Piece, Route, Run
from rigdsl.paths.patched import Pair
from rigdsl.paths.walk import Walk
from rigdsl.paths.wiring import Fed, Wiring
from rigdsl.rig import Leg, Patch, Port, Rig, natural

__all__ = ["Paths"]


@dataclass(frozen=True, eq=False)
class Paths:
    """What follows from a rig's cables and patches. Every answer is worked out when it is first asked for."""

    rig: Rig

    # ---- what hangs where

    @cached_property
    def wiring(self) -> Wiring:
        """Plugs, cables, passes and patches by socket."""
        return Wiring(self.rig)

    @property
    def plugs(self) -> Mapping[Port, tuple[Leg, ...]]:
        """Lines of sources and outputs, by the socket they are plugged into."""
        return self.wiring.plugs

    @property
    def pieces(self) -> Mapping[Port, tuple[Piece, ...]]:
        """Cables by socket, each beginning there."""
        return self.wiring.pieces

    @property
    def feeds(self) -> Mapping[Port | Leg, tuple[Fed, ...]]:
        """What an end feeds by a patch."""
        return self.wiring.feeds

    @property
    def fed(self) -> Mapping[Port | Leg, tuple[Fed, ...]]:
        """What feeds an end by a patch."""
        return self.wiring.fed

    # ---- sound on wire

    @cached_property
    def _walks(self) -> dict[Port, Walk]:
        return {}

    @cached_property
    def _walks_back(self) -> dict[Port, Walk]:
        return {}

    def walk_from(self, port: Port) -> Walk:
        """All sockets that a signal entering at one comes to."""
        if port not in self._walks:
            self._walks[port] = walk.forward(self.wiring, port)
        return self._walks[port]

    def walk_back(self, port: Port) -> Walk:
        """All sockets whose signal leaves at one."""
        if port not in self._walks_back:
            self._walks_back[port] = walk.backward(self.wiring, port)
        return self._walks_back[port]

    def walk_of(self, leg: Leg) -> Walk:
        """All sockets that a line of a source comes to; it must be plugged."""
        return self.walk_from(self.rig.sources[leg.name].ports[leg.index])

    def sockets_of(self, leg: Leg) -> tuple[Port, ...]:
        """The sockets of an output's lines; of a loudspeaker box, its inputs."""
        if leg.name in self.rig.outputs:
            return self.rig.outputs[leg.name].ports
        return self.speaker_inputs.get(leg.name, ())

    @cached_property
    def speaker_inputs(self) -> Mapping[str, tuple[Port, ...]]:
        """Loudspeaker boxes and the inputs that are plugged (the first, where none is)."""
        found = {}
        for box in self.rig.boxes.values():
            if box.kind != "loudspeaker":
                continue
            ports = [port for group in box.model.of_role("inputs") for port in box.ports(group)]
            found[box.name] = tuple(port for port in ports if port in self.pieces) or tuple(ports[:1])
        return found

    def is_loudspeaker_input(self, port: Port) -> bool:
        """An input of a loudspeaker box: sound comes out there."""
        return self.rig.boxes[port.box].kind == "loudspeaker" and self.rig.group(port).role == "inputs"

    def inputs_of(self, leg: Leg) -> tuple[Port, ...]:
        """The inputs that a line of a source comes to, nearest first: its plug, and those behind passes and cables."""
        if leg.index >= len(self.rig.sources[leg.name].ports):
            return ()
        return tuple(port for port in self.walk_of(leg).came if self.rig.group(port).role == "inputs")

    def outlets_of(self, leg: Leg) -> tuple[Port, ...]:
        """The outputs, mixes and channels behind a line of an output, nearest first: where a patch may feed it."""
        starts = self.sockets_of(leg)
        if leg.index >= len(starts):
            return ()
        roles = ("outputs", "mixes", "channels")
        return tuple(p for p in self.walk_back(starts[leg.index]).came if self.rig.group(p).role in roles)

    @cached_property
    def legs(self) -> tuple[Leg, ...]:
        """Every line of every source, a source that is plugged into nothing with one, in natural order."""
        ordered = sorted(self.rig.sources.values(), key=lambda source: natural(source.name))
        return tuple(Leg(source.name, i) for source in ordered for i in range(max(1, len(source.ports))))

    @cached_property
    def output_legs(self) -> tuple[Leg, ...]:
        """Every line of every output and loudspeaker box, in natural order."""
        lines = {name: len(output.ports) for name, output in self.rig.outputs.items()}
        lines |= {name: len(ports) for name, ports in self.speaker_inputs.items()}
        return tuple(Leg(name, i) for name in sorted(lines, key=natural) for i in range(max(1, lines[name])))

    @cached_property
    def _sources_at(self) -> Mapping[Port, tuple[Leg, ...]]:
        found: dict[Port, list[Leg]] = defaultdict(list)
        for leg in self.legs:
            if leg.index < len(self.rig.sources[leg.name].ports):
                for port in self.walk_of(leg).came:
                    found[port].append(leg)
        return {port: tuple(legs) for port, legs in found.items()}

    def sources_at(self, port: Port) -> tuple[Leg, ...]:
        """The lines of sources that come to a socket on wire, before any patch."""
        return self._sources_at.get(port, ())

    def copper_run(self, leg: Leg) -> tuple[Hop, ...]:
        """The wire that a line of a source drives, up to the first active or isolated pass or the input."""
        return walk.copper(self.wiring, self.rig.sources[leg.name], leg.index)

    # ---- the digital graph

    @cached_property
    def _judged(self) -> tuple[tuple[Run, ...], tuple[Island, ...], tuple[Network, ...]]:
        found = runs.find_runs(self.wiring)
        islands = clock.find_islands(self.rig, found)
        networks = clock.find_networks(self.rig, found, islands)
        leaders = {box: island.leader for island in islands for box in island.boxes}
        led = [(frozenset(net.switches), self._leader_in(net, found, leaders)) for net in networks]
        return runs.with_network_rates(self.rig, found, led), islands, networks

    def _leader_in(self, network: Network, found: tuple[Run, ...], leaders: Mapping[str, str]) -> str:
        """The clock leader of a network, where it is plugged straight into it."""
        inside = set(network.switches)
        for run in found:
            for here, far in (run.ends, run.ends[::-1]):
                if here.box in inside and leaders.get(far.box) == far.box and not run.data:
                    return far.box
        return ""

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
    def _blames(self) -> dict[tuple[str, str], tuple[routes.Blame, ...]]:
        return {}

    def route(self, left: Port, right: Port) -> Route:
        """The digital way of a patch, or what keeps the nearest one from working."""
        if (left, right) not in self._routes:
            self._routes[left, right] = self._route(left, right)
        return self._routes[left, right]

    def _route(self, left: Port, right: Port) -> Route:
        outward = self.rig.boxes[left.box].mixes and not self.rig.boxes[right.box].mixes
        root = left.box if outward else right.box
        if (root, outward) not in self._searches:
            self._searches[root, outward] = routes.search(self.digital, root, outward=outward)
        found = routes.route(self.digital, self._searches[root, outward], left, right)
        if found.works:
            return found
        ends = (left.box, right.box)
        if ends not in self._blames:
            self._blames[ends] = routes.blame(self.digital, *ends)
        return Route(left, right, (), False, self._blames[ends])

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
        return {end: tuple(pairs) for end, pairs in found.items()}

    def pairs_from(self, leg: Leg) -> tuple[Pair, ...]:
        """The patches that take a line of a source on, by its name or by any input that it comes to."""
        found = list(self._pairs_by_left.get(leg, ()))
        for port in self.inputs_of(leg):
            found += self._pairs_by_left.get(port, ())
        return tuple(found)

    def pairs_to(self, port: Port, leg: Leg) -> tuple[Pair, ...]:
        """The patches that feed a socket, by itself or by the name of the output that hangs on it."""
        by_name = [pair for pair in self._pairs_by_right.get(leg, ()) if pair.route is None or pair.route.right == port]
        return (*self._pairs_by_right.get(port, ()), *by_name)

    def can_be_patched(self, port: Port) -> bool:
        """An input whose signal a patch may take on: of a box with digital ports or channels, or a processor."""
        model = self.rig.boxes[port.box].model
        return bool(model.of_role("digital", "channels")) or self.rig.boxes[port.box].kind == "processor"

    def live_inputs(self, box: str) -> tuple[Port, ...]:
        """The inputs of a box that a cable is plugged into."""
        boxed = self.rig.boxes[box]
        ports = (port for group in boxed.model.of_role("inputs") for port in boxed.ports(group))
        return tuple(port for port in ports if port in self.pieces)

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
        return all(any(path.complete for path in trace.source_paths(self, leg)) for leg in self.legs_of(name))

    def sounds(self, name: str) -> bool:
        """An output or loudspeaker is fed: every line of it comes from a mix, a channel or a source."""
        by_leg: dict[Leg | None, bool] = {}
        for path in self.paths_of(name):
            by_leg[path.leg] = by_leg.get(path.leg, False) or path.complete
        return all(by_leg.values())

    # ---- loads, gains, silence

    @cached_property
    def _passing(self) -> load.Passing:
        return load.passing(pair.route for pair in self.pairs if pair.route is not None)

    def load_of(self, run: Run) -> tuple[Load, ...]:
        """Channels over a run, each way; the way in at its left end first."""
        return load.loads(self.rig, run, self.run_at, self.chained, self._passing)

    @cached_property
    def bridge_loads(self) -> tuple[load.BridgeLoad, ...]:
        """Channels through every bridge that has any, each way."""
        return load.bridge_loads(self.rig, (pair.route for pair in self.pairs if pair.route is not None))

    @cached_property
    def gains(self) -> tuple[Gain, ...]:
        """Who can set the remote preamps, group by group."""
        patched_on = (control.Patched(pair.route.left, pair.route) for pair in self.pairs if pair.route is not None)
        return control.find_gains(self.rig, self.digital, patched_on)

    def joined_boxes(self, box: str) -> frozenset[str]:
        """The boxes a box is joined to over digital or data runs, straight or through switches."""
        return control.joined_boxes(self.rig, self.digital, box)

    @cached_property
    def _silenced(self) -> Mapping[Run | Patch | str, tuple[str, ...]]:
        found: dict[Run | Patch | str, dict[str, None]] = defaultdict(dict)
        for pair in self.pairs:
            if pair.route is None or pair.route.works:
                continue
            names = dict.fromkeys(self._names_at(pair))
            found[pair.patch] |= names
            for run, _, subject in pair.route.blame:
                found[subject] |= names
                if run is not None:
                    found[run] |= names
        return {key: tuple(sorted(names, key=natural)) for key, names in found.items()}

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

    # ---- tracing anything

    @cached_property
    def all_paths(self) -> tuple[Path, ...]:
        """Every path of every source, output and loudspeaker, in natural order of their names."""
        names = dict.fromkeys(leg.name for leg in (*self.legs, *self.output_legs))
        return tuple(path for name in names for path in self.paths_of(name))

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
