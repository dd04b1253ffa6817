"""Where the keys and values of a TOML text stand: the standard library reads them, and says no places.

The text is known to be good TOML (it was read before it comes here), so that looking for places is all there is to do.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from rigdsl.text.source import Source, Span

__all__ = ["KeyPath", "Places", "places"]

KeyPath = tuple[str | int, ...]

KEY = re.compile(r"""[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
BLANK = re.compile(r"[ \t]*")
FILLING = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")  # what may stand between the parts of an array
SCALAR = re.compile(
    r'''"""(?:\\.|[^\\])*?"""(?:"{0,2})|\'\'\'.*?\'\'\'(?:'{0,2})|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'|[^,\]}#\n]+''',
    re.DOTALL,
)
ENTRY_END = re.compile(r"[ \t]*(?:#[^\n]*)?(?:\n|$)")


@dataclass(frozen=True)
class Places:
    """Each key and each value by the keys that lead to it; the tables of an array and its items are counted from 0."""

    source: Source
    keys: Mapping[KeyPath, Span]
    values: Mapping[KeyPath, Span]

    def key(self, path: KeyPath) -> Span:
        """Where a key is written, else the nearest one that leads to it."""
        return self._nearest(self.keys, path)

    def value(self, path: KeyPath) -> Span:
        """Where a value is written, else the key."""
        return self.values.get(path) or self._nearest({**self.keys, **self.values}, path)

    def _nearest(self, spans: Mapping[KeyPath, Span], path: KeyPath) -> Span:
        leading = (path[:count] for count in range(len(path), 0, -1))
        return next((spans[one] for one in leading if one in spans), Span(self.source, 0, 0))


def places(source: Source) -> Places:
    """Look through a TOML text."""
    scan = _Scan(source)
    scan.document()
    return Places(source, scan.keys, scan.values)


@dataclass
class _Scan:
    """The way through a text: `at` is how far it has come."""

    source: Source
    at: int = 0
    keys: dict[KeyPath, Span] = field(default_factory=dict)
    values: dict[KeyPath, Span] = field(default_factory=dict)
    counts: dict[KeyPath, int] = field(default_factory=dict)

    def document(self) -> None:
        """Every line: a header changes the table that the lines after it are in."""
        table: KeyPath = ()
        self.skip(FILLING)
        while self.at < len(self.source.text):
            before = self.at
            if self.source.text[self.at] == "[":
                table = self.header()
            else:
                self.pair(table)
            self.skip(ENTRY_END)
            self.skip(FILLING)
            if self.at == before:  # no good TOML after all
                return

    def skip(self, what: re.Pattern[str]) -> None:
        """Over what has no meaning here."""
        found = what.match(self.source.text, self.at)
        self.at = found.end() if found else self.at

    def take(self, mark: str) -> bool:
        """Over a mark, where it stands here."""
        if self.source.text.startswith(mark, self.at):
            self.at += len(mark)
            return True
        return False

    def header(self) -> KeyPath:
        """`[a.b]` or `[[a.b]]`: the table that begins here."""
        start = self.at
        several = self.take("[[") or not self.take("[")
        path: KeyPath = ()
        parts = self.dotted()
        for number, (name, place) in enumerate(parts, 1):
            path = (*path, name)
            self.keys.setdefault(path, place)
            if several and number == len(parts):
                self.counts[path] = self.counts.get(path, 0) + 1
            if path in self.counts:
                path = (*path, self.counts[path] - 1)
        self.take("]]" if several else "]")
        if several:
            self.keys.setdefault(path, Span(self.source, start, self.at))
        return path

    def dotted(self) -> list[tuple[str, Span]]:
        """`a."b".c`: each part and its place."""
        parts: list[tuple[str, Span]] = []
        while True:
            self.skip(BLANK)
            found = KEY.match(self.source.text, self.at)
            if found is None:
                return parts
            parts.append((_unquoted(found[0]), Span(self.source, found.start(), found.end())))
            self.at = found.end()
            self.skip(BLANK)
            if not self.take("."):
                return parts

    def pair(self, table: KeyPath) -> None:
        """`a.b = value`."""
        path = table
        for name, place in self.dotted():
            path = (*path, name)
            self.keys.setdefault(path, place)
        self.skip(BLANK)
        self.take("=")
        self.skip(BLANK)
        self.value(path)

    def value(self, path: KeyPath) -> None:
        """Any value: an array and an inline table have places inside too."""
        start = self.at
        if self.take("["):
            number = 0
            self.skip(FILLING)
            while self.at < len(self.source.text) and not self.take("]"):
                self.value((*path, number))
                number += 1
                self.skip(FILLING)
                self.take(",")
                self.skip(FILLING)
        elif self.take("{"):
            self.skip(FILLING)
            while self.at < len(self.source.text) and not self.take("}"):
                self.pair(path)
                self.skip(FILLING)
                self.take(",")
                self.skip(FILLING)
        else:
            found = SCALAR.match(self.source.text, self.at)
            said = found[0].rstrip() if found else ""
            self.at += len(said) or 1
        self.values.setdefault(path, Span(self.source, start, self.at))


def _unquoted(key: str) -> str:
    """A key's name; what is escaped in it is read as TOML has it."""
    if key[0] == "'":
        return key[1:-1]
    if key[0] != '"':
        return key
    if "\\" not in key:
        return key[1:-1]
    import tomllib

    return str(tomllib.loads(f"key = {key}")["key"])
