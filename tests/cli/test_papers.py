"""`rigdsl papers`: which papers, where to, and how it ends."""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from rigdsl.papers import PAPERS
from tests.cli.club import LOOSE
from tests.conftest import Run

EXAMPLES = Path(__file__).parents[2] / "examples"


class TestCommand:
    def test_all_of_them_without_names(self, club: Path, run: Run) -> None:
        ran = run("papers", "friday.rig")
        assert (ran.status, ran.err) == (0, "")
        headings = [line for line in ran.out.splitlines() if line.startswith("# ")]
        assert headings[:3] == ["# Cautions: Lantern Hall", "# Findings: Lantern Hall", "# Input list: Lantern Hall"]

    def test_those_that_are_named_each_once_in_that_order(self, club: Path, run: Run) -> None:
        ran = run("papers", "friday.rig", "output-list", "input-list", "output-list")
        assert [line[2:8] for line in ran.out.splitlines() if line.startswith("#")] == ["Output", "Input "]

    def test_csv(self, club: Path, run: Run) -> None:
        ran = run("papers", "friday.rig", "input-list", "--as", "csv")
        head, *lines = csv.reader(io.StringIO(ran.out, newline=""))
        assert head[:3] == ["no", "channel", "source"]
        assert [line[:3] for line in lines] == [["1", "DESK.ch 1", "kick"], ["2", "DESK.ch 2", "oh"]]
        assert run("papers", "friday.rig", "input-list", "--as", "csv", "--out", "-").out == ran.out

    @pytest.mark.parametrize("form", ["md", "csv"])
    def test_into_a_folder(self, club: Path, run: Run, form: str) -> None:
        both = ("input-list", "output-list")
        ran = run("papers", "friday.rig", *both, "--as", form, "--out", "made")
        names = [f"friday-{name}.{form}" for name in ("input-list", "output-list")]
        assert ran.out.splitlines() == [f"{name[7:].partition('.')[0]}: made/{name}" for name in names]
        assert sorted(path.name for path in (club / "made").iterdir()) == names
        first = (club / "made" / names[0]).read_bytes()
        assert run("papers", "friday.rig", *both, "--as", form, "--out", "made").status == 0
        assert (club / "made" / names[0]).read_bytes() == first

    def test_from_standard_input(self, club: Path, run: Run) -> None:
        ran = run("papers", "-", "input-list", "--out", "made", stdin=(club / "friday.rig").read_text())
        assert (ran.status, ran.out) == (0, "input-list: made/rig-input-list.md\n")

    @pytest.mark.parametrize(
        ("arguments", "said"),
        [
            (
                ["input-lists"],
                "there is no paper called `input-lists`; there is a paper with a similar name: `input-list`",
            ),
            (["moss"], f"there is no paper called `moss`; there are: {', '.join(f'`{name}`' for name in PAPERS)}"),
            (["--as", "csv"], "CSV holds one table: name one paper that has one, or a folder with --out"),
            (["--as", "pdf"], "PDF is no text to be read here: name a file or a folder with --out"),
            (
                ["--guest", "kik"],
                "there is no source, output, cable or box called `kik`; there is one with a similar name: `kick`",
            ),
            (
                ["--out", "gear.rig"],
                "`gear.rig` is a file: --out names a folder, or a file in the form that is asked for",
            ),
        ],
    )
    def test_what_cannot_be_done(self, club: Path, run: Run, arguments: list[str], said: str) -> None:
        ran = run("papers", "friday.rig", *arguments)
        assert (ran.status, ran.out, ran.err) == (2, "", f"rigdsl: {said}\n")

    def test_a_rig_that_could_not_be_read_whole(self, club: Path, run: Run) -> None:
        (club / "friday.rig").write_text(LOOSE + "source snare dynamic in wnig\n")
        ran = run("papers", "friday.rig", "input-list")
        assert (ran.status, "kick" in ran.out) == (0, True)
        assert ran.err == "rigdsl: some of the rig could not be read: `rigdsl check friday.rig` says what\n"


