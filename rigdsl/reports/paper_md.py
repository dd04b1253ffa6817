"""A paper as Markdown that reads well raw: what a user wrote stays text."""

from __future__ import annotations

import re

from rigdsl.papers import Printed, Table, cell_text
from rigdsl.reports.look import clean
from rigdsl.rig import Rig

__all__ = ["markdown_words", "paper_md"]

# What Markdown would take for itself (CommonMark 0.31, "backslash escapes"), and `|`, which ends a field of a table.
MARKED = re.compile(r"([\\`*_<>\[\]|~#&])")
WIDEST = 40  # a column is padded up to this many characters, so that one long note does not push all others away


def paper_md(paper: Printed, rig: Rig) -> str:
    """A heading, the facts of the rig, the tables with their notes."""
    head = rig.head
    name = f"# {paper.title}" + (f": {markdown_words(head.title)}" if head.title else "")
    facts = [f"revision {head.revision}" if head.revision else "", head.date]
    parts = [name, ", ".join(markdown_words(fact) for fact in facts if fact)]
    for table in paper.tables:
        parts += [f"## {markdown_words(table.title)}" if table.title else "", _grid(table)]
        parts.append("\n".join(f"- {markdown_words(note)}" for note in table.notes))
    return "\n\n".join(part for part in parts if part) + "\n"


def _grid(table: Table) -> str:
    """The table, its columns one under the other."""
    lines = [[markdown_words(cell_text(cell)) for cell in row] for row in (table.columns, *table.rows)]
    widths = [min(max(map(len, column)), WIDEST) for column in zip(*lines, strict=True)]
    ruled = [_line(lines[0], widths), f"|{'|'.join('-' * (width + 2) for width in widths)}|"]
    return "\n".join([*ruled, *(_line(line, widths) for line in lines[1:])])


def _line(cells: list[str], widths: list[int]) -> str:
    return f"| {' | '.join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True))} |"


def markdown_words(text: str) -> str:
    """Text that Markdown prints as it stands, on one line."""
    return MARKED.sub(r"\\\1", clean(" ".join(text.split())))
