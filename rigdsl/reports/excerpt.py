"""A line of a file with marks under a part of it."""

from __future__ import annotations

from rigdsl.reports.look import Look
from rigdsl.text import Span
from rigdsl.text.source import TAB_STOP, width

__all__ = ["excerpt"]

WIDEST = 160  # of a line that is shown where there is no terminal to fit it to
BEFORE = 40  # characters kept before the marks when a line is too long
CUT = "..."


def excerpt(place: Span, look: Look) -> tuple[str, str]:
    """The line a place stands in, and a line of marks for under it; both end where the place's line ends.

    Tabs are spread to every eighth column and wide characters count two, so the marks
    stand under what they mark; a line too long to show is cut around them.
    """
    at, end = place.from_position, place.to_position
    raw = place.source.line(at.line)
    first = at.column - 1
    last = end.column - 1 if end.line == at.line else len(raw)
    room = WIDEST if look.columns is None else max(look.columns - 10, 20)
    if len(raw) > room:
        raw, first, last = _cut(raw, first, last, room)
    line = look.text(raw)
    start = width(line[:first])
    length = width(line[:last]) - start
    return _spread(line).rstrip(), " " * start + "^" * max(length, 1)


def _spread(line: str) -> str:
    """A line with its tabs as spaces, up to the columns that `width` counts."""
    parts = line.split("\t")
    spread = parts[0]
    for part in parts[1:]:
        spread += " " * (TAB_STOP - width(spread) % TAB_STOP) + part
    return spread


def _cut(line: str, first: int, last: int, room: int) -> tuple[str, int, int]:
    """The part of a line around the marks, and where they are in it."""
    begin = max(min(first - BEFORE, len(line) - room), 0)
    end = begin + room
    head = CUT if begin else ""
    tail = CUT if end < len(line) else ""
    kept = line[begin:end].replace("\t", " ")
    shift = len(head) - begin
    return head + kept + tail, first + shift, min(last, end) + shift
