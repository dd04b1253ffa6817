"""`rigdsl compare --draw`: one file with both states of a rig."""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree

from tests.cli.club import CLEAN
from tests.conftest import Run

MOVED = CLEAN.replace("to SL 1 via", "to SL 3 via")
STARTS = {"svg": b"<?xml", "png": b"\x89PNG", "pdf": b"%PDF", "gv": b"// ", "mmd": b"flowchart LR"}


@pytest.fixture
def moved(club: Path) -> Path:
    """The rig, and the rig with kick on another socket."""
    (club / "moved.rig").write_text(MOVED)
    return club


@pytest.mark.parametrize("form", sorted(STARTS))
@pytest.mark.parametrize("view", ["flow", "cabling"])
def test_the_ending_says_the_form(moved: Path, run: Run, view: str, form: str) -> None:
    ran = run("compare", "friday.rig", "moved.rig", "--draw", view, "--out", f"both.{form}")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == f"{view}: both.{form}\n"
    assert (moved / f"both.{form}").read_bytes().startswith(STARTS[form])


def test_what_went_and_what_came(moved: Path, run: Run) -> None:
    run("compare", "friday.rig", "moved.rig", "--draw", "flow", "--out", "both.svg", "--theme", "screen")
    root = etree.fromstring((moved / "both.svg").read_bytes())
    classes = {part.get("id"): part.get("class") for part in root.iter()}
    assert classes["plug--kick--1"].split()[-1] == "added"
    assert classes["plug--kick--1--was"].split()[-1] == "removed"


def test_text_and_drawing_ask_alike_what_is_newly_found(moved: Path, run: Run) -> None:
    (moved / "bad.rig").write_text(CLEAN + "source hat dynamic in wing\n")
    words = ("compare", "friday.rig", "bad.rig", "--draw", "flow", "--out", "both.svg")
    assert run(*words).status == 0
    assert run(*words, "--fail-on", "error").status == 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--draw", "flow"], "`--draw flow` takes a file: `--out FILE`, in .svg, .png, .pdf, .gv, .mmd, .txt"),
        (["--draw", "flow", "--out", "both.doc"], "`--draw flow` takes a file: `--out FILE`, in .svg, .png, "),
        (["--draw", "flow", "--out", "both.svg", "--as", "md"], "`--draw` makes a drawing and `--as md` a text: ask "),
        (["--draw", "plan", "--out", "both.svg"], "`--draw` takes `flow`, `cabling`"),
        (["--only-changed"], "`--only-changed` is about the drawing: `--draw flow --out FILE` makes it"),
        (["--paper", "a3"], "`--paper` is about the drawing"),
    ],
)
def test_what_cannot_be_drawn_is_said_in_one_line(moved: Path, run: Run, words: list[str], said: str) -> None:
    ran = run("compare", "friday.rig", "moved.rig", *words)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"rigdsl: {said}")
    assert len(ran.err.splitlines()) == 1
    assert not list(moved.glob("both.*"))


def test_one_rig_at_a_time(club: Path, run: Run) -> None:
    for folder, text in (("a", CLEAN), ("b", MOVED)):
        (club / folder).mkdir()
        for name in ("friday.rig", "sunday.rig"):
            (club / folder / name).write_text(text.replace('"gear.rig"', '"../gear.rig"'))
    ran = run("compare", "a", "b", "--draw", "flow", "--out", "both.svg")
    assert ran.status == 2
    assert "draws one rig, and here are 2: name two files, or one rig behind the commits" in ran.err


def test_only_what_changed_is_less(moved: Path, run: Run) -> None:
    for name, more in (("whole", []), ("part", ["--only-changed"])):
        run("compare", "friday.rig", "moved.rig", "--draw", "cabling", "--out", f"{name}.svg", *more)
    assert (moved / "part.svg").stat().st_size < (moved / "whole.svg").stat().st_size
