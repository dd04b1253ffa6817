"""One command sets a clone up, says what it did, and takes it away again."""

from __future__ import annotations

import shlex
import shutil
import sys
from pathlib import Path

import pytest

from rigdsl.branches import HEADING
from rigdsl.cli.git_attributes import added, missing, without
from rigdsl.cli.git_drivers import program, settings
from rigdsl.start import new_files
from rigdsl.syntax.forms import FORMS
from tests.cli.repository import Repository, repository
from tests.conftest import Run

LINE = "*.rig text eol=lf diff=rigdsl merge=rigdsl"


@pytest.fixture
def repo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Repository:
    return repository(tmp_path, monkeypatch)


def test_it_says_line_by_line_what_it_did(repo: Repository, run: Run) -> None:
    done = run("git", "setup")
    assert (done.status, done.err) == (0, "")
    lines = done.out.splitlines()
    assert lines[0] == f"added to .gitattributes: `{LINE}`"
    assert [line.split(",")[0] for line in lines[1:6]] == [
        "set: diff.rigdsl.xfuncname",
        "set: diff.rigdsl.wordRegex",
        "set: merge.rigdsl.name",
        "set: merge.rigdsl.driver",
        "set: the hook `post-merge`",
    ]
    assert lines[6].startswith("next: commit .gitattributes")
    assert repo.read(".gitattributes").splitlines()[-1] == LINE


def test_twice_is_the_same_as_once(repo: Repository, run: Run) -> None:
    run("git", "setup", "--meaning")
    files = ".gitattributes", ".git/config", ".git/hooks/post-merge"
    before = [repo.read(file) for file in files]
    assert [line.partition(",")[0] for line in run("git", "setup").out.splitlines()] == [
        "all is set up already",
        "next: commit .gitattributes",
    ]
    assert [repo.read(file) for file in files] == before


def test_what_is_next_is_said_until_the_list_is_committed(repo: Repository, run: Run) -> None:
    run("git", "setup")
    repo.git("add", "--all")
    assert "\nnext: commit .gitattributes, it holds for everybody" in run("git", "setup").out
    repo.git("commit", "--quiet", "-m", "set up")
    assert run("git", "setup").out == "all is set up already\n"
    assert len(run("git", "setup", "--meaning").out.splitlines()) == 1


def test_check_writes_nothing_and_tells_what_is_missing(repo: Repository, run: Run) -> None:
    done = run("git", "setup", "--check")
    assert done.status == 1
    assert done.out.splitlines()[0] == f"missing in .gitattributes: `{LINE}`"
    assert "not set: merge.rigdsl.driver, so two branches that add a source at one place clash" in done.out
    assert done.out.splitlines()[-1] == "to mend it: rigdsl git setup"
    assert not (repo.top / ".gitattributes").exists()
    run("git", "setup")
    assert run("git", "setup", "--check").out == "all is set up\n"
    repo.git("config", "merge.rigdsl.driver", "/gone/rigdsl git merge")
    done = run("git", "setup", "--check")
    assert (done.status, done.out.splitlines()[0].split(",")[0]) == (1, "set otherwise: merge.rigdsl.driver")


@pytest.mark.parametrize("before", ["", "# ours\n*.pdf binary\n", "*.rig text eol=lf\n", "*.pdf binary\r\n"])
def test_undo_leaves_what_was_there_before(repo: Repository, run: Run, before: str) -> None:
    if before:
        repo.commit(before, ".gitattributes")
    config = repo.read(".git/config")
    run("git", "setup", "--meaning")
    assert run("git", "setup", "--undo").status == 0
    assert repo.read(".git/config") == config
    assert not repo.git("status", "--porcelain")
    assert run("git", "setup", "--undo").out == "nothing to take away\n"


def test_undo_leaves_a_line_that_somebody_else_has_written_and_says_so(repo: Repository, run: Run) -> None:
    repo.commit(f"{LINE}\n", ".gitattributes")
    run("git", "setup")
    assert f"left in .gitattributes, since this command has not written it, and harmless: `{LINE}`" in (
        run("git", "setup", "--undo").out
    )
    assert repo.read(".gitattributes") == f"{LINE}\n"


