"""The one layout of a text, and that nothing but the layout is changed by it.

A statement that cannot be read stays as it is, with all of its lines. What comes out is looked at again: the same
words and remarks, the same meaning, and nothing left to do; else the text is not to be trusted to it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Iterator, Sequence
from typing import Any, NamedTuple

from rigdsl.syntax.layout import Row, ended, rows
from rigdsl.syntax.marks import clashes
from rigdsl.syntax.parse import MARKS, no_collector
from rigdsl.syntax.recover import Piece, pieces
from rigdsl.syntax.tokens import SILENT, Token, headed, tokens
from rigdsl.syntax.walk import Action, Actions, Stuck, actions, walk
from rigdsl.text import Source

__all__ = ["Lines", "Tidied", "tidy"]

OTHER = "laid out anew it would not say the same"
UNSETTLED = "the merge is not settled in it"
UNSTABLE = "laid out twice it would not be the same as once"


class Lines(NamedTuple):
    """Some lines of a text: the numbers of the first and the last, from 1."""

    first: int
    last: int


class Tidied(NamedTuple):
    """A text in the one layout, how many statements in it are left as they are, and why it is not to be used."""

    text: str
    left: int = 0
    doubt: str = ""


class _Read(NamedTuple):
    """What a text says, without places; the lines that cannot be read, and how many statements that are."""

    said: tuple[Any, ...]
    broken: Collection[int] = ()
    left: int = 0


class _Plain:
    """Builds nothing but what was said: rules and words, without places."""

    def __getattr__(self, name: str) -> Action:
        return lambda parts, start, end: (name, *[part[:2] if type(part) is Token else part for part in parts])


def tidy(source: Source, lines: Lines | None = None) -> Tidied:
    """A text in the one layout, all of it or some lines. Where `doubt` says something, the text is to be left alone."""
    if MARKS in source.text and (left := len(clashes(source.text))):
        return Tidied(source.text, left, UNSETTLED)
    rules = actions(_Plain())
    with no_collector():
        found = tokens(source)
        read = _read(source, found, rules)
        done = rows(found, read.broken, _outside(source, lines))
        text = _text(source, done, lines)
        if text == source.text:
            return Tidied(text, read.left)
        after = Source(source.path, text)
        return Tidied(text, read.left, _doubt(source, found, read, after, _now(done, lines), rules))


def _outside(source: Source, lines: Lines | None) -> Collection[int]:
    """The numbers of the lines that are not asked for."""
    if lines is None:
        return ()
    return {number for number in range(1, len(source.line_starts) + 1) if not lines.first <= number <= lines.last}


def _text(source: Source, done: Sequence[Row], lines: Lines | None) -> str:
    to_end = lines is None or lines.first <= len(source.line_starts) <= lines.last
    return ended(done, source.text, to_end)


def _now(done: Sequence[Row], lines: Lines | None) -> Lines | None:
    """Where the lines that were asked for are now."""
    if lines is None:
        return None
    above = sum(len(row.lines) for row in done[: lines.first - 1])
    here = sum(len(row.lines) for row in done[lines.first - 1 : lines.last])
    return Lines(above + 1, above + here)


def _doubt(
    source: Source, before: Sequence[Token], read: _Read, after: Source, lines: Lines | None, rules: Actions
) -> str:
    """What is wrong with a text that was laid out, in words; nothing where all is well."""
    found = tokens(after)
    again = _read(after, found, rules)
    if _words(found) != _words(before) or _remarks(found) != _remarks(before):
        return OTHER
    if again.said != read.said or headed(after) != headed(source):
        return OTHER
    done = rows(found, again.broken, _outside(after, lines))
    return "" if _text(after, done, lines) == after.text else UNSTABLE


def _words(found: Sequence[Token]) -> list[tuple[str, str]]:
    """All but blanks and remarks; of several separators one, and none where there is nothing to separate."""
    words: list[tuple[str, str]] = [("_SEP", "")]
    for kind, text, _, _ in found:
        if kind in SILENT:
            continue
        if kind == "_SEP":
            if words[-1][0] not in ("_SEP", "_OPEN"):
                words.append(("_SEP", ""))
            continue
        if kind == "_CLOSE" and words[-1][0] == "_SEP":
            words.pop()
        words.append((kind, text))
    if words[-1][0] == "_SEP":
        words.pop()
    return words


def _remarks(found: Sequence[Token]) -> list[tuple[str, int, bool]]:
    """Each remark with the number of words before it, and whether a word stands on its line."""
    remarks: list[tuple[str, int, bool]] = []
    count = 0
    beside = False
    for kind, text, _, _ in found:
        if kind == "COMMENT":
            remarks.append((text.rstrip(" \t"), count, beside))
        elif text == "\n":
            beside = False
        elif kind not in ("_SEP", "BLANK"):
            count += 1
            beside = True
    return remarks


# ---- what can be read


def _read(source: Source, found: Sequence[Token], rules: Actions) -> _Read:
    whole = walk(found, rules)
    return _in_pieces(source, found, rules) if isinstance(whole, Stuck) else _Read((whole,))


def _in_pieces(source: Source, found: Sequence[Token], rules: Actions) -> _Read:
    """The slow road: each statement alone, and the lines of those that cannot be read."""
    cut = list(pieces(source.text))
    meant = [_meaning(piece, rules) for piece in cut]
    broken: set[int] = set()
    for first, last, together in _on_lines(source, found, cut):
        if any(meant[at] is None for at in together):
            broken.update(range(first, last + 1))
    said = [_words(piece.tokens) if one is None else one for piece, one in zip(cut, meant, strict=True)]
    return _Read(tuple(said), broken, sum(one is None for one in meant))


def _meaning(piece: Piece, rules: Actions) -> Any:
    """What a piece says; None where it cannot be read as it stands."""
    if piece.unclosed or piece.early is not None:
        return None
    meaning = walk(piece.tokens, rules)
    return None if isinstance(meaning, Stuck) else meaning


def _on_lines(source: Source, found: Sequence[Token], cut: Sequence[Piece]) -> Iterator[tuple[int, int, range]]:
    """First and last line of pieces that share lines, and which those are. Loose ends go with what is before them."""
    ends = [token.end for token in found if token.kind not in SILENT and token.kind != "_SEP"]
    starts = [piece.tokens[0].start for piece in cut]
    since, first, last = 0, 1, 0
    for at, (start, following) in enumerate(zip(starts, [*starts[1:], len(source.text) + 1], strict=True)):
        begins = source.position(start).line
        if at and begins > last:
            yield first, last, range(since, at)
        if begins > last:
            since, first = at, begins
        # The last word before the next piece, whose end is not behind where that begins; or a brace hidden in a quote.
        last = source.position(max(ends[bisect_right(ends, following) - 1], cut[at].tokens[-1].end)).line
    if cut:
        yield first, last, range(since, len(cut))
