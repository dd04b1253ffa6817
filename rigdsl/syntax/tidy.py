"""The one layout of a text, and that nothing but the layout is changed by it.

A statement that cannot be read stays as it is, with all of its lines. What comes out is looked at again: the same
words and remarks, the same meaning, and nothing left to do; else the text is not to be trusted to it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterator, Sequence
from typing import Any, NamedTuple

from rigdsl.syntax.layout import Row, ended, rows
from rigdsl.syntax.parse import no_collector
from rigdsl.syntax.recover import Piece, pieces
from rigdsl.syntax.tokens import SILENT, Token, headed, tokens
from rigdsl.syntax.walk import Action, Actions, Stuck, actions, walk
from rigdsl.text import Source

__all__ = ["Lines", "Tidied", "tidy"]

OTHER = "laid out anew it would not say the same"
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
    count: int = 0


class _Plain:
    """Builds nothing but what was said: rules and words, without places."""

    def __getattr__(self, name: str) -> Action:
        return lambda parts, start, end: (name, *[part[:2] if type(part) is Token else part for part in parts])


def tidy(source: Source, lines: Lines | None = None) -> Tidied:
    """A text in the one layout, all of it or some lines. Where `doubt` says something, the text is to be left alone."""
    rules = actions(_Plain())
    with no_collector():
        found = tokens(source)
        read = _read(source, found, rules)
        done = rows(found, read.broken, _outside(source, lines))
        text = _text(source, done, lines)
        if text == source.text:
            return Tidied(text, read.count)
        after = Source(source.path, text)
        return Tidied(text, read.count, _doubt(source, found, read, after, _now(done, lines), rules))


def _outside(source: Source, lines: Lines | None) -> Collection[int]:
    """The numbers of the lines that are not asked for."""
    if lines is None:
        return ()
    return {number for number in range(1, len(source.line_starts) + 1) if not lines.first <= number <= lines.last}


def _text(source: Source, done: Sequence[Row], lines: Lines | None) -> str:
    return ended(done, source.text, lines is None or lines.last >= len(source.line_starts))


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
    said: list[Any] = []
    broken: set[int] = set()
    count = 0
    cut = [(piece, _meaning(piece, rules)) for piece in pieces(source.text)]
    for first, last, together in _on_lines(source, found, [piece for piece, _ in cut]):
        lost = sum(cut[at][1] is None for at in together)
        count += lost
        if lost:
            broken.update(range(first, last + 1))
    for piece, meaning in cut:
        said.append(_words(piece.tokens) if meaning is None else meaning)
    return _Read(tuple(said), broken, count)


def _meaning(piece: Piece, rules: Actions) -> Any:
    """What a piece says; None where it cannot be read as it stands."""
    if piece.unclosed or piece.early is not None:
        return None
    meaning = walk(piece.tokens, rules)
    return None if isinstance(meaning, Stuck) else meaning


def _on_lines(source: Source, found: Sequence[Token], cut: Sequence[Piece]) -> Iterator[tuple[int, int, range]]:
    """First and last line of pieces that share lines, and which those are. Loose ends go with what is before them."""
    starts = [token.start for token in found if token.kind not in SILENT and token.kind != "_SEP"]
    ends = [token.end for token in found if token.kind not in SILENT and token.kind != "_SEP"]
    first, last, since = 0, 0, 0
    for at, piece in enumerate(cut):
        begins = source.position(piece.tokens[0].start).line
        follower = cut[at + 1].tokens[0].start if at + 1 < len(cut) else len(source.text)
        until = source.position(ends[max(bisect_left(starts, follower) - 1, 0)]).line
        if at and begins > last:
            yield first, last, range(since, at)
            since = at
        if since == at:
            first = begins
        last = max(until, begins) if since == at else max(last, until)
    if cut:
        yield first, last, range(since, len(cut))
