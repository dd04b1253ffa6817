"""What stands where in a flow drawing: for each stand of a box its sockets, and what is said of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from rigdsl.draw.pairs import second_runs
from rigdsl.draw.segments import Segment, by_socket, find_segments
from rigdsl.draw.trunks import Trunks, find_trunks
from rigdsl.draw.wires import Stand, Wires, find_wires, stand_of
from rigdsl.draw.words import by_numbers, leg_title, short
from rigdsl.paths import Paths
from rigdsl.rig import Box, Group, Leg, Port, Rig

__all__ = ["Flow", "Line"]


@dataclass(frozen=True)
class Line:
    """One row to be: sockets that are alike (one, or a stretch of free ones), and the words for them."""

    ports: tuple[Port, ...]
    label: str
    info: str = ""
    quiet: bool = False

    @property
    def numbers(self) -> str:
        """Its sockets by number."""
        return by_numbers(self.ports)


@dataclass(frozen=True, eq=False)
class Flow:
    """Everything that a flow drawing of a rig is made from, looked up by socket.

    `apart` are sockets that have a row of their own whatever is said of them: another state has one for them.
    """

    paths: Paths
    apart: frozenset[Port] = frozenset()

    @property
    def rig(self) -> Rig:
        """The rig."""
        return self.paths.rig

    @cached_property
    def wires(self) -> Wires:
        """Analogue lines."""
        return find_wires(self.paths)

    @cached_property
    def trunks(self) -> Trunks:
        """Digital runs."""
        return find_trunks(self.paths)

    @cached_property
    def seconds(self) -> frozenset[str]:
        """Runs that are the second half of a redundant pair."""
        return second_runs(self.paths)

    @cached_property
    def segments(self) -> tuple[Segment, ...]:
        """Analogue lines, folded."""
        return find_segments(self.rig, self.wires)

    @cached_property
    def ends(self) -> tuple[Mapping[Port, Segment], Mapping[Port, Segment]]:
        """Which segment leaves each socket, and which arrives at it."""
        return by_socket(self.segments)

    @cached_property
    def stands(self) -> tuple[Stand, ...]:
        """Every stand that sound comes through, in natural order."""
        found = {stand for segment in self.segments for stand in (segment.left, segment.right)}
        found |= {stand for trunk in self.trunks.trunks for stand in (trunk.left, trunk.right)}
        found |= {self.stand(port) for port in self.paths.plugs}
        for pair in self.trunks.inside:
            found |= {self.stand(pair[0]), Stand(self.rig.body(pair[1].box), "out")}
        return tuple(sorted(found, key=lambda stand: (Port(stand.box, "", 0).key, stand.side)))

    def stand(self, port: Port) -> Stand:
        """Where a socket stands; one that nothing comes to stands with its role."""
        return stand_of(self.rig, port, self.wires.sides, "out" if self.rig.group(port).role == "outputs" else "in")

    @cached_property
    def digital_ports(self) -> Mapping[Stand, tuple[Port, ...]]:
        """The ends of runs at each stand."""
        found: dict[Stand, set[Port]] = {}
        for trunk in self.trunks.trunks:
            found.setdefault(trunk.left, set()).add(trunk.enters)
            found.setdefault(trunk.right, set()).add(trunk.leaves)
        return {stand: tuple(sorted(ports, key=self._catalogue_order)) for stand, ports in found.items()}

    def _catalogue_order(self, port: Port) -> tuple[int, int, int]:
        whole = [box.name for box in self.rig.whole(port.box)]
        groups = list(self.rig.boxes[port.box].model.groups)
        return whole.index(port.box), groups.index(port.group), port.number

    @cached_property
    def misjoined(self) -> frozenset[Port]:
        """Analogue sockets that a digital cable is plugged into."""
        ends = {port for ports in self.digital_ports.values() for port in ports}
        return frozenset(port for port in ends if self.rig.group(port).analogue)

    @cached_property
    def homes(self) -> Mapping[tuple[str, str], Stand]:
        """At which stand a group's free sockets are told: where most of its others are, else where its role belongs."""
        counts: dict[tuple[str, str], dict[Stand, int]] = {}
        for port in {*self.wires.sides, *self.paths.plugs}:
            stand = self.stand(port)
            at = counts.setdefault((port.box, port.group), {})
            at[stand] = at.get(stand, 0) + 1
        return {key: min(at, key=lambda stand: (-at[stand], stand)) for key, at in counts.items()}

    def home(self, box: str, group: Group) -> Stand | None:
        """Where the free sockets of a group are told, or None where that stand is not drawn."""
        body = self.rig.body(box)
        usual: Stand = Stand(body, "hub" if self.rig.boxes[body].mixes else "out" if group.role == "outputs" else "in")
        stand = self.homes.get((box, group.name), usual)
        return stand if stand in self.stands else None

    def ports_at(self, stand: Stand, box: Box, group: Group) -> tuple[Port, ...]:
        """The sockets of a group that stand here, used and free; `box` is the stand's, or a card in it."""
        home = self.home(box.name, group)
        ports = box.ports(group)
        return tuple(port for port in ports if (self.stand(port) if self.used(port) else home) == stand)

    def used(self, port: Port) -> bool:
        """Something is plugged in, or comes to it."""
        return port in self.wires.sides or port in self.paths.plugs

    # ---- what is said of a socket

    @cached_property
    def kept(self) -> Mapping[Port, str]:
        """What sockets are kept for."""
        return {port: keep.what for keep in self.rig.keeps for port in keep.ports}

    @cached_property
    def one_desk(self) -> bool:
        """With a single desk its name need not be said with every channel."""
        return sum(box.mixes for box in self.rig.boxes.values()) == 1

    def named(self, port: Port) -> str:
        """A channel, mix or socket, with its box where that is not plain."""
        return short(port) if self.one_desk and self.rig.boxes[port.box].mixes else f"{port.box} {short(port)}"

    def sources_text(self, port: Port) -> str:
        """What comes to a socket."""
        return ", ".join(leg_title(self.rig, leg) for leg in self.paths.sources_at(port))

    def goes_to(self, port: Port) -> str:
        """What an input feeds: channels by patches, or by what is wired inside the desk."""
        ends = dict.fromkeys(self.trunks.feeds.get(port, ()))
        if self.rig.boxes[self.rig.body(port.box)].mixes:
            ends |= dict.fromkeys(other for other, _ in self.paths.wiring.onward(port))
        return ", ".join(self.named(end) for end in ends)

    def comes_from(self, port: Port) -> str:
        """What feeds an output: mixes by patches, or by what is wired inside the desk."""
        ends = dict.fromkeys(self.trunks.fed.get(port, ()))
        if self.rig.boxes[port.box].mixes:
            ends |= dict.fromkeys(other for other, _ in self.paths.wiring.back(port))
        return ", ".join(self.named(end) for end in ends)

    def _returned(self, port: Port) -> str:
        """What comes to an input from the desk, over the outputs behind it."""
        behind = (back for back in self.paths.walk_back(port).came if self.rig.group(back).role == "outputs")
        return next(filter(None, map(self.comes_from, behind)), "")

    def phantom_text(self, port: Port) -> str:
        """`48 V` at a preamp that a source needs it from."""
        phantom = self.rig.group(port).phantom
        return f"{phantom.voltage_v:g} V" if phantom and port in self.paths.phantom_on else ""

    def input_lines(self, ports: tuple[Port, ...]) -> list[Line]:
        """Inputs as rows; neighbours that say the same about nothing are one."""
        return self._folded(ports, self._input_line)

    def output_lines(self, ports: tuple[Port, ...]) -> list[Line]:
        """Outputs as rows."""
        return self._folded(ports, self._output_line)

    def _input_line(self, port: Port) -> Line:
        sources = self.sources_text(port) or self._returned(port)
        to = self.goes_to(port)
        if sources or (to and port in self.trunks.feeds):
            info = " ".join(filter(None, [self.phantom_text(port), f"→ {to}" if to else ""]))
            return Line((port,), sources or "nothing plugged in", info, quiet=not sources)
        return Line((port,), self._idle(port, self.ends[1].get(port)), quiet=True)

    def _output_line(self, port: Port) -> Line:
        fed = self.comes_from(port) or self.sources_text(port)
        if fed:
            return Line((port,), fed)
        plugged = any(leg in self.rig.outputs for leg, _ in self.paths.plugs.get(port, ()))
        return Line((port,), "nothing patched" if plugged else self._idle(port, self.ends[0].get(port)), quiet=True)

    def _idle(self, port: Port, segment: Segment | None) -> str:
        if port in self.kept:
            return f"kept for {self.kept[port]}"
        if port in self.misjoined:
            return "digital cable"
        return "spare line" if segment is not None else "free"

    def _folded(self, ports: tuple[Port, ...], line_of: Callable[[Port], Line]) -> list[Line]:
        lines = [line_of(port) for port in ports]
        made: list[Line] = []
        for key, alike in groupby(lines, key=self._fold_key):
            some = list(alike)
            if key is None:
                made += some
            else:
                made.append(Line(tuple(port for line in some for port in line.ports), some[0].label, quiet=True))
        return made

    def _fold_key(self, line: Line) -> object:
        """Lines with one key are told in one row; a socket that something is said of has a row of its own (None)."""
        port = line.ports[0]
        if not line.quiet or line.label in ("nothing plugged in", "nothing patched") or self.plugged(port):
            return None
        if port in self.misjoined or port in self.apart:
            return None
        onward = tuple(self.ends[0].get(other) for other, _ in self.paths.wiring.onward(port))
        return line.label, self.ends[0].get(port), self.ends[1].get(port), onward

    @cached_property
    def alone(self) -> frozenset[Port]:
        """The sockets that have a row of their own."""
        lines = [
            line
            for box in self.rig.boxes.values()
            for role, line_of in (("inputs", self._input_line), ("outputs", self._output_line))
            for group in box.model.of_role(role)
            for line in map(line_of, box.ports(group))
        ]
        return frozenset(line.ports[0] for line in lines if self._fold_key(line) is None)

    def plugged(self, port: Port) -> tuple[Leg, ...]:
        """Lines of sources and outputs in a socket."""
        return self.paths.plugs.get(port, ())
