"""What hangs on each socket: plugs, cables, passes and patches, looked up by socket."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from rigdsl.paths.model import Piece
from rigdsl.rig import Insert, Leg, Model, Pass, Patch, Port, Rig

__all__ = ["Fed", "Wiring", "through"]

Fed = tuple[Patch, Port | Leg]


@dataclass(frozen=True, eq=False)
class Wiring:
    """The rig by socket. All mappings leave out what nothing hangs on."""

    rig: Rig

    @cached_property
    def plugs(self) -> Mapping[Port, tuple[Leg, ...]]:
        """Lines of sources and outputs, by the socket they are plugged into."""
        found: dict[Port, list[Leg]] = defaultdict(list)
        for things in (self.rig.sources, self.rig.outputs):
            for thing in things.values():
                for index, port in enumerate(thing.ports):
                    found[port].append(Leg(thing.name, index))
        return {port: tuple(legs) for port, legs in found.items()}

    @cached_property
    def pieces(self) -> Mapping[Port, tuple[Piece, ...]]:
        """Cables by socket; each begins there."""
        found: dict[Port, list[Piece]] = defaultdict(list)
        for link in sorted(self.rig.links.values(), key=lambda link: link.key):
            for left, right in link.joins:
                found[left].append(Piece(link, left, right))
                found[right].append(Piece(link, right, left))
        return {port: tuple(pieces) for port, pieces in found.items()}

    @cached_property
    def inserts(self) -> Mapping[Port, tuple[Insert, ...]]:
        """Inserts by the channel or mix that they are in, in the order of the files."""
        found: dict[Port, list[Insert]] = defaultdict(list)
        for insert in self.rig.inserts:
            found[insert.at].append(insert)
        return {port: tuple(inserts) for port, inserts in found.items()}

    @cached_property
    def inserted(self) -> Mapping[Port, tuple[Insert, ...]]:
        """Inserts by the sockets of the outboard that they are plugged into."""
        found: dict[Port, list[Insert]] = defaultdict(list)
        for insert in self.rig.inserts:
            found[insert.send].append(insert)
            found[insert.back].append(insert)
        return {port: tuple(inserts) for port, inserts in found.items()}

    @cached_property
    def feeds(self) -> Mapping[Port | Leg, tuple[Fed, ...]]:
        """What an end feeds by a patch."""
        found: dict[Port | Leg, list[Fed]] = defaultdict(list)
        for patch in self.rig.patches:
            for left, right in patch.pairs:
                found[left].append((patch, right))
        return {end: tuple(fed) for end, fed in found.items()}

    @cached_property
    def fed(self) -> Mapping[Port | Leg, tuple[Fed, ...]]:
        """What feeds an end by a patch."""
        found: dict[Port | Leg, list[Fed]] = defaultdict(list)
        for patch in self.rig.patches:
            for left, right in patch.pairs:
                found[right].append((patch, left))
        return {end: tuple(feeding) for end, feeding in found.items()}

    def stands(self, box: str) -> bool:
        """Whether a box is there."""
        return box in self.rig.boxes

    def onward(self, port: Port) -> Iterator[tuple[Port, Pass]]:
        """Where a pass takes the signal that arrives at a socket."""
        model = self.rig.boxes[port.box].model
        for one in model.passes:
            if one.left == port.group:
                yield from through(model, one, port, one.left_first, one.right, one.right_first)
            if one.two_way and one.right == port.group:
                yield from through(model, one, port, one.right_first, one.left, one.left_first)

    def back(self, port: Port) -> Iterator[tuple[Port, Pass]]:
        """The sockets whose signal a pass brings to this one."""
        model = self.rig.boxes[port.box].model
        for one in model.passes:
            if one.right == port.group:
                yield from through(model, one, port, one.right_first, one.left, one.left_first)
            if one.two_way and one.left == port.group:
                yield from through(model, one, port, one.left_first, one.right, one.right_first)

    def takes(self, port: Port) -> bool:
        """A socket that a signal can enter by: an input, or either side of a two-way pass."""
        group = self.rig.group(port)
        return group.role == "inputs" or any(
            one.two_way and port.group in (one.left, one.right) for one in self.rig.boxes[port.box].model.passes
        )

    def gives(self, port: Port) -> bool:
        """A socket that a signal can leave by: an output, or either side of a two-way pass."""
        group = self.rig.group(port)
        return group.role == "outputs" or any(
            one.two_way and port.group in (one.left, one.right) for one in self.rig.boxes[port.box].model.passes
        )


def through(model: Model, one: Pass, port: Port, first: int, group: str, to_first: int) -> Iterator[tuple[Port, Pass]]:
    """The socket on the other side of a pass, where the pass covers this one."""
    offset = (port.number or 1) - first
    if 0 <= offset < one.count:
        number = to_first + offset
        yield Port(port.box, group, number if model.groups[group].count > 1 else 0), one
