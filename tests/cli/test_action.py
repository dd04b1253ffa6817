"""The action: each step's shell, run in a clone as the host runs it, with a stand-in for the host and nothing else."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from rigdsl.reports.review_md import MARKER
from tests.cli.repository import RIG, Repository, repository

ROOT = Path(__file__).parents[2]
ACTION = YAML(typ="safe").load(ROOT / "action.yml")
STEPS: list[dict[str, Any]] = ACTION["runs"]["steps"]
SHELLS = {step["name"]: step for step in STEPS if "run" in step}

pytestmark = [
    pytest.mark.xdist_group("packaging"),
    pytest.mark.skipif(shutil.which("bash") is None, reason="the host's shell, bash, is not installed"),
]

# What stands in for the host: it writes down how it was called, and answers with the comments that are there.
HOST = """\
#!/usr/bin/env bash
printf '%s\\n' "$@" >>"$CALLS"
for word in "$@"; do
  case "$word" in
    body=@*) cp "${word#body=@}" "$CALLS.body" ;;
    --jq) cat "$CALLS.found" 2>/dev/null || true ;;
  esac
done
exit "${HOST_ENDS:-0}"
"""


@dataclass(frozen=True)
class Runner:
    """A clone on the host's machine: steps run in it one by one, each with its own environment."""

    clone: Path
    temp: Path
    env: dict[str, str]

    def run(self, name: str, **env: str) -> subprocess.CompletedProcess[str]:
        """A step's shell, as the host starts it. What the step names by expressions is given."""
        step = SHELLS[name]
        assert set(step.get("env", {})) >= set(env)
        given = {**self.env, **dict.fromkeys(step.get("env", {}), ""), **env}
        (self.temp / "step.sh").write_text(step["run"], "utf-8")
        command = ["bash", "--noprofile", "--norc", "-eo", "pipefail", str(self.temp / "step.sh")]
        return subprocess.run(command, cwd=self.clone, env=given, capture_output=True, text=True, check=False)

    def read(self, name: str) -> str:
        """A file of the run, or nothing."""
        path = self.temp / name
        return path.read_text("utf-8") if path.exists() else ""


@pytest.fixture(scope="module")
def python(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A clean environment, and the tree that the action is in."""
    folder = tmp_path_factory.mktemp("action")
    unwanted = shutil.ignore_patterns(".*", "__pycache__", "*.egg-info", "build", "dist", "tests", "docs")
    shutil.copytree(ROOT, folder / "the action", ignore=unwanted)
    subprocess.run([sys.executable, "-m", "venv", str(folder / "venv")], check=True)
    return folder


@pytest.fixture
def origin(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Repository:
    made = repository(tmp_path, monkeypatch)
    made.git("switch", "--quiet", "--create", "guest")
    made.commit(RIG.replace("xlr 15 m", "xlr 20 m"))
    return made


@pytest.fixture
def runner(python: Path, origin: Repository, tmp_path: Path) -> Runner:
    """A shallow clone of the guest's branch, as the host checks it out."""
    clone, temp = tmp_path / "clone", tmp_path / "temp"
    subprocess.run(
        ["git", "clone", "--quiet", "--depth=1", "--branch=guest", origin.top.as_uri(), str(clone)], check=True
    )
    temp.mkdir()
    (temp / "gh").write_text(HOST, "utf-8")
    (temp / "gh").chmod(0o755)
    scripts = python / "venv" / ("Scripts" if os.name == "nt" else "bin")
    path = os.pathsep.join([str(temp), str(scripts), os.environ["PATH"]])
    files = {name: str(temp / name.lower()) for name in ("GITHUB_OUTPUT", "GITHUB_STEP_SUMMARY")}
    clean = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "PYTEST"))}
    made = Runner(clone, temp, {**clean, **files, "PATH": path, "RUNNER_TEMP": str(temp), "CALLS": str(temp / "calls")})
    if not (python / "installed").exists():
        done = made.run("install", HERE=str(python / "the action"))
        assert done.returncode == 0, done.stderr
        (python / "installed").touch()
    return made


