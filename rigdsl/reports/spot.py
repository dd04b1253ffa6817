"""Where a finding is pinned by services that look at changes: one stretch of one line, in a file of the repository.

They show a finding beside a change only where all its lines were changed, and refuse a report in
which one finding has no place at all.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from rigdsl.text import Span

__all__ = ["Spot", "Where", "spot"]

# A path as the repository has it, with `/`; empty where it is no file of the user's.
Where = Callable[[str], str]


class Spot(NamedTuple):
    """Columns count characters from 1; `end_column` is behind the last one."""

    path: str
    line: int
    column: int
    end_column: int


def spot(place: Span, rig: str, where: Where) -> Spot:
    """The first line of a place; the start of the rig where the place is in no file of the user's."""
    path = where(place.source.path)
    if not path:
        return Spot(where(rig) or rig, 1, 1, 2)
    line, column = place.from_position
    behind, end = place.to_position
    text = place.source.line(line)
    if behind > line:
        end = max(len(text.rstrip()) + 1, column)
    if end == column:  # nothing would be marked: the character there, else the one before
        end, column = (end + 1, column) if column <= len(text) else (end, max(column - 1, 1))
    return Spot(path, line, column, end)
