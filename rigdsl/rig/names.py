"""Which names there are: gear by shelf, and the one set of zones, boxes, links, sources and outputs."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from rigdsl.finding import Finding, Level, Related, similar
from rigdsl.rig import catalogue
from rigdsl.rig.amounts import clipped, fault
from rigdsl.rig.gear import Cable, Model, Protocol
from rigdsl.rig.night import Said, Tonight, declared
from rigdsl.syntax import nodes as syntax

__all__ = ["Gear", "Notes", "gear", "things", "unknown"]

_WORD = re.compile(r"[^\W\d_][\w]*(?:-[\w]+)*")

Declared = TypeVar("Declared", bound=syntax.Cable | syntax.Protocol | syntax.Model)
Made = TypeVar("Made", Cable, Protocol, Model)


@dataclass(frozen=True)
class Notes:
    """What is found on the way: findings, and the names that could not be resolved or hang on one that could not.

    `quiet`: a used file is missing, so unknown names are not told.
    """

    findings: list[Finding]
    incomplete: set[str] = field(default_factory=set)
    quiet: bool = False

    def left_out(self, statement: syntax.Statement) -> None:
        """A statement could not be taken whole: rules stay quiet about every name in it."""
        self.incomplete.update(_WORD.findall(statement.span.text[:4000]))


@dataclass(frozen=True)
class Gear:
    """The gear that counts, by name, and the names of gear statements that could not be read."""

    cables: Mapping[str, Cable]
    protocols: Mapping[str, Protocol]
    models: Mapping[str, Model]
    broken: frozenset[str]


def unknown(what: str, word: syntax.Word, known: Iterable[str], notes: Notes, *, help: str = "") -> None:
    """Note an unknown name, with the nearest one."""
    if notes.quiet:
        return
    text = clipped(word.text)
    message = f"there is no {what} called `{text}`"
    hint = similar(what, word.text, known) or help
    notes.findings.append(fault("unknown-name", word.span, message, subject=text, help=hint))


def gear(night: Tonight, notes: Notes) -> Gear:
    """All gear: a user's definition takes the place of a library's; two of the user's own are told."""
    said = [one for one in night.said if isinstance(one.statement, syntax.Cable | syntax.Protocol | syntax.Model)]
    cables = _made(said, syntax.Cable, catalogue.cable, "cable", notes)
    protocols = _made(said, syntax.Protocol, catalogue.protocol, "protocol", notes)
    broken = _broken_names(night, ("cable", "protocol", "model"))
    spoken = frozenset(protocols) | broken

    def model(one: syntax.Model, findings: list[Finding]) -> Model:
        return catalogue.model(one, spoken, findings)

    models = _made(said, syntax.Model, model, "model", notes)
    return Gear(cables, protocols, models, broken)


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
    for one in night.said:
        name = declared(one.statement)
        if not name:
            continue
        if name in found:
            first = found[name].statement
            notes.findings.append(repeated("thing", _name_of(one.statement), _name_of(first)))
            continue
        found[name] = one
    broken = _broken_names(night, ("zone", "box", "link", "source", "output"))
    return found, broken - found.keys()


def _name_of(statement: syntax.Statement) -> syntax.Word:
    assert isinstance(statement, syntax.Zone | syntax.Box | syntax.Link | syntax.Plug)
    assert statement.name is not None
    return statement.name


def _broken_names(night: Tonight, firsts: tuple[str, ...]) -> frozenset[str]:
    """Names of statements that could not be read; where even the first word is lost, the name may be of any kind."""
    return frozenset(
        one.statement.name.text
        for one in night.said
        if isinstance(one.statement, syntax.Broken)
        and one.statement.name is not None
        and (one.statement.word is None or one.statement.word.text in firsts or one.statement.word.text not in FIRSTS)
    )


FIRSTS = frozenset(("cable", "protocol", "model", "zone", "box", "link", "source", "output"))