def test_the_host_takes_it() -> None:
    command = [sys.executable, "-m", "check_jsonschema", "--builtin-schema", "vendor.github-actions"]
    done = subprocess.run([*command, str(ROOT / "action.yml")], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


def test_nothing_from_outside_is_part_of_a_shell_line() -> None:
    assert len(SHELLS) == 5
    for step in SHELLS.values():
        assert "${{" not in step["run"]
        assert step["shell"] == "bash"
    used = set(re.findall(r"\binputs\.([a-z-]+)", (ROOT / "action.yml").read_text("utf-8")))
    assert used == set(ACTION["inputs"])


def test_a_good_rig(runner: Runner) -> None:
    done = runner.run("check", FAIL_ON="never")
    assert done.returncode == 0, done.stderr
    assert runner.read("github_output") == "status=0\ntold=yes\n"
    assert json.loads(runner.read("rigdsl.sarif"))["version"] == "2.1.0"
    assert "::warning" in done.stdout or "::error" in done.stdout
    assert runner.run("end", STATUS="0").returncode == 0


def test_what_fails_is_told_first_and_fails_in_the_end(runner: Runner) -> None:
    (runner.clone / "night.rig").write_text(RIG.replace("SL.mic 2", "SL.mic 1"), "utf-8")
    done = runner.run("check", PATHS="night.rig\n\n")
    assert done.returncode == 0
    assert runner.read("github_output") == "status=1\ntold=yes\n"
    assert runner.run("end", STATUS="1").returncode == 1
    assert runner.run("end", STATUS="").returncode == 2


@pytest.mark.parametrize("path", ["$(touch x)", "`touch x`", "; touch x", "--out=x", "a b"])
def test_a_path_is_a_path_whatever_it_says(runner: Runner, path: str) -> None:
    runner.run("check", PATHS=path)
    assert runner.read("github_output") == "status=2\n"
    assert not (runner.clone / "x").exists()


def test_the_change_is_told_in_the_summary_and_in_one_comment(runner: Runner, origin: Repository) -> None:
    base = origin.git("rev-parse", "main").strip()
    done = runner.run("compare", BASE=base)
    assert done.returncode == 0, done.stderr
    assert runner.read("github_output") == "told=yes\n"
    told = runner.read("github_step_summary")
    assert told.startswith(MARKER)
    assert "20 m" in told
    assert runner.read("rigdsl-comment.md") == told
    where = {"REPOSITORY": "demo/rigs", "NUMBER": "7", "GH_TOKEN": "demo"}
    assert runner.run("comment", **where).returncode == 0
    assert "POST\nrepos/demo/rigs/issues/7/comments\n" in runner.read("calls")
    assert runner.read("calls.body") == told
    (runner.temp / "calls.found").write_text("31\n32\n")
    assert runner.run("comment", **where).returncode == 0
    assert "PATCH\nrepos/demo/rigs/issues/comments/31\n" in runner.read("calls")


def test_a_run_that_may_not_comment_does_not_fail(runner: Runner) -> None:
    (runner.temp / "rigdsl-comment.md").write_text("demo")
    runner.env["HOST_ENDS"] = "1"
    done = runner.run("comment", REPOSITORY="demo/rigs", NUMBER="7")
    assert done.returncode == 0
    assert "::warning title=rigdsl::the comment could not be written" in done.stdout


@pytest.mark.parametrize(("base", "status"), [("0" * 40, 0), ("nowhere", 0), ("--output=x", 2), ("$(touch x)", 0)])
def test_a_base_that_is_not_there_compares_nothing(runner: Runner, base: str, status: int) -> None:
    done = runner.run("compare", BASE=base)
    assert done.returncode == status
    assert "rigdsl: the base is " in done.stderr
    assert runner.read("github_output") == ""
    assert not (runner.clone / "x").exists()


def test_a_branch_is_a_base_too(runner: Runner) -> None:
    assert runner.run("compare", BASE="main").returncode == 0
    assert "20 m" in runner.read("github_step_summary")


def test_where_nothing_changes_the_comment_is_found_again(runner: Runner) -> None:
    for number in (1, 2):
        (runner.clone / f"night{number}.rig").write_text(RIG, "utf-8")
    author = ["-c", "user.name=demo", "-c", "user.email=demo@example.org"]
    for words in (["add", "--all"], [*author, "commit", "--quiet", "-m", "demo"]):
        subprocess.run(["git", *words], cwd=runner.clone, check=True)
    assert runner.run("compare", BASE="HEAD").returncode == 0
    assert runner.read("rigdsl-comment.md") == f"{MARKER}\n**3 rigs**: nothing changes on stage.\n\n"


def test_what_has_no_room_is_cut_between_lines(runner: Runner) -> None:
    many = "".join(f'source s{number} "Ö" dynamic in stage\n' for number in range(600))
    for number in range(8):
        (runner.clone / f"night{number}.rig").write_text(RIG + many, "utf-8")
    author = ["-c", "user.name=demo", "-c", "user.email=demo@example.org"]
    for words in (["add", "--all"], [*author, "commit", "--quiet", "-m", "demo"]):
        subprocess.run(["git", *words], cwd=runner.clone, check=True)
    assert runner.run("compare", BASE="main").returncode == 0
    comment, summary = runner.read("rigdsl-comment.md"), runner.read("github_step_summary")
    assert len(comment) < 65_536
    assert len(summary.encode()) < 1_000_000
    assert comment.endswith("\n</details>\n\nThe rest has no room here: `rigdsl compare` tells it.\n")
    assert "\ufffd" not in comment


def test_what_is_wrong_only_together_is_in_the_comment(runner: Runner, origin: Repository) -> None:
    """What is checked out for a pull request is the merge with the branch that it goes to."""
    trumpet = 'source tpt "Trumpet" dynamic in stage to SL.mic 5 via xlr 10 m\n'
    fiddle = 'source vl "Fiddle" dynamic in stage to SL.mic 5 via xlr 10 m\n'
    origin.commit(origin.read().replace("source bass", f"{trumpet}source bass"))
    origin.git("switch", "--quiet", "main")
    origin.commit(RIG.replace("zone stage", f"{fiddle}zone stage"))
    for words in (
        ["fetch", "--quiet", "--unshallow", "origin", "guest", "main"],
        ["switch", "--quiet", "--detach", "origin/guest"],
    ):
        subprocess.run(["git", *words], cwd=runner.clone, check=True)
    subprocess.run(["git", "fetch", "--quiet", "origin", "main"], cwd=runner.clone, check=True)
    subprocess.run(["git", "merge", "--quiet", "-m", "both", "FETCH_HEAD"], cwd=runner.clone, check=True)
    assert runner.run("compare", BASE=origin.git("rev-parse", "main").strip()).returncode == 0
    comment = runner.read("rigdsl-comment.md")
    assert comment.startswith(MARKER)
    assert "that neither of them has alone" in comment
    assert "source tpt added" in comment
    assert "source vl added" in comment
