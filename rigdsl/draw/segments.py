"""Neighbouring lines that go to neighbouring sockets, folded into one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from rigdsl.draw.wires import Side, Stand, Wire, Wires, stand_of
from rigdsl.rig import Port, Rig

__all__ = ["Segment", "by_socket", "find_segments", "slug"]


NO_NAME = re.compile(r"[^\w-]|_")


@lru_cache(maxsize=8192)
def slug(*parts: object) -> str:
    """A name for a part of a drawing: letters, digits and hyphens of what it is about.

    Whatever else stands in a part is written by its number in Unicode, so that no two things share a name.
    """
    return "--".join(NO_NAME.sub(lambda sign: f"_{ord(sign[0]):x}_", str(part)) for part in parts)


@dataclass(frozen=True)
class Segment:
    """Lines of one link that lie side by side at both ends; one line alone is one too.

    `again`: its link has left the same socket before, which no single cable can.
    """

    wires: tuple[Wire, ...]
    left: Stand
    right: Stand
    again: bool = False

    @property
    def id(self) -> str:
        """Its name in a drawing."""
        first = self.wires[0]
        return slug("line", first.link.name, first.left, *([first.right] if self.again else []))

    @property
    def numbers(self) -> str:
        """Its sockets: `1-12 → 5-16`, or `1-12` where they are the same at both ends."""
        left, right = (_range([getattr(wire, end).number for wire in self.wires]) for end in ("left", "right"))
        return left or right if left == right or not left or not right else f"{left} → {right}"


def _range(numbers: list[int]) -> str:
    if numbers == [0]:
        return ""
    return f"{numbers[0]}-{numbers[-1]}" if len(numbers) > 1 else str(numbers[0])


def find_segments(rig: Rig, wires: Wires) -> tuple[Segment, ...]:
    """All lines, folded."""
    folded: list[list[Wire]] = []
    for wire in wires.wires:
        if folded and _continues(folded[-1][-1], wire, rig, wires.sides):
            folded[-1].append(wire)
        else:
            folded.append([wire])
    made: list[Segment] = []
    begun: set[tuple[str, Port]] = set()
    for some in folded:
        left, right = (_stand(rig, port, wires.sides) for port in (some[0].left, some[0].right))
        begins = (some[0].link.name, some[0].left)
        made.append(Segment(tuple(some), left, right, begins in begun))
        begun.add(begins)
    return tuple(made)


def _stand(rig: Rig, port: Port, sides: Mapping[Port, Side]) -> Stand:
    return stand_of(rig, port, sides, "in")


def _continues(one: Wire, next_one: Wire, rig: Rig, sides: Mapping[Port, Side]) -> bool:
    """The next socket of the same group at both ends, on the same side of the desk."""
    return one.link is next_one.link and all(
        a[:2] == b[:2] and a.number and b.number == a.number + 1 and _stand(rig, a, sides) == _stand(rig, b, sides)
        for a, b in ((one.left, next_one.left), (one.right, next_one.right))
    )


def by_socket(segments: Iterable[Segment]) -> tuple[dict[Port, Segment], dict[Port, Segment]]:
    """The segment that leaves each socket, and the one that arrives at it (the first, where there are several)."""
    leaves: dict[Port, Segment] = {}
    arrives: dict[Port, Segment] = {}
    for segment in segments:
        for wire in segment.wires:
            leaves.setdefault(wire.left, segment)
            arrives.setdefault(wire.right, segment)
    return leaves, arrives
