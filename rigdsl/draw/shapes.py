"""What a drawing is made of, before any engine sees it: nodes with rows of sockets, lines, groups, words.

Values only. Sizes and positions are in points (1/72 inch); y goes up, as the layout engine has it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from rigdsl.draw.paper import Page
from rigdsl.draw.patterns import Pattern
from rigdsl.finding import Level

__all__ = [
    "CROSSINGS",
    "Cell",
    "Crossing",
    "Edge",
    "End",
    "Ground",
    "Group",
    "Mark",
    "Node",
    "Row",
    "Side",
    "State",
    "View",
]

Tone = Literal["plain", "strong", "quiet", "bar"]
Side = Literal["e", "w"]
Align = Literal["left", "right", "center"]
# What became of a part from one state of a rig to another; nothing in a drawing of one state alone.
State = Literal["", "same", "added", "removed", "changed"]
Crossing = Literal["AD", "DA"]  # the letters of its sign, left to right as the sound goes
CROSSINGS: Mapping[Crossing, str] = MappingProxyType({"AD": "analogue to digital", "DA": "digital to analogue"})


@dataclass(frozen=True)
class Mark:
    """A finding shown where it is: its number in the list, from 1."""

    number: int
    level: Level


@dataclass(frozen=True)
class Cell:
    """One field of a row. `key` names it where a line ends in it; a `bar` is the bracket that a loom ends in."""

    text: str = ""
    key: str = ""
    tone: Tone = "plain"
    align: Align = "left"
    rows: int = 1


@dataclass(frozen=True)
class Row:
    """One row of a node: a socket, a stretch of free ones, a bank of channels.

    `about` are the identities that findings may name it by, `tip` is what it says when pointed at, `things` are the
    sockets, sources or outputs that stand in it.
    """

    cells: tuple[Cell, ...]
    about: tuple[str, ...] = ()
    tip: str = ""
    marks: tuple[Mark, ...] = ()
    things: tuple[str, ...] = ()
    state: State = ""


@dataclass(frozen=True)
class Node:
    """A box, or a block of sources or outputs. `at` is its middle, where the view places things itself.

    `group` is the zone that it stands in, `things` are the boxes that it is: one, with the cards in it. `crosses` says
    which way sound is converted in it.
    """

    id: str
    kind: str
    title: str
    subtitle: str = ""
    rows: tuple[Row, ...] = ()
    about: tuple[str, ...] = ()
    tip: str = ""
    marks: tuple[Mark, ...] = ()
    group: str = ""
    filled: bool = True
    at: tuple[float, float] | None = None
    width: float = 0.0
    things: tuple[str, ...] = ()
    crosses: tuple[Crossing, ...] = ()
    state: State = ""


@dataclass(frozen=True)
class End:
    """Where a line ends: a cell of a node, and the side of it."""

    node: str
    key: str
    side: Side


@dataclass(frozen=True)
class Edge:
    """A line. `label` has its words line by line, the first `bold` characters in bold.

    `joins` are the pairs that it joins, the left end's first: sockets, or a source or output and its socket.
    `cables` are the links that it is made of. `points` are its corners, where the view places things itself.

    `stops` draws the second half as one that carries no sound; `forward` shows the way the signal goes;
    `words_at` is the end beside which the label stands and the line is cut, or `beside` the whole line, where the
    view places things itself. `worded` is what became of its words, where the line itself is the same.
    """

    id: str
    left: End
    right: End
    pattern: Pattern
    label: tuple[str, ...] = ()
    about: tuple[str, ...] = ()
    tip: str = ""
    marks: tuple[Mark, ...] = ()
    forward: bool = True
    stops: bool = False
    bold: int = 0
    words_at: Literal["left", "right", "beside"] = "left"
    points: tuple[tuple[float, float], ...] = ()
    label_at: tuple[float, float] | None = None
    joins: tuple[tuple[str, str], ...] = ()
    cables: tuple[str, ...] = ()
    state: State = ""
    worded: State = ""


@dataclass(frozen=True)
class Group:
    """A zone with what stands in it. `box` is left, bottom, right, top."""

    id: str
    title: str
    tip: str = ""
    box: tuple[float, float, float, float] | None = None
    state: State = ""


@dataclass(frozen=True)
class Ground:
    """What lies under a drawing to scale: a field of one colour, or words. `box` is left, bottom, right, top."""

    id: str
    box: tuple[float, float, float, float]
    colour: str = ""
    words: str = ""


@dataclass(frozen=True)
class View:
    """A drawing, or one sheet of it. `facts` and `revision` stand under the title, and which sheet of how many it is.

    `listed` are the findings marked on it: mark and message. `size` is what everything takes, where the view has
    placed it; `page` is the sheet that it has to fit on, `grounds` lie under everything.
    """

    which: str
    title: str
    facts: tuple[str, ...]
    description: str
    nodes: tuple[Node, ...]
    edges: tuple[Edge, ...]
    groups: tuple[Group, ...] = ()
    listed: tuple[tuple[Mark, str], ...] = ()
    elsewhere: int = 0
    size: tuple[float, float] = (0.0, 0.0)
    revision: str = ""
    sheet: tuple[int, int] = (1, 1)
    page: Page | None = None
    grounds: tuple[Ground, ...] = ()

    @property
    def placed(self) -> bool:
        """The view has placed everything; the engine only draws."""
        return any(node.at is not None for node in self.nodes)

    @property
    def compared(self) -> bool:
        """It shows two states of a rig, and what became of each part."""
        return any(node.state for node in self.nodes)
