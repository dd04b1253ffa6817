"""The one layout: where each line of a text is set, and what stands between its words.

Nothing here is read or judged. Lines come from tokens: words as they are, blanks anew. A line end is never
taken away, and put in only behind a `{` and before a `}` whose block goes over several lines.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import NamedTuple

from rigdsl.syntax.tokens import SILENT, Token, scan

__all__ = ["Row", "ended", "laid_out", "rows"]

INDENT = "  "
BEFORE_REMARK = "  "

CLINGS = frozenset({"_COMMA", "_COLON", "_DOT", "_RIGHT", "_SEP"})  # to what stands before it
HOLDS = frozenset({"_DOT", "_LEFT", "_MINUS"})  # what stands behind it
UNITS = frozenset({"WORD", "RATIO"})

Line = list[Token]


class Row(NamedTuple):
    """What a line of the text becomes: one line, more where a block is opened up, none where a blank line goes."""

    lines: tuple[str, ...]
    kept: bool = False  # as it was, whatever it is
    opens: bool = False  # ends in the `{` of a block that goes on
    closes: bool = False  # begins with the `}` of such a block


EMPTY = Row(("",))
GONE = Row(())


def rows(tokens: Iterable[Token], broken: Collection[int], outside: Collection[int] = ()) -> list[Row]:
    """Each line of a text laid out; those that are `broken` or `outside` of what is wanted stay as they are.

    Braces on broken lines count for nothing. The rest of a text behind its last line end is a line if it is not empty.
    """
    lines = _lines(tokens)
    long = _long_braces(lines, broken)
    found: list[Row] = []
    depth = 0
    for number, line in enumerate(lines, 1):
        if number in broken:
            found.append(Row((_raw(line),), kept=True))
            continue
        words = _words(line)
        if number in outside:
            found.append(_kept(line, words, long))
        else:
            found.append(_row(line, words, long, depth))
        depth += _rise(words)
    return _few_blanks(found)


def laid_out(text: str) -> str:
    """A few words of a line in the one layout."""
    words = _words(list(scan(text)))
    return _spaced(words) if words else ""


def ended(found: Sequence[Row], text: str, to_end: bool) -> str:
    """The rows as a text: with a line end behind the last line, but for one that is not wanted and has none."""
    lines = [line for row in found for line in row.lines]
    return "\n".join(lines) + ("\n" if lines and (to_end or text.endswith("\n")) else "")


def _lines(tokens: Iterable[Token]) -> list[Line]:
    lines: list[Line] = [[]]
    for token in tokens:
        if token.text == "\n":
            lines.append([])
        else:
            lines[-1].append(token)
    if not lines[-1]:
        lines.pop()
    return lines


def _raw(line: Line) -> str:
    return "".join(token.text for token in line)


def _words(line: Line) -> Line:
    """What a line says, without blanks and the remark, and without a `;` that separates nothing."""
    words: Line = []
    for token in line:
        if token.kind in SILENT:
            continue
        if token.kind == "_CLOSE" and words and words[-1].kind == "_SEP":
            words.pop()
        if token.kind != "_SEP" or (words and words[-1].kind not in ("_SEP", "_OPEN")):
            words.append(token)
    if words and words[-1].kind == "_SEP":
        words.pop()
    return words


def _long_braces(lines: Sequence[Line], broken: Collection[int]) -> set[int]:
    """Where the braces stand whose block goes over a line end."""
    long: set[int] = set()
    opened: list[tuple[int, int]] = []
    for number, line in enumerate(lines, 1):
        for token in line if number not in broken else ():
            if token.kind == "_OPEN":
                opened.append((number, token.start))
            elif token.kind == "_CLOSE" and opened:
                before, start = opened.pop()
                if before != number:
                    long |= {start, token.start}
    return long


def _rise(words: Line) -> int:
    return sum((token.kind == "_OPEN") - (token.kind == "_CLOSE") for token in words)


def _kept(line: Line, words: Line, long: set[int]) -> Row:
    return Row((_raw(line),), True, *_ends(words, long))


def _ends(words: Line, long: set[int]) -> tuple[bool, bool]:
    """Whether a line ends by opening a block that goes on, and whether it begins by closing one."""
    if not words:
        return False, False
    first, last = words[0], words[-1]
    return last.kind == "_OPEN" and last.start in long, first.kind == "_CLOSE" and first.start in long


def _row(line: Line, words: Line, long: set[int], depth: int) -> Row:
    """A line laid out, its remark two spaces behind its last word."""
    remark = line[-1].text.rstrip(" \t") if line and line[-1].kind == "COMMENT" else ""
    if not words:
        return Row((INDENT * depth + remark,)) if remark else EMPTY
    made: list[str] = []
    for part in _parts(words, long):
        inner = depth - (part[0].kind == "_CLOSE")
        made.append(INDENT * inner + _spaced(part))
        depth += _rise(part)
    if remark:
        made[-1] += BEFORE_REMARK + remark
    return Row(tuple(made), False, *_ends(words, long))


def _parts(words: Line, long: set[int]) -> Iterator[Line]:
    """A line cut behind each `{` and before each `}` of a block that goes over several lines."""
    part: Line = []
    for at, token in enumerate(words):
        if part and token.kind == "_CLOSE" and token.start in long:
            yield part
            part = []
        part.append(token)
        if token.kind == "_OPEN" and token.start in long and at + 1 < len(words):
            yield part
            part = []
    yield part


def _spaced(words: Line) -> str:
    """Words with one space between, or none where they cling together."""
    made = [words[0].text]
    inside = False  # of the brackets of a position
    for at in range(1, len(words)):
        before, token = words[at - 1], words[at]
        inside = (inside or before.kind == "_LEFT") and before.kind != "_RIGHT"
        close = token.kind in CLINGS or before.kind in HOLDS
        if not close and before.kind == "NUMBER":
            close = token.kind == "_MINUS" or _is_category(words, at)
        elif not close and before.kind == "_COMMA" and not inside:
            close = _is_list(words, at)
        made.append(token.text if close else f" {token.text}")
    return "".join(made)


def _is_category(words: Line, at: int) -> bool:
    """Whether a word behind a number is no unit but the letter of a cable's category, as in `category 6a`."""
    if words[at].kind != "WORD" or at < 2 or words[at - 2].text != "category":
        return False
    return at == 2 or words[at - 3].kind in ("_OPEN", "_SEP")


def _is_list(words: Line, at: int) -> bool:
    """Whether a number behind a comma goes on a list of sockets, as in `1,3,5-8`: those are numbers without units."""
    if words[at].kind != "NUMBER" or at < 2 or words[at - 2].kind != "NUMBER":
        return False
    behind = at + 1
    if behind + 1 < len(words) and words[behind].kind == "_MINUS":
        behind += 2
    return behind >= len(words) or words[behind].kind not in UNITS


def _few_blanks(found: Sequence[Row]) -> list[Row]:
    """At most one blank line in a row, none where a text or a block begins or ends."""
    fewer = list(found)
    above: Row | None = None
    for at, row in enumerate(found):
        if row == EMPTY and (above is None or above.opens or not above.lines[-1].strip(" \t")):
            fewer[at] = GONE
        else:
            above = row
    below: Row | None = None
    for at in range(len(fewer) - 1, -1, -1):
        if fewer[at] == EMPTY and (below is None or below.closes):
            fewer[at] = GONE
        elif fewer[at].lines:
            below = fewer[at]
    return fewer
