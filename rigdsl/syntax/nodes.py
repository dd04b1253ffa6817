"""What a file says, as frozen values with their places; what it means is rig/'s business.

Nothing here is looked up, converted or judged: a number is still its text, a
unit a word, a fact a name with the words that follow it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rigdsl.syntax.atoms import Amount, Atom, End, Fact, Lead, Range, Word
from rigdsl.text import Span

__all__ = [
    "Accept",
    "Amount",
    "Atom",
    "Box",
    "Broken",
    "Cable",
    "Change",
    "Clock",
    "Control",
    "End",
    "Fact",
    "Group",
    "GroupHead",
    "Join",
    "Keep",
    "Lead",
    "Link",
    "Model",
    "Pass",
    "PassSide",
    "Patch",
    "Plug",
    "Position",
    "Protocol",
    "Range",
    "Replug",
    "RigHead",
    "Statement",
    "Stock",
    "Unpatch",
    "Use",
    "Way",
    "Without",
    "Word",
    "Zone",
]


@dataclass(frozen=True, slots=True)
class RigHead:
    """`rig "TITLE" { ... }`."""

    title: Word
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Use:
    """`use "path.rig"`."""

    path: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Position:
    """`at (x, y) m` or `at (x, y, z) m`: the numbers as written, a minus with them."""

    coordinates: tuple[float, ...]
    unit: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Zone:
    """`zone NAME "LABEL" at (x, y, z) m`."""

    name: Word
    label: Word | None
    position: Position | None
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Way:
    """`way A -- B 65 m "LABEL"`."""

    left: Word
    right: Word
    length: Amount
    label: Word | None
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Box:
    """`box NAME "LABEL" is MODEL in ZONE`."""

    name: Word
    label: Word | None
    model: Word
    zone: Word | None
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Join:
    """Two lists of sockets, joined number by number."""

    left: tuple[End, ...]
    right: tuple[End, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Link:
    """`link NAME: A -- B via CABLE LENGTH`, or the form with several joins in its block."""

    name: Word | None
    joins: tuple[Join, ...]
    lead: Lead | None
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Plug:
    """A `source` or an `output`: `source NAME "LABEL" TYPE in ZONE to SOCKETS via CABLE LENGTH`."""

    word: Literal["source", "output"]
    name: Word
    label: Word | None
    type: Word
    zone: Word | None
    ends: tuple[End, ...]
    lead: Lead | None
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Patch:
    """`patch A -> B`."""

    left: tuple[End, ...]
    right: tuple[End, ...]
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Clock:
    """`clock BOX`."""

    box: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Control:
    """`control SOCKETS by BOX`."""

    ends: tuple[End, ...]
    by: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Keep:
    """`keep SOCKETS for "WHAT"`."""

    ends: tuple[End, ...]
    what: Word | None
    span: Span


@dataclass(frozen=True, slots=True)
class Accept:
    """`accept RULE on SUBJECT because "WHY" until DATE`; the subject is sockets, a name, or a label."""

    rule: Word
    on: tuple[End, ...] | Word
    because: Word
    until: Word | None
    span: Span


@dataclass(frozen=True, slots=True)
class Stock:
    """`stock CABLE LENGTH x COUNT`."""

    cable: Word
    length: Amount
    count: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Cable:
    """`cable NAME "LABEL" { ... }`."""

    name: Word
    label: Word | None
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Protocol:
    """`protocol NAME "LABEL" { ... }`."""

    name: Word
    label: Word | None
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class GroupHead:
    """The name of a group and its sockets: `mic 1-16`, or `A` for a group of one."""

    name: Word
    range: Range | None


@dataclass(frozen=True, slots=True)
class Group:
    """`inputs mic 1-16 { ... }`; one line may declare several: `digital A, B { ... }`."""

    role: Word
    heads: tuple[GroupHead, ...]
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class PassSide:
    """One side of a pass or a bridge: a group, and which of its sockets."""

    group: Word
    ranges: tuple[Range, ...]


@dataclass(frozen=True, slots=True)
class Pass:
    """`pass A -> B`, `pass A -- B`, or `bridge L -> M { ... }`."""

    word: Literal["pass", "bridge"]
    left: PassSide
    arrow: Literal["->", "--"]
    right: PassSide
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Model:
    """`model NAME "LABEL" { ... }`."""

    name: Word
    label: Word | None
    groups: tuple[Group, ...]
    passes: tuple[Pass, ...]
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Without:
    """`without NAME, NAME`."""

    names: tuple[Word, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Unpatch:
    """`unpatch SOCKETS`."""

    ends: tuple[End, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Replug:
    """`replug NAME to SOCKETS via CABLE LENGTH` (`from` for an output)."""

    name: Word
    direction: Word
    ends: tuple[End, ...]
    lead: Lead | None
    span: Span


@dataclass(frozen=True, slots=True)
class Change:
    """`change NAME { ... }`."""

    name: Word
    facts: tuple[Fact, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Broken:
    """A statement that could not be read: its first word, and the name it was about to give, where one stands there.

    What uses that name is left alone: the cause is already told.
    """

    word: Word | None
    name: Word | None
    span: Span


Statement = (
    RigHead
    | Use
    | Zone
    | Way
    | Box
    | Link
    | Plug
    | Patch
    | Clock
    | Control
    | Keep
    | Accept
    | Stock
    | Cable
    | Protocol
    | Model
    | Without
    | Unpatch
    | Replug
    | Change
    | Broken
)
