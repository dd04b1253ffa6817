"""A file's text and the places in it, counted in code points.

Lines, columns and the width of a character on a terminal are worked out only
where a person or another program reads them: here, on demand, and nowhere else.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_right
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

__all__ = ["Position", "Source", "Span", "normalised"]

TAB_STOP = 8


class Position(NamedTuple):
    """A place as people count it: line and column from 1, columns in characters."""

    line: int
    column: int


@dataclass(frozen=True, eq=False)
class Source:
    """One file: `path` as the user would type it (with `/`), and its text with `\\n` line ends."""

    path: str
    text: str = field(repr=False)

    @cached_property
    def line_starts(self) -> list[int]:
        """The offset at which each line begins."""
        starts = [0]
        find = self.text.find
        at = find("\n")
        while at >= 0:
            starts.append(at + 1)
            at = find("\n", at + 1)
        return starts

    def position(self, offset: int) -> Position:
        """The line and column of an offset."""
        line = bisect_right(self.line_starts, offset)
        return Position(line, offset - self.line_starts[line - 1] + 1)

    def line(self, number: int) -> str:
        """The text of a line (from 1), without its line end."""
        starts = self.line_starts
        end = starts[number] - 1 if number < len(starts) else len(self.text)
        return self.text[starts[number - 1] : end]


@dataclass(frozen=True, slots=True)
class Span:
    """A half-open stretch of a source: from `start` up to, not including, `end`."""

    source: Source
    start: int
    end: int

    @property
    def text(self) -> str:
        """The characters of the span."""
        return self.source.text[self.start : self.end]

    @property
    def from_position(self) -> Position:
        """Where it begins."""
        return self.source.position(self.start)

    @property
    def to_position(self) -> Position:
        """Where it ends: the place behind its last character."""
        return self.source.position(self.end)

    def to(self, other: Span) -> Span:
        """The span from the start of this one to the end of another in the same source."""
        return Span(self.source, self.start, other.end)


def normalised(text: str) -> str:
    """Text as the rest of rigdsl sees it: no byte order mark, `\\n` line ends."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")


def width(text: str) -> int:
    """How many columns of a terminal a line takes; tabs stand at every eighth."""
    columns = 0
    for character in text:
        if character == "\t":
            columns += TAB_STOP - columns % TAB_STOP
        elif unicodedata.combining(character) or unicodedata.category(character) in ("Cf", "Mn", "Me"):
            continue
        else:
            columns += 2 if unicodedata.east_asian_width(character) in "WF" else 1
    return columns
