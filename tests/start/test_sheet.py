"""Lists as they come: separators, encodings, workbooks; and those that are broken, locked, or no list at all."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from datetime import datetime

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.start import ListError, sheet_of
from rigdsl.start.sheet import BROKEN, Sheet
from tests.start.made import as_csv, as_xlsx

ROWS = [["Ch", "Name", "Notes"], ["1", "Kick; in", 'says "hi"'], ["2", "Größe, naïve", ""], ["10", "日本 🎤", "two"]]
LOCAL = [row for row in ROWS if row[0] != "10"]


TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"))


def cells(sheet: Sheet) -> list[list[str]]:
    """The fields, without empty ones at the end."""
    return ["\t".join(line.cells).rstrip("\t").split("\t") for line in sheet.rows]


def same(rows: list[list[str]]) -> list[list[str]]:
    return ["\t".join(row).rstrip("\t").split("\t") for row in rows]


class TestText:
    @pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
    @pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
    def test_separators_and_encodings(self, separator: str, encoding: str) -> None:
        sheet = sheet_of(as_csv(ROWS, separator).decode("utf-8").encode(encoding))
        assert (cells(sheet), sheet.told) == (same(ROWS), ())

    def test_windows_1252_is_told(self) -> None:
        sheet = sheet_of(as_csv(LOCAL, ";").decode("utf-8").encode("cp1252"))
        assert cells(sheet) == same(LOCAL)
        assert sheet.told == ("it is not in UTF-8 and was read as Windows-1252: look at letters with accents",)

    @pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
    def test_line_ends(self, end: str) -> None:
        text = end.join(["Ch,Name", "1,Kick", "", ",,", "2,Snare"])
        assert [line.number for line in sheet_of(text.encode()).rows] == [1, 2, 5]

    def test_a_title_with_other_separators_above_the_headings(self) -> None:
        text = "Peat Choir, Friday, 20:00, Moth Lamp Cellar\n\nCh;Name;Notes\n1;Kick;\n"
        assert cells(sheet_of(text.encode()))[1:] == [["Ch", "Name", "Notes"], ["1", "Kick"]]

    @pytest.mark.parametrize("separator", [",", ";", "|"])
    def test_a_line_that_says_the_separator(self, separator: str) -> None:
        text = f"sep={separator}\r\n" + as_csv(ROWS, separator).decode("utf-8")
        sheet = sheet_of(text.encode("utf-8"))
        assert (cells(sheet), sheet.rows[0].number) == (same(ROWS), 2)

    def test_what_a_label_cannot_hold_is_told(self) -> None:
        sheet = sheet_of(as_csv([["Ch", "Name"], ["1", "Kick\nin\x07!"], ["2", " Snare "]]))
        assert cells(sheet)[1:] == [["1", "Kick in !"], ["2", "Snare"]]
        assert sheet.told == (
            "one field has line breaks or characters that cannot be seen: a blank stands in their place",
        )

    @given(st.lists(st.lists(TEXT, min_size=2, max_size=4), max_size=5))
    def test_any_fields_come_back(self, rows: list[list[str]]) -> None:
        """The csv module of Python writes them, strangers' programs alike; only what no label can hold is lost."""
        whole = [["Ch", "Name", "Notes", "Stand"], *rows]
        wanted = [[BROKEN.sub(" ", field.strip()).strip() for field in row] for row in whole]
        assert cells(sheet_of(as_csv(whole))) == same([row for row in wanted if any(row)])


class TestWorkbook:
    def test_it_says_what_the_text_says(self) -> None:
        assert sheet_of(as_xlsx(ROWS)) == sheet_of(as_csv(ROWS))

    def test_values_as_people_see_them(self) -> None:
        row = ["Ch", "Name", 1, 2.0, 7.5, True, False, None, "=1+1", "007"]
        assert cells(sheet_of(as_xlsx([row]))) == [["Ch", "Name", "1", "2", "7.5", "yes", "no", "", "=1+1", "007"]]

    def test_a_date_has_no_midnight(self) -> None:
        book = openpyxl.Workbook()
        book.worksheets[0].append(["Ch", "Name", datetime(2026, 12, 4)])
        assert cells(sheet_of(saved(book))) == [["Ch", "Name", "2026-12-04"]]

    def test_a_field_merged_downwards_stands_in_each_of_its_rows(self) -> None:
        book = openpyxl.Workbook()
        for row in (["A list"], ["Ch", "Name"], [7, "Keys"], [8, None]):
            book.worksheets[0].append(row)
        book.worksheets[0].merge_cells("A1:D1")
        book.worksheets[0].merge_cells("B3:B4")
        assert cells(sheet_of(saved(book))) == [["A list"], ["Ch", "Name"], ["7", "Keys"], ["8", "Keys"]]

    @pytest.mark.parametrize(
        ("sheets", "chosen"),
        [
            ({"Cover": ["Name", "Telephone"], "List": ["Ch", "Name"]}, "List"),
            ({"Outputs": ["Ch", "Name", "Notes"], "INPUTS": ["Ch", "Name"]}, "INPUTS"),
            ({"Friday": ["Ch", "Name"], "Saturday": ["Ch", "Name"]}, "Friday"),
            ({"hidden": ["Ch", "Name"], "Seen": ["Ch", "Name"]}, "Seen"),
        ],
    )
    def test_of_several_sheets_the_one_that_looks_most_like_a_list(
        self, sheets: dict[str, list[str]], chosen: str
    ) -> None:
        book = openpyxl.Workbook()
        for title, head in sheets.items():
            sheet = book.create_sheet(title)
            sheet.sheet_state = "hidden" if title == "hidden" else "visible"
            for row in (head, [1, title]):
                sheet.append(row)
        read = sheet_of(saved(book))
        others = ", ".join(f"`{title}`" for title in sheets if title != chosen)
        assert (read.rows[1].cells[1], read.told) == (chosen, (f"`{chosen}` was read; not looked at: {others}",))

    def test_a_formula_that_nobody_worked_out_is_told(self) -> None:
        book = openpyxl.Workbook()
        book.worksheets[0].append(["Ch", "Name"])
        book.worksheets[0].append(["=1+1", "Kick"])
        sheet = sheet_of(saved(book))
        assert (cells(sheet)[1], sheet.told) == (
            ["", "Kick"],
            ("`A2` is a formula without a value: it is left blank",),
        )

    def test_a_far_field_costs_nothing(self) -> None:
        book = openpyxl.Workbook()
        book.worksheets[0].append(["Ch", "Name"])
        book.worksheets[0]["XFD1048576"] = "far"
        with pytest.raises(ListError, match="reaches to row 1,048,576 and column 16,384"):
            sheet_of(saved(book))


