"""A list as text between separators: comma, semicolon or tab, in UTF-8, UTF-16 or Windows-1252."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections import deque

from rigdsl.start.columns import columns_of
from rigdsl.start.sheet import LONGEST_FIELD, MOST_CELLS, MOST_ROWS, ListError

__all__ = ["csv_rows"]

SEPARATORS = (",", ";", "\t", "|")
SAID_SEPARATOR = re.compile(r"sep=([,;\t|])(?=[\r\n])")  # as spreadsheet programs say it to each other
ODD_SHARE = 0.02  # of characters that no text has: beyond, it is none


def csv_rows(data: bytes) -> tuple[list[tuple[str, ...]], list[str]]:
    """The rows of a text, and what a person must know of how they were read. Raises ListError."""
    told: list[str] = []
    text = _decoded(data, told)
    said = SAID_SEPARATOR.match(text)
    if said:  # the line stays, so that rows are counted as a person counts them
        text = text[said.end() :]
    read: list[list[tuple[str, ...]]] = []
    trouble: ListError | None = None
    for separator in said[1] if said else SEPARATORS:
        try:
            read.append(_split(text, separator))
        except ListError as why:
            trouble = trouble or why
    if not read:
        raise trouble or ListError("it is no list")
    best = max(read, key=_fit)
    if trouble and _fit(best)[0] < 2:
        raise trouble
    return best, told


def _fit(rows: list[tuple[str, ...]]) -> tuple[int, int]:
    """How well a separator fits: the columns that are known by their headings, then how many there are."""
    columns = columns_of(rows)
    return (columns.score if columns else 0, max(map(len, rows), default=0))


def _decoded(data: bytes, told: list[str]) -> str:
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        try:
            return data.decode("utf-16")
        except UnicodeDecodeError:
            raise ListError("it begins like UTF-16 and is none") from None
    if b"\0" in data:
        raise ListError("it is no text, and no .xlsx workbook")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", "replace")
    odd = sum(char == "\ufffd" or (char < " " and char not in "\t\r\n") for char in text)
    if odd > ODD_SHARE * len(text):
        raise ListError("it is no text, and no .xlsx workbook")
    told.append("it is not in UTF-8 and was read as Windows-1252: look at letters with accents")
    return text


def _split(text: str, separator: str) -> list[tuple[str, ...]]:
    """The rows of a text; a quote that is never closed would swallow all that follows it."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=False)
    before = csv.field_size_limit(LONGEST_FIELD)
    rows: list[tuple[str, ...]] = []
    cells = 0
    try:
        for row in reader:
            rows.append(tuple(row))
            cells += len(row)
            if cells > MOST_CELLS:
                raise ListError(f"it has more than {MOST_CELLS:,} fields: an input list has some thousand at most")
            if len(rows) > 10 * MOST_ROWS:
                raise ListError(f"it has more than {MOST_ROWS:,} rows: an input list has some hundred at most")
    except csv.Error as why:
        raise ListError(f"line {reader.line_num} cannot be read: {str(why).lower()}") from None
    finally:
        csv.field_size_limit(before)
    if _open_at_end(text, separator):
        raise ListError("a quote is opened and never closed: all behind it would be one field")
    return rows


def _open_at_end(text: str, separator: str) -> bool:
    """Whether the text ends inside quotes: then a field put behind it does not become a row of its own."""
    mark = "end of the list"
    rows = deque(csv.reader(io.StringIO(f"{text}\n{mark}", newline=""), delimiter=separator), maxlen=1)
    return rows[0] != [mark]
