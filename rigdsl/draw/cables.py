"""What a cabling drawing shows: every box with its sockets by cable, every cable once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

from rigdsl.draw.pairs import second_runs
from rigdsl.draw.patterns import AIR, CONTROL, DIGITAL, LINE, LOOM, SPARE, SPEAKER, Pattern
from rigdsl.draw.segments import slug
from rigdsl.draw.stage import Grid, grid
from rigdsl.draw.words import cable_text, in_order, length_text
from rigdsl.paths import Paths, Run
from rigdsl.rig import Leg, Link, Output, Port, Rig, Source, natural, ports_text
from rigdsl.rig.units import shown

__all__ = ["Cable", "Cabling", "Plug", "Stub"]


What = Literal["sources", "outputs"]


class Stub(NamedTuple):
    """Sources (or outputs) of one zone that are plugged into one group of a box, by cables of one kind."""

    what: What
    zone: str
    box: str
    group: str
    cable: str

    @property
    def id(self) -> str:
        """Its name in a drawing."""
        return slug(*self)


@dataclass(frozen=True)
class Plug:
    """One end of a cable: the sockets of a box that it takes, together one row."""

    box: str
    ports: tuple[Port, ...]


@dataclass(frozen=True)
class Cable:
    """One line on the sheet. `links` are several where they are pulled in one loom between the same two boxes.

    `joins` are the sockets that it joins, each pair with the left end's first.
    """

    name: str
    links: tuple[Link, ...]
    left: Plug
    right: Plug
    pattern: Pattern
    ids: str
    label: str
    joins: tuple[tuple[str, str], ...]


@dataclass(frozen=True, eq=False)
class Cabling:
    """The facts of a cabling drawing, looked up by box.

    `apart` names what is in no bunch: cables that have a line of their own although they are pulled in a loom, sources
    and outputs that have a row of their own.
    """

    paths: Paths
    apart: frozenset[str] = frozenset()

    @property
    def rig(self) -> Rig:
        """The rig."""
        return self.paths.rig

    @cached_property
    def grid(self) -> Grid:
        """The zones that anything stands in."""
        return grid(self.rig, {box.zone for box in self.rig.boxes.values()} | {stub.zone for stub in self.stubs})

    # ---- plugs of sources and outputs

    @cached_property
    def stubs(self) -> Mapping[Stub, tuple[Leg, ...]]:
        """Sources and outputs that a cable is needed for, in bunches; what is plugged into nothing has no box."""
        found: dict[Stub, list[Leg]] = {}
        things: list[Source | Output] = [*self.rig.sources.values(), *self.rig.outputs.values()]
        for thing in things:
            what: What = "sources" if isinstance(thing, Source) else "outputs"
            if not thing.ports:
                found.setdefault(Stub(what, thing.zone, thing.aimed, "", ""), []).append(Leg(thing.name, 0))
            for index, port in enumerate(thing.ports):
                group = self.rig.group(port)
                cable = thing.lead.cable.name if thing.lead else ""
                if not group.wireless and not group.soft:
                    stub = Stub(what, thing.zone, port.box, port.group, cable)
                    found.setdefault(stub, []).append(Leg(thing.name, index))
        return {
            stub: tuple(sorted(found[stub], key=lambda leg: (self._number(leg), natural(leg.name), leg.index)))
            for stub in sorted(found, key=lambda stub: tuple(natural(part) for part in stub))
        }

    def _number(self, leg: Leg) -> int:
        ports = self.rig.thing(leg).ports
        return ports[leg.index].number if leg.index < len(ports) else 0

    def stub_ports(self, stub: Stub) -> tuple[Port, ...]:
        """The sockets that a bunch is plugged into, in their order."""
        legs = self.stubs[stub]
        ports = (self.rig.thing(leg).ports[leg.index] for leg in legs if self.rig.thing(leg).ports)
        return tuple(dict.fromkeys(ports))

    def stub_label(self, stub: Stub) -> str:
        """How many cables of what kind, and how long: `9 x xlr 3 to 6 m`."""
        leads = [self.rig.thing(leg).lead for leg in self.stubs[stub]]
        lengths = [lead.length_m for lead in leads if lead is not None]
        known = sorted({length for length in lengths if length is not None})
        if not known:
            span = length_text(None)
        else:
            span = f"{shown(known[0])} m" if len(known) == 1 else f"{shown(known[0])} to {shown(known[-1])} m"
        count = f"{len(leads)} x " if len(leads) > 1 else ""
        return f"{count}{stub.cable} {span}" if stub.cable else f"{len(leads)} cables" if len(leads) > 1 else "cable"

    # ---- links

    @cached_property
    def cables(self) -> tuple[Cable, ...]:
        """Every link, once for each two boxes that it joins; links of one loom between two boxes are one."""
        bunches: dict[tuple[object, ...], list[tuple[Link, Port, Port]]] = {}
        for link in sorted(self.rig.links.values(), key=lambda link: link.key):
            for left, right in link.joins:
                pair = sorted((left.box, right.box), key=natural)
                alone = link.redundant or not link.loom or link.name in self.apart
                bunches.setdefault((link.name if alone else f"loom {link.loom}", *pair), []).append((link, left, right))
        return tuple(self._cable(joins) for joins in bunches.values())

    def _cable(self, joins: list[tuple[Link, Port, Port]]) -> Cable:
        links = tuple(dict.fromkeys(link for link, _, _ in joins))
        first = joins[0][1].box
        left = [one if one.box == first else other for _, one, other in joins]
        right = [other if one.box == first else one for _, one, other in joins]
        name = "+".join(link.name for link in links)
        return Cable(
            name,
            links,
            Plug(first, tuple(dict.fromkeys(left))),
            Plug(right[0].box, tuple(dict.fromkeys(right))),
            self._pattern(links),
            ", ".join(link.id for link in links if link.id),
            self._label(links),
            tuple((str(one), str(other)) for one, other in zip(left, right, strict=True)),
        )

    def _label(self, links: tuple[Link, ...]) -> str:
        if len(links) == 1:
            return cable_text(links[0])
        kinds = dict.fromkeys(cable_text(link).removesuffix(f", loom {link.loom}") for link in links)
        return f"{' and '.join(kinds)}, loom {links[0].loom}"

    def _pattern(self, links: tuple[Link, ...]) -> Pattern:
        link = links[0]
        left, right = link.joins[0]
        groups = (self.rig.group(left), self.rig.group(right))
        if any(group.wireless for group in groups):
            return AIR
        runs = self.runs_of.get(link.name, ())
        if any(group.role == "data" for group in groups) or (runs and all(run.data for run in runs)):
            return CONTROL
        if any(group.role == "digital" for group in groups):
            return SPARE if runs and all(run.name in self._seconds for run in runs) else DIGITAL
        if (link.lead and link.lead.cable.medium == "loudspeaker") or any("loudspeaker" in g.levels for g in groups):
            return SPEAKER
        many = len(links) > 1 or len(link.joins) > 1
        return LOOM if many else LINE

    @cached_property
    def runs_of(self) -> Mapping[str, tuple[Run, ...]]:
        """The digital and data runs that each link is part of."""
        found: dict[str, list[Run]] = {}
        for run in self.paths.runs:
            for link in run.links:
                found.setdefault(link.name, []).append(run)
        return {name: tuple(runs) for name, runs in found.items()}

    @cached_property
    def _seconds(self) -> frozenset[str]:
        return second_runs(self.paths)

    # ---- by box

    @cached_property
    def plugs_at(self) -> Mapping[str, tuple[tuple[Plug, str], ...]]:
        """For each box its ends of cables, and the name of each cable (or the bunch's).

        A row is known by its first socket and its cable: where one link has been joined to a socket twice,
        both lines end in one row.
        """
        rows: dict[tuple[Port, str], list[Port]] = {}
        for cable in self.cables:
            for plug in (cable.left, cable.right):
                rows.setdefault((plug.ports[0], cable.name), []).extend(plug.ports)
        for stub in self.stubs:
            ports = self.stub_ports(stub)
            if ports:
                rows[ports[0], stub.id] = list(ports)
        found: dict[str, list[tuple[Plug, str]]] = {}
        for (first, name), taken in rows.items():
            found.setdefault(first.box, []).append((Plug(first.box, tuple(dict.fromkeys(taken))), name))
        return {box: tuple(sorted(plugs, key=lambda one: self._order(one[0]))) for box, plugs in found.items()}

    @cached_property
    def far_ends(self) -> Mapping[tuple[Port, str], Plug]:
        """The other end of each cable, by the first socket of this end and the cable's name."""
        found: dict[tuple[Port, str], Plug] = {}
        for cable in self.cables:
            found.setdefault((cable.left.ports[0], cable.name), cable.right)
            found.setdefault((cable.right.ports[0], cable.name), cable.left)
        return found

    def _order(self, plug: Plug) -> tuple[object, ...]:
        groups = list(self.rig.boxes[plug.box].model.groups)
        port = plug.ports[0]
        return groups.index(port.group), port.number

    def free(self, box: str) -> Iterator[tuple[Port, ...]]:
        """The sockets of each group that nothing is plugged into."""
        taken = {port for plug, _ in self.plugs_at.get(box, ()) for port in plug.ports}
        for group in self.rig.boxes[box].model.groups.values():
            if group.pluggable and not group.wireless:
                ports = tuple(port for port in self.rig.boxes[box].ports(group) if port not in taken)
                if ports:
                    yield ports

    @cached_property
    def run_ends(self) -> Mapping[Port, Run]:
        """Where the added-up length of a run of several cables stands: at the desk's end, else at its second end."""
        found = {}
        for run in self.paths.runs:
            if len(run.links) > 1:
                mixing = [port for port in run.ends if self.rig.boxes[self.rig.body(port.box)].mixes]
                found[mixing[0] if len(mixing) == 1 else run.ends[1]] = run
        return found

    def behind(self, ports: tuple[Port, ...]) -> str:
        """What is on the far side of passive sockets: the ends that signals get to through them."""
        seen = set(ports)
        at = list(ports)
        ends: set[Port] = set()
        while at:
            here = at.pop()
            passes = (*self.paths.wiring.onward(here), *self.paths.wiring.back(here))
            through = [other for other, one in passes if one.passive]
            for other in through:
                seen.add(other)
                for piece in self.paths.pieces.get(other, ()):
                    if piece.right not in seen:
                        seen.add(piece.right)
                        ends.add(piece.right)
                        at.append(piece.right)
            if through:
                ends.discard(here)
        return ports_text(in_order(ends))
