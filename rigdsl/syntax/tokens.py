"""Text to tokens: every character is in one, so nothing that was written is lost."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from rigdsl.text import Source
from rigdsl_grammar.table import PATTERNS, WORDS

__all__ = ["SILENT", "Token", "headed", "scan", "tokens"]

# What the grammar does not see.
SILENT = frozenset({"BLANK", "COMMENT"})

_PATTERN = re.compile("|".join(f"(?P<{name}>{pattern})" for name, pattern in PATTERNS))


class Token(NamedTuple):
    """A stretch of text and what the grammar calls it; offsets in code points."""

    kind: str
    text: str
    start: int
    end: int


def scan(text: str, start: int = 0) -> Iterator[Token]:
    """The tokens of a text from an offset on, one after the other."""
    words = WORDS.get
    new = Token._make
    for match in _PATTERN.finditer(text, start):
        kind = match.lastgroup
        word = match.group()
        begin, end = match.span()
        yield new((words(word, kind) if kind == "WORD" else kind, word, begin, end))


def tokens(source: Source) -> list[Token]:
    """All tokens of a source, comments and blanks among them: their texts joined are the source's text."""
    return list(scan(source.text))


def headed(source: Source) -> bool:
    """Whether a text has a `rig` head, be it one that cannot be read: the word opens a statement there."""
    depth, opens = 0, True
    for token in scan(source.text) if "rig" in source.text else ():
        at_margin = token.start == 0 or source.text[token.start - 1] == "\n"
        if token.kind == "_RIG" and ((opens and depth == 0) or at_margin):
            return True
        depth = max(0, depth + (token.kind == "_OPEN") - (token.kind == "_CLOSE"))
        opens = token.kind == "_SEP" or (opens and token.kind in SILENT)
    return False
