"""Papers in every form: read back they are the model, and what a user wrote is never more than text."""

from __future__ import annotations

import csv
import io
import re
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path
from shutil import which
from typing import Any
from zipfile import ZipFile

import openpyxl
import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import html
from openpyxl.utils.escape import unescape
from pypdf import PdfReader

from rigdsl.papers import PAPERS, Cell, Printed, Table, cell_text, printed, sheets_of
from rigdsl.printing import Form, bound, lists
from rigdsl.reports.book import Book, book_pdf
from rigdsl.reports.paper_csv import paper_csv
from rigdsl.reports.paper_html import papers_html
from rigdsl.reports.paper_xlsx import papers_xlsx
from rigdsl.rig import Rig, read
from rigdsl.show import Show, load
from tests.papers.made import facts_of
from tests.reports.told import HOSTILE

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/shows/*.rig"))
SHOWS = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parents[1].name}/{path.stem}")
OFFICE = which("soffice")
NASTY = (
    *HOSTILE,
    "=cmd|' /C calc'!A0",
    '=HYPERLINK("http://x.invalid","x")',
    "<script>alert(1)</script>",
    '#import "x": *',
    "#sys.inputs.data",
    "$ x^2 $ @ref <label> *bold* _it_ `raw` // note /* */",
    "a | b",
    "two\nlines",
    "]] --> </style></table>",
    "x" * 200,
)


def all_papers(show: Show) -> list[Printed]:
    return [printed(paper, show.facts()) for paper in PAPERS.values()]


def small(*texts: str) -> Printed:
    return Printed("list", "List", (Table(("a", "b"), tuple((text, number) for number, text in enumerate(texts))),))


def rig() -> Rig:
    return read('rig "R" { rate 48 kHz }')


# ---- workbooks


def workbook(papers: Sequence[Printed]) -> openpyxl.Workbook:
    return openpyxl.load_workbook(io.BytesIO(papers_xlsx(papers, rig(), "a4")))


def cells_of(sheet: object, table: Table) -> list[list[Cell]]:
    rows = list(sheet.iter_rows(min_row=1, max_row=len(table.rows) + 1, max_col=len(table.columns), values_only=True))  # type: ignore[attr-defined]
    return [["" if cell is None else cell for cell in row] for row in rows]


@SHOWS
def test_a_workbook_read_by_another_library_is_the_model(path: Path) -> None:
    papers = all_papers(load(path))
    book = workbook(papers)
    sheets = [sheet for paper in papers for sheet in sheets_of(paper)]
    assert len(book.worksheets) == len(sheets)
    for page, sheet in zip(book.worksheets, sheets, strict=True):
        head, *rows = cells_of(page, sheet.table)
        assert head == list(sheet.table.columns)
        assert rows == [list(row) for row in sheet.table.rows]


def test_numbers_are_numbers_and_the_head_stays_in_sight() -> None:
    (page,) = workbook([printed(PAPERS["kit-list"], facts_of())]).worksheets
    assert isinstance(page["D2"].value, int)
    assert page.freeze_panes == "A2"
    assert page.print_title_rows == "$1:$1"
    assert page.page_setup.orientation == "landscape"
    assert page.page_setup.paperSize in (9, "9")  # A4 in ECMA-376, 18.3.1.63
    assert page.print_area
    assert page.column_dimensions["B"].width > 10


def test_a_row_is_as_high_as_its_text() -> None:
    """Not every program sees to it when it opens the workbook: the cautions were printed line on line."""
    paper = small("short", "word " * 40, "大" * 40)
    (page,) = workbook([paper]).worksheets
    heights = [page.row_dimensions[row].height for row in (2, 3, 4)]
    width = page.column_dimensions["A"].width
    assert heights[0] is None
    assert heights[1] >= 15 * 5 * 40 / width
    assert heights[2] >= 15 * 2 * 40 / width, "letters of full width take the room of two"


def test_notes_of_one_sheet_say_of_what_they_are() -> None:
    """All box sheets are one sheet of the workbook: a caution of the amplifier names it."""
    (sheet,) = sheets_of(printed(PAPERS["box-sheets"], facts_of()))
    assert [note for note in sheet.table.notes if "amplifier off" in note] == [
        "AMP, TOP: Left top: loudspeaker level: amplifier off before a plug is touched"
    ]


@pytest.mark.parametrize("text", NASTY)
def test_a_text_in_a_workbook_stays_a_text(text: str) -> None:
    (page,) = workbook([small(text)]).worksheets
    cell = page["A2"]
    assert cell.data_type in ("s", "inlineStr")
    assert unescape(cell.value).replace("\r\n", "\n") == text.replace("\r\n", "\n")
    assert cell.hyperlink is None


def test_sheets_have_names_that_a_workbook_takes() -> None:
    """At most 31 characters, none of []:*?/\\, no two alike (ECMA-376 and common practice)."""
    papers = [
        Printed("a", title, (Table(("a",), (("b",),)),))
        for title in ("In/Out: [list]", "in out  list", "x" * 40, "X" * 40)
    ]
    names = workbook(papers).sheetnames
    assert len({name.casefold() for name in names}) == 4
    assert all(0 < len(name) <= 31 and not set(name) & set("[]:*?/\\") for name in names)


