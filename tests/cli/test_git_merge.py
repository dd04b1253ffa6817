"""`git merge`, `git rebase` and the others, once a clone is set up."""

from __future__ import annotations

import re
import shlex
import sys
from pathlib import Path

import pytest

from rigdsl.cli import git_merge
from tests.cli.repository import RIG, Repository, called_otherwise, repository
from tests.conftest import Run

KICK = RIG.splitlines(keepends=True)[-3]
BASS = RIG.splitlines(keepends=True)[-2]
TPT = 'source tpt "Trumpet" dynamic in stage to SL.mic 5 via xlr 10 m\n'
VL = 'source vl "Violin" dynamic in stage to SL.mic 6 via xlr 10 m\n'
WITH_TPT, WITH_VL = RIG.replace(KICK, KICK + TPT), RIG.replace(KICK, KICK + VL)


@pytest.fixture
def repo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run) -> Repository:
    made = repository(tmp_path, monkeypatch)
    run("git", "setup")
    made.commit(RIG)
    return made


def test_two_branches_that_add_a_source_at_one_place(repo: Repository) -> None:
    repo.branches(WITH_TPT, WITH_VL)
    done = repo.call("merge", "guest", "-m", "both")
    assert done.returncode == 0
    assert "rigdsl: " not in done.stderr
    assert repo.read() == RIG.replace(KICK, KICK + TPT + VL)


def test_without_the_set_up_git_has_them_clash(repo: Repository, run: Run) -> None:
    run("git", "setup", "--undo")
    repo.branches(WITH_TPT, WITH_VL)
    assert repo.call("merge", "guest").returncode == 1


def test_a_rebase_and_a_picked_commit(repo: Repository) -> None:
    repo.branches(WITH_TPT, WITH_VL)
    repo.git("switch", "--quiet", "--create", "picked")
    repo.git("cherry-pick", "guest")
    assert repo.read() == RIG.replace(KICK, KICK + TPT + VL)
    repo.git("switch", "--quiet", "guest")
    repo.git("rebase", "main")
    assert repo.read() == RIG.replace(KICK, KICK + TPT + VL)


@pytest.mark.parametrize("name", ['a folder/it\'s a "night" $(touch x) %A.rig', "-x.rig", "ö.rig"])
def test_any_name_of_a_file(repo: Repository, name: str) -> None:
    repo.commit(RIG, name)
    repo.branches(WITH_TPT, WITH_VL, name)
    repo.git("merge", "guest", "-m", "both")
    assert repo.read(name) == RIG.replace(KICK, KICK + TPT + VL)
    assert not (repo.top / "x").exists()


def test_nothing_of_the_repository_is_run(repo: Repository) -> None:
    repo.commit("raise SystemExit(3)\n", "rigdsl/__init__.py")
    repo.commit("raise SystemExit(3)\n", "click.py")
    repo.branches(WITH_TPT, WITH_VL)
    repo.git("merge", "guest", "-m", "both")


def test_one_fact_that_both_changed_is_marked_and_nothing_else(repo: Repository) -> None:
    repo.branches(WITH_TPT.replace("SL.mic 2", "SL.mic 7"), WITH_VL.replace("SL.mic 2", "SL.mic 8"))
    done = repo.call("merge", "guest")
    assert done.returncode == 1
    assert done.stderr == "rigdsl: night.rig: `bass` is not settled: both branches changed it otherwise\n"
    ours, theirs = (BASS.replace("mic 2", f"mic {number}") for number in (7, 8))
    marked = rf"<<<<<<< .+\n{re.escape(ours)}=======\n{re.escape(theirs)}>>>>>>> .+\n"
    text = repo.read()
    assert re.sub(marked, BASS, text) == RIG.replace(KICK, KICK + TPT + VL)
    assert repo.git("status", "--porcelain") == "UU night.rig\n"


def test_the_base_is_shown_to_who_wants_it(repo: Repository) -> None:
    repo.git("config", "merge.conflictStyle", "diff3")
    repo.branches(RIG.replace("SL.mic 2", "SL.mic 7"), RIG.replace("SL.mic 2", "SL.mic 8"))
    repo.call("merge", "guest")
    assert re.search(rf"\|\|\|\|\|\|\| .+\n{re.escape(BASS)}=======\n", repo.read())


def test_a_file_that_one_side_deleted_is_left_to_git(repo: Repository) -> None:
    repo.git("switch", "--quiet", "--create", "guest")
    repo.git("rm", "--quiet", "night.rig")
    repo.git("commit", "--quiet", "-m", "gone")
    repo.git("switch", "--quiet", "main")
    repo.commit(WITH_TPT)
    assert "deleted in guest" in repo.call("merge", "guest").stdout


PLAIN = "rigdsl: this file is merged line by line; rigdsl is not where it was: type 'rigdsl git setup' again"


@pytest.mark.parametrize("gone", ["/gone/python", "false", f"{shlex.quote(sys.executable)} -S -P -m rigdsl"])
def test_where_rigdsl_is_gone_git_merges_lines(repo: Repository, gone: str) -> None:
    """The program, what it stands in for, or rigdsl itself, taken out of its Python."""
    driver = repo.git("config", "merge.rigdsl.driver")
    repo.git("config", "merge.rigdsl.driver", called_otherwise(driver.strip(), gone))
    repo.branches(WITH_TPT, WITH_VL)
    done = repo.call("merge", "guest")
    assert (done.returncode, done.stderr) == (1, f"{PLAIN}\n")
    assert repo.read() == RIG.replace(KICK, f"{KICK}<<<<<<< ours\n{TPT}=======\n{VL}>>>>>>> theirs\n")


# ---- the command itself


