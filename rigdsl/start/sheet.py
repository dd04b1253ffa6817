"""A list as rows of text, whatever file it came in."""

from __future__ import annotations

import re
from dataclasses import dataclass

__all__ = ["LARGEST_BYTES", "LONGEST_FIELD", "MOST_CELLS", "MOST_ROWS", "Line", "ListError", "Sheet", "sheet_of"]

LARGEST_BYTES = 64 * 1024 * 1024
MOST_ROWS = 10_000
MOST_CELLS = 500_000
LONGEST_FIELD = 100_000
# What no label of a rig can hold: line breaks, and characters that nobody sees.
BROKEN = re.compile(r"[\x00-\x08\x0a-\x1f\x7f\x85\u2028\u2029\ud800-\udfff]+")


class ListError(ValueError):
    """Why a list cannot be read, in one line."""


@dataclass(frozen=True)
class Line:
    """A row: its number in the file, as a person counts it, and its fields."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Sheet:
    """The rows that have something in them, and what a person must know of how they were read."""

    rows: tuple[Line, ...]
    told: tuple[str, ...] = ()


def sheet_of(data: bytes) -> Sheet:
    """The rows of a list, by what its bytes are and not by the name of the file. Raises ListError."""
    if len(data) > LARGEST_BYTES:
        raise ListError("it is larger than 64 MiB")
    if data.startswith(b"PK"):
        from rigdsl.start.xlsx_sheet import xlsx_rows

        return _tidied(*xlsx_rows(data))
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        raise ListError("it is an old or a locked workbook: save it as .xlsx without a password, or as .csv")
    if data.startswith(b"%PDF"):
        raise ListError("it is a PDF: ask for the list as .xlsx or .csv")
    from rigdsl.start.csv_sheet import csv_rows

    return _tidied(*csv_rows(data))


def _tidied(rows: list[tuple[str, ...]], told: list[str]) -> Sheet:
    """The fields as a rig can hold them, and no rows without anything in them."""
    broken = 0
    lines = []
    for number, row in enumerate(rows, 1):
        if any(len(cell) > LONGEST_FIELD for cell in row):
            raise ListError(f"row {number} has a field of more than {LONGEST_FIELD:,} characters")
        cells = tuple(BROKEN.sub(" ", cell.strip()).strip() for cell in row)
        broken += sum(BROKEN.search(cell.strip()) is not None for cell in row)
        if any(cells):
            lines.append(Line(number, cells))
    if len(lines) > MOST_ROWS:
        raise ListError(f"it has more than {MOST_ROWS:,} rows: an input list has some hundred at most")
    if not lines:
        raise ListError("there is nothing in it")
    if broken:
        cells_have = "one field has" if broken == 1 else f"{broken} fields have"
        told.append(f"{cells_have} line breaks or characters that cannot be seen: a blank stands in their place")
    return Sheet(tuple(lines), tuple(told))
