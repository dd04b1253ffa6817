"""A night on top of a house file: what `without`, `replug` and `change` make of the used files' statements."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from rigdsl.finding import Finding
from rigdsl.rig.amounts import a, alike, clipped, fault
from rigdsl.rig.project import File, Project
from rigdsl.syntax import nodes as syntax

__all__ = ["DIRECTIONS", "NAMING", "Said", "Tonight", "declared", "kind", "taken_by_entry", "tonight"]

Named = syntax.Zone | syntax.Box | syntax.Link | syntax.Plug | syntax.Supply
REMOVABLE = "a link, box, source, output, supply or zone"
NAMING = ("zone", "box", "link", "source", "output", "supply")
DIRECTIONS = {"source": "to", "output": "from"}


@dataclass(frozen=True)
class Said:
    """A statement that counts tonight, the file it stands in, and the facts that each `change` line adds to it.

    `plugged_in` is the key of the file whose words say where a source or output is plugged: a `replug` has its own.
    """

    statement: syntax.Statement
    file: File
    changes: tuple[tuple[syntax.Fact, ...], ...] = ()
    plugged_in: str = ""


@dataclass(frozen=True)
class Tonight:
    """All statements that count. `gone` has, for each file, the names that the files above it took away.

    `taken` are the declarations behind those names: ranges over their sockets still have a length; `below` the
    files that each file uses, at any depth.
    """

    said: tuple[Said, ...]
    gone: Mapping[str, frozenset[str]]
    taken: tuple[Said, ...]
    below: Mapping[str, frozenset[str]]


def tonight(project: Project, findings: list[Finding]) -> Tonight:
    """Apply every `without`, `replug` and `change` of the project."""
    below = {key: project.below(key) for key in project.files}
    told: list[Finding] = []
    gone = _gone(project, below, told)
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
            kept, plugged_in = _edited(statement, key, name, replugs, below, used, told)
            extra = tuple(
                change.facts
                for change_key, change in changes.get(name, ())
                if _reaches(change_key, key, below, used, change)
            )
            said.append(Said(kept, file, extra, plugged_in))
    told += _unused(replugs, changes, used, said)
    lost = _lost(said)
    findings += (one for one in told if project.complete and lost is not None and one.place.text not in lost)
    return Tonight(tuple(said), gone, tuple(taken), below)


def _lost(said: list[Said]) -> set[str] | None:
    """Names that statements which could not be read may have given; None where one has lost its name, too."""
    broken = [one.statement for one in said if isinstance(one.statement, syntax.Broken)]
    if any(one.name is None and one.word is not None and one.word.text in NAMING for one in broken):
        return None
    return {word.text for one in broken for word in (one.word, one.name) if word is not None}


KINDS: Mapping[type, str] = {
    syntax.Zone: "zone",
    syntax.Box: "box",
    syntax.Link: "link",
    syntax.Supply: "supply",
}


def declared(statement: syntax.Statement) -> str:
    """The name that a statement gives to a zone, box, link, source, output or supply, else nothing."""
    if isinstance(statement, Named) and statement.name:
        return statement.name.text
    return ""


def kind(statement: syntax.Statement) -> str:
    """What a person calls the thing that a statement declares."""
    if isinstance(statement, syntax.Plug):
        return statement.word
    return KINDS.get(type(statement), "thing")


def _gone(project: Project, below: Mapping[str, frozenset[str]], findings: list[Finding]) -> dict[str, frozenset[str]]:
    gone: dict[str, set[str]] = {key: set() for key in project.files}
    for key, file in project.files.items():
        words = [word for one in file.statements if isinstance(one, syntax.Without) for word in one.names]
        if not words:
            continue
        there = _named_below(project, below[key])
        zones = {declared(one) for one in file.statements if isinstance(one, syntax.Zone)}
        names: set[str] = set()
        for word in words:
            if word.text not in there:
                findings.append(_not_there(word, file, there))
            else:
                names |= {word.text} if word.text in zones else _with_contents(there[word.text], there)
        for used in below[key]:
            gone[used] |= names
    for key, file in project.files.items():
        gone[key] |= {declared(one) for one in file.statements if gone[key] and _is_card_in(one, gone[key])}
        gone[key] |= {declared(one) for one in file.statements if gone[key] and _cut_off(one, gone[key])}
    return {key: frozenset(names) for key, names in gone.items()}


def taken_by_entry(project: Project, night: Tonight) -> tuple[Said, ...]:
    """What would still be there if the entry itself took nothing away."""
    if not night.taken:
        return ()
    entry = project.files[project.entry]
    quiet = replace(entry, statements=tuple(one for one in entry.statements if not isinstance(one, syntax.Without)))
    earlier = _gone(replace(project, files={**project.files, entry.key: quiet}), night.below, [])
    return tuple(one for one in night.taken if declared(one.statement) not in earlier[one.file.key])


def _named_below(project: Project, below: frozenset[str]) -> dict[str, syntax.Statement]:
    """What the used files declare, by name; of two with one name the first, which is the one that counts."""
    there: dict[str, syntax.Statement] = {}
    for key, file in project.files.items():
        for statement in file.statements if key in below else ():
            name = declared(statement)
            if name:
                there.setdefault(name, statement)
    return there


def _is_card_in(statement: syntax.Statement, gone: set[str]) -> bool:
    """A card in a slot of a box that is taken away: it goes with its host."""
    return isinstance(statement, syntax.Box) and statement.slot is not None and statement.slot.name.text in gone


def _cut_off(statement: syntax.Statement, gone: set[str]) -> bool:
    """A named cable of which every join has lost the boxes of one side: it goes with them, and its id is free."""
    if not isinstance(statement, syntax.Link) or statement.name is None:
        return False
    sides = ((join.left, join.right) for join in statement.joins)
    return all(any(all(end.name.text in gone for end in side) for side in both) for both in sides)


def _with_contents(statement: syntax.Statement, there: Mapping[str, syntax.Statement]) -> set[str]:
    """A zone that is taken away goes with what stands in it (unless the night lays out that zone anew)."""
    name = declared(statement)
    if not isinstance(statement, syntax.Zone):
        return {name}
    inside = {
        declared(other)
        for other in there.values()
        if isinstance(other, syntax.Box | syntax.Plug | syntax.Supply) and other.zone and other.zone.text == name
    }
    return {name} | inside


def _not_there(word: syntax.Word, file: File, there: Mapping[str, syntax.Statement]) -> Finding:
    own = {declared(statement) for statement in file.statements}
    message = f"no used file has {REMOVABLE} called `{clipped(word.text)}`"
    hint = alike(word.text, {name: kind(other) for name, other in there.items() if name})
    hint = hint or f"name {REMOVABLE} of a file that this one uses"
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
    findings: list[Finding],
) -> tuple[syntax.Statement, str]:
    """A statement with the `replug` lines that reach it, and the key of the file whose words its plug now has."""
    if not isinstance(statement, syntax.Plug):
        return statement, key
    plugged_in = key
    for above, edit in replugs.get(name, ()):
        if not _reaches(above, key, below, used, edit):
            continue
        if edit.direction.text != DIRECTIONS[statement.word]:
            findings.append(_turned(edit, statement.word))
        else:
            statement = statement._replace(ends=edit.ends, lead=edit.lead)
            plugged_in = above
    return statement, plugged_in


def _turned(edit: syntax.Replug, kind: Literal["source", "output"]) -> Finding:
    name, wanted = clipped(edit.name.text), DIRECTIONS[kind]
    goes = "a source, and goes `to` a socket" if kind == "source" else "an output, and comes `from` a socket"
    help = f"write `replug {name} {wanted} ...`"
    consequence = f"`{name}` stays where it was"
    return fault(
        "syntax-error", edit.direction.span, f"`{name}` is {goes}", subject=name, consequence=consequence, help=help
    )


def _unused(
    replugs: Mapping[str, list[_Edit]], changes: Mapping[str, list[_ChangeEdit]], used: set[int], said: list[Said]
) -> Iterator[Finding]:
    """Edits that found nothing to edit."""
    things = {declared(one.statement): kind(one.statement) for one in said if declared(one.statement)}
    plugs = {name: what for name, what in things.items() if what in DIRECTIONS}
    for edits, known, what in (
        (replugs, plugs, "source or output"),
        (changes, things, "zone, box, link, source, output or supply"),
    ):
        for name, pairs in edits.items():
            for _, edit in pairs:
                if id(edit) not in used:
                    yield _nothing_to_edit(edit.name, what, known, "" if name in known else things.get(name, ""))


def _nothing_to_edit(word: syntax.Word, what: str, known: Mapping[str, str], kind: str) -> Finding:
    text = clipped(word.text)
    message = f"`{text}` is {a(kind)}, and {a(what)} is needed here" if kind else f"there is no {what} called `{text}`"
    help = alike(word.text, known) or f"name {a(what)} of this file or of one that it uses"
    return fault(
        "unknown-name", word.span, message, subject=text, consequence="nothing is changed by this line", help=help
    )
