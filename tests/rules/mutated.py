"""Clean shows, and places in their text where one thing can be made wrong."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache, cached_property
from pathlib import Path

from rigdsl.finding import Level
from rigdsl.lint import lint
from rigdsl.lint.options import chosen
from rigdsl.lint.pages import page
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.rig import DictReader, Rig, load

__all__ = ["Show", "Site", "clean", "sites"]

EXAMPLES = Path(__file__).parents[2] / "examples"
RULES = [packed for packed in discover().rules if packed.rule.on]


@dataclass(frozen=True)
class Show:
    """A rig and the files that it is made of."""

    name: str
    entry: str
    files: tuple[tuple[str, str], ...]

    @cached_property
    def rig(self) -> Rig:
        return load(self.entry, DictReader(dict(self.files))).rig

    @cached_property
    def paths(self) -> Paths:
        return Paths(self.rig)

    @cached_property
    def told(self) -> tuple[tuple[Level, str, str], ...]:
        """Errors and warnings: level, rule, subject."""
        verdict = lint(self.rig, self.paths, RULES)
        assert not verdict.crashed, verdict.findings
        return tuple(
            (one.level or Level.NOTE, one.rule, one.subject) for one in verdict.findings if one.level != Level.NOTE
        )

    def named(self, level: Level) -> set[str]:
        """The rules that say something of a level."""
        return {rule for found, rule, _ in self.told if found == level}

    def everywhere(self, pattern: str, new: str) -> Show:
        """With all that fits a pattern written otherwise."""
        return replace(self, files=tuple((path, re.sub(pattern, new, text, flags=re.M)) for path, text in self.files))

    def plus(self, *lines: str) -> Show:
        """With lines at the end of its own file."""
        more = "".join(f"\n{line}" for line in lines) + "\n"
        return replace(
            self, files=tuple((path, text + (more if path == self.entry else "")) for path, text in self.files)
        )


@dataclass(frozen=True)
class Site:
    """A place in a show that a pattern fits, and what it fits."""

    show: Show
    path: str
    match: re.Match[str]

    def __repr__(self) -> str:
        return f"{self.show.name}, {self.path}: {self.match[0].strip()}"

    def __getitem__(self, group: str) -> str:
        return self.match[group]

    def written(self, new: str) -> Show:
        """The show with this place written otherwise."""
        files = dict(self.show.files)
        text = files[self.path]
        files[self.path] = text[: self.match.start()] + new + text[self.match.end() :]
        return replace(self.show, files=tuple(files.items()))

    def with_group(self, group: str, new: str) -> Show:
        """The show with a part of this place written otherwise."""
        start, end = (at - self.match.start() for at in self.match.span(group))
        return self.written(self.match[0][:start] + new + self.match[0][end:])


@cache
def clean() -> tuple[Show, ...]:
    """Every show of the examples, and every help page's good rig, as far as no rule has anything against them."""
    shows = [
        Show(f"{folder.name}-{path.stem}", path.relative_to(folder).as_posix(), _files(folder))
        for folder in sorted(EXAMPLES.iterdir())
        if folder.is_dir() and folder.name != "faulty"
        for path in sorted((folder / "shows").glob("*.rig"))
    ]
    shows += [
        Show(f"page of {packed.name}", "a.rig", (("a.rig", page(packed.rule).keeps),))
        for packed in discover().rules
        if chosen(packed.rule.options, page(packed.rule).options) == packed.rule.options()
    ]
    return tuple(shows)


def _files(folder: Path) -> tuple[tuple[str, str], ...]:
    paths = sorted(folder.rglob("*.rig"))
    return tuple((path.relative_to(folder).as_posix(), path.read_text("utf-8")) for path in paths)


def sites(pattern: str, fit: Callable[[Site], bool] = lambda site: True, shows: tuple[Show, ...] = ()) -> list[Site]:
    """All places that a pattern fits, in the files that a show reads, as far as they are such that it matters."""
    return [site for show in shows or clean() for site in _in_show(show, pattern) if fit(site)]


def _in_show(show: Show, pattern: str) -> Iterator[Site]:
    used = {source.path for source in load(show.entry, DictReader(dict(show.files))).sources}
    for path, text in show.files:
        if path in used:
            yield from (Site(show, path, match) for match in re.finditer(pattern, text, re.M))
