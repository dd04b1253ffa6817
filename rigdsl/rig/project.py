"""Which files a rig is made of: the entry, what it uses, what those use, each once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rigdsl.finding import Finding, Level, Related
from rigdsl.rig.amounts import clipped, fault
from rigdsl.rig.readers import Reader, Unread, beside
from rigdsl.syntax import nodes as syntax
from rigdsl.syntax import parse
from rigdsl.text import Source, Span

__all__ = ["File", "Project", "gather"]

# The files that are open, from the entry down: the key of each, and its path as it is spelled.
Chain = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class File:
    """One file, what it says, and the files it uses. `shelf`: 0 the user's, 1 a pack's gear, 2 the standards."""

    key: str
    source: Source
    statements: tuple[syntax.Statement, ...]
    uses: tuple[str, ...] = ()
    shelf: int = 0


@dataclass(frozen=True)
class Project:
    """All files by key, the entry first, each file before those it uses; what could not be read is in `findings`.

    `complete` is false where a used file is missing: names may then be unknown through no fault of the rig.
    """

    entry: str
    files: Mapping[str, File]
    findings: tuple[Finding, ...]
    complete: bool

    def below(self, key: str) -> frozenset[str]:
        """The files that one uses, at any depth, without itself."""
        seen: set[str] = set()
        waiting = list(self.files[key].uses)
        while waiting:
            used = waiting.pop()
            if used not in seen and used in self.files:
                seen.add(used)
                waiting.extend(self.files[used].uses)
        return frozenset(seen - {key})


def gather(entry: str, reader: Reader, shelves: Iterable[tuple[Source, int]]) -> Project:
    """Read the entry and all it uses, and the libraries of the shelves."""
    findings: list[Finding] = []
    files: dict[str, File] = {}
    start = reader.read(entry)
    if isinstance(start, Unread):
        place = Span(Source(entry, ""), 0, 0)
        nothing = "there is nothing to check, draw or print"
        findings.append(fault(start.rule, place, start.message, subject=entry, consequence=nothing, help=start.help))
        return Project(entry, {}, tuple(findings), False)
    complete = _read_all(start, reader, files, findings)
    findings += [_empty(file) for file in files.values() if not file.source.text.strip()]
    files = _using_first(reader.same(start.path), files)
    for source, shelf in shelves:
        parsed = parse(source)
        findings += parsed.findings
        files[source.path] = File(source.path, source, parsed.statements, (), shelf)
    return Project(reader.same(entry), files, tuple(findings), complete)


def _empty(file: File) -> Finding:
    return fault(
        "syntax-error",
        Span(file.source, 0, 0),
        f"`{file.source.path}` is empty",
        subject=file.source.path,
        consequence="there is nothing to check, draw or print",
        help='a rig begins with `rig "TITLE" { }`',
    )


def _using_first(entry: str, files: Mapping[str, File]) -> dict[str, File]:
    """The files with each before all that it uses, and those of one file in the order of its lines."""
    done: dict[str, File] = {}
    open_: set[str] = set()
    waiting = [entry]
    while waiting:
        key = waiting[-1]
        if key in open_ or key in done:
            waiting.pop()
            done.setdefault(key, files[key])
            continue
        open_.add(key)
        waiting += [used for used in files[key].uses if used not in open_]
    return dict(reversed(done.items()))


def _read_all(start: Source, reader: Reader, files: dict[str, File], findings: list[Finding]) -> bool:
    """Depth first, with the chain of files that are open: a file met on it again is a loop."""
    complete = True
    waiting: list[tuple[Source, Chain]] = [(start, ())]
    while waiting:
        source, chain = waiting.pop()
        key = reader.same(source.path)
        if key in files:
            continue
        parsed = parse(source)
        findings += parsed.findings
        uses: list[str] = []
        complete = complete and not any(map(_lost_use, parsed.statements))
        for said in parsed.statements:
            if not isinstance(said, syntax.Use):
                continue
            path = beside(source.path, said.path.text)
            used = reader.same(path)
            here: Chain = (*chain, (key, source.path))
            if used in dict(here):
                findings.append(_loop(said, path, here, used, files))
                continue
            if used in files:
                uses.append(used)
                continue
            got = reader.read(path)
            if isinstance(got, Unread):
                complete = False
                findings.append(_unread(said, got))
                continue
            uses.append(used)
            waiting.append((got, here))
        files[key] = File(key, source, parsed.statements, tuple(uses))
    return complete


def _lost_use(said: syntax.Statement) -> bool:
    """A `use` that could not be read: the file that it names is missing too."""
    if not isinstance(said, syntax.Broken):
        return False
    return (said.word is not None and said.word.text == "use") or ".rig" in said.span.text[:1000]


def _loop(said: syntax.Use, path: str, chain: Chain, used: str, files: Mapping[str, File]) -> Finding:
    keys = [key for key, _ in chain]
    steps = [step for _, step in chain[keys.index(used) :]]
    way = " uses ".join(f"`{clipped(step)}`" for step in [*steps[:3], *steps[3:][-3:], path])
    return Finding(
        rule="file-loop",
        level=Level.ERROR,
        place=said.path.span,
        subject=said.path.text,
        message=f"`{clipped(path)}` uses itself"
        if len(steps) == 1
        else f"these files use each other in a circle: {way}",
        consequence="the file is read once, and this line is left out",
        help="let one file use the other, and put what both need into a third",
        related=_opened(files.get(used), steps[1:2]),
    )


def _opened(first: File | None, following: list[str]) -> tuple[Related, ...]:
    """The line of the first file of a circle that leads to the next one."""
    if first is None:
        return ()
    for statement in first.statements:
        if isinstance(statement, syntax.Use) and [beside(first.source.path, statement.path.text)] == following:
            return (Related(statement.path.span, "the circle begins here"),)
    return ()


def _unread(said: syntax.Use, why: Unread) -> Finding:
    consequence = "all that this file defines is missing"
    return fault(why.rule, said.path.span, why.message, subject=said.path.text, consequence=consequence, help=why.help)
