"""Lists made by hand, as text and as workbooks, and what becomes of them."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

import xlsxwriter

from rigdsl.rig import Rig, read
from rigdsl.start import HEADER, BandList, Updated, band_list, sheet_of, updated

__all__ = ["HEAD", "as_csv", "as_xlsx", "band", "in_a_rig", "rig_of", "taken_in"]

HEAD = ("Ch", "Name", "Mic/DI", "Stand", "+48V", "Notes")
RIG = 'rig "Test" { rate 48 kHz }\nmodel d { kind console; channels ch 1-10000 }\nbox DESK "Desk" is d\n'


def as_csv(rows: Iterable[Sequence[object]], separator: str = ",") -> bytes:
    """Rows as RFC 4180 has them."""
    out = io.StringIO()
    csv.writer(out, delimiter=separator).writerows(rows)
    return out.getvalue().encode("utf-8")


def as_xlsx(rows: Iterable[Sequence[object]], *, sheets: Sequence[str] = ("List",)) -> bytes:
    """Rows as a workbook by another hand than the one that reads it; what is text stays text."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    for title in sheets:
        sheet = book.add_worksheet(title)
        for at, row in enumerate(rows):
            for column, value in enumerate(row):
                if isinstance(value, str):
                    sheet.write_string(at, column, value)
                elif value is not None:
                    sheet.write(at, column, value)
    book.close()
    return out.getvalue()


def band(*rows: Sequence[object], head: Sequence[object] = HEAD) -> BandList:
    """The list of these rows."""
    return band_list(sheet_of(as_csv([head, *rows])))


def taken_in(listed: BandList, text: str = HEADER) -> Updated:
    """A list on top of a text, as the command does it."""
    return updated("band.rig", text, listed.rows)


def in_a_rig(text: str) -> str:
    """The sources in a rig with a desk."""
    return RIG + text


def rig_of(text: str) -> Rig:
    """The rig of the sources, with a desk; nothing of it may be unreadable."""
    rig = read(in_a_rig(text))
    assert [finding.message for finding in rig.findings] == []
    return rig
