"""The hooks, as pre-commit itself runs them: installed from a commit of this tree into an environment of their own."""

from __future__ import annotations

import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from tests.cli.repository import Repository, repository

ROOT = Path(__file__).parents[2]
HOOKS = ROOT / ".pre-commit-hooks.yaml"
CLUB = ROOT / "examples" / "club"

pytestmark = pytest.mark.xdist_group("packaging")


def pre_commit(*words: str, cwd: Path = ROOT) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "pre_commit", *words]
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True, check=False)


@dataclass(frozen=True)
class Committed:
    """A repository that uses the hooks."""

    repo: Repository

    def run(self, hook: str) -> tuple[int, str]:
        """Run a hook over all files."""
        done = pre_commit("run", hook, "--all-files", cwd=self.repo.top)
        return done.returncode, done.stdout + done.stderr


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of this tree to install from, and beside it the environments that pre-commit makes."""
    copy = tmp_path_factory.mktemp("hooks") / "rigdsl"
    unwanted = shutil.ignore_patterns(".git", ".*cache", "__pycache__", "*.egg-info", "build", "dist", "tests", "docs")
    shutil.copytree(ROOT, copy, ignore=unwanted)
    return copy


@pytest.fixture
def club(tree: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Committed:
    """The small club, with the hooks set up."""
    made = repository(tmp_path, monkeypatch)
    monkeypatch.setenv("PRE_COMMIT_HOME", str(tree.parent / "environments"))
    if not (tree / ".git").exists():
        for words in (("init", "--quiet"), ("add", "--all"), ("commit", "--quiet", "-m", "demo")):
            subprocess.run(["git", *words], cwd=tree, check=True)
    (made.top / "night.rig").unlink()
    shutil.copytree(CLUB, made.top, dirs_exist_ok=True)
    head = subprocess.run(["git", "rev-parse", "HEAD"], cwd=tree, capture_output=True, text=True, check=True).stdout
    ids = ("rigdsl-check", "rigdsl-tidy", "rigdsl-tidy-check")
    hooks = "".join(f"      - id: {name}\n" for name in ids)
    made.commit(f"repos:\n  - repo: {tree}\n    rev: {head.strip()}\n    hooks:\n{hooks}", ".pre-commit-config.yaml")
    return Committed(made)


def test_pre_commit_takes_the_list_of_hooks() -> None:
    done = pre_commit("validate-manifest", str(HOOKS))
    assert (done.returncode, done.stdout) == (0, "")


@pytest.mark.parametrize(
    ("hook", "names", "others"),
    [
        ("rigdsl-check", ["shows/friday.rig", "rig.toml", "venue/rig.toml"], ["my-rig.toml", "a.rig.txt"]),
        ("rigdsl-tidy", ["shows/friday.rig"], ["rig.toml", "a.rig.txt"]),
    ],
)
def test_which_files_a_hook_is_about(hook: str, names: list[str], others: list[str]) -> None:
    import re

    (files,) = (one["files"] for one in YAML(typ="safe").load(HOOKS) if one["id"] == hook)
    assert all(re.search(files, name) for name in names)
    assert not any(re.search(files, name) for name in others)


def test_good_rigs_pass_and_bad_ones_do_not(club: Committed) -> None:
    assert [club.run(hook)[0] for hook in ("rigdsl-check", "rigdsl-tidy", "rigdsl-tidy-check")] == [0, 0, 0]
    rig = club.repo.read("shows/friday.rig")
    club.repo.commit(rig.replace("to DR 5 via", "to DR 6  via"), "shows/friday.rig")
    status, told = club.run("rigdsl-check")
    assert status == 1
    assert "`DR.panel 6`" in told
    status, told = club.run("rigdsl-tidy-check")
    assert (status, "not tidy: shows/friday.rig" in told) == (1, True)
    status, told = club.run("rigdsl-tidy")
    assert (status, "files were modified by this hook" in told) == (1, True)
    assert club.repo.read("shows/friday.rig") == rig.replace("to DR 5 via", "to DR 6 via")
    assert club.run("rigdsl-tidy")[0] == 0


def test_a_change_of_the_house_is_checked_in_the_shows(club: Committed) -> None:
    """One file is committed, and another one is wrong by it."""
    house = club.repo.read("venue/cellar.rig")
    (club.repo.top / "venue" / "cellar.rig").write_text(house.replace("zone left", "zone lft"), "utf-8")
    club.repo.git("add", "venue/cellar.rig")
    done = pre_commit("run", "rigdsl-check", cwd=club.repo.top)
    assert done.returncode == 1
    assert "shows/friday.rig" in done.stdout
