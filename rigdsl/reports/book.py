"""The show book as PDF: a cover, the drawings, the lists with their heads on every page; or single lists."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

from rigdsl.draw.typeset import FONT, compiled, lettered, size_pt, texts_of
from rigdsl.papers import Cell, Printed, Table, cell_text
from rigdsl.papers.headings import translated
from rigdsl.reports.look import clean
from rigdsl.rig import Rig

__all__ = ["Book", "Cover", "Plate", "book_pdf"]

WIDE = 7  # so many columns lie across the paper
ONE_SIDE = "guest-sheet"
BEFORE = ("cautions", "findings")  # what stands before the drawings in the show book
MOST_WHOLE = 40  # rows that surely have room on one page
STRIP_MM = 19.0  # a field of a strip
ACROSS_MM = {"a3": 420.0, "a4": 297.0, "letter": 279.4}
MARGINS_MM = 24.0
TYPST = {"a3": "a3", "a4": "a4", "letter": "us-letter"}
UNBROKEN = re.compile(r"\S{25,}")
BREAK = "\u200b"  # a place where a word without end may go on in the next line
STEP = 12


@dataclass(frozen=True)
class Cover:
    """What stands on the first page: facts of the rig, the state of its findings, the cautions that hold for it."""

    facts: tuple[str, ...]
    state: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Plate:
    """One view on finished sheets."""

    title: str
    sheets: tuple[bytes, ...]


@dataclass(frozen=True)
class Book:
    """All that is bound. Without a cover it is lists alone."""

    rig: Rig
    papers: tuple[Printed, ...]
    plates: tuple[Plate, ...] = ()
    cover: Cover | None = None
    language: str = "en"
    paper_size: str = "a4"


def book_pdf(book: Book, say: Callable[[str], None]) -> bytes:
    """The PDF. DrawError where what makes it is not installed; `say` hears of letters that do not come along."""
    sheets = [sheet for plate in book.plates for sheet in plate.sheets]
    data = json.dumps(_data(book), ensure_ascii=False)
    parts = {f"{number}.svg": lettered(sheet) for number, sheet in enumerate(sheets, 1)}
    parts["main.typ"] = files("rigdsl.reports").joinpath("book.typ").read_bytes()
    return compiled(parts, "pdf", {"data": data}, data.replace(BREAK, "") + texts_of(sheets), say)


def _data(book: Book) -> dict[str, Any]:
    cover = book.cover
    return {
        "title": _words(book.rig.head.title or "a rig without a name"),
        "font": FONT,
        "language": book.language,
        "paper": TYPST[book.paper_size],
        "strip": int((ACROSS_MM[book.paper_size] - MARGINS_MM) / STRIP_MM),
        "words": {name: translated(name, book.language) for name in ("page", "of", "Contents")},
        "cover": cover and {name: list(map(_words, getattr(cover, name))) for name in ("facts", "state", "cautions")},
        "drawings": list(_drawings(book.plates)),
        "before": [_paper(paper) for paper in book.papers if cover and paper.name in BEFORE],
        "papers": [_paper(paper) for paper in book.papers if not cover or paper.name not in BEFORE],
    }


def _drawings(plates: Sequence[Plate]) -> Sequence[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for plate in plates:
        title = plate.title[:1].upper() + plate.title[1:]
        for number, sheet in enumerate(plate.sheets):
            wide, high = size_pt(sheet)
            file = f"{len(found) + 1}.svg"
            found.append({"title": title, "first": not number, "file": file, "width": wide, "height": high})
    return found


def _paper(paper: Printed) -> dict[str, Any]:
    return {
        "title": _words(paper.title),
        "wide": _is_wide(paper),
        "one_side": paper.name == ONE_SIDE,
        "tables": [_table(table) for table in paper.tables],
    }


def _is_wide(paper: Printed) -> bool:
    """Whether it lies across the paper: strips do, to be cut as long as they can be."""
    columns = max((len(table.columns) for table in paper.tables), default=0)
    return paper.name != ONE_SIDE and (columns >= WIDE or any(table.strip for table in paper.tables))


def _table(table: Table) -> dict[str, Any]:
    return {
        "title": _words(table.title),
        "strip": table.strip,
        "whole": table.strip or (bool(table.title) and len(table.rows) <= MOST_WHOLE),
        "columns": list(map(_words, table.columns)),
        "rows": [list(map(_field, row)) for row in table.rows],
        "notes": list(map(_words, table.notes)),
    }


def _field(cell: Cell) -> str | dict[str, str]:
    return _words(cell) if isinstance(cell, str) else {"number": cell_text(cell)}


def _words(text: str) -> str:
    """What a user wrote, in which a word without end may be broken."""
    return UNBROKEN.sub(lambda word: _broken(word[0]), clean(" ".join(text.split())))


def _broken(word: str) -> str:
    return BREAK.join(word[at : at + STEP] for at in range(0, len(word), STEP))
