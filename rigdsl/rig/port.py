"""Sockets, lines of sources and outputs, and the order that people put names in."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby
from typing import NamedTuple

__all__ = ["Leg", "Natural", "Port", "natural", "numbers_text", "ports_text"]

Natural = tuple[tuple[int, int, str], ...]


@lru_cache(maxsize=65536)
def natural(text: str) -> Natural:
    """A key that sorts names as people do: C2 before C10. No two names share one: C01 stands before C1."""
    parts = (
        (0, int(part), "") if part.isdigit() and part.isascii() else (1, 0, part)
        for part in re.split(r"([0-9]{1,18})", text)
        if part
    )
    return (*parts, (-1, 0, text))


class Port(NamedTuple):
    """A socket, channel or mix. Number 0 is the one socket of a group of one."""

    box: str
    group: str
    number: int

    def __str__(self) -> str:
        return f"{self.box}.{self.group} {self.number}" if self.number else f"{self.box}.{self.group}"

    @property
    def key(self) -> tuple[Natural, Natural, int]:
        """Natural order."""
        return natural(self.box), natural(self.group), self.number


class Leg(NamedTuple):
    """One line of a source or an output: its name, and which of its sockets (from 0)."""

    name: str
    index: int  # type: ignore[assignment]  # hides tuple.index, which nobody needs here

    def __str__(self) -> str:
        return self.name


def ports_text(ports: Iterable[Port | Leg]) -> str:
    """Sockets in the one spelling, neighbours folded, order kept: `SL.mic 1-4,7, DR.panel 1`; a leg is its name."""
    parts: list[str] = []
    items = list(dict.fromkeys(port if isinstance(port, Port) else Port(port.name, "", 0) for port in ports))
    for (box, group), alike in groupby(items, key=lambda port: (port.box, port.group)):
        name = f"{box}.{group}" if group else box
        numbers = [port.number for port in alike]
        parts.append(name if numbers == [0] else f"{name} {numbers_text(numbers)}")
    return ", ".join(parts)


def numbers_text(numbers: Iterable[int]) -> str:
    """Numbers in the one spelling, each once, neighbours folded, order kept: `1-4,7`."""
    runs: list[list[int]] = []
    for number in dict.fromkeys(numbers):
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ",".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
