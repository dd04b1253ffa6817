"""Which revision a drawing is of. git itself is the judge of what the commit is."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.cli.test_draw import RIG
from tests.conftest import Run

GIT = shutil.which("git")
needs_git = pytest.mark.skipif(GIT is None, reason="no git is installed here")


def git(folder: Path, *words: str) -> str:
    names = ["-c", "user.name=Tess", "-c", "user.email=tess@example.org", "-c", "commit.gpgsign=false"]
    done = subprocess.run(["git", "-C", str(folder), *names, *words], capture_output=True, text=True, check=True)
    return done.stdout.strip()


@pytest.fixture
def kept(folder: Path) -> Path:
    """A rig and its gear in a repository, and another file with a later commit."""
    git(folder, "init", "--quiet")
    (folder / "friday.rig").write_text('use "gear.rig"\n' + RIG)
    (folder / "gear.rig").write_text("# nothing yet\n")
    git(folder, "add", ".")
    git(folder, "commit", "--quiet", "-m", "the rig")
    (folder / "notes.txt").write_text("later")
    git(folder, "add", ".")
    git(folder, "commit", "--quiet", "-m", "notes")
    return folder


def revision(run: Run, *options: str) -> str:
    """What the title block says; nothing where it says nothing."""
    ran = run("draw", "friday.rig", "--view", "flow", "--out", "-", *options)
    assert ran.status == 0, ran.err
    return ran.out.partition(">revision ")[2].partition("<")[0]


@needs_git
def test_the_commit_of_the_rigs_own_files(kept: Path, run: Run) -> None:
    commit = git(kept, "log", "-1", "--format=%h", "--", "friday.rig", "gear.rig")
    assert commit != git(kept, "log", "-1", "--format=%h")
    assert revision(run) == commit
    (kept / "notes.txt").write_text("not of the rig")
    assert revision(run) == commit


@needs_git
def test_changes_since_are_said(kept: Path, run: Run) -> None:
    commit = git(kept, "log", "-1", "--format=%h", "--", "friday.rig", "gear.rig")
    (kept / "gear.rig").write_text("# a change that is not kept yet\n")
    assert revision(run) == f"{commit} and changes since"


@needs_git
def test_what_is_given_goes_before_what_the_rig_says_and_that_before_the_commit(kept: Path, run: Run) -> None:
    text = (kept / "friday.rig").read_text()
    (kept / "friday.rig").write_text(text.replace("{ rate 48 kHz }", '{ rate 48 kHz; revision "4" }'))
    assert revision(run) == "4"
    assert revision(run, "--revision", "5 & 6") == "5 &amp; 6"


@needs_git
def test_files_that_no_commit_has(folder: Path, run: Run) -> None:
    git(folder, "init", "--quiet")
    (folder / "friday.rig").write_text(RIG)
    assert revision(run) == ""


def test_without_git_nothing_is_said(folder: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    (folder / "friday.rig").write_text(RIG)
    assert revision(run) == ""
    monkeypatch.setenv("PATH", "")
    assert revision(run) == ""
