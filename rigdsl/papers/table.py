"""A paper: a table that a crew works from, by its name. Ours and a pack's are alike."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["Paper", "Table"]


@dataclass(frozen=True)
class Table:
    """Columns by their headings, rows of text, and notes for the foot. ValueError where a row is no row of it.

    What a user wrote stands here as it is: each form that it is printed in escapes it in its own way.
    """

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for number, row in enumerate(self.rows, 1):
            if len(row) != len(self.columns):
                raise ValueError(f"row {number} has {len(row)} fields, and the table {len(self.columns)} columns")
            if not all(isinstance(field, str) for field in row):
                raise ValueError(f"row {number} has a field that is no text")


@dataclass(frozen=True)
class Paper:
    """What `rigdsl papers RIG NAME` prints: `title` is its heading, `table` makes it of a rig and its paths."""

    name: str
    title: str
    table: Callable[[Rig, Paths], Table]