@pytest.mark.parametrize(
    ("before", "line"),
    [
        (b"", LINE),
        (b"*.png binary", LINE),
        (b"*.rig text eol=lf\n", "*.rig diff=rigdsl merge=rigdsl"),
        (b"*.rig text\n*.rig eol=lf merge=rigdsl\n", "*.rig diff=rigdsl"),
        (b"\xff\n", LINE),
    ],
)
def test_the_line_has_what_is_lacking_and_all_else_stays(before: bytes, line: str) -> None:
    after = added(before)
    assert missing(before) == [line]
    assert after.startswith(before)
    assert after.endswith(f"\n{line}\n".encode())
    assert missing(after) == []
    assert without(after)[1] == [line]


def test_a_new_project_has_the_line_already() -> None:
    (text,) = (text for path, text in new_files(band=False).items() if path == ".gitattributes")
    assert missing(text.encode()) == []
    assert without(text.encode()) == (text.encode(), [])


def test_the_meaning_comes_and_goes_by_itself(repo: Repository, run: Run) -> None:
    run("git", "setup")
    assert "diff.rigdsl.textconv" not in repo.git("config", "--list")
    assert run("git", "setup", "--meaning").out.startswith("set: diff.rigdsl.textconv, so `git diff` shows what rigs")
    assert run("git", "setup", "--no-meaning").out.startswith("taken away: diff.rigdsl.textconv")
    assert "diff.rigdsl.textconv" not in repo.git("config", "--list")


def test_it_is_for_the_whole_repository_from_any_folder_of_it(
    repo: Repository, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    repo.commit("# a library\n", "gear/gear.rig")
    monkeypatch.chdir(repo.top / "gear")
    run("git", "setup")
    assert LINE in repo.read(".gitattributes")
    assert not (repo.top / "gear" / ".gitattributes").exists()


def test_what_cannot_be_done_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run) -> None:
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    monkeypatch.chdir(tmp_path)
    done = run("git", "setup")
    why = "there is no git repository here with files to work on: `git init` makes one"
    assert (done.status, done.err) == (2, f"rigdsl: {why}\n")
    assert run("git", "setup", "--check", "--undo").status == 2
    monkeypatch.setenv("PATH", str(tmp_path))
    assert run("git", "setup").err == "rigdsl: there is no git here: install it, and try again\n"


def test_git_calls_the_python_that_runs_unless_rigdsl_is_there_in_every_terminal(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("VIRTUAL_ENV", raising=False)
    monkeypatch.setattr(shutil, "which", lambda name: f"/opt/demo/{name}")
    monkeypatch.setattr(sys, "executable", "/opt/demo/python3")
    assert program() == "rigdsl"
    monkeypatch.setattr(shutil, "which", lambda name: f"/opt/another/{name}")
    assert program() == "/opt/demo/python3 -P -m rigdsl"
    monkeypatch.setattr(shutil, "which", lambda name: f"/opt/demo/{name}")
    monkeypatch.setenv("VIRTUAL_ENV", "/venv")
    monkeypatch.setattr(sys, "executable", "/the rigs/100%/bob's/python")
    assert shlex.split(program()) == ["/the rigs/100%/bob's/python", "-P", "-m", "rigdsl"]
    (driver,) = (one.value for one in settings(program(), meaning=True) if one.key == "merge.rigdsl.driver")
    assert "/100%%/" in driver
    (shown,) = (one.value for one in settings(program(), meaning=True) if one.key == "diff.rigdsl.textconv")
    assert "/100%/" in shown


def test_every_statement_can_head_a_stretch() -> None:
    assert all(word in HEADING for word in FORMS)


def test_the_parts_of_the_command_are_listed_and_a_misspelt_one_is_told(run: Run) -> None:
    assert "setup    Set a clone up, once." in run("git").out
    assert "rigdsl git setup [OPTIONS]" in run("git", "setup", "--help").out
    said = "there is no command `setap`; there is a command with a similar name: `setup`"
    assert run("git", "setap").err == f"rigdsl: {said}\n"


def test_a_link_in_the_place_of_the_list_is_not_followed(repo: Repository, run: Run) -> None:
    other = repo.top.parent / "other"
    other.write_text("mine\n")
    (repo.top / ".gitattributes").symlink_to(other)
    ran = run("git", "setup")
    assert (ran.status, ran.out) == (2, "")
    assert "`.gitattributes` is a link to" in ran.err
    assert other.read_text() == "mine\n"
