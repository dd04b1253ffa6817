"""The marks that a merge leaves around what it could not settle: the first text is read, the other is named.

`<<<<<<<` ours, `|||||||` what both came from (not always there), `=======` theirs, `>>>>>>>`; a longer row of signs
stands for a merge inside another one. Only where they stand in that order are they taken for marks.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rigdsl.finding import Finding, Level, Related
from rigdsl.syntax.messages import and_more
from rigdsl.syntax.nodes import Broken
from rigdsl.syntax.piecewise import MOST_FINDINGS, broken
from rigdsl.syntax.recover import OPENS, pieces
from rigdsl.text import Source, Span

__all__ = ["Clash", "clashes", "first_text", "lost", "told"]

MARK = re.compile(r"^(<{7,}|\|{7,}|={7,}|>{7,})(?:[ \t][^\n]*)?$", re.MULTILINE)
WRITTEN = re.compile(r"[^\n]")

Place = tuple[int, int]


class Clash(NamedTuple):
    """The lines of marks, as offsets; without a base, `ours_end` is the `middle`."""

    opens: Place
    ours_end: Place
    middle: Place
    closes: Place


def clashes(text: str) -> list[Clash]:
    """All that is not settled, in its order; marks that do not go together are none."""
    found: list[Clash] = []
    size = 0  # of the marks of the clash that is open
    seen: list[Place] = []
    signs = ""
    for match in MARK.finditer(text):
        sign, length = match[1][0], len(match[1])
        if sign == "<" and (not seen or length <= size):
            size, seen, signs = length, [match.span()], sign
        elif seen and length == size and signs + sign in ("<|", "<=", "<|="):
            seen.append(match.span())
            signs += sign
        elif seen and length == size and sign == ">" and signs[-1] == "=":
            found.append(Clash(seen[0], seen[1], seen[-1], match.span()))
            seen = []
    return found


def first_text(text: str, found: Sequence[Clash]) -> str:
    """A text with nothing but ours left of each clash; whatever is left stands where it stood."""
    return _without(text, [place for clash in found for place in (clash.opens, (clash.ours_end[0], clash.closes[1]))])


def lost(source: Source, found: Sequence[Clash]) -> Iterator[Broken]:
    """What is said in the other texts, as lost: whatever uses its name is left alone, since the cause is told."""
    outer = [0, *(at for clash in found for at in (clash.middle[1], clash.closes[0])), len(source.text)]
    theirs = _without(source.text, list(zip(outer[::2], outer[1::2], strict=True)))
    for piece in pieces(theirs):
        first = piece.tokens[0]
        if first.kind in OPENS and (not first.start or theirs[first.start - 1] == "\n"):
            yield broken(source, piece.tokens)


def told(source: Source, found: Sequence[Clash]) -> list[Finding]:
    """A finding for each; past the most that are told, one that says so."""
    most = [_told(source, clash) for clash in found[:MOST_FINDINGS]]
    return [*most, and_more(most[-1])] if len(found) > len(most) else most


def _told(source: Source, clash: Clash) -> Finding:
    return Finding(
        rule="syntax-error",
        level=Level.ERROR,
        place=Span(source, *clash.opens),
        subject=_subject(source.text, clash),
        message="the merge is not settled here: both texts still stand in the file",
        consequence="paper and plug may differ: only the first text is read",
        help="keep what holds, take out the lines of marks, then `git add` the file",
        related=(
            Related(Span(source, *clash.middle), "the other text begins here"),
            Related(Span(source, *clash.closes), "and ends here"),
        ),
    )


def _subject(text: str, clash: Clash) -> str:
    """The first two words of what clashes."""
    for start, end in ((clash.opens[1], clash.ours_end[0]), (clash.middle[1], clash.closes[0])):
        words = text[start:end].split(None, 2)[:2]
        if words:
            return "".join(char if char.isprintable() else "?" for char in " ".join(words))[:80]
    return "merge"


def _without(text: str, places: Sequence[Place]) -> str:
    """A text with blanks over some stretches of it, line ends left; offsets stay what they are."""
    parts: list[str] = []
    at = 0
    for start, end in places:
        parts += [text[at:start], WRITTEN.sub(" ", text[start:end])]
        at = end
    return "".join([*parts, text[at:]])
