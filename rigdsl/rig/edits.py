"""What the files of a night say about those that they use: taken away, plugged elsewhere, changed, unpatched."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from rigdsl.rig.night import Tonight, declared, kind
from rigdsl.rig.project import Project
from rigdsl.syntax import nodes as syntax
from rigdsl.text import Span

__all__ = ["NightEdit", "edits"]

Verb = Literal["taken away", "plugged elsewhere", "changed", "unpatched"]


@dataclass(frozen=True)
class NightEdit:
    """One thing of a used file, and what becomes of it: `was` and `now` in the words of the files."""

    verb: Verb
    what: str
    name: str
    label: str
    was: str
    now: str
    place: Span


def edits(project: Project, night: Tonight) -> tuple[NightEdit, ...]:
    """All of them: what is taken away in the order of the files, then the lines of the night in theirs."""
    there = {declared(one.statement): one.statement for one in night.said if declared(one.statement)}
    taken = tuple(_taken(one.statement) for one in night.taken)
    return (*taken, *_told(project, there))


def _taken(thing: syntax.Statement) -> NightEdit:
    return NightEdit("taken away", kind(thing), declared(thing), _label(thing), _first_line(thing.span), "", thing.span)


def _told(project: Project, there: dict[str, syntax.Statement]) -> Iterator[NightEdit]:
    before = {
        one.name.text: one
        for file in project.files.values()
        for one in file.statements
        if isinstance(one, syntax.Plug) and not file.shelf
    }
    for file in project.files.values():
        for one in file.statements:
            if isinstance(one, syntax.Unpatch):
                yield NightEdit("unpatched", "patch", _words(_across(one.ends)), "", "", "", one.span)
            elif isinstance(one, syntax.Replug) and one.name.text in before:
                thing = before[one.name.text]
                was = _words(_across(thing.ends, thing.lead))
                now = _words(_across(one.ends, one.lead))
                yield NightEdit("plugged elsewhere", thing.word, one.name.text, _label(thing), was, now, one.span)
            elif isinstance(one, syntax.Change) and one.name.text in there:
                other = there[one.name.text]
                facts = "; ".join(_words(fact.span) for fact in one.facts)
                yield NightEdit("changed", kind(other), one.name.text, _label(other), "", facts, one.span)


def _label(thing: syntax.Statement) -> str:
    label = getattr(thing, "label", None)
    return label.text if isinstance(label, syntax.Word) else ""


def _across(ends: tuple[syntax.End, ...], lead: syntax.Lead | None = None) -> Span | None:
    """From the first of the ends to the last, and the cable behind it."""
    if not ends:
        return None
    last = ends[-1].span if lead is None else (lead.length or lead.cable).span
    return Span(ends[0].span.source, ends[0].span.start, last.end)


def _words(place: Span | None) -> str:
    return " ".join(place.text.split()) if place is not None else ""


def _first_line(place: Span) -> str:
    """The words of a statement before its block."""
    return " ".join(place.text.partition("{")[0].split())
