"""Which names there are: gear by shelf, and the one set of zones, boxes, links, sources, outputs and supplies."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar

from rigdsl.finding import Finding, Level, Related, similar
from rigdsl.rig import catalogue
from rigdsl.rig.amounts import a, alike, clipped, fault
from rigdsl.rig.doubt import Doubts, wording
from rigdsl.rig.gear import Cable, Model, Protocol
from rigdsl.rig.night import NAMING, Said, Tonight, declared
from rigdsl.syntax import nodes as syntax
from rigdsl.syntax.forms import FORMS

__all__ = ["Gear", "Notes", "gear", "lost", "nothing_called", "things", "unknown"]

_WORD = re.compile(r"[^\W\d_][\w]*(?:-[\w]+)*")

LEFT_OUT = {
    "zone": "nothing is measured from here",
    "model": "the box is left out, with all that is plugged into it",
    "cable": "whether it fits, and what it loses, is not looked at",
    "source": "it stands by itself",
    "output": "it stands by itself",
    "supply": "what its boxes draw is counted nowhere",
}
DEFINE = {
    "zone": 'define it: `zone NAME "Label"`',
    "box": "define it: `box NAME is MODEL in ZONE`",
    "model": "define it: `model NAME { kind ... }`",
    "cable": "define it: `cable NAME { medium ... }`",
    "source": "define it: `source NAME TYPE in ZONE to BOX 1`",
    "output": "define it: `output NAME wedge in ZONE from BOX 1`",
    "supply": "define it: `supply NAME 230 V 16 A in ZONE`",
}

Declared = TypeVar("Declared", bound=syntax.Cable | syntax.Protocol | syntax.Model)
Made = TypeVar("Made", Cable, Protocol, Model)


@dataclass(frozen=True)
class Notes:
    """What is found on the way: findings, and the names that could not be resolved or hang on one that could not.

    `incomplete` are those names, `kinds` the first words of statements that were left out.
    `quiet`: a used file is missing, so unknown names are not told. `lost`: what could not be read and has lost even
    its name ("box", "model"): an unknown one may be just that. `names`: what kind of thing each name of tonight is.
    """

    findings: list[Finding]
    incomplete: set[str] = field(default_factory=set)
    quiet: bool = False
    lost: frozenset[str] = frozenset()
    kinds: set[str] = field(default_factory=set)
    names: dict[str, str] = field(default_factory=dict)

    def left_out(self, statement: syntax.Statement) -> None:
        """A statement could not be taken whole: rules stay quiet about every name in it, and know its first word."""
        self.kinds.update(statement.span.text[:80].split(None, 1)[:1])
        self.incomplete.update(_WORD.findall(wording(statement)))

    def unplugged(self, plug: syntax.Plug, end: syntax.End) -> None:
        """A source or output could not be plugged in at an end: it and the box that it names hang on that."""
        self.kinds.add(plug.word)
        self.incomplete.update((plug.name.text, end.name.text))


@dataclass(frozen=True)
class Gear:
    """The gear that counts, by name, and the names of gear statements that could not be read.

    `doubted` are the models of which something could not be read, or was wrong.
    """

    cables: Mapping[str, Cable]
    protocols: Mapping[str, Protocol]
    models: Mapping[str, Model]
    broken: frozenset[str]
    doubted: frozenset[str]


def unknown(what: str, word: syntax.Word, known: Iterable[str], notes: Notes, *, consequence: str = "") -> None:
    """Note an unknown name, with the nearest one, or a known one that is of another kind of thing."""
    if notes.quiet or what in notes.lost:
        return
    text = clipped(word.text)
    kind = notes.names.get(word.text, "") if what in ("zone", "box", "source", "output", "supply") else ""
    message = f"`{text}` is {a(kind)}, and {a(what)} is needed here" if kind else f"there is no {what} called `{text}`"
    hint = ("" if kind else similar(what, word.text, known)) or DEFINE[what]
    left_out = consequence or LEFT_OUT.get(what, "the line is left out")
    notes.findings.append(fault("unknown-name", word.span, message, subject=text, consequence=left_out, help=hint))


def nothing_called(word: syntax.Word, kinds: Mapping[str, str], notes: Notes, *, consequence: str = "") -> None:
    """Note a name that might be of any kind, and is of none; `kinds` has the names there are."""
    if notes.quiet or notes.lost:
        return
    text = clipped(word.text)
    hint = (
        alike(word.text, kinds)
        or "it must be the name of a box, link, source, output, supply, zone or model of this rig"
    )
    message = f"nothing is called `{text}`"
    notes.findings.append(fault("unknown-name", word.span, message, subject=text, consequence=consequence, help=hint))


def gear(night: Tonight, notes: Notes) -> Gear:
    """All gear: a user's definition takes the place of a library's; two of the user's own are told."""
    said = [one for one in night.said if isinstance(one.statement, syntax.Cable | syntax.Protocol | syntax.Model)]
    cables = _made(said, syntax.Cable, catalogue.cable, "cable", notes)
    broken = _broken_names(night, ("cable", "protocol", "model"))
    cordage = None if notes.quiet or "cable" in notes.lost else cables.keys() | broken

    def protocol(one: syntax.Protocol, findings: list[Finding]) -> Protocol:
        return catalogue.protocol(one, cordage, findings)

    protocols = _made(said, syntax.Protocol, protocol, "protocol", notes)
    doubts = Doubts(notes.findings)
    spoken = protocols.keys() - _doubted(said, syntax.Protocol, doubts)
    told = protocols.keys() | broken
    quiet = notes.quiet or "protocol" in notes.lost

    def model(one: syntax.Model, findings: list[Finding]) -> Model:
        findings += [] if quiet else catalogue.unknown_protocols(one, told)
        return catalogue.model(one, spoken, findings)

    models = _made(said, syntax.Model, model, "model", notes)
    doubts = Doubts(notes.findings)
    vague = {name: replace(cables[name], medium="") for name in _doubted(said, syntax.Cable, doubts)}
    hanging = {
        one.statement.name.text
        for one in said
        if isinstance(one.statement, syntax.Model) and not spoken >= catalogue.spoken_by(one.statement)
    }
    return Gear(cables | vague, protocols, models, broken, _doubted(said, syntax.Model, doubts) | hanging)