def saved(book: openpyxl.Workbook) -> bytes:
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def packed(files: dict[str, bytes], *, locked: bool = False) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as parts:
        for name, data in files.items():
            parts.writestr(name, data)
    data = out.getvalue()
    if locked:  # the flags of each part: APPNOTE 4.4.4, bit 0; where they stand: 4.3.7 and 4.3.12
        for mark, at in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
            start = data.index(mark) + at
            data = data[:start] + bytes([data[start] | 1]) + data[start + 1 :]
    return data


def spoilt(name: str, text: bytes) -> bytes:
    """A workbook with one part replaced."""
    with zipfile.ZipFile(io.BytesIO(as_xlsx(ROWS))) as parts:
        return packed({part: text if part == name else parts.read(part) for part in parts.namelist()})


SHEET = "xl/worksheets/sheet1.xml"
LAUGHS = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "ha"><!ENTITY c "&b;&b;">]><a>&c;</a>'

LONG = (
    b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1">'
    b'<c r="A1" t="inlineStr"><is><t>' + b"x" * 100_001 + b"</t></is></c></row></sheetData></worksheet>"
)


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (lambda: b"", "there is nothing in it"),
        (lambda: b"\n\n , ,\n", "there is nothing in it"),
        (lambda: b"\xef\xbb\xbf", "there is nothing in it"),
        (lambda: b"\x89PNG\r\n\x1a\n\x00\x00", "no text"),
        (lambda: bytes(range(1, 256)) * 40, "no text"),
        (lambda: b"\xff\xfeA", "begins like UTF-16"),
        (lambda: b"%PDF-1.7 ...", "it is a PDF"),
        (lambda: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 500, "an old or a locked workbook"),
        (lambda: b"PK\x03\x04 and no more", "no .xlsx workbook that can be read"),
        (lambda: as_xlsx(ROWS)[:-400], "no .xlsx workbook that can be read"),
        (lambda: packed({"mimetype": b"something else"}), "no .xlsx workbook that can be read"),
        (lambda: packed({"a.xml": b"x"}, locked=True), "locked with a password"),
        (lambda: packed({"a.xml": b" " * (65 * 1024 * 1024)}), "unpacks to more than 64 MiB"),
        (lambda: packed({f"{number}.xml": b"" for number in range(6000)}), "unpacks to more than 64 MiB"),
        (lambda: spoilt(SHEET, LAUGHS), "defines texts of its own"),
        (lambda: spoilt(SHEET, b"<worksheet"), "no .xlsx workbook that can be read"),
        (lambda: spoilt(SHEET, b"<a>" + b'<c r="A1"/>' * 500_001 + b"</a>"), "more than 500,000 fields"),
        (lambda: as_xlsx([[]]), "there is nothing in it"),
        (lambda: b"Ch,Name\n" + b"1,Kick\n" * 10_000, "more than 10,000 rows"),
        (lambda: as_xlsx([["Ch", "Name"], *[[1, "Kick"]] * 10_000]), "more than 10,000 rows"),
        (lambda: b"Ch,Name\n" + b"\n" * 100_001, "more than 10,000 rows"),
        (lambda: b"Ch,Name\n" + b"," * 500_000, "more than 500,000 fields"),
        (lambda: spoilt(SHEET, LONG), "row 1 has a field of more than 100,000 characters"),
        (lambda: b" " * (64 * 1024 * 1024 + 1), "larger than 64 MiB"),
        (lambda: b'Ch,Name\n1,"Kick\n2,Snare\n3,Tom\n', "a quote is opened and never closed"),
        (lambda: b"Ch,Name\n1," + b"x" * 200_000 + b"\n", "line 2 cannot be read: field larger than field limit"),
    ],
)
def test_what_cannot_be_read_says_why(data: Callable[[], bytes], why: str) -> None:
    with pytest.raises(ListError, match=why):
        sheet_of(data())


def test_a_list_of_the_largest_size() -> None:
    assert len(sheet_of(b"Ch,Name\n" + b"1,Kick\n" * 9_999).rows) == 10_000


@given(st.binary(max_size=300), st.sampled_from([b"", b"PK\x03\x04", b"\xff\xfe", b"\xef\xbb\xbf", b"Ch,Name\n"]))
def test_no_bytes_break_it(data: bytes, start: bytes) -> None:
    assert outcome(start + data) in ("rows", "one line")


def outcome(data: bytes) -> str:
    try:
        return "rows" if sheet_of(data).rows else "nothing"
    except ListError as why:
        return "one line" if str(why) and "\n" not in str(why) else str(why)
