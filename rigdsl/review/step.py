"""One thing that hands do between two acts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["DOINGS", "Doing", "Step", "instead"]

Doing = Literal["unplug", "take away", "swap", "move", "bring", "replug", "plug"]
DOINGS: tuple[Doing, ...] = ("unplug", "take away", "swap", "move", "bring", "replug", "plug")  # so within a zone


@dataclass(frozen=True)
class Step:
    """One thing to do, in a zone by its label: from which socket or zone, into which, by which cable.

    `plugs` are pulled or put; `hanging` names what comes out of a box first, and goes back into it.
    """

    zone: str
    do: Doing
    what: str
    off: str = ""
    on: str = ""
    cable: str = ""
    note: str = ""
    plugs: int = 0
    hanging: tuple[str, ...] = ()


def instead(new: str, old: str) -> str:
    """One lead for another."""
    return f"{new or 'no lead'} instead of {old or 'no lead'}"
