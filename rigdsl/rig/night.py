"""A night on top of a house file: what `without`, `replug` and `change` make of the used files' statements."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from rigdsl.finding import Finding, similar
from rigdsl.rig.amounts import clipped, fault
from rigdsl.rig.project import File, Project
from rigdsl.syntax import nodes as syntax

__all__ = ["Said", "Tonight", "tonight"]

Named = syntax.Zone | syntax.Box | syntax.Link | syntax.Plug
REMOVABLE = "a link, box, source, output or zone"


@dataclass(frozen=True)
class Said:
    """A statement that counts tonight, the file it stands in, and the facts that `change` lines add to it."""

    statement: syntax.Statement
    file: File
    changes: tuple[syntax.Fact, ...] = ()


@dataclass(frozen=True)
class Tonight:
    """All statements that count. `gone` has, for each file, the names that the files above it took away.

    `taken` are the declarations behind those names: ranges over their sockets still have a length.
    """

    said: tuple[Said, ...]
    gone: Mapping[str, frozenset[str]]
    taken: tuple[Said, ...]
    below: Mapping[str, frozenset[str]]


def tonight(project: Project, findings: list[Finding]) -> Tonight:
    """Apply every `without`, `replug` and `change` of the project."""
    below = {key: project.below(key) for key in project.files}
    gone = _gone(project, below, findings)
    replugs, changes = _edits(project)
    used: set[int] = set()
    said: list[Said] = []
    taken: list[Said] = []
    for key, file in project.files.items():
        for statement in file.statements:
            name = declared(statement)
            if name and name in gone[key]:
                taken.append(Said(statement, file))
                continue
            kept = _edited(statement, key, name, replugs, below, used)
            extra = tuple(
                fact
                for change_key, change in changes.get(name, ())
                if _reaches(change_key, key, below, used, change)
                for fact in change.facts
            )
            said.append(Said(kept, file, extra))
    findings += _unused(replugs, changes, used, said)
    return Tonight(tuple(said), gone, tuple(taken), below)


def declared(statement: syntax.Statement) -> str:
    """The name that a statement gives to a zone, box, link, source or output, else nothing."""
    if isinstance(statement, Named) and statement.name:
        return statement.name.text
    return ""


def _gone(project: Project, below: Mapping[str, frozenset[str]], findings: list[Finding]) -> dict[str, frozenset[str]]:
    gone: dict[str, set[str]] = {key: set() for key in project.files}
    for key, file in project.files.items():
        for statement in file.statements:
            if not isinstance(statement, syntax.Without):
                continue
            there = {declared(other): other for used in below[key] for other in project.files[used].statements}
            for word in statement.names:
                if word.text not in there or not word.text:
                    findings.append(_not_there(word, file, there))
                    continue
                names = _with_contents(there[word.text], there)
                for used in below[key]:
                    gone[used] |= names
    return {key: frozenset(names) for key, names in gone.items()}


def _with_contents(statement: syntax.Statement, there: Mapping[str, syntax.Statement]) -> set[str]:
    """A zone that is taken away goes with what stands in it."""
    name = declared(statement)
    if not isinstance(statement, syntax.Zone):
        return {name}
    inside = {
        declared(other)
        for other in there.values()
        if isinstance(other, syntax.Box | syntax.Plug) and other.zone and other.zone.text == name
    }
    return {name} | inside


def _not_there(word: syntax.Word, file: File, there: Mapping[str, object]) -> Finding:
    own = {declared(statement) for statement in file.statements}
    message = f"no used file has {REMOVABLE} called `{clipped(word.text)}`"
    hint = similar("thing", word.text, [name for name in there if name])
    if word.text in own:
        message = f"`{clipped(word.text)}` is of this very file: `without` takes away what a used file brought"
        hint = "delete its line instead"
    consequence = "nothing is taken away by this name"
    return fault("unknown-name", word.span, message, subject=clipped(word.text), consequence=consequence, help=hint)


_Edit = tuple[str, syntax.Replug]
_ChangeEdit = tuple[str, syntax.Change]


def _edits(project: Project) -> tuple[dict[str, list[_Edit]], dict[str, list[_ChangeEdit]]]:
    """The `replug` and `change` lines by name; the entry's come last, so they win."""
    replugs: dict[str, list[_Edit]] = {}
    changes: dict[str, list[_ChangeEdit]] = {}
    for key, file in reversed(list(project.files.items())):
        for statement in file.statements:
            if isinstance(statement, syntax.Replug):
                replugs.setdefault(statement.name.text, []).append((key, statement))
            elif isinstance(statement, syntax.Change):
                changes.setdefault(statement.name.text, []).append((key, statement))
    return replugs, changes


def _reaches(above: str, key: str, below: Mapping[str, frozenset[str]], used: set[int], edit: syntax.Statement) -> bool:
    if above != key and key not in below[above]:
        return False
    used.add(id(edit))
    return True


def _edited(
    statement: syntax.Statement,
    key: str,
    name: str,
    replugs: Mapping[str, list[_Edit]],
    below: Mapping[str, frozenset[str]],
    used: set[int],
) -> syntax.Statement:
    if not isinstance(statement, syntax.Plug):
        return statement
    for above, edit in replugs.get(name, ()):
        if _reaches(above, key, below, used, edit):
            statement = replace(statement, ends=edit.ends, lead=edit.lead)
    return statement


def _unused(
    replugs: Mapping[str, list[_Edit]], changes: Mapping[str, list[_ChangeEdit]], used: set[int], said: list[Said]
) -> Iterator[Finding]:
    """Edits that found nothing to edit."""
    plugs = {declared(one.statement) for one in said if isinstance(one.statement, syntax.Plug)}
    things = {declared(one.statement) for one in said} - {""}
    for edits, known, what in ((replugs, plugs, "source or output"), (changes, things, "thing")):
        for name, pairs in edits.items():
            for _, edit in pairs:
                if id(edit) not in used:
                    message = f"there is no {what} called `{clipped(name)}`"
                    hint = similar(what, name, known)
                    yield fault("unknown-name", edit.name.span, message, subject=clipped(name), help=hint)
