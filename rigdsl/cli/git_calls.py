"""The one way in which git is asked: with a limit of time, and without running what a repository's settings name."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

__all__ = ["git", "said", "top_of", "why_none"]

LIMIT_S = 60.0
# A repository's own settings may name programs; none of what is asked here needs one of these.
QUIET = ("--no-optional-locks", "-c", "core.fsmonitor=false", "-c", "core.hooksPath=/dev/null")


def git(folder: Path | str, *words: str) -> bytes | None:
    """What git says; nothing where it has nothing to say, takes too long, or is not there."""
    command = ["git", "-C", str(folder), *QUIET, *words]
    try:
        done = subprocess.run(command, capture_output=True, timeout=LIMIT_S, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return None
    return done.stdout if done.returncode == 0 else None


def said(folder: Path | str, *words: str) -> str:
    """The same as text, without the blanks around it; empty where it is nothing."""
    return (git(folder, *words) or b"").decode("utf-8", "replace").strip()


def why_none(folder: Path | str) -> str:
    """Why git finds no repository at a folder, in its own words where it has a reason; empty where there is none."""
    command = ["git", "-C", str(folder), *QUIET, "rev-parse", "--show-toplevel"]
    try:
        done = subprocess.run(command, capture_output=True, timeout=LIMIT_S, check=False)
    except OSError:
        return "there is no git here: install it, and try again"
    except subprocess.TimeoutExpired:
        return "git does not answer"
    reason = done.stderr.decode("utf-8", "replace").strip().split("\n")[0].removeprefix("fatal: ")
    return "" if "not a git repository" in reason else reason


def top_of(root: Path) -> Path | None:
    """The folder of the repository that a project is in; None where it is in none, or there is no git."""
    top = said(root, "rev-parse", "--show-toplevel")
    return Path(os.path.realpath(top)) if top else None