def _doubted(said: Iterable[Said], node: type[syntax.Statement], doubts: Doubts) -> frozenset[str]:
    """The names of gear statements of one kind that have something wrong in them."""
    return frozenset(
        one.statement.name.text
        for one in said
        if isinstance(one.statement, node)
        and isinstance(one.statement, syntax.Cable | syntax.Protocol | syntax.Model)
        and doubts.about(one.statement)
    )


def _made(
    said: Iterable[Said],
    node: type[Declared],
    make: Callable[[Declared, list[Finding]], Made],
    what: str,
    notes: Notes,
) -> dict[str, Made]:
    first: dict[str, Said] = {}
    for one in said:
        if not isinstance(one.statement, node):
            continue
        name = one.statement.name.text
        known = first.get(name)
        if known is None or one.file.shelf < known.file.shelf:
            first[name] = one
        elif one.file.shelf == known.file.shelf and isinstance(known.statement, node):
            notes.findings.append(repeated(what, one.statement.name, known.statement.name))
    made = {}
    for name, one in first.items():
        if isinstance(one.statement, node):
            made[name] = make(one.statement, notes.findings)
    return made


MOST_REPEATS = 3  # of one name are told; a file pasted together a thousand times is told three times over


def repeated(what: str, second: syntax.Word, first: syntax.Word) -> Finding:
    """Two things of one name."""
    name = clipped(second.text)
    return Finding(
        rule="repeated-name",
        level=Level.ERROR,
        place=second.span,
        subject=name,
        message=f"there are two things called `{name}`"
        if what == "thing"
        else f"there are two {what}s called `{name}`",
        consequence="only the first one counts",
        help="give one of them another name",
        related=(Related(first.span, "the first one is here"),),
    )


def things(night: Tonight, notes: Notes) -> tuple[dict[str, Said], frozenset[str]]:
    """The named things of tonight, and the names of broken ones. All kinds of things share one set of names."""
    found: dict[str, Said] = {}
    repeats: dict[str, int] = {}
    for one in night.said:
        name = declared(one.statement)
        if not name:
            continue
        if name in found:
            first = found[name].statement
            repeats[name] = repeats.get(name, 0) + 1
            if repeats[name] <= MOST_REPEATS:
                notes.findings.append(repeated("thing", _name_of(one.statement), _name_of(first)))
            continue
        found[name] = one
    broken = _broken_names(night, NAMING)
    return found, broken - found.keys()


def _name_of(statement: syntax.Statement) -> syntax.Word:
    assert isinstance(statement, syntax.Zone | syntax.Box | syntax.Link | syntax.Plug | syntax.Supply)
    assert statement.name is not None
    return statement.name


def _broken_names(night: Tonight, firsts: tuple[str, ...]) -> frozenset[str]:
    """Names of statements that could not be read; where even the first word is lost, the name may be of any kind."""
    found: set[str] = set()
    for one in night.said:
        if not isinstance(one.statement, syntax.Broken):
            continue
        word, name = one.statement.word, one.statement.name
        if name is not None and (word is None or word.text in firsts or word.text not in FIRSTS):
            found.add(name.text)
        if word is not None and word.text not in FORMS:
            found.add(word.text)
    return frozenset(found)


def lost(night: Tonight) -> frozenset[str]:
    """What could not be read and has lost its name too: the first words of such statements."""
    return frozenset(
        one.statement.word.text
        for one in night.said
        if isinstance(one.statement, syntax.Broken)
        and one.statement.word is not None
        and one.statement.name is None
        and one.statement.word.text in FIRSTS
    )


FIRSTS = frozenset(("cable", "protocol", "model", *NAMING))
