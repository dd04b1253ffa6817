"""A paper as CSV: UTF-8, and no field that a spreadsheet would take for a formula."""

from __future__ import annotations

import csv
import io

from rigdsl.papers import Cell, Table, cell_text

__all__ = ["paper_csv"]

# What a spreadsheet takes for the start of a formula, the wide forms of some scripts too (OWASP, "CSV injection").
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def paper_csv(table: Table) -> bytes:
    """The columns and rows as RFC 4180 has them, in UTF-8; the notes have no place in it.

    A field that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerows([[_cell(cell) for cell in row] for row in (table.columns, *table.rows)])
    return out.getvalue().encode("utf-8", "replace")


def _cell(cell: Cell) -> str:
    text = cell_text(cell)
    if isinstance(cell, str) and (text.startswith(FORMULA) or text.lstrip().startswith(FORMULA)):
        return f"'{text}"
    return text
