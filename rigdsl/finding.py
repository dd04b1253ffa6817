"""A finding: facts about what is wrong, for every format to print in its own way.

Message, consequence and help are three fields: what is wrong, what follows from
it on the night, how to mend it. None of them names a line: `place` and `related` do.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum

from rigdsl.text import Span

__all__ = ["Edit", "Finding", "Fix", "Level", "Related", "near", "similar"]


class Level(IntEnum):
    """How bad it is; the names are those of SARIF 2.1.0 (OASIS)."""

    NOTE = 1
    WARNING = 2
    ERROR = 3

    def __str__(self) -> str:
        return self.name.lower()


@dataclass(frozen=True)
class Related:
    """Another place that matters: the other end, the first of two, the line that set a limit."""

    place: Span
    message: str


@dataclass(frozen=True)
class Edit:
    """A stretch of text and what stands there instead."""

    place: Span
    text: str


@dataclass(frozen=True)
class Fix:
    """A way to mend it by editing; `safe` where nothing but this finding changes."""

    title: str
    edits: tuple[Edit, ...]
    safe: bool = False


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One thing that is wrong. All fields are given by name.

    A rule leaves `rule` empty (it is filled in where rules are run) and gives a `level` only
    where it differs from the rule's own.

    `subject` with `rule` is its identity, never a line. `ports` are the sockets
    it is about, `silent` the names of the sources and outputs that it silences
    (what silences most is shown first), `box` the box it is shown under.
    """

    place: Span
    subject: str
    message: str
    rule: str = ""
    level: Level | None = None
    consequence: str = ""
    help: str = ""
    related: tuple[Related, ...] = ()
    ports: tuple[str, ...] = ()
    silent: tuple[str, ...] = ()
    box: str = ""
    fixes: tuple[Fix, ...] = ()


MANY_WORDS = 400  # beyond which only words of the same first letter are looked at, and so many of them


def near(word: str, known: Iterable[str]) -> str:
    """The nearest of the known words, or nothing where none is near.

    A small difference in case counts as none: `sl` is near `SL`.
    """
    from difflib import get_close_matches  # only where something is misspelt: it costs a start 3 ms

    words = sorted(known)
    folded = word.casefold()[:80]
    for candidate in words:
        if candidate.casefold() == folded:
            return candidate
    if len(words) > MANY_WORDS:
        words = [candidate for candidate in words if candidate[:1].casefold() == folded[:1]][:MANY_WORDS]
    by_fold = {candidate.casefold(): candidate for candidate in reversed(words)}
    found = get_close_matches(folded, by_fold, n=1, cutoff=0.6)
    return by_fold[found[0]] if found else ""


def similar(what: str, word: str, known: Iterable[str]) -> str:
    """The fact about the nearest word, as help: "there is a box with a similar name: `SL`"."""
    found = near(word, known)
    article = "an" if what[:1] in "aeiou" else "a"
    return f"there is {article} {what} with a similar name: `{found}`" if found else ""
