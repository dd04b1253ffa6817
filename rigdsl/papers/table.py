"""A paper: tables that a crew works from, by its name. Ours and a pack's are alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from rigdsl.finding import Finding
from rigdsl.papers.settings import PaperSettings
from rigdsl.paths import Paths
from rigdsl.rig import Rig, shown

__all__ = ["Cell", "Facts", "Paper", "Table", "cell_text"]

Cell = str | int | float


@dataclass(frozen=True)
class Table:
    """Columns by their headings, rows of cells, and notes for the foot. ValueError where a row is no row of it.

    What a user wrote stands here as it is: each form that it is printed in escapes it in its own way. A number is a
    number (with its unit in the heading), so that a spreadsheet can add it up. `title` tells apart the tables of one
    paper; a `strip` is cut out and laid along sockets or faders: its columns are number, name, and maybe colour.
    """

    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()
    title: str = ""
    strip: bool = False

    def __post_init__(self) -> None:
        for number, row in enumerate(self.rows, 1):
            if len(row) != len(self.columns):
                raise ValueError(f"row {number} has {len(row)} fields, and the table {len(self.columns)} columns")
            if not all(isinstance(cell, str | int | float) for cell in row):
                raise ValueError(f"row {number} has a field that is neither text nor a number")

    def picked(self, columns: Sequence[str]) -> Table:
        """With these columns alone, in this order; KeyError for one that it does not have."""
        places = [self._place(name) for name in columns]
        rows = tuple(tuple(row[at] for at in places) for row in self.rows)
        return replace(self, columns=tuple(columns), rows=rows)

    def with_column(self, heading: str, cells: Sequence[Cell], after: str = "") -> Table:
        """With one more column, behind another or at the end; KeyError for one that it does not have."""
        at = self._place(after) + 1 if after else len(self.columns)
        if len(cells) != len(self.rows):
            raise ValueError(f"the column `{heading}` has {len(cells)} fields for {len(self.rows)} rows")
        columns = (*self.columns[:at], heading, *self.columns[at:])
        rows = tuple((*row[:at], cell, *row[at:]) for row, cell in zip(self.rows, cells, strict=True))
        return replace(self, columns=columns, rows=rows)

    def column(self, heading: str) -> tuple[Cell, ...]:
        """The cells of one column; KeyError for one that it does not have."""
        at = self._place(heading)
        return tuple(row[at] for row in self.rows)

    def _place(self, heading: str) -> int:
        if heading not in self.columns:
            raise KeyError(heading)
        return self.columns.index(heading)


def cell_text(cell: Cell) -> str:
    """A cell in words: numbers without a tail of noughts."""
    return cell if isinstance(cell, str) else shown(cell)


@dataclass(frozen=True)
class Facts:
    """What a paper is made of.

    `findings` are in the order of their numbers on the drawings, `accepted` is how many the rig accepts; `path` is
    the rig's file; `guest` names what a guest's sheet is about, where it is not all of tonight.
    """

    rig: Rig
    paths: Paths
    findings: tuple[Finding, ...] = ()
    accepted: int = 0
    path: str = ""
    guest: tuple[str, ...] = ()
    settings: PaperSettings = field(default_factory=PaperSettings)


@dataclass(frozen=True)
class Paper:
    """What `rigdsl papers RIG NAME` prints: `title` is its heading, `make` gives its table or tables.

    `columns` are all that any table of it may have, on whatever rig; without them, those that its tables have here.
    """

    name: str
    title: str
    make: Callable[[Facts], Table | tuple[Table, ...]]
    columns: tuple[str, ...] = ()

    def tables(self, facts: Facts) -> tuple[Table, ...]:
        """Its tables, as they are before anybody chooses columns."""
        made = self.make(facts)
        return (made,) if isinstance(made, Table) else tuple(made)
