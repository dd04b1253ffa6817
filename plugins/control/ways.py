"""How commands could get from a desk to preamps: what stops them between the two, and ways out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rigdsl.lint.words import ticked, together
from rigdsl.paths import Gain, Paths, Route, Step
from rigdsl.rig import Port, Rig, ports_text

__all__ = ["Ways", "spoken", "way_out"]


@dataclass(frozen=True, eq=False)
class Ways:
    """The working routes of all patches, by the two boxes that they join."""

    paths: Paths
    routes: Mapping[tuple[str, str], tuple[Route, ...]]

    @classmethod
    def of(cls, paths: Paths) -> Ways:
        """Those of a rig: for two boxes, one of each way that sound goes."""
        found: dict[tuple[str, str], dict[tuple[Step, ...], Route]] = {}
        for pair in paths.pairs:
            if pair.route and pair.route.works:
                ends = paths.rig.body(pair.route.left.box), paths.rig.body(pair.route.right.box)
                found.setdefault(ends, {})[pair.route.steps] = pair.route
        return cls(paths, {ends: tuple(routes.values()) for ends, routes in found.items()})

    def deaf(self, box: str, desk: str) -> list[str]:
        """The boxes between preamps and a desk that take on none of the dialects that both ends speak."""
        rig = self.paths.rig
        shared = spoken(rig, box) & spoken(rig, desk)
        return list(dict.fromkeys(name for name, heard in self._between(box, desk) if not heard & shared))

    def doubtful(self, box: str, desk: str) -> bool:
        """Something of the two, or of a box or cable between them, could not be read."""
        rig = self.paths.rig
        boxes = {box, desk, *(name for name, _ in self._between(box, desk))}
        return not boxes.isdisjoint(rig.incomplete) or ("link" in rig.left_out and self.paths.unsure_between(box, desk))

    def _between(self, box: str, desk: str) -> Iterator[tuple[str, frozenset[str]]]:
        """Every box that sound goes through, and the dialects that it takes on there; a switch takes any."""
        rig = self.paths.rig
        for route in self.routes.get((rig.body(box), rig.body(desk)), ()):
            for step in route.steps:
                if step.by == "patch":
                    yield rig.body(step.left.box), frozenset()  # a desk passes no commands on
                elif step.by in ("chain", "bridge"):
                    ends = (frozenset(rig.group(port).dialects) for port in (step.left, step.right))
                    yield rig.body(step.left.box), frozenset.intersection(*ends)


def spoken(rig: Rig, box: str) -> set[str]:
    """The control dialects of a box and of the cards in it."""
    return {dialect for _, group in rig.groups_of(box, "digital", "data") for dialect in group.dialects}


def way_out(ways: Ways, gain: Gain, ports: tuple[Port, ...], local: bool) -> str:
    """Data ports to join, another desk that can set these preamps, or other gear."""
    rig = ways.paths.rig
    box, desk = spoken(rig, gain.box), spoken(rig, gain.owner)
    for one, other in _data_ports(ways.paths, gain.box, gain.owner):
        full = [port for port in (one, other) if port in ways.paths.pieces]
        taken = f"; {together(full)} {'has' if len(full) == 1 else 'have'} a cable already" if full else ""
        return f"join `{one}` and `{other}`, {'over a switch' if full else 'straight or over a switch'}{taken}"
    for name in sorted(gain.desks):
        if name != gain.owner and ways.paths.can_set(name, gain.box):
            return f"`{name}` can set them: `control {ports_text(ports)} by {name}`"
    if local:
        return f"set gain at `{gain.box}` itself before the show, and agree on who turns it"
    return _other_gear(ways, gain, box, desk)


def _other_gear(ways: Ways, gain: Gain, box: set[str], desk: set[str]) -> str:
    rig = ways.paths.rig
    shared = ticked(sorted(box & desk))
    if shared and (port := _port_of_its_own(ways, gain)):
        deaf = ways.deaf(gain.box, gain.owner)
        gear = f", or put gear in the place of {together(deaf)} that takes {shared} on" if deaf else ""
        return f"bring `{gain.box}` to a port of its own on `{gain.owner}`, such as `{port}`{gear}"
    patched = (rig.body(gain.box), rig.body(gain.owner)) in ways.routes
    own = any(group.preamp for _, group in rig.groups_of(gain.owner, "inputs"))
    if shared and patched:
        carry = f"take a card or port at `{gain.owner}` and `{gain.box}` that carries {shared} with the sound"
        return f"{carry}, or bring these sources to preamps of `{gain.owner}`" if own else carry
    if shared:
        return f"name a desk as owner that speaks {shared} and that they are patched to"
    use = (
        f"use a box that {f'is controlled by {ticked(sorted(desk))}' if desk else 'has its gain set at the box itself'}"
    )
    if own:
        return f"{use}, or bring these sources to preamps of `{gain.owner}`"
    return f"{use}, or name an owner that speaks {ticked(sorted(box))}" if box else use


def _port_of_its_own(ways: Ways, gain: Gain) -> Port | None:
    """An audio port of the owner that shares a protocol and a dialect with one of the box: a free one if there is."""
    rig = ways.paths.rig
    ports = [
        port
        for _, left in rig.groups_of(gain.box, "digital")
        for far, right in rig.groups_of(gain.owner, "digital")
        if set(left.protocols) & set(right.protocols) and set(left.dialects) & set(right.dialects)
        for port in far.ports(right)
    ]
    return _free(ways.paths, ports) if ports else None


def _data_ports(paths: Paths, box: str, desk: str) -> Iterator[tuple[Port, Port]]:
    """A data port of each that speak one dialect, free ones where there are."""
    for near, left in paths.rig.groups_of(box, "data"):
        for far, right in paths.rig.groups_of(desk, "data"):
            if set(left.dialects) & set(right.dialects) and not (left.wireless or right.wireless):
                yield _free(paths, near.ports(left)), _free(paths, far.ports(right))


def _free(paths: Paths, ports: Sequence[Port]) -> Port:
    """The first without a cable, else the first."""
    return next((port for port in ports if port not in paths.pieces), ports[0])
