"""`rigdsl draw`: which drawings, where to, and how it ends. What is on them is tested with the drawings."""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree
from pypdf import PdfReader

from rigdsl import draw
from rigdsl.show import FORMATS, VIEWS
from tests.conftest import Run

RIG = """\
rig "Lantern Hall" { rate 48 kHz }
model nw4 { kind stage-box; inputs mic 1-4 { preamp }; digital A { protocol aes50 } }
model desk8 { kind console; channels ch 1-8; digital stage { protocol aes50 } }
zone wing "Stage left wing"
box SL "Stage left rack" is nw4 in wing
box DESK "Desk" is desk8 in wing
link C01: SL.A -- DESK.stage via cat6 30 m
source kick "Kick in" dynamic in wing to SL 1 via xlr 6 m
patch SL.mic 1 -> DESK.ch 1
keep SL.mic 2-4 for "support act"
"""


HAT = "source hat dynamic in wing\n"  # not plugged in
ONE_DRAWING = (
    "rigdsl: one file holds one drawing, here `flow`: `--view cabling` or `--view plan` draws another, "
    "`--out FOLDER` draws all\n"
)


@pytest.fixture
def club(folder: Path) -> Path:
    (folder / "friday.rig").write_text(RIG)
    return folder


def drawn(folder: Path) -> list[str]:
    return sorted(
        path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.suffix[1:] in (*FORMATS, "html")
    )


@pytest.mark.parametrize(
    ("arguments", "files"),
    [
        (["--out", "drawings"], sorted(["drawings/index.html", *(f"drawings/friday-{view}.svg" for view in VIEWS)])),
        (["--out", "a/b/", "--view", "flow"], ["a/b/friday-flow.svg", "a/b/index.html"]),
        (["--out", "x.svg"], ["x.svg"]),
        (["--out", "new/x.png", "--view", "cabling"], ["new/x.png"]),
        (["--out", "x.gv", "--view", "flow"], ["x.gv"]),
        (["--view", "all"], [f"friday-{view}.svg" for view in sorted(VIEWS)]),
        ([], [f"friday-{view}.svg" for view in sorted(VIEWS)]),
    ],
)
def test_which_files(club: Path, run: Run, arguments: list[str], files: list[str]) -> None:
    ran = run("draw", "friday.rig", *arguments)
    assert ran.status == 0
    assert ran.err == (ONE_DRAWING if files == ["x.svg"] else "")
    assert drawn(club) == files
    assert sorted(line.split(": ")[1] for line in ran.out.splitlines()) == [str(Path(file)) for file in files]


def test_what_is_in_them(club: Path, run: Run) -> None:
    for name in FORMATS:
        assert run("draw", "friday.rig", "--out", f"x.{name}").status == 0
    assert etree.parse(club / "x.svg").getroot().tag.endswith("svg")
    assert (club / "x.png").read_bytes().startswith(b"\x89PNG\r\n")
    assert (club / "x.gv").read_text("utf-8").startswith(("digraph", "graph", "/", "#"))


def test_to_standard_output_and_from_standard_input(folder: Path, run: Run) -> None:
    ran = run("draw", "-", "--view", "flow", "--out", "-", stdin=RIG)
    assert (ran.status, ran.err) == (0, "")
    assert etree.fromstring(ran.out.encode("utf-8")).tag.endswith("svg")
    assert run("draw", "-", stdin=RIG).status == 0
    assert drawn(folder) == [f"rig-{view}.svg" for view in sorted(VIEWS)]


def test_what_is_there_is_written_over_only_where_asked_for(club: Path, run: Run) -> None:
    (club / "friday-cabling.svg").write_text("mine")
    ran = run("draw", "friday.rig")
    assert ran.status == 2
    assert ran.err == (
        "rigdsl: `friday-cabling.svg` is there already: `--out .` writes over it, another folder leaves it alone\n"
    )
    assert (club / "friday-cabling.svg").read_text() == "mine"
    assert drawn(club) == ["friday-cabling.svg"]
    assert run("draw", "friday.rig", "--out", ".").status == 0
    assert (club / "friday-cabling.svg").read_text() != "mine"


