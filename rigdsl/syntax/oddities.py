"""Characters that have no place in a rig, and what was probably meant by them."""

from __future__ import annotations

import unicodedata

from rigdsl.syntax.tokens import Token

__all__ = ["oddity"]

# A stretch of nonsense may be as long as the file.
LOOKED_AT = 1000

CURLY = "“”„‟‘’‚‛«»‹›"
DASHES = "‐‑‒–—―−"
ARROWS = "→⇒⟶➔➜←⇐"
OTHER_WAYS = {
    "=": "a name and its value stand side by side, with no sign between them: `rate 48 kHz`",
    "'": 'labels and paths stand in plain double quotes: `"Kick in"`',
    "`": 'a label stands in plain double quotes: `"Kick in"`',
    "&": 'put "and" in a label in quotes; names are words',
    "+": "several things stand between commas: `SL.mic 1-4, DR.tail 1-2`",
    "*": "a comment begins with `#`",
    "/": "a comment begins with `#`; `/` stands only inside a unit, as in `dB/km`",
    "[": "a block stands in `{ }`, a position in `( )`",
    "]": "a block stands in `{ }`, a position in `( )`",
    "_": "a name begins with a letter",
    "%": "a comment begins with `#`",
    "!": "a comment begins with `#`",
    "<": "a link joins with `--`, a patch leads with `->`",
    ">": "a link joins with `--`, a patch leads with `->`",
    "=>": "a link joins with `--`, a patch leads with `->`",
}


def oddity(token: Token) -> tuple[int, int, str, str]:
    """The smallest offending stretch of a token (offsets), what it is, and the way out."""
    if token.kind == "OPEN_QUOTE":
        return _quote(token)
    text = token.text[:LOOKED_AT]
    at = next((index for index, char in enumerate(text) if _is_special(char)), 0)
    char = text[at]
    if at == 0 and not _is_special(char):
        help = OTHER_WAYS.get(text) or OTHER_WAYS.get(char, "")
        shown = text if len(text) <= 20 else text[:19] + "…"
        return token.start, token.start + len(text), f"`{shown}` means nothing here", help
    message, help = _special(char)
    return token.start + at, token.start + at + 1, message, help


def _is_special(char: str) -> bool:
    return char in CURLY + DASHES + ARROWS or unicodedata.category(char)[0] in "CZ"


def _special(char: str) -> tuple[str, str]:
    if char in CURLY:
        return f"a curly quote, `{char}`, does not hold a label", 'put the label in plain double quotes: `"Kick in"`'
    if char in DASHES:
        return (
            f"`{char}` is a long dash, no hyphen",
            "numbers are joined by a plain hyphen, `1-12`, the ends of a link by two, `--`",
        )
    if char in ARROWS:
        return f"`{char}` is no arrow that is read here", "write the arrow with a hyphen and a bracket: `->`"
    code = f"U+{ord(char):04X}"
    if unicodedata.category(char).startswith("Z") or char in "\u200b\u2060\ufeff":
        name = "a non-breaking space" if char in "\u00a0\u202f\u2007" else "a space of an unusual kind"
        return f"there is {name} here ({code})", "put a plain space in its place"
    return f"there is a character here that cannot be seen ({code})", "take it away"


def _quote(token: Token) -> tuple[int, int, str, str]:
    """A quote that its line does not close, or a label with a character in it that nobody can see."""
    for index, char in enumerate(token.text[:LOOKED_AT]):
        if unicodedata.category(char) == "Cc" and char != "\t":
            message = f"there is a character in this label that cannot be seen (U+{ord(char):04X})"
            return token.start + index, token.start + index + 1, message, "take it away"
    length = len(token.text.rstrip())
    shown = token.text[:length] if length <= 40 else token.text[:39] + "…"
    help = 'a label ends with a `"` on the line that it begins on'
    return token.start, token.start + length, f"the quote is never closed: `{shown}`", help