@pytest.mark.skipif(OFFICE is None, reason="LibreOffice is not installed")
def test_libreoffice_opens_it(tmp_path: Path) -> None:
    """Read by LibreOffice, and written by it as CSV: the same cells."""
    paper = printed(PAPERS["input-list"], facts_of())
    (tmp_path / "list.xlsx").write_bytes(papers_xlsx([paper], rig(), "a4"))
    home = f"-env:UserInstallation=file://{tmp_path / 'home'}"
    command = [
        str(OFFICE),
        home,
        "--headless",
        "--convert-to",
        "csv:Text - txt - csv (StarCalc):44,34,76,1",
        "--outdir",
    ]
    subprocess.run([*command, str(tmp_path), str(tmp_path / "list.xlsx")], check=True, capture_output=True, timeout=120)
    rows = list(csv.reader(io.StringIO((tmp_path / "list.csv").read_text("utf-8"))))
    (table,) = paper.tables
    assert rows[0] == list(table.columns)
    assert rows[1 : len(table.rows) + 1] == [[cell_text(cell) for cell in row] for row in table.rows]


# ---- CSV


@SHOWS
def test_csv_read_back_is_the_model(path: Path) -> None:
    for paper in all_papers(load(path)):
        for sheet in sheets_of(paper):
            head, *rows = csv.reader(io.StringIO(paper_csv(sheet.table).decode("utf-8"), newline=""), strict=True)
            assert head == list(sheet.table.columns)
            assert [[field.removeprefix("'") for field in row] for row in rows] == [
                [cell_text(cell).removeprefix("'") for cell in row] for row in sheet.table.rows
            ]


# ---- HTML


@SHOWS
def test_html_has_every_cell_and_asks_for_nothing(path: Path) -> None:
    papers = all_papers(load(path))
    page = papers_html(papers, rig(), "en", "a4")
    tree = html.fromstring(page.decode("utf-8"))
    assert len(tree.xpath("//section")) == len(papers)
    tables = [table for paper in papers for table in paper.tables if not table.strip]
    for found, table in zip(tree.xpath("//table"), tables, strict=True):
        rows = [["".join(cell.itertext()) for cell in row.xpath("./td")] for row in found.xpath("./tbody/tr")]
        assert rows == [[cell_text(cell) for cell in row] for row in table.rows]
    assert not tree.xpath("//script | //link | //img | //iframe | //@src | //@onclick | //*[@style]")
    assert {link for link in tree.xpath("//@href") if not link.startswith("#")} == set()


@pytest.mark.parametrize("text", NASTY)
def test_a_text_in_html_stays_a_text(text: str) -> None:
    tree = html.fromstring(papers_html([small(text)], rig(), "en", "a4").decode("utf-8"))
    (cell,) = tree.xpath("//tbody/tr/td[1]")
    assert len(cell) == 0, "no element comes of it"
    assert not tree.xpath("//script")


def test_on_a_narrow_screen_words_stay_whole() -> None:
    """A page for a phone: the lists scroll sideways, and are not squeezed to a letter a line."""
    style = papers_html([small("x")], rig(), "en", "a4").decode("utf-8").partition("@media print")[0]
    assert "overflow-x: auto" in style
    assert "overflow-wrap: anywhere" not in style.partition(".strip")[0]


# ---- PDF


def pdf_of(papers: Sequence[Printed], size: str = "a4") -> bytes:
    return book_pdf(Book(rig(), tuple(papers), paper_size=size), lambda said: None)


def text_of(data: bytes) -> str:
    """All words, without the places where a line may break."""
    return "".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)


@pytest.mark.parametrize("text", NASTY)
def test_a_text_in_a_pdf_is_never_source(text: str) -> None:
    """What typst would run or set differently comes out letter by letter."""
    words = re.sub(r"\s|\u200b", "", text_of(pdf_of([small(text)])))
    shown = re.sub(r"\s", "", "".join(c for c in text if c.isprintable() or c.isspace()))
    if shown.isascii():
        assert shown in words.replace("?", "") or shown in words


@SHOWS
def test_the_show_book(path: Path) -> None:
    """A cover with the state of the findings, contents, every paper, page n of m; the same bytes twice."""
    show = load(path)
    papers = all_papers(show)
    made = bound(show, papers, Form("pdf", "a4", book=True))
    reader = PdfReader(io.BytesIO(made.data))
    pages = [re.sub(r"\s+", " ", page.extract_text().replace("\u200b", "")) for page in reader.pages]
    assert str(show.rig.head.title) in pages[0]
    assert "Found in the rig" in pages[0]
    assert "Contents" in pages[0]
    assert all(f"page {number} of {len(pages)}" in page for number, page in enumerate(pages, 1))
    assert set(_titles(reader.outline)) >= {paper.title for paper in papers}
    assert bound(show, papers, Form("pdf", "a4", book=True)).data == made.data


