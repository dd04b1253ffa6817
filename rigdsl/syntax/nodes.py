"""What a file says, as frozen values with their places; what it means is rig/'s business.

Nothing here is looked up, converted or judged: a number is still its text, a
unit a word, a fact a name with the words that follow it. Named tuples, not dataclasses:
they are as frozen, and thirty of them are made at every start, thousands in every parse.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

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
    "Insert",
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
    "Power",
    "Protocol",
    "Range",
    "Replug",
    "RigHead",
    "Slot",
    "Statement",
    "Stock",
    "Supply",
    "Unpatch",
    "Use",
    "Way",
    "Without",
    "Word",
    "Zone",
]


class RigHead(NamedTuple):
    """`rig "TITLE" { ... }`."""

    title: Word
    facts: tuple[Fact, ...]
    span: Span


class Use(NamedTuple):
    """`use "path.rig"`."""

    path: Word
    span: Span


class Position(NamedTuple):
    """`at (x, y) m` or `at (x, y, z) m`: the numbers as written, a minus with them."""

    coordinates: tuple[float, ...]
    unit: Word
    span: Span


class Zone(NamedTuple):
    """`zone NAME "LABEL" at (x, y, z) m`."""

    name: Word
    label: Word | None
    position: Position | None
    facts: tuple[Fact, ...]
    span: Span


class Way(NamedTuple):
    """`way A -- B 65 m "LABEL"`."""

    left: Word
    right: Word
    length: Amount
    label: Word | None
    facts: tuple[Fact, ...]
    span: Span


class Box(NamedTuple):
    """`box NAME "LABEL" is MODEL in ZONE`; an option card sits in a slot of another box: `in DESK.opt 1`."""

    name: Word
    label: Word | None
    model: Word
    zone: Word | None
    slot: End | None
    facts: tuple[Fact, ...]
    span: Span


class Join(NamedTuple):
    """Two lists of sockets, joined number by number."""

    left: tuple[End, ...]
    right: tuple[End, ...]
    span: Span


class Link(NamedTuple):
    """`link NAME: A -- B via CABLE LENGTH`, or the form with several joins in its block."""

    name: Word | None
    joins: tuple[Join, ...]
    lead: Lead | None
    facts: tuple[Fact, ...]
    span: Span


class Plug(NamedTuple):
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


class Patch(NamedTuple):
    """`patch A -> B`."""

    left: tuple[End, ...]
    right: tuple[End, ...]
    facts: tuple[Fact, ...]
    span: Span


class Insert(NamedTuple):
    """`insert CHANNELS through OUTBOARD via CABLE LENGTH`."""

    at: tuple[End, ...]
    through: tuple[End, ...]
    lead: Lead | None
    facts: tuple[Fact, ...]
    span: Span


class Clock(NamedTuple):
    """`clock BOX`."""

    box: Word
    span: Span


class Control(NamedTuple):
    """`control SOCKETS by BOX`."""

    ends: tuple[End, ...]
    by: Word
    span: Span


class Keep(NamedTuple):
    """`keep SOCKETS for "WHAT"`."""

    ends: tuple[End, ...]
    what: Word | None
    span: Span


class Accept(NamedTuple):
    """`accept RULE on SUBJECT because "WHY" until DATE`; the subject is sockets, a name, or a label."""

    rule: Word
    on: tuple[End, ...] | Word
    because: Word
    until: Word | None
    span: Span


class Stock(NamedTuple):
    """`stock CABLE LENGTH x COUNT`."""

    cable: Word
    length: Amount
    times: Word
    span: Span


class Supply(NamedTuple):
    """`supply NAME "LABEL" 230 V 16 A in ZONE`."""

    name: Word
    label: Word | None
    voltage: Amount
    current: Amount
    zone: Word | None
    facts: tuple[Fact, ...]
    span: Span


class Power(NamedTuple):
    """`power BOX, BOX from SUPPLY`."""

    boxes: tuple[Word, ...]
    supply: Word
    span: Span


class Cable(NamedTuple):
    """`cable NAME "LABEL" { ... }`."""

    name: Word
    label: Word | None
    facts: tuple[Fact, ...]
    span: Span


class Protocol(NamedTuple):
    """`protocol NAME "LABEL" { ... }`."""

    name: Word
    label: Word | None
    facts: tuple[Fact, ...]
    span: Span


class GroupHead(NamedTuple):
    """The name of a group and its sockets: `mic 1-16`, or `A` for a group of one."""

    name: Word
    range: Range | None


class Group(NamedTuple):
    """`inputs mic 1-16 { ... }`; one line may declare several: `digital A, B { ... }`."""

    role: Word
    heads: tuple[GroupHead, ...]
    facts: tuple[Fact, ...]
    span: Span


class PassSide(NamedTuple):
    """One side of a pass or a bridge: a group, and which of its sockets."""

    group: Word
    ranges: tuple[Range, ...]


class Pass(NamedTuple):
    """`pass A -> B`, `pass A -- B`, or `bridge L -> M { ... }`."""

    word: Literal["pass", "bridge"]
    left: PassSide
    arrow: Literal["->", "--"]
    right: PassSide
    facts: tuple[Fact, ...]
    span: Span


class Slot(NamedTuple):
    """`slot opt 1-2 takes my64`: the places for option cards, and the forms of card that fit them."""

    head: GroupHead
    takes: tuple[Word, ...]
    span: Span


class Model(NamedTuple):
    """`model NAME "LABEL" { ... }`."""

    name: Word
    label: Word | None
    groups: tuple[Group, ...]
    passes: tuple[Pass, ...]
    slots: tuple[Slot, ...]
    facts: tuple[Fact, ...]
    span: Span


class Without(NamedTuple):
    """`without NAME, NAME`."""

    names: tuple[Word, ...]
    span: Span


class Unpatch(NamedTuple):
    """`unpatch SOCKETS`."""

    ends: tuple[End, ...]
    span: Span


class Replug(NamedTuple):
    """`replug NAME to SOCKETS via CABLE LENGTH` (`from` for an output)."""

    name: Word
    direction: Word
    ends: tuple[End, ...]
    lead: Lead | None
    span: Span


class Change(NamedTuple):
    """`change NAME { ... }`."""

    name: Word
    facts: tuple[Fact, ...]
    span: Span


class Broken(NamedTuple):
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
    | Insert
    | Clock
    | Control
    | Keep
    | Accept
    | Stock
    | Supply
    | Power
    | Cable
    | Protocol
    | Model
    | Without
    | Unpatch
    | Replug
    | Change
    | Broken
)
