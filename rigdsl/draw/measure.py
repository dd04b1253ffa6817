"""How wide text is, in points, and where it may be broken.

Widths of ASCII characters are those of the published Helvetica metrics (Adobe Font Metrics, core 14 fonts),
which the fonts that a drawing asks for keep to. Others are taken wide enough: a full em for the scripts of
East Asia and for pictures, less for the rest.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

__all__ = ["SIZE", "cleaned", "text_width", "wrapped"]

SIZE = 10.0  # points, of all text that is not smaller or larger on purpose
BOLD = 1.11  # the bold face is at most this much wider, over a word

# thousandths of an em, from space (32) to tilde (126)
_ASCII = (
    "278 278 355 556 556 889 667 191 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 556 278 278 "
    "584 584 584 556 1015 667 667 722 722 667 611 778 722 278 500 667 556 833 722 778 667 778 722 667 611 722 667 944 "
    "667 667 611 278 278 278 469 556 333 556 556 500 556 556 278 556 556 222 222 500 222 833 556 556 556 556 333 500 "
    "278 556 500 722 500 500 500 334 260 334 584"
)
_WIDTHS = dict(zip(map(chr, range(32, 127)), map(int, _ASCII.split()), strict=True))


@lru_cache(maxsize=4096)
def _em(character: str) -> float:
    """Thousandths of an em that a character takes."""
    known = _WIDTHS.get(character)
    if known is not None:
        return known
    category = unicodedata.category(character)
    if category in ("Mn", "Me", "Cf"):
        return 0
    if unicodedata.east_asian_width(character) in "WF" or category == "So":
        return 1300 if ord(character) > 0xFFFF else 1000
    return 1000 if ord(character) > 0x2000 else 722


@lru_cache(maxsize=16384)
def text_width(text: str, size: float = SIZE, *, bold: bool = False) -> float:
    """The width of one line of text in points: never less than what the engine allows for it."""
    return sum(map(_em, text)) * size / 1000 * (BOLD if bold else 1.0)


def cleaned(text: str) -> str:
    """Text that XML can hold: what is neither printable nor a line end becomes the replacement character."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(" " if char == "\t" else char if _fits_xml(char) else "\ufffd" for char in text)


def _fits_xml(char: str) -> bool:
    return char == "\n" or not (unicodedata.category(char) in ("Cc", "Cs") or char in "\ufffe\uffff")


@lru_cache(maxsize=16384)
def wrapped(text: str, limit: float, size: float = SIZE, *, bold: bool = False) -> tuple[str, ...]:
    """Text in lines no wider than `limit` points, broken at spaces, or inside a word that is too wide alone."""
    lines: list[str] = []
    for paragraph in cleaned(text).split("\n"):
        line = ""
        for word in paragraph.split(" "):
            longer = f"{line} {word}" if line else word
            if text_width(longer, size, bold=bold) <= limit:
                line = longer
                continue
            if line:
                lines.append(line)
            *full, line = _cut(word, limit, size, bold)
            lines += full
        lines.append(line)
    return tuple(lines)


def _cut(word: str, limit: float, size: float, bold: bool) -> list[str]:
    """A word in pieces that fit; a mark that combines stays with its letter, and joined pictures stay whole."""
    pieces = [""]
    for cluster in _clusters(word):
        if pieces[-1] and text_width(pieces[-1] + cluster, size, bold=bold) > limit:
            pieces.append("")
        pieces[-1] += cluster
    return pieces


def _clusters(word: str) -> list[str]:
    clusters: list[str] = []
    for character in word:
        joins = unicodedata.category(character) in ("Mn", "Me", "Mc", "Cf") or "\U0001f3fb" <= character <= "\U0001f3ff"
        if clusters and (joins or clusters[-1].endswith("\u200d")):
            clusters[-1] += character
        else:
            clusters.append(character)
    return clusters
