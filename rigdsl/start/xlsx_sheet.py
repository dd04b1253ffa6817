"""A list as a workbook (Office Open XML, ECMA-376): the sheet of it that looks most like an input list."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from rigdsl.start.columns import columns_of
from rigdsl.start.sheet import LARGEST_BYTES, MOST_CELLS, ListError

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook

__all__ = ["xlsx_rows"]

MOST_PARTS = 5_000
NO_WORKBOOK = "it is no .xlsx workbook that can be read: save it anew as .xlsx, or as .csv"
TOO_FAR = "the sheet `{}` reaches to row {:,} and column {:,}: take out what is empty there, or save it as .csv"
Rows = list[tuple[str, ...]]


def xlsx_rows(data: bytes) -> tuple[Rows, list[str]]:
    """The rows of a workbook, and what a person must know of how they were read. Raises ListError."""
    formulas = _looked_through(data)
    book = _opened(data, data_only=True)
    told: list[str] = []
    found = [(sheet.title, _rows(sheet)) for sheet in sorted(book.worksheets, key=_is_hidden)]
    full = [(title, rows) for title, rows in found if any(map(any, rows))]
    if not full:
        raise ListError("there is nothing in it")
    title, rows = max(full, key=lambda sheet: _fit(*sheet))
    others = [other for other, _ in full if other != title]
    if others:
        named = ", ".join(f"`{other}`" for other in others)
        told.append(f"`{title}` was read; not looked at: {named}")
    if formulas:
        told += _without_value(book, _opened(data, data_only=False), title)
    return rows, told


def _fit(title: str, rows: Rows) -> tuple[bool, int]:
    """How well a sheet fits: one called after inputs, then the one with most columns known by their headings."""
    columns = columns_of([row for row in rows if any(row)])
    score = columns.score if columns else 0
    return (score > 1 and "input" in title.casefold(), score)


def _looked_through(data: bytes) -> bool:
    """Refuse what is broken, locked, or would unpack to no end; whether there is a formula in it."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            there = parts.infolist()
            if any(part.flag_bits & 1 for part in there):
                raise ListError("it is locked with a password: save it without one")
            if len(there) > MOST_PARTS or sum(part.file_size for part in there) > LARGEST_BYTES:
                raise ListError("it unpacks to more than 64 MiB")
            texts = [parts.read(part) for part in there if part.filename.endswith((".xml", ".rels"))]
    except ListError:
        raise
    except Exception:  # a broken archive breaks in many ways
        raise ListError(NO_WORKBOOK) from None
    if any(b"<!DOCTYPE" in text or b"<!ENTITY" in text for text in texts):
        raise ListError("it defines texts of its own that no spreadsheet program writes")
    if sum(text.count(b"<c ") for text in texts) > MOST_CELLS:
        raise ListError(f"it has more than {MOST_CELLS:,} fields")
    return any(b"<f>" in text or b"<f " in text for text in texts)


def _opened(data: bytes, *, data_only: bool) -> Workbook:
    import warnings

    from openpyxl import load_workbook

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of what the workbook has beside its fields
            return load_workbook(io.BytesIO(data), data_only=data_only)
    except Exception:  # it raises whatever its many parts raise
        raise ListError(NO_WORKBOOK) from None


def _is_hidden(sheet: Any) -> bool:
    return bool(sheet.sheet_state != "visible")


def _rows(sheet: Any) -> Rows:
    """The fields of a sheet as text; a field that was merged downwards stands in each of its rows."""
    if sheet.max_row * sheet.max_column > MOST_CELLS:
        raise ListError(TOO_FAR.format(sheet.title, sheet.max_row, sheet.max_column))
    rows = [[_text(value) for value in row] for row in sheet.iter_rows(values_only=True)]
    for merged in sheet.merged_cells.ranges:
        column = merged.min_col - 1
        for at in range(merged.min_row, min(merged.max_row, len(rows))):
            rows[at][column] = rows[merged.min_row - 1][column]
    return [tuple(row) for row in rows]


def _text(value: object) -> str:
    """A field as a person sees it: 1.0 is 1, a date has no midnight."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.10g}"
    return re.sub(r" 00:00:00$", "", str(value))


def _without_value(book: Workbook, said: Workbook, title: str) -> Sequence[str]:
    """The fields that are a formula whose value nobody saved."""
    values = book[title]
    return [
        f"`{cell.coordinate}` is a formula without a value: it is left blank"
        for row in said[title].iter_rows()
        for cell in row
        if cell.data_type == "f" and values[cell.coordinate].value is None
    ]
