"""Git as a user has it, in a temporary repository."""

from __future__ import annotations

import subprocess
from pathlib import Path

__all__ = ["commit", "git", "start"]

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
