"""What a user wants drawn: which view, which part of it, on what paper, in what colours."""

from __future__ import annotations

from dataclasses import dataclass, field

__all__ = ["Choice", "Wanted"]


@dataclass(frozen=True)
class Choice:
    """Which part of a view is shown; all of it where nothing is said.

    `zones` and `desks` by name; `only` what `rigdsl trace` takes: sources, outputs, cables, boxes, sockets;
    `around` boxes, each with how many cables far.
    """

    zones: tuple[str, ...] = ()
    desks: tuple[str, ...] = ()
    only: tuple[str, ...] = ()
    around: tuple[tuple[str, int], ...] = ()

    def __bool__(self) -> bool:
        return bool(self.zones or self.desks or self.only or self.around)


@dataclass(frozen=True)
class Wanted:
    """A drawing to be made: `view` by name, `paper` a key of PAPERS or none, `theme` a key of THEMES.

    `revision` stands in the title block instead of the one that the rig's head gives.
    """

    view: str = "flow"
    choice: Choice = field(default_factory=Choice)
    paper: str = ""
    theme: str = "print"
    revision: str = ""
