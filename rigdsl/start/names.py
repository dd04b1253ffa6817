"""Names made of labels: short, readable, valid, each once."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

__all__ = ["folded", "names_of"]

LONGEST = 32
# Letters that no decomposition takes apart (Unicode, "latin letter ... with stroke" and ligatures).
PLAIN = str.maketrans({"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ı": "i"})
WORD = re.compile(r"[^\W_]+")


def names_of(labels: Iterable[tuple[str, str]], taken: Iterable[str]) -> list[str]:
    """A name for each label, none of them taken and each once; beside each label, the name where it has no letter.

    The same labels give the same names, as long as the same names are taken.
    """
    used = {folded(name) for name in taken}
    last: dict[str, int] = {}
    names = []
    for label, fallback in labels:
        base = name = _base(label, fallback)
        while folded(name) in used:
            last[base] = last.get(base, 1) + 1
            name = f"{base}-{last[base]}"
        used.add(folded(name))
        names.append(name)
    return names


def _base(label: str, fallback: str) -> str:
    plain = WORD.findall(_ascii(label.casefold()))
    parts = plain if any(part[0].isalpha() for part in plain) else WORD.findall(label.casefold())
    base = _cut("-".join(part for part in parts if _is_plain(part)))
    if not base:
        return fallback
    return base if base[0].isalpha() else f"{fallback.partition('-')[0]}-{base}"


def folded(text: str) -> str:
    """A text as it is compared: no matter the case, and how many blanks stand where."""
    return " ".join(unicodedata.normalize("NFC", text).casefold().split())


def _ascii(text: str) -> str:
    """Latin letters without their marks; what is not Latin is left out."""
    apart = unicodedata.normalize("NFKD", text.translate(PLAIN))
    return "".join(char if char.isascii() else " " for char in apart if not unicodedata.combining(char))


def _is_plain(part: str) -> bool:
    """Whether a name may hold it, also after other programs have composed its characters anew."""
    return all(char.isalnum() for char in unicodedata.normalize("NFC", part))


def _cut(name: str) -> str:
    """No longer than people can read aloud, cut between words where that is possible."""
    if len(name) <= LONGEST:
        return name
    short = name[:LONGEST]
    between = name[LONGEST] != "-" and "-" in short
    return (short.rpartition("-")[0] if between else short).rstrip("-")
