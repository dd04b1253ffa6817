"""`rigdsl papers`: what the lists say, and that what a user wrote stays text in every form."""

from __future__ import annotations

import csv
import io
import re
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from rigdsl.papers import PAPERS, Cell, Facts, Paper, Printed, Table
from rigdsl.paths import Paths
from rigdsl.reports.paper_csv import paper_csv
from rigdsl.reports.paper_md import paper_md
from rigdsl.rig import read
from rigdsl.show import load
from tests.cli.club import LOOSE
from tests.conftest import Run

EXAMPLES = Path(__file__).parents[2] / "examples"
RIG = """\
rig "Barn" {{ rate 48 kHz; revision "2"; date 2027-03-05{demo} }}
model nw8 {{
  kind stage-box; inputs mic 1-8 {{ preamp; phantom 48 V 10 mA }}; outputs line 1-4; digital A {{ protocol aes50 }}
}}
model desk8 {{
  kind console; channels ch 1-16; mixes mix 1-4; inputs local 1-2 {{ preamp }}; digital stage {{ protocol aes50 }}
}}
model sub4 {{ kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }}
model rx2 {{ kind receiver; inputs air 1-2 {{ wireless }}; outputs line 1-2; pass air -> line }}
model amp1 {{ kind amplifier; inputs in; outputs out {{ level loudspeaker }}; pass in -> out }}
model top {{ kind loudspeaker; inputs in {{ level loudspeaker }} }}
zone wing "Stage left wing"
zone foh
box SL "Stage left" is nw8 in wing
box DR "Drum sub-box" is sub4 in wing
box RX "Receiver" is rx2 in wing
box AM "Amplifier" is amp1 in wing
box TOP "Top" is top in wing {{ note "on the crate" }}
box DESK "Desk" is desk8 in foh
link C01: SL.A -- DESK.stage via cat6 30 m
link L01: DR.tail 1-4 -- SL.mic 1-4 via xlr 10 m
link L02: RX.line 1-2 -- SL.mic 7-8 via xlr 2 m
link L03: SL.line 2 -- AM.in via xlr 2 m
link S01: AM.out -- TOP.in via ls4 10 m
{lines}
"""
LINES = """\
source oh "Overheads" condenser in wing to DR 1-2 via xlr 6 m { stand "two tall booms"; mic "pair" }
source kick dynamic in wing to DR 3 via xlr 3 m { note "in, on a pillow" }
source gtr "Guitar" ribbon in wing to SL 5 via xlr 6 m
source vox wireless in wing to RX 1 { freq 606.5125 MHz }
source talk talkback in foh to DESK.local 1 via xlr 3 m
output ears "Ears" in-ear in wing from SL.line 3-4
patch oh -> DESK.ch 2,10
patch kick -> DESK.ch 1
patch gtr -> DESK.ch 3
patch vox -> DESK.ch 4
patch DESK.mix 3-4 -> ears
patch DESK.mix 1 -> SL.line 2
"""


def rows(name: str, lines: str = LINES, demo: str = "") -> list[dict[str, Cell]]:
    """The rows of a list of the barn, by heading; what is empty is left out."""
    table = made(name, lines, demo)
    return [{head: field for head, field in zip(table.columns, row, strict=True) if field} for row in table.rows]


def made(name: str, lines: str, demo: str = "") -> Table:
    rig = read(RIG.format(lines=lines, demo=demo))
    assert [finding.message for finding in rig.findings] == []
    (table,) = PAPERS[name].tables(Facts(rig, Paths(rig)))
    return table


