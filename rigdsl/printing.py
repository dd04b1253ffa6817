"""Papers of a show in the form that is asked for: lists, a workbook, a page, the show book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rigdsl.finding import Level
from rigdsl.lint.words import count
from rigdsl.show import VIEWS, Show

if TYPE_CHECKING:  # only who prints waits for what prints
    from rigdsl.papers import Printed
    from rigdsl.reports.book import Cover, Plate

__all__ = ["BOUND", "FORMS", "Form", "Made", "bound", "lists"]

FORMS = ("md", "csv", "xlsx", "html", "pdf")
BOUND = ("xlsx", "html", "pdf")  # all papers in one file


@dataclass(frozen=True)
class Form:
    """How papers are printed: on which paper, and whether as the show book, with cover and drawings."""

    name: str
    paper_size: str = "a4"
    book: bool = False
    revision: str = ""


@dataclass(frozen=True)
class Made:
    """A file's bytes, and what there is to say about them."""

    data: bytes
    notes: tuple[str, ...] = ()


def lists(show: Show, paper: Printed, form: str) -> tuple[tuple[str, bytes], ...]:
    """A paper as Markdown or CSV: files by what is added to their name; CSV has one for each form of table."""
    if form == "md":
        from rigdsl.reports.paper_md import paper_md

        return (("", paper_md(paper, show.rig).encode("utf-8", "replace")),)
    from rigdsl.papers import sheets_of
    from rigdsl.reports.paper_csv import paper_csv

    return tuple((_slug(sheet.title), paper_csv(sheet.table)) for sheet in sheets_of(paper))


def _slug(title: str) -> str:
    """A title as part of a file's name."""
    return "".join(f"-{word}" for word in "".join(c if c.isalnum() else " " for c in title.lower()).split())


def bound(show: Show, papers: Sequence[Printed], form: Form) -> Made:
    """All papers in one file. ImportError or DrawError where what makes it is not installed."""
    language = show.paper_settings.language
    if form.name == "xlsx":
        from rigdsl.reports.paper_xlsx import papers_xlsx

        return Made(papers_xlsx(papers, show.rig, form.paper_size))
    if form.name == "html":
        from rigdsl.reports.paper_html import papers_html

        return Made(papers_html(papers, show.rig, language, form.paper_size))
    from rigdsl.reports.book import Book, book_pdf

    notes: list[str] = []
    plates = _plates(show, form, notes) if form.book else ()
    cover = _cover(show, form) if form.book else None
    book = Book(show.rig, tuple(papers), plates, cover, language, form.paper_size)
    return Made(book_pdf(book, notes.append), tuple(dict.fromkeys(notes)))


def _plates(show: Show, form: Form, notes: list[str]) -> tuple[Plate, ...]:
    """Our views on sheets of the book's paper."""
    from rigdsl import draw
    from rigdsl.papers.headings import translated
    from rigdsl.reports.book import Plate

    found = []
    for name in VIEWS:
        drawing = show.draw(draw.Wanted(name, paper=form.paper_size, revision=form.revision), "svg")
        notes += drawing.notes
        title = translated(draw.VIEWS[name].title, show.paper_settings.language)
        found.append(Plate(title, drawing.sheets))
    return tuple(found)


def _cover(show: Show, form: Form) -> Cover:
    from rigdsl.papers.cautions import cautions_of
    from rigdsl.reports.book import Cover

    head = show.rig.head
    revision = form.revision or head.revision
    facts = (f"revision {revision}" if revision else "", head.date, "demo data" if head.demo else "")
    what = [title for (title, _), _ in cautions_of(show.rig, show.paths)]
    cautions = (
        f"Before anything is plugged, read the cautions: {', '.join(what)}." if what else "",
        "Local codes and licensed people decide; this book does not.",
    )
    return Cover(tuple(filter(None, facts)), _state(show), tuple(filter(None, cautions)))


def _state(show: Show) -> tuple[str, ...]:
    """The findings in two lines."""
    levels = [finding.level for finding in show.findings()]
    said = [count(levels.count(level), str(level)) for level in Level if levels.count(level)]
    accepted = len(show.verdict.accepted)
    line = f"Found in the rig: {', '.join(said) or 'nothing'}" + (f"; {accepted} accepted" if accepted else "")
    ready = "Not ready: an error means silence or harm on the night." if Level.ERROR in levels else ""
    return tuple(filter(None, (line + ".", ready)))