def test_a_rig_with_errors_is_drawn_and_that_is_said(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(RIG + "source hat dynamic in wing\n")
    ran = run("draw", "friday.rig", "--out", "x.svg")
    assert ran.status == 0
    told = "rigdsl: 1 error is marked on the drawing; `rigdsl check friday.rig` says how to mend it\n"
    assert ran.err == ONE_DRAWING + told


@pytest.mark.parametrize(
    ("lines", "arguments", "said"),
    [
        (f"{HAT}{HAT.replace('hat', 'tom')}", ["--out", "d"], "2 errors are marked on the drawings"),
        ("suorce tom", ["--view", "flow", "--out", "x.svg"], "1 error, not on the drawing"),
        (f"{HAT}suorce tom", ["--view", "flow", "--out", "x.svg"], "2 errors, 1 of them not on the drawing"),
        (
            f"{HAT}suorce tom",
            ["--out", "d"],
            "2 errors, 1 of them not on `flow` and 1 of them not on `cabling` and 1 of them not on `plan`",
        ),
    ],
)
def test_errors_that_have_no_place_on_a_sheet_are_counted(
    club: Path, run: Run, lines: str, arguments: list[str], said: str
) -> None:
    (club / "friday.rig").write_text(f"{RIG}{lines}\n")
    ran = run("draw", "friday.rig", *arguments)
    them = "it" if said.startswith("1 error") else "them"
    assert ran.err == f"rigdsl: {said}; `rigdsl check friday.rig` says how to mend {them}\n"


@pytest.mark.parametrize("out", ["x.svg", "x.png", "x.gv", "-"])
def test_a_view_that_is_left_out_is_told(club: Path, run: Run, out: str) -> None:
    assert run("draw", "friday.rig", "--out", out).err == ONE_DRAWING
    assert run("draw", "friday.rig", "--out", out, "--view", "flow").err == ""


def test_a_view_with_nothing_of_a_zone_is_told_and_the_folder_has_the_others(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(f'{RIG}zone attic "Attic" at (9, 9) m\n')
    told = run("draw", "friday.rig", "--out", "d", "--zone", "attic").err
    assert told == "".join(
        f"rigdsl: nothing of that is on the drawing `{view}`: zone attic only\n" for view in ("flow", "cabling")
    )


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--out", "x.jpg"], "`x.jpg` is neither a folder nor a file in .svg, .png, .pdf, .gv, .mmd, .txt"),
        (
            ["--view", "all", "--out", "x.svg"],
            "`all` makes 3 drawings, and `x.svg` is one file: name a folder, or a PDF",
        ),
        (["--view", "side"], "`--view` takes `flow`, `cabling`, `plan`, `all`"),
        (["--out", "friday.rig/x.svg"], "not a directory: friday.rig/x.svg"),
    ],
)
def test_trouble(club: Path, run: Run, arguments: list[str], said: str) -> None:
    ran = run("draw", "friday.rig", *arguments)
    assert (ran.status, ran.out, ran.err) == (2, "", f"rigdsl: {said}\n")


def test_no_engine_is_said_in_one_line(club: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(club))
    ran = run("draw", "friday.rig", "--engine", "system", "--out", "x.svg")
    assert ran.status == 2
    assert ran.err.startswith("rigdsl: no `dot` is installed here")
    assert ran.err.count("\n") == 1
    assert drawn(club) == []


def test_the_same_bytes_again(club: Path, run: Run) -> None:
    first = run("draw", "friday.rig", "--out", "-").out
    assert run("draw", "friday.rig", "--out", "-").out == first


def test_the_views_are_those_that_can_be_drawn() -> None:
    assert set(VIEWS) == set(draw.VIEWS)


def many(folder: Path) -> None:
    """More boxes than one A4 page has room for."""
    boxes = "".join(f"box S{n} is nw4 in wing\nsource s{n} dynamic in wing to S{n} 1 via xlr 6 m\n" for n in range(9))
    (folder / "friday.rig").write_text(RIG + boxes)