class TestInputList:
    def test_it_is_in_the_order_of_the_channels(self) -> None:
        """2 comes before 10; what has no channel comes last."""
        assert [(row["no"], row.get("channel"), row["source"]) for row in rows("input-list")] == [
            (1, "DESK.ch 1", "kick"),
            (2, "DESK.ch 2", "oh"),
            (3, "DESK.ch 3", "gtr"),
            (4, "DESK.ch 4", "vox"),
            (5, "DESK.ch 10", "oh"),
            (6, None, "talk"),
        ]

    def test_what_is_not_plugged_in_yet_stands_where_it_is_patched_to(self) -> None:
        """The order of the band's list is known before the first cable is."""
        lines = "source vox dynamic\nsource keys line\nsource bass di\n"
        lines += "patch bass -> DESK.ch 1\npatch keys -> DESK.ch 2-3\npatch vox -> DESK.ch 4\n"
        assert [(row.get("channel"), row["source"]) for row in rows("input-list", lines)] == [
            ("DESK.ch 1", "bass"),
            ("DESK.ch 2", "keys"),
            ("DESK.ch 3", "keys"),
            ("DESK.ch 4", "vox"),
        ]

    def test_a_stereo_source_has_a_row_for_each_side(self) -> None:
        left, right = (row for row in rows("input-list") if row["source"] == "oh")
        assert left == {
            "no": 2,
            "channel": "DESK.ch 2",
            "source": "oh",
            "label": "Overheads, left",
            "type": "condenser",
            "zone": "Stage left wing",
            "plugged into": "DR.panel 1",
            "preamp": "SL.mic 1",
            "stand": "two tall booms",
            "mic": "pair",
            "phantom": "needed, by SL",
            "gain by": "SL",
            "cable": "xlr 6 m",
        }
        assert (right["label"], right["plugged into"], right["preamp"]) == (
            "Overheads, right",
            "DR.panel 2",
            "SL.mic 2",
        )

    def test_a_source_without_a_label_has_none(self) -> None:
        kick = rows("input-list")[0]
        assert "label" not in kick
        assert (kick["note"], kick["preamp"]) == ("in, on a pillow", "SL.mic 3")

    def test_radio(self) -> None:
        vox = rows("input-list")[3]
        assert (vox["plugged into"], vox["preamp"], vox["radio"]) == ("RX.air 1", "SL.mic 7", "606.5125 MHz")
        assert "cable" not in vox

    def test_phantom_is_kept_off_a_ribbon_that_needs_none(self) -> None:
        """The usual caution of the makers of ribbon microphones: common practice, no source."""
        table = made("input-list", LINES)
        at = table.columns.index("phantom")
        assert [row[at] for row in table.rows if row[2] == "gtr"] == ["keep off"]
        assert [note for note in table.notes if "phantom can damage a ribbon" in note]
        for other in (
            LINES.replace("ribbon", "dynamic"),
            LINES.replace("to SL 5 via xlr 6 m", "to SL 5 via xlr 6 m { phantom }"),
        ):
            table = made("input-list", other)
            assert "keep off" not in {row[at] for row in table.rows}
            assert [note.partition(":")[0] for note in table.notes] == ["phantom"]

    def test_the_usual_cautions_stand_at_the_foot(self) -> None:
        """Common practice, no source: mute before phantom, amplifiers off before their cables are touched, hearing."""
        live, loud = made("output-list", LINES).notes[:2]
        assert live.startswith("amplifiers off before anybody touches")
        assert "hearing" in loud

    def test_what_is_plugged_into_nothing_yet_is_there_all_the_same(self) -> None:
        table = made("input-list", LINES + "source snare dynamic in wing\n")
        assert [row[1:4] for row in table.rows[-2:]] == [("", "snare", ""), ("", "talk", "")]
        assert any("rigdsl check says what is missing" in note for note in table.notes)

    def test_demo_data_says_so(self) -> None:
        assert made("input-list", "", "; demo").notes == ("demo data",)
        assert made("input-list", "").rows == ()


