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
        findings.append(fault(start.rule, place, start.message, subject=entry, help=start.help))
        return Project(entry, {}, tuple(findings), False)
    complete = _read_all(start, reader, files, findings)
    for source, shelf in shelves:
        parsed = parse(source)
        findings += parsed.findings
        files[source.path] = File(source.path, source, parsed.statements, (), shelf)
    return Project(reader.same(entry), files, tuple(findings), complete)


def _read_all(start: Source, reader: Reader, files: dict[str, File], findings: list[Finding]) -> bool:
    """Depth first, with the chain of files that are open: a file met on it again is a loop."""
    complete = True
    waiting: list[tuple[Source, tuple[str, ...]]] = [(start, ())]
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
            if used == key or used in chain:
                findings.append(_loop(said, path, (*chain, key), used, files))
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
            waiting.append((got, (*chain, key)))
        files[key] = File(key, source, parsed.statements, tuple(uses))
    return complete


def _lost_use(said: syntax.Statement) -> bool:
    """A `use` that could not be read: the file that it names is missing too."""
    if not isinstance(said, syntax.Broken):
        return False
    return (said.word is not None and said.word.text == "use") or ".rig" in said.span.text[:1000]


def _loop(said: syntax.Use, path: str, chain: tuple[str, ...], used: str, files: Mapping[str, File]) -> Finding:
    steps = [files[key].source.path for key in chain if key in files]
    way = " uses ".join(f"`{step}`" for step in [*steps, path][-6:])
    return Finding(
        rule="file-loop",
        level=Level.ERROR,
        place=said.path.span,
        subject=said.path.text,
        message=f"`{clipped(path)}` uses itself"
        if len(chain) == 1
        else f"these files use each other in a circle: {way}",
        consequence="the file is read once, and this line is left out",
        help="let one file use the other, and put what both need into a third",
        related=_opened(said, used, files),
    )


def _opened(said: syntax.Use, used: str, files: Mapping[str, File]) -> tuple[Related, ...]:
    first = files.get(used)
    if first is None:
        return ()
    for statement in first.statements:
        if isinstance(statement, syntax.Use):
            return (Related(statement.path.span, "the circle begins here"),)
    return ()


def _unread(said: syntax.Use, why: Unread) -> Finding:
    consequence = "all that this file defines is missing"
    return fault(why.rule, said.path.span, why.message, subject=said.path.text, consequence=consequence, help=why.help)
