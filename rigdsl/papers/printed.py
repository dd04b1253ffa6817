"""A paper as it is printed: the columns that a project chose, headings in its language."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from rigdsl.finding import similar
from rigdsl.papers.headings import translated
from rigdsl.papers.settings import PaperSettings
from rigdsl.papers.table import Facts, Paper, Table

__all__ = ["Printed", "Sheet", "headed", "printed", "sheets_of", "unknown_columns"]


OF = "of"  # the heading over what a row is of


@dataclass(frozen=True)
class Printed:
    """A paper that is made: its name, its heading, and its tables."""

    name: str
    title: str
    tables: tuple[Table, ...]

    @property
    def rows(self) -> int:
        """How many rows there are in all."""
        return sum(len(table.rows) for table in self.tables)


@dataclass(frozen=True)
class Sheet:
    """One table of cells, as CSV and a workbook have them; `title` says of what, where the paper has several."""

    title: str
    table: Table


def sheets_of(paper: Printed) -> tuple[Sheet, ...]:
    """Tables of one form as one, with what each is of in the first column; tables of different forms stay apart."""
    if len(paper.tables) < 2:
        return tuple(Sheet("", table) for table in paper.tables)
    first = paper.tables[0]
    if any(table.columns != first.columns for table in paper.tables):
        return tuple(Sheet(table.title, table) for table in paper.tables)
    rows = tuple((table.title, *row) for table in paper.tables for row in table.rows)
    return (Sheet("", Table((OF, *first.columns), rows, tuple(_notes(paper.tables)))),)


def _notes(tables: Sequence[Table]) -> Iterator[str]:
    """Each note once, with what it is of where it is not of all."""
    for note in dict.fromkeys(note for table in tables for note in table.notes):
        some = [table.title for table in tables if note in table.notes]
        yield note if len(some) == len(tables) else f"{', '.join(some)}: {note}"


def printed(paper: Paper, facts: Facts) -> Printed:
    """The tables with the columns that `rig.toml` asks for; of several tables, each with those of them that it has."""
    settings = facts.settings
    wanted = settings.columns.get(paper.name, ())
    tables = tuple(_picked(table, wanted) for table in paper.tables(facts))
    return headed(Printed(paper.name, paper.title, tables), settings)


def headed(paper: Printed, settings: PaperSettings) -> Printed:
    """With its headings in the language of the project."""

    def words(heading: str) -> str:
        return translated(heading, settings.language)

    tables = (
        replace(table, title=words(table.title), columns=tuple(map(words, table.columns))) for table in paper.tables
    )
    return replace(paper, title=words(paper.title), tables=tuple(tables))


def _picked(table: Table, wanted: Sequence[str]) -> Table:
    there = [name for name in dict.fromkeys(wanted) if name in table.columns]
    return table.picked(there) if there else table


def unknown_columns(paper: Paper, facts: Facts) -> Iterable[str]:
    """What is said of each column that is asked for and that no table of the paper has."""
    there = dict.fromkeys(name for table in paper.tables(facts) for name in table.columns)
    for name in facts.settings.columns.get(paper.name, ()):
        if name not in there:
            known = similar("column", name, there) or f"there are: {', '.join(f'`{one}`' for one in there)}"
            yield f"`{paper.name}` has no column `{name}`, which `[papers.columns]` of rig.toml asks for; {known}"
