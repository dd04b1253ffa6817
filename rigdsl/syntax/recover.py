"""What to do with a text that does not read as a whole: cut it up, and mend the pieces.

A mistake is to cost its own statement, or its own line of a block, and no more.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from rigdsl.syntax.forms import FORMS
from rigdsl.syntax.tokens import SILENT, Token, scan

__all__ = ["Piece", "Repair", "line_around", "mended", "pieces"]

# More tokens than any statement has; what is longer is no rig, and only its end is looked for.
LONGEST = 200_000
MOST_LOOSE = 200  # pieces behind a `}` that may have been meant to stand before it
MOST_LINES_OVER = 5  # that a label may be broken over
MOST_IN_BRACKETS = 8  # tokens of a position so far

OPENS = {f"_{word.upper()}" for word in FORMS}
FACTS_TOO = {"control": "by", "power": "from"}  # statement words that are facts as well, and what a statement says
_STATEMENT = re.compile(r"(?:" + "|".join(FORMS) + r")\b")
_NEXT = re.compile(r"\n(?=(?:" + "|".join(FORMS) + r")\b)")


@dataclass(frozen=True, slots=True)
class Piece:
    """The tokens of one statement, blanks and comments left out, and its braces that nothing closes.

    `early`: a `}` that ends the block before its last lines.
    """

    tokens: list[Token]
    unclosed: tuple[Token, ...] = ()
    early: Token | None = None


@dataclass(frozen=True, slots=True)
class Repair:
    """A statement's tokens with a mistake taken out, and what is lost by that.

    A lost `line` was a mere fact; where it was more, the `whole` says something else without it.
    """

    tokens: list[Token]
    lost: Literal["nothing", "line", "whole"]


def pieces(text: str) -> Iterator[Piece]:
    """A text cut into statements, a block that is ended too early with all the lines that were to be in it."""
    waiting: list[Piece] = []
    for piece in _with_blocks(text):
        opens = piece.tokens[0].kind in OPENS
        if len(waiting) > 1 and [token.kind for token in piece.tokens] == ["_CLOSE"]:
            yield _ended_early([*waiting, piece])
            waiting = []
            continue
        if opens or len(waiting) > MOST_LOOSE:
            yield from waiting
            waiting = []
        if waiting or (opens and piece.tokens[-1].kind == "_CLOSE" and not piece.unclosed):
            waiting.append(piece)
        else:
            yield piece
    yield from waiting


def _ended_early(parts: list[Piece]) -> Piece:
    tokens = list(parts[0].tokens)
    for part in parts[1:]:
        tokens += [Token("_SEP", "\n", tokens[-1].end, tokens[-1].end), *part.tokens]
    return Piece(tokens, early=parts[0].tokens[-1])


def _with_blocks(text: str) -> Iterator[Piece]:
    """Pieces; a `{` on a line of its own goes with the statement before it."""
    held: Piece | None = None
    for piece in _cut(text):
        if held is not None and _lone_block(held, piece):
            gap = Token("_SEP", "\n", held.tokens[-1].end, held.tokens[-1].end)
            held = Piece([*held.tokens, gap, *piece.tokens], piece.unclosed)
            continue
        if held is not None:
            yield held
        held = piece
    if held is not None:
        yield held


def _lone_block(before: Piece, piece: Piece) -> bool:
    first, last = before.tokens[0], before.tokens[-1]
    return piece.tokens[0].kind == "_OPEN" and first.kind in OPENS and last.kind != "_CLOSE" and not before.unclosed


def _cut(text: str) -> Iterator[Piece]:
    """Cut at separators outside braces, before a statement word in column 1, and around a `}` too many."""
    start = 0
    while start < len(text):
        piece, start = _next(text, start)
        if piece.tokens:
            yield piece


def _next(text: str, start: int) -> tuple[Piece, int]:
    """The piece that begins at an offset, and where the one after it may begin."""
    held: list[Token] = []
    opened: list[Token] = []
    end = len(text)
    resume = start
    for token in scan(text, start):
        kind = token.kind
        if kind in SILENT or token.start < resume or (kind == "_SEP" and not held):
            continue
        if held and _stops(text, token, opened) and not _in_brackets(text, token, held):
            end = token.start
            break
        held.append(token)
        if kind == "_OPEN":
            opened.append(token)
        elif kind == "OPEN_QUOTE":
            resume = _label_end(text, token)
            _hidden_braces(text, token, resume, held, opened)
        elif kind == "_CLOSE" and opened:
            opened.pop()
        elif kind == "_CLOSE":
            end = token.end
            break
        if len(held) > LONGEST:
            following = _NEXT.search(text, token.end)
            end = following.start() if following else len(text)
            break
    while opened and held[-1].kind == "_SEP":
        held.pop()
    return Piece(held, tuple(token for token in opened if token.kind == "_OPEN")), end


def _label_end(text: str, quote: Token) -> int:
    """Where a label ends whose line does not close it: on one of the next lines, if a quote is left over there."""
    end = quote.end
    for _ in range(MOST_LINES_OVER):
        start, end = end + 1, text.find("\n", end + 1)
        end = end if end >= 0 else len(text)
        line = text[start:end]
        if start >= len(text) or _STATEMENT.match(line):
            break
        if line.replace('\\"', "").count('"') % 2:
            return end
    return quote.end


def _hidden_braces(text: str, quote: Token, end: int, held: list[Token], opened: list[Token]) -> None:
    """A `{` or `}` at the end of a line that a lost quote has swallowed still opens or closes a block."""
    line = text[quote.start : end].rstrip()
    if line.endswith("{"):
        opened.append(quote)
    while line.endswith("}") and opened:
        opened.pop()
        held.append(Token("_CLOSE", "}", quote.start + len(line) - 1, quote.start + len(line)))
        line = line[:-1].rstrip()


def _in_brackets(text: str, token: Token, held: list[Token]) -> bool:
    """Whether a line ends in the brackets of a position, and the next one closes them."""
    kinds = [one.kind for one in held[-MOST_IN_BRACKETS:]]
    if token.text != "\n" or "_LEFT" not in kinds or "_RIGHT" in kinds:
        return False
    end = text.find("\n", token.end)
    line = text[token.end : end if end >= 0 else len(text)]
    return ")" in line and not _STATEMENT.match(line)


def _stops(text: str, token: Token, opened: list[Token]) -> bool:
    """Whether a token does not belong to the piece before it any more."""
    if token.kind in ("_SEP", "_CLOSE"):
        return not opened
    return token.kind in OPENS and bool(opened) and _begins(text, token)


def _begins(text: str, token: Token) -> bool:
    """Whether a statement begins here, in the middle of a block: a statement word in column 1.

    `control` and `power` are facts too; the statements say `by` and `from`.
    """
    if token.start and text[token.start - 1] != "\n":
        return False
    if token.text in FACTS_TOO:
        end = text.find("\n", token.start)
        return bool(re.search(rf"\b{FACTS_TOO[token.text]}\b", text[token.start : end if end >= 0 else len(text)]))
    return True


def line_around(tokens: Sequence[Token], at: int) -> tuple[int, int]:
    """The line of a block that a token stands in, as a half-open stretch; (0, number of tokens) outside blocks."""
    starts: list[int] = []
    start = 0
    for index in range(at):
        kind = tokens[index].kind
        if kind == "_OPEN":
            starts.append(start)
            start = index + 1
        elif kind == "_CLOSE" and starts:
            start = starts.pop()
        elif kind == "_SEP" and starts:
            start = index + 1
    if not starts:
        return 0, len(tokens)
    return start, at + _length(tokens[at:])


def _length(tokens: Iterable[Token]) -> int:
    depth = 0
    count = 0
    for token in tokens:
        if token.kind == "_OPEN":
            depth += 1
        elif token.kind == "_CLOSE":
            if not depth:
                break
            depth -= 1
        elif token.kind == "_SEP" and not depth:
            break
        count += 1
    return count


def mended(tokens: list[Token], at: int) -> Repair | None:
    """What can be done about a token that fits nowhere; None where the statement is lost.

    A `{` on a line of its own is put where it belongs; else the line of the block is left out.
    """
    if 0 < at < len(tokens) and tokens[at].kind == "_OPEN" and tokens[at - 1].kind == "_SEP":
        return Repair(tokens[: at - 1] + tokens[at:], "nothing")
    start, end = line_around(tokens, at)
    if start == 0 or start == end:
        return None
    return Repair(tokens[:start] + tokens[end:], "line" if _is_fact(tokens[0], tokens[start:end]) else "whole")


def _is_fact(first: Token, line: list[Token]) -> bool:
    """Whether a line of a block was to be a mere fact: without it the statement still says what it is about."""
    kinds = {token.kind for token in line}
    if first.kind == "_MODEL":
        groups = {"_INPUTS", "_OUTPUTS", "_CHANNELS", "_MIXES", "_DIGITAL", "_DATA", "_PASS", "_BRIDGE", "_SLOT"}
        return line[0].kind not in groups and not kinds & {"_OPEN", "_JOIN", "_ARROW"}
    return first.kind != "_LINK" or not kinds & {"_JOIN", "_ARROW", "_DOT", "_MINUS"}
