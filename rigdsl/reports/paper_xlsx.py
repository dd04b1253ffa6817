"""Papers as one workbook: a sheet for each table, texts as texts and numbers as numbers, ready to be printed."""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Sequence
from textwrap import wrap
from typing import TYPE_CHECKING, Any
from unicodedata import east_asian_width

from rigdsl.papers import Cell, Printed, Sheet, Table, cell_text, sheets_of
from rigdsl.reports.look import clean
from rigdsl.rig import Rig

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

__all__ = ["papers_xlsx"]

NOT_IN_NAMES = re.compile(r"[\[\]:*?/\\\x00-\x1f']")
LONGEST_NAME = 31
LONGEST_TEXT = 32_767  # characters in a cell (ECMA-376 leaves it to the application; this is the usual one)
NARROWEST, WIDEST = 4, 30  # characters
LINE_PT = 15.0  # of a row; 409 points are the most that a row may have (ECMA-376 leaves it to the application)
MOST_LINES = 27
PAPERS = {"letter": 1, "a3": 8, "a4": 9}  # sizes by their numbers in ECMA-376, 18.3.1.63
EPOCH = datetime.datetime(1980, 1, 1)  # no paper knows when it was made: the same rig, the same bytes


def papers_xlsx(papers: Sequence[Printed], rig: Rig, paper_size: str) -> bytes:
    """The workbook. ImportError where the library that writes it is not installed."""
    import xlsxwriter

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    title = clean(rig.head.title or "a rig without a name")
    book.set_properties({"title": title[:255], "created": EPOCH})
    head = book.add_format({"bold": True, "bottom": 1, "bg_color": "#f1eee6", "text_wrap": True, "valign": "top"})
    text = book.add_format({"text_wrap": True, "valign": "top"})
    note = book.add_format({"italic": True})
    names: set[str] = set()
    for paper in papers:
        for sheet in sheets_of(paper):
            page = book.add_worksheet(_name(paper, sheet, names))
            _fill(page, sheet.table, head, text, note)
            _to_print(page, sheet.table, f"{title}: {paper.title}", PAPERS[paper_size])
    if not names:
        book.add_worksheet("Nothing")
    book.close()
    return out.getvalue()


def _name(paper: Printed, sheet: Sheet, names: set[str]) -> str:
    """A name that a sheet may have, and that no other one has: upper and lower case are alike there."""
    words = sheet.title or paper.title
    name = NOT_IN_NAMES.sub(" ", words).strip()[:LONGEST_NAME] or paper.name[:LONGEST_NAME]
    number = 1
    while name.casefold() in names:
        number += 1
        tail = f" {number}"
        name = name[: LONGEST_NAME - len(tail)].rstrip(f" {number - 1}") + tail
    names.add(name.casefold())
    return name


def _fill(page: Worksheet, table: Table, head: Any, text: Any, note: Any) -> None:
    widths = [len(name) + 1 for name in table.columns]
    for at, name in enumerate(table.columns):
        page.write_string(0, at, _whole(name), head)
    for line, row in enumerate(table.rows, 1):
        for at, cell in enumerate(row):
            if isinstance(cell, str):
                if cell:
                    page.write_string(line, at, _whole(cell), text)
            else:
                page.write_number(line, at, cell, text)
            widths[at] = max(widths[at], len(cell_text(cell)) + 1)
    widths = [min(max(width, NARROWEST), WIDEST) for width in widths]
    for at, width in enumerate(widths):
        page.set_column(at, at, width)
    for line, row in enumerate((table.columns, *table.rows)):
        lines = max(map(_lines, row, widths), default=1)
        if lines > 1:
            page.set_row(line, LINE_PT * min(lines, MOST_LINES))
    for line, words in enumerate(table.notes, len(table.rows) + 2):
        page.write_string(line, 0, _whole(words), note)


def _lines(cell: Cell, width: int) -> int:
    """How many lines a cell takes in a column of so many characters.

    Not every program makes a row as high as its text when it opens a workbook: one that does not prints line on line.
    """
    if not isinstance(cell, str) or (len(cell) < width and cell.isascii() and "\n" not in cell):
        return 1  # most cells by far
    text = "".join(letter * 2 if east_asian_width(letter) in "WF" else letter for letter in cell)
    return sum(max(1, len(wrap(part, width - 1))) for part in text.splitlines()) if text else 1


def _to_print(page: Worksheet, table: Table, title: str, size: int) -> None:
    """The head on every page, all columns on it, across the paper, with its number."""
    page.freeze_panes(1, 0)
    page.repeat_rows(0)
    page.print_area(0, 0, len(table.rows) + 1 + len(table.notes), max(len(table.columns) - 1, 0))
    if table.rows:
        page.autofilter(0, 0, len(table.rows), len(table.columns) - 1)
    page.set_paper(size)
    page.set_landscape()
    page.fit_to_pages(1, 0)
    page.set_margins(left=0.5, right=0.5)
    page.set_footer(f"&L{title.replace('&', '&&')[:100]}&R&P / &N")


def _whole(text: str) -> str:
    """As a user wrote it, as far as a cell holds it."""
    whole = text if text.isascii() else text.encode("utf-8", "replace").decode("utf-8")
    return whole[:LONGEST_TEXT]
