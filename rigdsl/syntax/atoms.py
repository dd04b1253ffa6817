"""The small pieces of statements: words, numbers, quantities, facts, sockets, cables."""

from __future__ import annotations

from typing import Literal, NamedTuple

from rigdsl.text import Source, Span

__all__ = ["Amount", "Atom", "End", "Fact", "Lead", "Range", "Word"]


class Word(NamedTuple):
    """One word, number, unit, date, address or label; `text` of a label is without its quotes and escapes."""

    kind: Literal["word", "number", "ratio", "date", "address", "string"]
    text: str
    source: Source
    start: int
    end: int

    @property
    def span(self) -> Span:
        """Where it stands."""
        return Span(self.source, self.start, self.end)


class Range(NamedTuple):
    """Numbers of sockets: `3`, or `1-12` with a last one."""

    first: Word
    last: Word | None

    @property
    def span(self) -> Span:
        """Where it stands."""
        return Span(self.first.source, self.first.start, (self.last or self.first).end)


class Amount(NamedTuple):
    """A number with its unit: `60 m`, `110 pF/m`."""

    number: Word
    unit: Word

    @property
    def span(self) -> Span:
        """Where it stands."""
        return Span(self.number.source, self.number.start, self.unit.end)


Atom = Word | Range


class Fact(NamedTuple):
    """One fact of a block: its name and, between commas, the words that follow: `carries 40 at 48 kHz, 20 at 96 kHz`.

    A number and its unit are two words here; `1-12` is one Range.
    """

    name: Word
    clauses: tuple[tuple[Atom, ...], ...]
    span: Span


class End(NamedTuple):
    """Sockets, or the name of a thing: `SL`, `SL 3`, `SL.mic 1-4,7`, `SL.A`."""

    name: Word
    group: Word | None
    ranges: tuple[Range, ...]
    span: Span


class Lead(NamedTuple):
    """`via CABLE LENGTH`; without a length it is the measured one."""

    cable: Word
    length: Amount | None
