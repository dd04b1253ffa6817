"""What hangs together: things put together pair by pair."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

__all__ = ["Parts", "parts"]

# What can be sorted and looked up: a socket, or a box with one of its sides.
Thing = TypeVar("Thing", bound=tuple[Any, ...])


@dataclass
class Parts(Generic[Thing]):
    """Things put together pair by pair; those that hang together are one part, whatever the order of the pairs."""

    parent: dict[Thing, Thing] = field(default_factory=dict)

    def top(self, thing: Thing) -> Thing:
        """What stands for the part of a thing: the first of it."""
        self.parent.setdefault(thing, thing)
        while self.parent[thing] != thing:
            self.parent[thing] = self.parent[self.parent[thing]]
            thing = self.parent[thing]
        return thing

    def join(self, one: Thing, other: Thing) -> bool:
        """Put two together; false where they hung together already."""
        a, b = self.top(one), self.top(other)
        self.parent[max(a, b)] = min(a, b)
        return a != b


def parts(pairs: Iterable[tuple[Thing, Thing]]) -> list[list[Thing]]:
    """What hangs together, each part sorted, in order of the first of each."""
    joined: Parts[Thing] = Parts()
    for one, other in pairs:
        joined.join(one, other)
    found: dict[Thing, list[Thing]] = {}
    for thing in sorted(joined.parent):
        found.setdefault(joined.top(thing), []).append(thing)
    return sorted(found.values())
