"""One place where a statement does not read on, seen in the ways that a message needs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from rigdsl.finding import near
from rigdsl.syntax.forms import FACT, FORMS, Form, form_of
from rigdsl.syntax.recover import line_around
from rigdsl.syntax.tokens import Token
from rigdsl.syntax.walk import accepts
from rigdsl.text import Source, Span

__all__ = ["Trouble", "named", "opener"]

# What gives a statement away whose first word cannot be told, and how far it is looked for.
SHAPES = {"_IS": "box", "_ARROW": "patch", "_JOIN": "link"}
MOST_LOOKED_AT = 40


@dataclass(frozen=True)
class Trouble:
    """A statement's tokens, which of them fits nowhere (their number: the end comes too early), and the way there."""

    source: Source
    tokens: list[Token]
    at: int
    states: tuple[int, ...]

    @cached_property
    def accepted(self) -> frozenset[str]:
        """What might stand here."""
        return accepts(self.states)

    @cached_property
    def stretch(self) -> tuple[int, int]:
        """The tokens of the line of a block that it is in, or of the whole statement."""
        return line_around(self.tokens, self.at)

    @property
    def in_block(self) -> bool:
        """Whether it is inside a block."""
        return self.stretch[0] > 0

    @property
    def line(self) -> list[Token]:
        """The tokens of the line up to here."""
        return self.tokens[self.stretch[0] : self.at]

    @property
    def rest(self) -> list[Token]:
        """The tokens of the line from here on."""
        return self.tokens[self.at : self.stretch[1]]

    @property
    def here(self) -> Token | None:
        """What fits nowhere, or nothing where the line ends too early."""
        token = self.tokens[self.at] if self.at < len(self.tokens) else None
        return None if token is None or token.kind in ("_SEP", "_CLOSE") else token

    @property
    def before(self) -> Token | None:
        """What stands before it in the line."""
        return self.line[-1] if self.line else None

    @property
    def word(self) -> str:
        """The word that the statement begins with."""
        return self.tokens[0].text

    @cached_property
    def form(self) -> Form:
        """How the statement, or the line of its block, should read."""
        start, end = self.stretch
        return form_of(self.word, tuple(token.text for token in self.tokens[start:end]) if self.in_block else ())

    @property
    def what(self) -> str:
        """The statement or line with its article."""
        return self.form.what

    @property
    def subject(self) -> str:
        """What it is about, the same wherever it stands: the first two words, and those of the line of a block."""
        start = self.stretch[0]
        words = [self.word, _glued(self.tokens[1:start] if self.in_block else self.tokens[1:])]
        if self.in_block:
            words.append(_glued(self.tokens[start:]))
        text = " ".join(word for word in words if word)
        return "".join(char if char.isprintable() else "?" for char in text)[:80]

    @property
    def help(self) -> str:
        """The right form, as an example."""
        if self.in_block and self.form is FACT:
            return "inside `{ }` each line is one fact: a name and its words, as in `weight 4.2 kg`"
        if not self.in_block and self.word not in FORMS:
            return "a line begins with a word such as `box`, `link`, `source`, `output` or `patch`"
        return f"{self.what} reads: `{self.form.example}`"

    @property
    def takes_name(self) -> bool:
        """Whether a name might stand here."""
        return "_RIG" in self.accepted and "WORD" in self.accepted

    @property
    def takes_unit(self) -> bool:
        """Whether only a unit might stand here."""
        return self.accepted == {"WORD", "RATIO"} and self.before is not None and self.before.kind == "NUMBER"

    def behind(self) -> Span:
        """The place just behind the last word before this one: where something is missing."""
        end = self.tokens[self.at - 1].end if self.at else self.tokens[0].start
        return Span(self.source, end, end)

    def span(self, first: Token, last: Token | None = None) -> Span:
        """The place of a token, or from one to another."""
        return Span(self.source, first.start, (last or first).end)


def _glued(tokens: list[Token]) -> str:
    """The first of some tokens, and those that stand close behind it: `SL.mic` of `SL.mic 1-4`."""
    text = ""
    end = tokens[0].start if tokens else 0
    for token in tokens:
        if token.start != end or token.kind in ("_SEP", "_OPEN", "_CLOSE", "_COLON", "_COMMA"):
            break
        text += token.text
        end = token.end
    return text


def opener(tokens: list[Token]) -> str:
    """The word that a statement was to begin with: its first, or one near it, or what the rest of it looks like."""
    first = tokens[0]
    if first.text in FORMS:
        return first.text
    found = near(first.text, FORMS) if first.kind == "WORD" else ""
    return found or next((SHAPES[token.kind] for token in tokens[1:MOST_LOOKED_AT] if token.kind in SHAPES), "")


def named(token: Token) -> str:
    """A token's text in backticks, cut short where it is long."""
    text = token.text if len(token.text) <= 40 else token.text[:39] + "…"
    return f"`{text}`"