def merge(run: Run, base: bytes, ours: bytes, theirs: bytes) -> tuple[int, bytes]:
    for name, data in (("base", base), ("ours", ours), ("theirs", theirs)):
        Path(name).write_bytes(data)
    done = run("git", "merge", "base", "ours", "theirs", "7", "night.rig", "%S", "%X", "%Y")
    return done.status, Path("ours").read_bytes()


BASE, OURS, THEIRS, BOTH = (text.encode() for text in (RIG, WITH_TPT, WITH_VL, RIG.replace(KICK, KICK + TPT + VL)))
CRLF, MARK = (b"\n", b"\r\n"), b"\xef\xbb\xbf"


def test_line_ends_and_the_mark_stay_as_they_are(folder: Path, run: Run) -> None:
    assert merge(run, *(MARK + text.replace(*CRLF) for text in (BASE, OURS, THEIRS))) == (0, MARK + BOTH.replace(*CRLF))
    assert merge(run, BASE, OURS.replace(*CRLF), THEIRS) == (0, BOTH.replace(*CRLF))
    assert merge(run, MARK + BASE, MARK + OURS, THEIRS) == (0, BOTH)


def test_no_line_end_at_the_end(folder: Path, run: Run) -> None:
    ours, theirs = BASE + TPT.encode()[:-1], BASE + VL.encode()[:-1]
    assert merge(run, BASE, ours, theirs) == (0, BASE + (TPT + VL).encode()[:-1])
    assert merge(run, BASE[:-1], ours, BASE[:-1]) == (0, ours)


@pytest.mark.parametrize(
    "broken",
    [b"box SL is\n", b"\xff\xfe\n", b"zone a\r\nzone b\n", b"\0", b'source kick "Other" di\n'],
)
def test_what_cannot_be_merged_by_name_is_merged_as_git_does(
    repo: Repository, run: Run, broken: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    sides = BASE, BASE + broken, THEIRS + broken
    for name, data in zip(("plain-ours", "plain-base", "plain-theirs"), (sides[1], sides[0], sides[2]), strict=True):
        Path(name).write_bytes(data)
    plain = repo.call(
        "merge-file", "-L", "ours", "-L", "base", "-L", "theirs", "plain-ours", "plain-base", "plain-theirs"
    )
    status, data = merge(run, *sides)
    if plain.returncode < 128:
        assert (status, data) == (int(plain.returncode > 0), Path("plain-ours").read_bytes())
    else:
        assert status > 128
        assert data == sides[1]


@pytest.mark.parametrize(
    ("sides", "why"),
    [
        ((RIG, WITH_TPT, RIG + "box SL is\n"), "line 16 cannot be read on the side of `theirs`"),
        ((RIG, "clock\n" + RIG, WITH_VL + "box SL is\n"), "line 1 cannot be read on the side of `ours`; line 17"),
        ((RIG, RIG.replace(KICK, f"<<<<<<< a\n{KICK}=======\n{TPT}>>>>>>> b\n"), WITH_VL), "line 13 cannot be read"),
        ((RIG, WITH_TPT.replace("Kick", "K\xe4ck"), WITH_VL), "it is no text in UTF-8 on the side of `ours`"),
        ((RIG, WITH_TPT, WITH_VL.replace("demo }\n", "demo }\r\n")), "its lines end in several ways on the side of"),
    ],
)
def test_why_a_file_is_merged_line_by_line(folder: Path, run: Run, sides: tuple[str, str, str], why: str) -> None:
    for name, text in zip(("base", "ours", "theirs"), sides, strict=True):
        Path(name).write_bytes(text.encode("latin-1"))
    done = run("git", "merge", "base", "ours", "theirs", "7", "night.rig")
    assert done.err.startswith(f"rigdsl: night.rig is merged line by line: {why}")
    assert done.err.count("\n") == 1


def test_what_clashes_by_name_and_not_by_line_is_taken_from_git(folder: Path, run: Run) -> None:
    """A block that is laid out in a way of its own is one thing here; git sees its lines."""
    block = b'model m { kind console\n  weight 4 kg\n\n\n  power 3 W\n\n\n  note "a" }\n'
    ours, theirs = block.replace(b"4 kg", b"5 kg"), block.replace(b'"a"', b'"b"')
    assert merge(run, block, ours, theirs) == (0, ours.replace(b'"a"', b'"b"'))


def test_what_was_taken_out_here_and_moved_and_changed_there_clashes(folder: Path, run: Run) -> None:
    changed = BASS.replace("mic 2", "mic 7").encode()
    gone = BASE.replace(BASS.encode(), b"")
    status, data = merge(run, BASE, gone, gone.replace(b"zone stage", changed + b"zone stage"))
    assert (status, data.count(b"<<<<<<< ours\n=======\n" + changed)) == (1, 1)


def test_one_name_for_two_things_clashes_though_its_lines_do_not(folder: Path, run: Run) -> None:
    ours = WITH_TPT.encode()
    theirs = RIG.replace("zone stage", TPT.replace("dynamic", "condenser") + "zone stage").encode()
    status, data = merge(run, BASE, ours, theirs)
    assert (status, data.count(b"<<<<<<< ours\n")) == (1, 1)


def test_a_file_that_is_not_there_is_a_failure_to_git(folder: Path, run: Run) -> None:
    done = run("git", "merge", "base", "ours", "theirs")
    assert done.status > 128
    assert done.err == "rigdsl: `ours` is not merged: no such file or directory\n"


def test_a_fault_of_ours_costs_no_merge(folder: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def fault(*texts: str) -> None:
        raise RuntimeError("demo")

    monkeypatch.setattr(git_merge, "merged", fault)
    far = RIG.replace("xlr 15 m", "xlr 20 m")
    assert merge(run, BASE, OURS, far.encode()) == (0, far.replace(KICK, KICK + TPT).encode())