def _titles(entries: list[Any]) -> Iterator[str]:
    """Of the bookmarks, at any depth."""
    for one in entries:
        if isinstance(one, list):
            yield from _titles(one)
        else:
            yield str(one.title)


def test_a_long_list_has_its_head_on_every_page() -> None:
    table = Table(("channel", "what"), tuple((number, f"source {number}") for number in range(1, 301)))
    reader = PdfReader(io.BytesIO(pdf_of([Printed("list", "List", (table,))])))
    assert len(reader.pages) > 3
    assert all("channel" in page.extract_text() for page in reader.pages)


@pytest.mark.parametrize(("size", "width_mm"), [("a4", 210), ("a3", 297), ("letter", 215.9)])
def test_the_paper_is_the_one_that_is_asked_for(size: str, width_mm: float) -> None:
    """ISO 216 for A4 and A3, ANSI/ASME Y14.1 for letter."""
    page = PdfReader(io.BytesIO(pdf_of([small("x")], size))).pages[0]
    assert float(page.mediabox.width) == pytest.approx(width_mm / 25.4 * 72, abs=0.1)


def test_the_letters_come_along() -> None:
    with pikepdf.open(io.BytesIO(pdf_of([small("x")]))) as pdf:
        fonts = [font for page in pdf.pages for font in page.resources.get("/Font", {}).values()]
        assert fonts
        descriptors = [font["/DescendantFonts"][0]["/FontDescriptor"] for font in fonts]
        assert all("/FontFile3" in one or "/FontFile2" in one for one in descriptors)


def test_what_is_said_of_a_box_stands_on_its_sheet() -> None:
    """By the words of the club: none of its boxes has its notes on another page, under the heading of the next."""
    show = load(EXAMPLES[0].parents[2] / "club/shows/friday.rig")
    paper = printed(PAPERS["box-sheets"], show.facts())
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(pdf_of([paper]))).pages]
    for table in paper.tables:
        (page,) = (page for page in pages if table.title in page)
        assert all(note in page.partition(table.title)[2] for note in table.notes), table.title


def test_a_name_stays_in_its_field_of_a_strip() -> None:
    """Two rows of fields, 12 mm from one to the next: no letter of the first comes down to the second."""
    rows = tuple((number, *(("WMWMW WMWMW WMWMW", "red") if number == 1 else ("", ""))) for number in range(1, 17))
    paper = Printed("strips", "Strips", (Table(("number", "name", "colour"), rows, strip=True),))
    places: dict[str, list[float]] = {}

    def seen(text: str, page: Any, line: Any, *_: Any) -> None:
        for word in text.split():
            places.setdefault(word, []).append(float(page[3] * line[5] + page[5]))

    PdfReader(io.BytesIO(pdf_of([paper]))).pages[0].extract_text(visitor_text=seen)
    assert min(places["red"]) > max(places["15"])


@pytest.mark.parametrize("name", ["club/shows/friday", "hall/shows/winter-concert", "festival/shows/saturday-night"])
def test_a_guests_sheet_is_one_side(name: str) -> None:
    show = load(Path(__file__).parents[2] / "examples" / f"{name}.rig")
    data = pdf_of([printed(PAPERS["guest-sheet"], show.facts())])
    assert len(PdfReader(io.BytesIO(data)).pages) == 1


# ---- all of them


@pytest.mark.parametrize("form", ["md", "csv", "xlsx", "html", "pdf"])
def test_a_rig_with_nothing_in_it_is_printed_too(form: str, tmp_path: Path) -> None:
    """Papers of boxes have no table at all where there is no box."""
    (tmp_path / "empty.rig").write_text('rig "R" { rate 48 kHz }\n', "utf-8")
    show = load(tmp_path / "empty.rig")
    papers = all_papers(show)
    if form in ("md", "csv"):
        names = {paper.name for paper in papers if lists(show, paper, form)}
        assert names >= {"input-list", "kit-list"}
    else:
        assert bound(show, papers, Form(form, "a4", book=form == "pdf")).data


def test_the_same_rig_the_same_bytes() -> None:
    papers = [printed(paper, facts_of()) for paper in PAPERS.values()]
    assert papers_xlsx(papers, rig(), "a4") == papers_xlsx(papers, rig(), "a4")
    assert pdf_of(papers) == pdf_of(papers)
    times = {info.date_time for info in ZipFile(io.BytesIO(papers_xlsx(papers, rig(), "a4"))).infolist()}
    assert times == {(1980, 1, 1, 0, 0, 0)}


@settings(max_examples=40, deadline=None)
@given(st.lists(st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=40), max_size=5))
def test_any_texts_go_through_a_workbook(texts: list[str]) -> None:
    paper = small(*texts)
    (page,) = workbook([paper]).worksheets
    _, *rows = cells_of(page, paper.tables[0])
    assert [row[0] for row in rows] == texts