class TestBound:
    @pytest.mark.parametrize(
        ("arguments", "file", "starts"),
        [
            (["--as", "pdf", "--out", "made"], "made/friday-show-book.pdf", b"%PDF"),
            (["--out", "book.pdf"], "book.pdf", b"%PDF"),
            (["input-list", "--out", "list.pdf"], "list.pdf", b"%PDF"),
            (["--as", "xlsx", "--out", "made"], "made/friday-papers.xlsx", b"PK"),
            (["kit-list", "--out", "kit.xlsx"], "kit.xlsx", b"PK"),
            (["--as", "html", "--out", "made"], "made/friday-papers.html", b"<!DOCTYPE html>"),
            (["input-list", "--out", "list.md"], "list.md", b"# Input list"),
            (["input-list", "--out", "list.csv"], "list.csv", b"no,channel"),
        ],
    )
    def test_in_one_file(self, club: Path, run: Run, arguments: list[str], file: str, starts: bytes) -> None:
        ran = run("papers", "friday.rig", *arguments)
        assert (ran.status, ran.err) == (0, "")
        assert ran.out.endswith(f": {file}\n")
        assert (club / file).read_bytes().startswith(starts)

    def test_the_show_book_has_a_cover_and_single_lists_have_none(self, club: Path, run: Run) -> None:
        run("papers", "friday.rig", "--out", "book.pdf", "--revision", "9b")
        run("papers", "friday.rig", "input-list", "--out", "list.pdf")
        book, single = (PdfReader(club / name).pages[0].extract_text() for name in ("book.pdf", "list.pdf"))
        assert "Contents" in book
        assert "revision 9b" in book
        assert "Contents" not in single

    def test_html_is_printed_where_no_file_is_named(self, club: Path, run: Run) -> None:
        assert run("papers", "friday.rig", "input-list", "--as", "html").out.startswith("<!DOCTYPE html>")

    @pytest.mark.parametrize(("form", "module"), [("xlsx", "xlsxwriter"), ("pdf", "typst")])
    def test_what_is_not_installed_is_said(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch, form: str, module: str
    ) -> None:
        monkeypatch.setitem(sys.modules, module, None)
        ran = run("papers", "friday.rig", "kit-list", "--out", f"kit.{form}")
        assert ran.status == 2
        assert f"`{module}`, which is not installed: `pip install 'rigdsl[papers]'`" in ran.err
        assert len(ran.err.splitlines()) == 1

    def test_joins_without_the_optimiser_are_said_on_the_paper(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setitem(sys.modules, "scipy.optimize", None)
        monkeypatch.delitem(sys.modules, "rigdsl.papers.joining", raising=False)
        (club / "rig.toml").write_text("[papers]\njoins = 1\n")
        (club / "friday.rig").write_text((club / "friday.rig").read_text() + "stock xlr 3 m x 9\n")
        assert "joins were not worked out" in run("papers", "friday.rig", "cable-schedule").out


class TestProject:
    def test_columns_language_and_paper_of_the_project(self, club: Path, run: Run) -> None:
        (club / "rig.toml").write_text(
            '[papers]\nlanguage = "de"\npaper = "letter"\n[papers.columns]\ninput-list = ["channel", "source"]\n'
        )
        ran = run("papers", "friday.rig", "input-list")
        assert (ran.status, ran.err) == (0, "")
        assert ran.out.startswith("# Eingangsliste: Lantern Hall")
        assert "| Kanal     | Quelle |" in ran.out
        run("papers", "friday.rig", "input-list", "--out", "list.pdf")
        assert float(PdfReader(club / "list.pdf").pages[0].mediabox.width) == pytest.approx(8.5 * 72, abs=0.1)
        run("papers", "friday.rig", "input-list", "--paper", "A3", "--out", "list.pdf")
        assert float(PdfReader(club / "list.pdf").pages[0].mediabox.width) == pytest.approx(297 / 25.4 * 72, abs=0.1)

    @pytest.mark.parametrize(
        ("columns", "said"),
        [
            (
                'input-list = ["sorce"]',
                "`input-list` has no column `sorce`, which `[papers.columns]` of rig.toml asks for; "
                "there is a column with a similar name: `source`",
            ),
            (
                'input-lst = ["source"]',
                "`[papers.columns]` of rig.toml names the paper `input-lst`, and there is none; "
                "there is a paper with a similar name: `input-list`",
            ),
        ],
    )
    def test_a_column_or_paper_that_is_none(self, club: Path, run: Run, columns: str, said: str) -> None:
        """The lists are printed all the same, and nobody takes them for what was asked for."""
        (club / "rig.toml").write_text(f"[papers.columns]\n{columns}\n")
        ran = run("papers", "friday.rig", "input-list")
        assert (ran.status, ran.err) == (2, f"rigdsl: {said}\n")
        assert "kick" in ran.out

    def test_a_guest(self, club: Path, run: Run) -> None:
        ran = run("papers", "friday.rig", "guest-sheet", "--guest", "oh")
        assert "Overhead" in ran.out
        assert "Kick in" not in ran.out
