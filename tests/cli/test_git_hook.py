"""After each merge in a clone that is set up: what is wrong only together, whichever files made it so."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.cli.repository import RIG, Repository, called_otherwise, repository
from tests.conftest import Run

HEAD = 'rig "Demo night" { rate 48 kHz; demo }\nuse "../gear.rig"\n'
GEAR = "".join(line for line in RIG.splitlines(keepends=True)[1:] if not line.startswith("source"))
SHOW = HEAD + "".join(line for line in RIG.splitlines(keepends=True) if line.startswith("source"))
TPT, VL = (f'source {name} "Demo" dynamic in stage to SL.mic {{}} via xlr 10 m\n' for name in ("tpt", "vl"))
NOTHING = "main and guest go together: nothing new is wrong in 1 rig\n"
HOOK = ".git/hooks/post-merge"


@pytest.fixture
def repo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run) -> Repository:
    """A show, and its gear in a file of its own; set up."""
    made = repository(tmp_path, monkeypatch)
    made.git("rm", "--quiet", "night.rig")
    run("git", "setup")
    made.commit(GEAR, "gear.rig")
    made.commit(SHOW, "shows/night.rig")
    return made


def branches(repo: Repository, ours: tuple[str, str], theirs: tuple[str, str]) -> None:
    """Two branches, each with the name of a file that it changes, and its new text."""
    repo.git("switch", "--quiet", "--create", "guest")
    repo.commit(theirs[1], theirs[0])
    repo.git("switch", "--quiet", "main")
    repo.commit(ours[1], ours[0])


FOUR_SOCKETS = ("gear.rig", GEAR.replace("mic 1-8", "mic 1-4"))


def test_gear_on_one_branch_and_the_show_on_the_other(repo: Repository) -> None:
    branches(repo, ("shows/night.rig", SHOW + TPT.format(6)), FOUR_SOCKETS)
    done = repo.call("merge", "guest", "-m", "both")
    assert done.returncode == 0
    said = done.stderr.splitlines()
    assert said[0] == "main and guest together: 1 finding that neither of them has alone"
    assert said[2].startswith("shows/night.rig:6:46: error: `SL.mic` has sockets 1 to 4, and `6` is not among them")
    assert "  on the night: there is nothing to plug into" in said
    assert any(line.startswith("  main: source tpt added: ") for line in said)
    assert any(line.startswith("  guest: model box8 changed: mic number 4, was 8") for line in said)


def test_the_same_socket(repo: Repository) -> None:
    branches(
        repo, ("shows/night.rig", SHOW + TPT.format(5)), ("shows/night.rig", HEAD + VL.format(5) + SHOW[len(HEAD) :])
    )
    done = repo.call("merge", "guest", "-m", "both")
    assert done.returncode == 0
    assert "main: source tpt added: " in done.stderr
    assert "guest: source vl added: " in done.stderr


def test_a_clean_merge_says_so_in_one_line(repo: Repository) -> None:
    branches(repo, ("shows/night.rig", SHOW + TPT.format(5)), ("gear.rig", f"# the house\n{GEAR}"))
    assert repo.call("merge", "guest", "-m", "both").stderr == NOTHING


def test_in_a_worktree_and_from_a_folder_below(repo: Repository) -> None:
    branches(repo, ("shows/night.rig", SHOW + TPT.format(6)), FOUR_SOCKETS)
    tree = repo.top.parent / "other tree"
    repo.git("worktree", "add", "--quiet", "-b", "other", str(tree))
    done = Repository(tree / "shows").call("merge", "guest", "-m", "both")
    assert done.stderr.startswith("other and guest together: 1 finding that neither of them has alone\n")


def test_what_is_no_merge_says_nothing(repo: Repository) -> None:
    branches(repo, ("shows/night.rig", SHOW + TPT.format(5)), FOUR_SOCKETS)
    repo.git("merge", "guest", "-m", "both")
    repo.git("switch", "--quiet", "--create", "late")
    repo.commit("# a library\n", "late.rig")
    repo.git("switch", "--quiet", "main")
    squashed = repo.call("merge", "--squash", "late")  # onto a commit that is a merge
    assert squashed.returncode == 0
    assert "found" not in squashed.stdout + squashed.stderr
    repo.git("reset", "--quiet", "--hard")
    assert repo.call("merge", "--ff-only", "late").stderr == ""


def test_where_rigdsl_is_gone_there_is_one_line_and_the_merge_stands(repo: Repository) -> None:
    text = called_otherwise(repo.read(HOOK), "/gone/python")
    (repo.top / HOOK).write_text(text)
    branches(repo, ("shows/night.rig", SHOW + TPT.format(6)), FOUR_SOCKETS)
    done = repo.call("merge", "guest", "-m", "both")
    assert done.returncode == 0
    assert done.stderr == (
        "rigdsl: it is not checked what the two branches make wrong together;"
        " rigdsl is not where it was: type 'rigdsl git setup' again\n"
    )


# ---- set up, and taken away


def test_it_is_written_executable_and_taken_away(repo: Repository, run: Run) -> None:
    assert os.access(repo.top / HOOK, os.X_OK)
    (repo.top / HOOK).chmod(0o644)
    assert "set otherwise: the hook `post-merge`, so after a merge nobody tells" in run("git", "setup", "--check").out
    assert run("git", "setup").out.startswith("set: the hook `post-merge`, so each merge ends with")
    assert os.access(repo.top / HOOK, os.X_OK)
    assert "taken away: the hook `post-merge`\n" in run("git", "setup", "--undo").out
    assert not (repo.top / HOOK).exists()
    assert "not set: the hook `post-merge`, so" in run("git", "setup", "--check").out


def test_somebody_else_s_is_left_alone_and_the_line_to_add_does_it(repo: Repository, run: Run) -> None:
    theirs = "#!/bin/sh\necho theirs\n"
    (repo.top / HOOK).write_text(theirs)
    (said,) = run("git", "setup").out.splitlines()
    assert f"`{HOOK}` is not of this command and stays as it is; add this line to it: git rev-parse" in said
    assert run("git", "setup", "--check").status == 1
    run("git", "setup", "--undo")
    assert repo.read(HOOK) == theirs
    run("git", "setup")
    (repo.top / HOOK).write_text(theirs + said.partition("add this line to it: ")[2] + "\n")
    assert run("git", "setup", "--check").out == "all is set up\n"
    repo.git("add", "--all")
    repo.git("commit", "--quiet", "--allow-empty", "-m", "set up")
    branches(repo, ("shows/night.rig", SHOW + TPT.format(5)), ("gear.rig", f"# the house\n{GEAR}"))
    assert repo.call("merge", "guest", "-m", "both").stderr == f"theirs\n{NOTHING}"


def test_a_folder_of_hooks_that_is_not_this_clone_s_is_left_alone(repo: Repository, run: Run) -> None:
    run("git", "setup", "--undo")
    repo.git("config", "core.hooksPath", "our hooks")
    (said,) = [line for line in run("git", "setup").out.splitlines() if "hook" in line]
    assert "`core.hooksPath` has git run `our hooks/post-merge`, which is not of this clone alone" in said
    assert "with `#!/bin/sh` as its first line and this one below: git rev-parse" in said
    assert not (repo.top / "our hooks").exists()
