"""Every pair of a patch with the sockets that it really joins, and the route between them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from rigdsl.paths.model import Route
from rigdsl.rig import Leg, Patch, Port, Rig

__all__ = ["Pair", "pair_of", "pairs_of"]

Router = Callable[[Port, Port], Route]


@dataclass(frozen=True)
class Pair:
    """One pair of a patch. `route` is None where an end is plugged into nothing, so there is nothing to join."""

    patch: Patch
    left: Port | Leg
    right: Port | Leg
    route: Route | None


def pairs_of(
    rig: Rig,
    patch: Patch,
    inputs: Callable[[Leg], Iterable[Port]],
    outlets: Callable[[Leg], Iterable[Port]],
    route: Router,
) -> tuple[Pair, ...]:
    """The pairs of a patch. A name stands for whichever of its sockets has the shortest way that works."""
    return tuple(pair_of(rig, patch, ends, inputs, outlets, route) for ends in patch.pairs)


def pair_of(
    rig: Rig,
    patch: Patch,
    ends: tuple[Port | Leg, Port | Leg],
    inputs: Callable[[Leg], Iterable[Port]],
    outlets: Callable[[Leg], Iterable[Port]],
    route: Router,
) -> Pair:
    """One of them."""
    left, right = ends
    lefts = (left,) if isinstance(left, Port) else tuple(inputs(left))
    rights = (right,) if isinstance(right, Port) else tuple(outlets(right))
    return Pair(patch, left, right, _best(rig, lefts, rights, route))


def _best(rig: Rig, lefts: tuple[Port, ...], rights: tuple[Port, ...], route: Router) -> Route | None:
    """The working route of fewest hops, nearest sockets first; else the one nearest to working, furthest first."""
    best: Route | None = None
    for left in lefts:
        for right in rights:
            found = route(left, right)
            if best is None or _rank(found) < _rank(best) or (not found.works and _rank(found) == _rank(best)):
                best = found
    return best


def _rank(found: Route) -> tuple[bool, bool, int]:
    return not found.works, not found.works and not found.blame, len(found.steps)
