"""The slow road: a source statement by statement, each broken one told, the healthy ones kept."""

from __future__ import annotations

from rigdsl.finding import Finding
from rigdsl.syntax.messages import and_more, early_end, explained, unclosed
from rigdsl.syntax.nodes import Broken, Statement, Word
from rigdsl.syntax.recover import Piece, mended, pieces
from rigdsl.syntax.tokens import Token
from rigdsl.syntax.trouble import Trouble, opener
from rigdsl.syntax.walk import Actions, Stuck, walk
from rigdsl.text import Source, Span

__all__ = ["MOST_FINDINGS", "broken", "in_pieces"]

# Past these a file is not a rig with mistakes in it but something else.
MOST_FINDINGS = 200
MOST_BROKEN = 20_000
MOST_LINES_MENDED = 8

NAMING = {"zone", "box", "link", "source", "output", "supply", "cable", "protocol", "model"}


def in_pieces(source: Source, text: str, rules: Actions) -> tuple[tuple[Statement, ...], tuple[Finding, ...]]:
    """The statements of a text that does not read as a whole, and what is wrong with the others.

    The text has the offsets of its source.
    """
    statements: list[Statement] = []
    findings: list[Finding] = []
    count = 0
    for piece in pieces(text):
        if count >= MOST_BROKEN:
            statements.append(Broken(None, None, Span(source, piece.tokens[0].start, len(text))))
            break
        read, found = _read(source, piece, rules, len(findings) < MOST_FINDINGS)
        statements += read
        findings += found
        count += any(isinstance(statement, Broken) for statement in read)
    if len(findings) >= MOST_FINDINGS:
        del findings[MOST_FINDINGS:]
        findings.append(and_more(findings[-1]))
    return tuple(statements), tuple(findings)


def _read(source: Source, piece: Piece, rules: Actions, tell: bool) -> tuple[list[Statement], list[Finding]]:
    """One piece as a statement, with what had to be left out of it told."""
    if piece.early is not None:
        return _ended_early(source, piece.tokens, piece.early, rules, tell)
    tokens = piece.tokens + [Token("_CLOSE", "", piece.tokens[-1].end, piece.tokens[-1].end)] * len(piece.unclosed)
    findings = [unclosed(source, piece.tokens, piece.unclosed[-1])] if piece.unclosed and tell else []
    complete = True
    for _ in range(MOST_LINES_MENDED):
        result = walk(tokens, rules)
        if not isinstance(result, Stuck):
            return list(result) if complete else [broken(source, piece.tokens)], findings
        at = next((index for index, token in enumerate(tokens) if token is result.token), len(tokens))
        repair = mended(tokens, at)
        if tell and not piece.unclosed:
            lost = repair.lost if repair else "statement"
            findings.append(explained(Trouble(source, tokens, at, result.states), lost))
        if repair is None:
            break
        tokens = repair.tokens
        complete = complete and repair.lost != "whole"
    return [broken(source, piece.tokens)], findings


def _ended_early(
    source: Source, tokens: list[Token], early: Token, rules: Actions, tell: bool
) -> tuple[list[Statement], list[Finding]]:
    """A block with a `}` before its last lines: read without it, where it is plain that it is this one."""
    opened = sum(token.kind == "_OPEN" for token in tokens[: tokens.index(early)])
    result = walk([token for token in tokens if token is not early], rules) if opened == 1 else Stuck(None, ())
    lost = "statement" if isinstance(result, Stuck) else "nothing"
    findings = [early_end(source, tokens, early, lost)] if tell else []
    return [broken(source, tokens)] if isinstance(result, Stuck) else list(result), findings


def broken(source: Source, tokens: list[Token]) -> Broken:
    """A statement that is lost: its first word and its name, as far as they can be told."""
    first = tokens[0]
    word = _word(source, first) if first.text[0].isalpha() else None
    name = None
    if word is not None and len(tokens) > 1 and tokens[1].text[:1].isalpha() and opener(tokens) in NAMING:
        name = _word(source, tokens[1])
    return Broken(word, name, Span(source, first.start, tokens[-1].end))


def _word(source: Source, token: Token) -> Word:
    return Word("word", token.text, source, token.start, token.end)
