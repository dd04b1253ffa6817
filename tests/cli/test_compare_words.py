"""`rigdsl compare`: what a tired person types, links, repositories in repositories, and rigs that got another name."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.cli.club import CLEAN, GEAR
from tests.cli.repository import commit, git, start
from tests.conftest import Run

MOVED = CLEAN.replace("to SL 1 via", "to SL 3 via")


@pytest.fixture
def repository(club: Path) -> Path:
    """Two commits of a rig: kick on another socket; and a folder `nights` with another one."""
    (club / "rig.toml").write_text("")
    (club / "nights").mkdir()
    start(club)
    for text in (CLEAN, MOVED):
        (club / "nights" / "sunday.rig").write_text(text.replace('"gear.rig"', '"../gear.rig"'))
        commit(club, "a night", friday=text, gear=GEAR)
    return club


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["friday.rig"], "`friday.rig` is one state: name what it is held against, another one or a commit, as"
         " `rigdsl compare HEAD friday.rig`"),
        (["friday.rig", "HEAD"], "the commits come first, and the rig behind them: `rigdsl compare HEAD friday.rig`"),
        (["friday.rig", "HEAD~1", "HEAD"], "`rigdsl compare HEAD~1 HEAD friday.rig`"),
        (["friday.rig", "nowhere.rig"], "there is no file `nowhere.rig`"),
        (["mian", "friday.rig"], "called `mian`; there is a branch with a similar name: `main`"),
        (["HEAD~1..HEAD", "friday.rig"], "`HEAD~1..HEAD` is two states in one word: write `HEAD~1 HEAD`"),
        (["HEAD", "gear.rig"], "`gear.rig` has no `rig` head: it is a library"),
        (["HEAD", "nowhere.rig"], "there is no rig `nowhere.rig` in either state"),
        (["HEAD", "friday.rig", "gear.rig"], "a branch that is called like a file or folder is `heads/friday.rig`"),
        (["--merge", "HEAD", "friday.rig", "gear.rig"], "`--merge` takes a commit and then a rig"),
        (["--merge", "--as", "changeover"], "a merge has no changeover"),
    ],
)  # fmt: skip
def test_what_is_typed_wrong_is_told(repository: Path, run: Run, words: list[str], said: str) -> None:
    ran = run("compare", *words)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert len(ran.err.splitlines()) == 1


def test_before_the_first_commit(club: Path, run: Run) -> None:
    start(club)
    for words in (["HEAD", "friday.rig"], ["--merge"]):
        assert "nothing is committed here yet" in run("compare", *words).err


def test_a_folder_of_rigs(repository: Path, run: Run) -> None:
    out = run("compare", "HEAD~1", "HEAD", "nights").out
    assert out.startswith("1 source moved")
    assert out.count("source kick moved") == 1, "of the two rigs, only that of the folder"


def test_a_branch_that_is_called_like_a_folder(repository: Path, run: Run) -> None:
    git(repository, "branch", "nights", "HEAD~1")
    assert "1 source moved" in run("compare", "nights").out
    assert run("compare", "heads/nights", "HEAD", "friday.rig").out.startswith("1 source moved")


def test_a_rig_that_was_taken_away(repository: Path, run: Run) -> None:
    (repository / "friday.rig").unlink()
    assert run("compare", "HEAD", "friday.rig").out.startswith("the rig is no longer there")


def test_a_rig_that_got_another_name(repository: Path, run: Run) -> None:
    git(repository, "mv", "friday.rig", "saturday.rig")
    (repository / "saturday.rig").write_text(MOVED.replace("to SL 2 via", "to SL 4 via"))
    git(repository, "commit", "-q", "-a", "-m", "another day")
    out = run("compare", "HEAD~1", "HEAD").out
    assert "saturday.rig, was friday.rig\n1 source moved" in out
    assert "no longer there" not in out
    assert "a new rig" not in out


def test_a_file_that_is_no_text_is_not_gone(repository: Path, run: Run) -> None:
    (repository / "friday.rig").write_bytes(CLEAN.encode("utf-16"))
    out = run("compare", "HEAD", "friday.rig").out
    assert out.startswith("the rig as it is now cannot be read\n")
    assert "[unreadable-file]" in out


def test_a_link_is_followed_in_every_state(repository: Path, run: Run) -> None:
    (repository / "stock.rig").write_text(GEAR)
    (repository / "gear.rig").unlink()
    os.symlink("stock.rig", repository / "gear.rig")
    os.symlink("friday.rig", repository / "tonight.rig")
    commit(repository, "gear by a link")
    assert run("compare", "HEAD", "friday.rig").out == "nothing changes on stage\n"
    commit(repository, "kick elsewhere", friday=CLEAN)
    for rig in ("friday.rig", "tonight.rig"):
        assert run("compare", "HEAD~1", "HEAD", rig).out.startswith("1 source moved"), rig


def test_a_link_out_of_the_repository_is_not_followed(repository: Path, run: Run) -> None:
    os.symlink("/etc/hostname", repository / "out.rig")
    commit(repository, "a link out")
    ran = run("compare", "HEAD~1", "HEAD", "out.rig")
    assert (ran.status, ran.out) == (2, "")
    assert "`out.rig` has no `rig` head" in ran.err


def test_a_repository_within_the_repository(
    repository: Path, run: Run, tmp_path_factory: pytest.TempPathFactory
) -> None:
    house = tmp_path_factory.mktemp("house")
    start(house)
    commit(house, "the house's gear", gear=GEAR)
    git(repository, "-c", "protocol.file.allow=always", "submodule", "--quiet", "add", str(house), "house")
    text = CLEAN.replace('"gear.rig"', '"house/gear.rig"')
    commit(repository, "gear of the house", friday=text)
    commit(repository, "kick elsewhere", friday=text.replace("to SL 1 via", "to SL 3 via"))
    ran = run("compare", "HEAD~1", "HEAD", "friday.rig")
    assert ran.out.startswith("1 source moved")
    assert "cannot be read" not in ran.out


def test_what_cannot_be_read_is_never_nothing(club: Path, run: Run) -> None:
    (club / "a.rig").write_text(CLEAN.replace("gear.rig", "gone.rig"))
    (club / "b.rig").write_text(MOVED.replace("gear.rig", "gone.rig"))
    out = run("compare", "a.rig", "b.rig").out
    assert "some of the rig in both states cannot be read, and is missing here: `rigdsl check` says what" in out
    sheet = run("compare", "a.rig", "b.rig", "--as", "changeover").out
    assert "do not hand this out" in sheet


def test_the_name_of_the_file_asks_for_the_form(repository: Path, run: Run) -> None:
    for name, first in (("said.md", "<!-- rigdsl compare -->"), ("said.json", "{"), ("said.txt", "1 source moved")):
        assert run("compare", "HEAD~1", "HEAD", "friday.rig", "--out", name).status == 0
        assert (repository / name).read_text("utf-8").startswith(first)


def test_no_program_is_run_that_a_repository_names(repository: Path, run: Run) -> None:
    git(repository, "config", "core.fsmonitor", "touch PWNED; false")
    git(repository, "config", "diff.external", "touch PWNED")
    git(repository, "checkout", "-q", "-b", "other")
    commit(repository, "one", friday=MOVED.replace("Kick in", "Kick"))
    git(repository, "checkout", "-q", "main")
    commit(repository, "two", sunday=CLEAN)
    git(repository, "merge", "-q", "--no-commit", "--no-ff", "other")
    (repository / "PWNED").unlink(missing_ok=True)
    assert run("compare", "--merge").status == 0
    assert run("compare", "HEAD").status == 0
    assert not (repository / "PWNED").exists()
