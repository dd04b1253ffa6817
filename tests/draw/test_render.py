"""Engines: which one, what it may take, what is said when it cannot."""

from __future__ import annotations

import contextlib
import os
import shutil
import stat
from pathlib import Path

import pytest
from graphviz.backend import dot_command

from rigdsl.draw import DrawError, Wanted, dot, draw, render
from rigdsl.paths import Paths
from tests.draw.made import example, sheet, small, svg

ONE = "digraph { a -> b }"
CABLING = "box S is nw16\nbox D is desk32\nlink C1: S.A -- D.stage 1 via c6 9 m"


def test_both_formats() -> None:
    """An SVG, and a picture of dots that is twice as fine as a screen."""
    assert b"<svg" in render(ONE)


def test_the_engine_that_comes_along_needs_no_path(monkeypatch: pytest.MonkeyPatch) -> None:
    """It stands beside the interpreter, wherever that is."""
    monkeypatch.setenv("PATH", "")
    assert b"<svg" in render(ONE)


@pytest.mark.skipif(shutil.which("dot") is None, reason="no `dot` is installed here")
def test_an_installed_engine() -> None:
    """It draws the same view."""
    drawn = svg(example("club/friday"), "flow", engine="system")
    assert b'id="box--SL--in"' in drawn


def test_no_installed_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    """Says what to do."""
    monkeypatch.setenv("PATH", "")
    with pytest.raises(DrawError, match="install Graphviz, or draw with the engine that comes along"):
        render(ONE, "system")


def test_the_engine_that_comes_along_is_gone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Says what to do."""
    monkeypatch.setattr(shutil, "which", lambda name, path=None: None)
    with pytest.raises(DrawError, match="pip install graphviz-pure"):
        render(ONE)


def test_what_the_engine_cannot_read() -> None:
    """Its last line, and no trace of a program."""
    with pytest.raises(DrawError, match=r"^the engine `graphviz-pure` failed: .*syntax error"):
        render("digraph {")


def test_no_other_format() -> None:
    """A format that nobody asked for is refused before anything is drawn."""
    rig = small("")
    with pytest.raises(DrawError, match="there is no drawing as `bmp`; there are: svg, png, pdf, gv"):
        draw(rig, Paths(rig), (), Wanted(), "bmp")


def engine_that(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, slow: str) -> None:
    """An installed `dot` that sleeps where its lines are of these kinds, and else says how they were led."""
    program = tmp_path / "dot"
    program.write_text(f'#!/bin/sh\ncase "$*" in {slow}) exec sleep 30;; esac\ncat > /dev/null; echo "$*"\n')
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}/usr/bin{os.pathsep}/bin")


@pytest.mark.skipif(os.name == "nt", reason="the engine in this test is a shell script")
@pytest.mark.parametrize(
    ("slow", "led", "notes"),
    [
        ("none", "spline", 0),
        ("*=spline*", "polyline", 1),
        ("*=spline*|*polyline*", "line", 2),
    ],
)
def test_too_slow_is_tried_with_simpler_lines(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, slow: str, led: str, notes: int
) -> None:
    """Down the ladder, and each step is said."""
    engine_that(tmp_path, monkeypatch, slow)
    said: list[str] = []
    drawn = render(ONE, "system", limit_s=0.4, say=said.append)
    assert f"-Gsplines={led}\n" in drawn.decode()
    assert len(said) == notes
    assert all("tried with simpler ones" in note for note in said)


@pytest.mark.skipif(os.name == "nt", reason="the engine in this test is a shell script")
def test_too_slow_even_with_straight_lines(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ends, and says so."""
    engine_that(tmp_path, monkeypatch, "*")
    with pytest.raises(DrawError, match="even with straight lines"):
        render(ONE, "system", limit_s=0.2)


@pytest.mark.skipif(os.name == "nt", reason="the engine in this test is a shell script")
def test_a_sheet_whose_lines_are_placed_is_tried_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Simpler lines would be the same ones."""
    engine_that(tmp_path, monkeypatch, "*")
    said: list[str] = []
    with pytest.raises(DrawError, match=r"took more than 0.2 s; draw fewer boxes"):
        render(dot(sheet(small(CABLING), "cabling")), "system", limit_s=0.2, say=said.append)
    assert said == []


@pytest.mark.skipif(os.name == "nt", reason="the engine in this test is a shell script")
def test_a_sheet_whose_lines_are_placed_is_told_nothing_of_lines(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The engine takes the places as they are."""
    engine_that(tmp_path, monkeypatch, "none")
    assert render(dot(sheet(small(CABLING), "cabling")), "system").decode() == "-Kneato -Tsvg -n2\n"


@pytest.mark.skipif(os.name == "nt", reason="the engine in this test is a shell script")
@pytest.mark.parametrize("slow", ["none", "*"])
def test_other_drawings_of_the_process_keep_their_engine(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, slow: str
) -> None:
    """Whether this one is drawn or not."""
    before = dot_command.DOT_BINARY
    engine_that(tmp_path, monkeypatch, slow)
    with contextlib.suppress(DrawError):
        render(ONE, "system", limit_s=0.2)
    assert before == dot_command.DOT_BINARY
