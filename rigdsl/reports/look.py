"""How text may look on a terminal: with colour or without, wrapped or not, in the characters that it can show."""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from dataclasses import dataclass

from rigdsl.finding import Level

__all__ = ["PLAIN", "Look", "clean"]

# ANSI attributes (ECMA-48, "select graphic rendition"); a level's word always stands beside its colour.
CODES = {"bold": "1", "dim": "2", "red": "31", "yellow": "33", "cyan": "36"}
LEVELS = {Level.ERROR: "red", Level.WARNING: "yellow", Level.NOTE: "cyan"}

JOINERS = "\u200c\u200d"  # they shape letters and pictures, and move nothing


def _same(text: str) -> str:
    return text


@dataclass(frozen=True)
class Look:
    """`columns` is the width to wrap at (None: never); `encoded` gives text as the terminal can show it."""

    colour: bool = False
    columns: int | None = None
    encoded: Callable[[str], str] = _same

    def paint(self, text: str, *styles: str) -> str:
        """Text in colour or weight, where there is colour."""
        if not self.colour or not text:
            return text
        return f"\033[{';'.join(CODES[style] for style in styles)}m{text}\033[0m"

    def level(self, level: Level, text: str = "") -> str:
        """The word of a level, or a text in its colour."""
        return self.paint(text or str(level), "bold", LEVELS[level])

    def text(self, text: str) -> str:
        """A user's or a rule's text, harmless to a terminal and in characters that it has."""
        return self.encoded(clean(text))

    def hanging(self, head: str, text: str, indent: str = "  ") -> list[str]:
        """Lines of `head text`, those after the first indented under the text."""
        first, later = indent + head, indent + " " * (len(head) or len(indent))
        text = self.text(text)
        if self.columns is None:
            return [first + text]
        wrap = textwrap.TextWrapper(
            self.columns, initial_indent=first, subsequent_indent=later, break_long_words=False, break_on_hyphens=False
        )
        return wrap.wrap(text) or [first.rstrip()]


PLAIN = Look()


def clean(text: str) -> str:
    """Text without characters that steer a terminal: each stands as `?`, so that columns stay what they are."""
    if text.isprintable():
        return text
    return "".join(
        character if character.isprintable() or character == "\t" or character in JOINERS else "?" for character in text
    )
