"""A git repository with a rig in it, in a folder with a blank in its name, untouched by anybody's settings."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from rigdsl.cli.git_drivers import program

__all__ = ["RIG", "Repository", "called_otherwise", "commit", "git", "repository", "start"]

RIG = """\
rig "Demo night" { rate 48 kHz; demo }
zone stage "Stage" at (0, 0) m
model box8 "Stage box" {
  kind stage-box
  inputs mic 1-8 { connector xlr-f }
}
box SL "Stage left" is box8 in stage {
  weight 4 kg
  power 30 W
  note "on the riser"
  serial "A1"
}
source kick "Kick" dynamic in stage to SL.mic 1 via xlr 10 m
source bass "Bass" dynamic in stage to SL.mic 2 via xlr 10 m
source vox "Lead vocal" dynamic in stage to SL.mic 3 via xlr 15 m
"""


@dataclass(frozen=True)
class Repository:
    """The folder; every call of git has to end well, but for those that are asked how they end."""

    top: Path

    def call(self, *words: str) -> subprocess.CompletedProcess[str]:
        """Call git, and see how it ends."""
        return subprocess.run(["git", *words], cwd=self.top, capture_output=True, text=True, check=False)

    def git(self, *words: str) -> str:
        """Call git; what it prints."""
        done = self.call(*words)
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def rigdsl(self, *words: str) -> subprocess.CompletedProcess[str]:
        """Call rigdsl there."""
        command = [sys.executable, "-P", "-m", "rigdsl", *words]
        return subprocess.run(command, cwd=self.top, capture_output=True, text=True, check=False)

    def read(self, name: str = "night.rig") -> str:
        """A file's text."""
        return (self.top / name).read_bytes().decode("utf-8")

    def commit(self, text: str, name: str = "night.rig") -> None:
        """Write a file, and commit all."""
        (self.top / name).parent.mkdir(parents=True, exist_ok=True)
        (self.top / name).write_bytes(text.encode("utf-8"))
        self.git("add", "--all")
        self.git("commit", "--quiet", "--allow-empty", "-m", name)

    def branches(self, ours: str, theirs: str, name: str = "night.rig") -> None:
        """Two branches, `guest` with their text and `main`, the one checked out, with ours."""
        self.git("switch", "--quiet", "--create", "guest")
        self.commit(theirs, name)
        self.git("switch", "--quiet", "main")
        self.commit(ours, name)


def repository(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Repository:
    """A new one with the rig in it."""
    for name in [name for name in os.environ if name.startswith("GIT_")]:
        monkeypatch.delenv(name)
    monkeypatch.delenv("VIRTUAL_ENV", raising=False)
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")
    for who in ("AUTHOR", "COMMITTER"):
        monkeypatch.setenv(f"GIT_{who}_NAME", "Demo")
        monkeypatch.setenv(f"GIT_{who}_EMAIL", "demo@example.org")
    made = Repository(folder / "the rigs")
    made.top.mkdir()
    made.git("init", "--quiet", "--initial-branch=main")
    made.commit(RIG)
    monkeypatch.chdir(made.top)
    return made


def called_otherwise(shell: str, other: str) -> str:
    """Lines of shell that call another program in the place of rigdsl; what they say stays."""
    return re.sub(rf"(?m)(\bif |\bthen |^  ){re.escape(program())}", lambda match: f"{match[1]}{other}", shell)


# ---- in a folder that is there, or that several tests share: nothing of the environment is changed


NAMES = ["-c", "user.name=Crew", "-c", "user.email=crew@stage.invalid", "-c", "commit.gpgsign=false"]


def git(folder: Path, *words: str, check: bool = True) -> str:
    """What git says, under a name of its own and without settings of this machine."""
    command = ["git", "-C", str(folder), *NAMES, *words]
    done = subprocess.run(command, check=check, capture_output=True, text=True)
    return done.stdout.strip()


def start(folder: Path) -> None:
    """A repository whose branch is called `main`."""
    git(folder, "init", "-q", "-b", "main")


def commit(folder: Path, message: str, **texts: str) -> str:
    """Write `name.rig` files and commit them; the commit's name."""
    for name, text in texts.items():
        (folder / f"{name}.rig").write_text(text, "utf-8")
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "-m", message)
    return git(folder, "rev-parse", "HEAD")
