"""One effect of a change, and the names that it hangs on."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from rigdsl.paths import Paths
from rigdsl.rig import Leg, Port

__all__ = ["Effect", "touched", "ways"]


@dataclass(frozen=True)
class Effect:
    """A sentence, and the names that it hangs on: the nearest first."""

    words: str
    about: tuple[str, ...]


def touched(paths: Paths, leg: Leg, ends: Collection[Port] | None = None) -> Iterator[str]:
    """The names of all that one line goes through: cables, boxes, sockets, models; or that its ways to `ends` do."""
    for path in paths.paths_of(leg.name):
        if path.leg != leg or (ends is not None and path.start not in ends and path.end not in ends):
            continue
        for hop in path.hops:
            names = [hop.link.name, hop.cable or ""] if hop.link else [hop.cable or ""]
            names += [end.box if isinstance(end, Port) else end.name for end in (hop.left, hop.right)]
            names += [str(end) for end in (hop.left, hop.right) if isinstance(end, Port)]
            names += [paths.rig.boxes[end.box].model.name for end in (hop.left, hop.right) if isinstance(end, Port)]
            yield from names


def ways(now: Iterable[str], was: Iterable[str]) -> tuple[str, ...]:
    """What two ways of a line touch: first what only one of them does, sockets before cables and boxes."""
    here, there = dict.fromkeys(now), dict.fromkeys(was)
    apart = [name for name in (*here, *there) if (name in here) != (name in there)]
    alike = [name for name in here if name in there]
    return tuple(sorted(apart, key=lambda name: "." not in name) + sorted(alike, key=lambda name: "." not in name))
