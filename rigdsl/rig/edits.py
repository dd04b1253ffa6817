"""What the file of a night says about those that it uses: taken away, plugged elsewhere, changed, unpatched."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from rigdsl.rig.night import DIRECTIONS, Tonight, declared, kind, taken_by_entry
from rigdsl.rig.project import File, Project
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
    """All of them: what is taken away in the order of the files, then the lines of the night in theirs.

    What a used file does to those that it uses itself belongs to the house, as it stood before tonight.
    """
    entry = project.files.get(project.entry)
    if entry is None:
        return ()
    there = {declared(one.statement): one.statement for one in night.said if declared(one.statement)}
    taken = tuple(_taken(one.statement) for one in taken_by_entry(project, night))
    return (*taken, *_told(entry, there, _before(project, night)))


def _taken(thing: syntax.Statement) -> NightEdit:
    return NightEdit("taken away", kind(thing), declared(thing), _label(thing), _first_line(thing.span), "", thing.span)


def _before(project: Project, night: Tonight) -> dict[str, syntax.Plug]:
    """The sources and outputs of the used files, plugged as those files have it."""
    used = [file for file in project.files.values() if file.key != project.entry and not file.shelf]
    before: dict[str, syntax.Plug] = {}
    for file in used:
        for one in file.statements:
            if isinstance(one, syntax.Plug) and declared(one) not in night.gone[file.key]:
                before.setdefault(declared(one), one)
    for file in reversed(used):
        for one in file.statements:
            if isinstance(one, syntax.Replug) and one.name.text in before:
                before[one.name.text] = before[one.name.text]._replace(ends=one.ends, lead=one.lead)
    return before


def _told(entry: File, there: Mapping[str, syntax.Statement], before: Mapping[str, syntax.Plug]) -> Iterator[NightEdit]:
    last = {one.name.text: one for one in entry.statements if isinstance(one, syntax.Replug)}
    for one in entry.statements:
        if isinstance(one, syntax.Unpatch):
            yield NightEdit("unpatched", "patch", _words(_across(one.ends)), "", "", "", one.span)
        elif isinstance(one, syntax.Replug) and one.name.text in before and last[one.name.text] is one:
            thing = before[one.name.text]
            was, now = _words(_across(thing.ends, thing.lead)), _words(_across(one.ends, one.lead))
            if one.direction.text == DIRECTIONS[thing.word]:
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
