"""Sound on wire: what hangs on each socket, and where a plug's signal goes before anything digital happens."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from rigdsl.paths import control, levels, phantom, walk
from rigdsl.paths.inserts import insert_hops
from rigdsl.paths.model import Hop, Piece
from rigdsl.paths.walk import Walk
from rigdsl.paths.wiring import Fed, Wiring
from rigdsl.rig import Insert, Leg, Port, Rig, natural

__all__ = ["Wires"]


@dataclass(frozen=True, eq=False)
class Wires:
    """The questions about wire. Every answer is worked out when it is first asked for."""

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

    def inserts_at(self, port: Port) -> tuple[Insert, ...]:
        """The outboard in a channel or mix, one after the other."""
        return self.wiring.inserts.get(port, ())

    def inserts_through(self, port: Port) -> tuple[Insert, ...]:
        """The inserts that are plugged into a socket of the outboard, on their way there or back."""
        return self.wiring.inserted.get(port, ())

    def comes_back(self, port: Port) -> bool:
        """Whether what is in a channel or mix comes back from all its outboard; where nothing is inserted, it does."""
        return all(
            self.wiring.stands(insert.send.box) and self.wiring.stands(insert.back.box)
            for insert in self.inserts_at(port)
        )

    def insert_hops(self, port: Port) -> tuple[Hop, ...]:
        """The way of what is in a channel or mix through its outboard and back; none where nothing is inserted."""
        return insert_hops(self.wiring, self.inserts_at(port))

    # ---- sound on wire

    @cached_property
    def _walks(self) -> dict[Port, Walk]:
        return {}

    @cached_property
    def _walks_back(self) -> dict[Port, Walk]:
        return {}

    @cached_property
    def _copper(self) -> dict[Leg, tuple[Hop, ...]]:
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
            if not ports:
                continue  # fed by a network alone: its own outputs are what is patched
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
        """The outputs, mixes and channels behind a line of an output, nearest first: where a patch may feed it.

        A loudspeaker with digital ports may be fed by those itself.
        """
        starts = self.sockets_of(leg)
        if leg.index >= len(starts):
            return ()
        roles = ("outputs", "mixes", "channels")
        behind = tuple(p for p in self.walk_back(starts[leg.index]).came if self.rig.group(p).role in roles)
        networked = leg.name in self.speaker_inputs and self.rig.boxes[leg.name].model.of_role("digital")
        return (*behind, starts[leg.index]) if networked else behind

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

    @cached_property
    def signals(self) -> Mapping[Port, tuple[levels.Signal, ...]]:
        """What comes to each input that takes sound in, on wire: at what level, and from where."""
        return levels.find_signals(self.wiring)

    def copper_run(self, leg: Leg) -> tuple[Hop, ...]:
        """The wire that a line of a source drives, up to the first active or isolated pass or the input."""
        if leg not in self._copper:
            self._copper[leg] = walk.copper(self.wiring, self.rig.sources[leg.name], leg.index)
        return self._copper[leg]

    # ---- phantom power

    @cached_property
    def _feeds(self) -> dict[Port, tuple[phantom.Feed, ...]]:
        return {}

    @cached_property
    def _reaches(self) -> dict[Port, phantom.Reach]:
        return {}

    def feeds_at(self, port: Port) -> tuple[phantom.Feed, ...]:
        """The preamps with phantom that a signal comes to from a socket, and what keeps the phantom of some from it."""
        if port not in self._feeds:
            self._feeds[port] = phantom.feeds(self.wiring, self.walk_from(port), port)
        return self._feeds[port]

    def fed_by(self, leg: Leg) -> tuple[phantom.Feed, ...]:
        """The same for a line of a source; none, where it is plugged into nothing."""
        ports = self.rig.sources[leg.name].ports
        return self.feeds_at(ports[leg.index]) if leg.index < len(ports) else ()

    def phantom_reach(self, preamp: Port) -> phantom.Reach:
        """Where the phantom of an input comes to: sockets, and the sources that are plugged into them."""
        if preamp not in self._reaches:
            self._reaches[preamp] = phantom.reach(self.wiring, preamp)
        return self._reaches[preamp]

    def direct_legs(self, port: Port) -> tuple[Port, ...]:
        """The sockets on the far side of a box that hang on one of it by wire alone."""
        return tuple(other for other, one in self.wiring.onward(port) if one.passive)

    @cached_property
    def in_need(self) -> Mapping[str, tuple[Leg, ...]]:
        """The sources that must get phantom from an input, with their plugged lines, in the order of the files."""
        return phantom.in_need(self.rig)

    @cached_property
    def owners(self) -> Mapping[Port, tuple[str, ...]]:
        """Whom `control` lines name as the owner of a preamp."""
        return control.named_owners(self.rig)

    def given_by(self, leg: Leg) -> tuple[Port, ...]:
        """The preamps that will be on for a line in need; of several that reach it, those whose owner is named."""
        return phantom.chosen(self.rig, self.owners, self.fed_by(leg))

    @cached_property
    def phantom_on(self) -> Mapping[Port, phantom.Live]:
        """The preamps whose phantom is on, for a source in need or for one in the same bank."""
        return phantom.live(self.rig, ((leg, self.given_by(leg)) for legs in self.in_need.values() for leg in legs))