class TestOutputList:
    def test_every_output_and_loudspeaker_with_what_is_between(self) -> None:
        assert rows("output-list") == [
            {
                "no": 1,
                "fed from": "DESK.mix 1",
                "output": "TOP",
                "label": "Top",
                "type": "loudspeaker",
                "zone": "Stage left wing",
                "by way of": "SL.line 2",
                "amplifier": "AM.out",
                "plugged into": "TOP.in",
                "cable": "ls4 10 m",
                "note": "on the crate",
            },
            *(
                {
                    "no": no,
                    "fed from": f"DESK.mix {no + 1}",
                    "output": "ears",
                    "label": f"Ears, {side}",
                    "type": "in-ear",
                    "zone": "Stage left wing",
                    "plugged into": f"SL.line {no + 1}",
                }
                for no, side in ((2, "left"), (3, "right"))
            ),
        ]

    def test_a_loudspeaker_that_nothing_feeds_is_told(self) -> None:
        table = made("output-list", LINES.replace("patch DESK.mix 1 -> SL.line 2\n", ""))
        assert any("rigdsl check says what is missing" in note for note in table.notes)

    @pytest.mark.parametrize("show", ["club/shows/friday", "hall/shows/winter-concert", "analogue/shows/dance"])
    def test_no_wedge_and_no_loudspeaker_of_an_example_is_missing(self, show: str) -> None:
        made = load(EXAMPLES / f"{show}.rig")
        (table,) = made.paper("output-list").tables
        names = set(table.column("output"))
        speakers = {box.name for box in made.rig.boxes.values() if box.kind == "loudspeaker"}
        assert names == {*made.rig.outputs, *speakers}
        assert all(table.column("fed from")), "what each is fed from"


HOSTILE = [
    "a | b",
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    " =1",
    "\t=1",
    "＝1",
    'say "hello", twice',
    "<b>bold</b>",
    "*loud* _soft_ `code` [x](y) #1 ~~z~~",
    "back\\slash",
    "&amp;",
    "two\nlines",
]


class TestForms:
    @pytest.mark.parametrize("text", HOSTILE)
    def test_csv_reads_back_and_no_field_is_a_formula(self, text: str) -> None:
        """RFC 4180; a field that a spreadsheet would take for a formula begins with an apostrophe (OWASP)."""
        data = paper_csv(Table(("one", "two"), ((text, "x"), ("y", text))))
        head, first, second = csv.reader(io.StringIO(data.decode("utf-8"), newline=""), strict=True)
        assert head == ["one", "two"]
        assert first[1:] == ["x"]
        assert second == ["y", first[0]]
        assert first[0].removeprefix("'") == text
        assert not first[0].strip().startswith(("=", "+", "-", "@", "＝"))

    @pytest.mark.parametrize("text", HOSTILE)
    def test_markdown_has_one_row_of_as_many_fields(self, text: str) -> None:
        """What Markdown takes for itself is escaped (CommonMark 0.31, backslash escapes)."""
        rig = read('rig "R" { rate 48 kHz }')
        page = paper_md(Printed("l", "List", (Table(("one", "two"), ((text, "x"),), (text,)),)), rig)
        (row,) = [line for line in page.splitlines() if re.search(r"\| x +\|$", line)]
        assert len(re.findall(r"(?<!\\)\|", row)) == 3
        assert not re.search(r"(?<!\\)[<*_`\[]", row.replace("\\\\", ""))
        first = re.sub(r"\\(.)", r"\1", row).removeprefix("|").rpartition("| x")[0]
        assert first.strip() == " ".join(text.split())

    def test_markdown_begins_with_the_facts_of_the_rig(self) -> None:
        rig = read(RIG.format(lines="", demo=""))
        page = paper_md(Printed("l", "List", (Table(("a",), (("b",),), ("a note",)),)), rig)
        assert page == "# List: Barn\n\nrevision 2, 2027-03-05\n\n| a |\n|---|\n| b |\n\n- a note\n"

    def test_a_row_that_is_no_row_is_refused(self) -> None:
        with pytest.raises(ValueError, match="row 2 has 1 fields, and the table 2 columns"):
            Table(("a", "b"), (("c", "d"), ("e",)))
        with pytest.raises(ValueError, match="row 1 has a field that is neither text nor a number"):
            Table(("a",), ((None,),))  # type: ignore[arg-type]
        assert Paper("a", "A", lambda facts: Table((), ())).name == "a"


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