def test_sheets_of_one_drawing_go_to_a_file_each(club: Path, run: Run) -> None:
    many(club)
    ran = run("draw", "friday.rig", "--paper", "a4", "--view", "flow", "--out", "x.svg")
    files = drawn(club)
    assert ran.out.splitlines() == [f"flow: {name}" for name in files]
    assert files == [f"x-{n}.svg" for n in range(1, len(files) + 1)]
    assert len(files) > 1
    roots = [etree.parse(club / name).getroot() for name in files]
    assert {(root.get("width"), root.get("height")) for root in roots} <= {("297mm", "210mm"), ("210mm", "297mm")}


def test_sheets_left_from_an_earlier_drawing_are_told(club: Path, run: Run) -> None:
    for name in ("x.svg", "x-2.svg", "x-07.svg", "x-a.svg", "y-3.svg"):
        (club / name).write_text("old")
    ran = run("draw", "friday.rig", "--view", "flow", "--out", "x.svg")
    assert ran.err == "rigdsl: in `.` `x-2.svg` is no sheet of this drawing, but left from an earlier one\n"
    many(club)
    ran = run("draw", "friday.rig", "--paper", "a4", "--view", "flow", "--out", "x.svg")
    assert "`x.svg` is no sheet of this drawing, but left from an earlier one\n" in ran.err


def test_no_sheet_is_written_over_unasked(club: Path, run: Run) -> None:
    (club / "friday-flow-1.svg").write_text("mine")
    ran = run("draw", "friday.rig")
    assert (ran.status, ran.out) == (2, "")
    assert "`friday-flow-1.svg` is there already" in ran.err
    assert (club / "friday-flow-1.svg").read_text() == "mine"


def test_standard_output_takes_one_sheet(club: Path, run: Run) -> None:
    many(club)
    ran = run("draw", "friday.rig", "--paper", "a4", "--out", "-")
    assert (ran.status, ran.out) == (2, "")
    assert "sheets, and `-` takes one: name a file or a folder" in ran.err


def test_a_part_that_is_not_on_every_drawing(club: Path, run: Run) -> None:
    """The others are drawn; where it is on none, that is the end of it."""
    ran = run("draw", "friday.rig", "--only", "SL.mic 2", "--out", "d")
    assert (ran.status, drawn(club)) == (2, [])
    assert ran.err.count("nothing of that is on the drawing") == len(VIEWS)
    ran = run("draw", "friday.rig", "--desk", "DESK", "--out", "d")
    assert ran.status == 0
    assert "d/index.html" in drawn(club)


def test_names_that_there_are_not(club: Path, run: Run) -> None:
    ran = run("draw", "friday.rig", "--zone", "wng", "--out", "d")
    assert (ran.status, ran.err) == (
        2,
        "rigdsl: there is no zone called `wng`; there is a zone with a similar name: `wing`\n",
    )


def test_all_views_in_one_pdf(club: Path, run: Run) -> None:
    """Page after page, each view in its own sheets."""
    ran = run("draw", "friday.rig", "--view", "all", "--out", "all.pdf")
    assert (ran.status, ran.out, ran.err) == (0, "flow, cabling, plan: all.pdf\n", "")
    text = [page.extract_text() for page in PdfReader(club / "all.pdf").pages]
    assert [next(view for view in ("signal flow", "cabling", "plan") if view in page) for page in text] == [
        "signal flow",
        "cabling",
        "plan",
    ]


@pytest.mark.parametrize("cables", ["--out", "-1", "two"])
def test_how_far_around(club: Path, run: Run, cables: str) -> None:
    ran = run("draw", "friday.rig", "--around", "SL", cables)
    said = f"`--around` takes a box and a number of cables: `--around SL 2`; `{cables}` is no number"
    assert (ran.status, ran.err) == (2, f"rigdsl: {said}\n")


def test_a_page_of_somebody_else_is_left_alone(club: Path, run: Run) -> None:
    (club / "site").mkdir()
    (club / "site" / "index.html").write_text("<p>my band</p>")
    ran = run("draw", "friday.rig", "--out", "site")
    assert ran.status == 0
    assert (
        ran.err
        == "rigdsl: `site/index.html` is not a page of rigdsl and is left alone: another folder gets the page too\n"
    )
    assert (club / "site" / "index.html").read_text() == "<p>my band</p>"
    assert run("draw", "friday.rig", "--out", "mine").err == run("draw", "friday.rig", "--out", "mine").err == ""
