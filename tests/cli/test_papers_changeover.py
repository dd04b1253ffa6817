"""`rigdsl papers ACT-2 changeover --after ACT-1`: the changeover as one of the papers, in every form."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import openpyxl
import pytest
from pypdf import PdfReader

from tests.cli.club import CLEAN
from tests.conftest import Run

SECOND = CLEAN.replace("to SL 1 via", "to SL 3 via").replace('"Lantern Hall"', '"Second act"')
ROW = ["Stage left wing", "replug", "Kick in", "SL.mic 1", "SL.mic 3", "xlr 6 m", ""]


@pytest.fixture
def acts(club: Path) -> Path:
    (club / "act-1.rig").write_text(CLEAN)
    (club / "act-2.rig").write_text(SECOND)
    return club


def test_as_a_list(acts: Path, run: Run) -> None:
    ran = run("papers", "act-2.rig", "changeover", "--after", "act-1.rig")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("# Changeover after Lantern Hall: Second act\n")
    assert "| Stage left wing | replug | Kick in | SL.mic 1 | SL.mic 3 | xlr 6 m |" in ran.out
    assert "phantom off first" in ran.out
    assert ran.out == run("compare", "act-1.rig", "act-2.rig", "--as", "changeover").out


def test_as_files(acts: Path, run: Run) -> None:
    for form in ("csv", "xlsx", "html", "pdf"):
        assert (
            run("papers", "act-2.rig", "changeover", "--after", "act-1.rig", "--as", form, "--out", "out").status == 0
        )
    text = (acts / "out" / "act-2-changeover-on-stage.csv").read_text("utf-8-sig")
    assert next(row for row in csv.reader(io.StringIO(text)) if row[1:2] == ["replug"]) == ROW
    book = openpyxl.load_workbook(acts / "out" / "act-2-papers.xlsx")
    cells = [[cell or "" for cell in row] for sheet in book for row in sheet.iter_rows(values_only=True)]
    assert any(row[: len(ROW)] == ROW for row in cells)
    assert "SL.mic 3" in (acts / "out" / "act-2-papers.html").read_text("utf-8")
    words = "\n".join(page.extract_text() for page in PdfReader(acts / "out" / "act-2-papers.pdf").pages)
    assert "Changeover" in words
    assert "SL.mic 3" in words


def test_it_is_in_the_show_book_of_an_act_that_follows_one(acts: Path, run: Run) -> None:
    assert run("papers", "act-2.rig", "--after", "act-1.rig", "--as", "pdf", "--out", "book.pdf").status == 0
    assert "Changeover" in "\n".join(page.extract_text() for page in PdfReader(acts / "book.pdf").pages)
    assert "# Changeover" not in run("papers", "act-2.rig").out


def test_columns_are_chosen_as_of_any_paper(acts: Path, run: Run) -> None:
    (acts / "rig.toml").write_text('[papers.columns]\nchangeover = ["do", "what", "on"]\n')
    ran = run("papers", "act-2.rig", "changeover", "--after", "act-1.rig")
    assert (ran.status, ran.err) == (0, "")
    assert "| replug | Kick in | SL.mic 3 |" in ran.out
    assert run("papers", "act-2.rig", "input-list").status == 0, (
        "a paper that is not printed may have its columns chosen"
    )


def test_trouble(acts: Path, run: Run) -> None:
    ran = run("papers", "act-2.rig", "changeover")
    assert (ran.status, ran.out) == (2, "")
    assert "name the act before with `--after act-1.rig`" in ran.err
    assert run("papers", "act-2.rig", "--after", "nowhere.rig").status == 2
    assert "`gear.rig` has no `rig` head" in run("papers", "act-2.rig", "--after", "gear.rig").err
