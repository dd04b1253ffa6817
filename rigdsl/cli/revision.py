"""Which revision a drawing is of: given, else the rig's own, else the commit of its files."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Sequence
from pathlib import Path

from rigdsl.show import Show

__all__ = ["revision_of"]

LIMIT_S = 5.0  # a drawing does not wait longer for a name


def revision_of(show: Show, given: str) -> str:
    """What stands in the title block; nothing where no one says, and where the files are in no repository."""
    return given or show.rig.head.revision or _commit([source.path for source in show.sources])


def _commit(paths: Sequence[str]) -> str:
    """The last commit of these files, and whether they have changed since."""
    files = sorted({os.path.realpath(path) for path in paths if os.path.isfile(path)})
    if not files:
        return ""
    folder = str(Path(files[0]).parent)
    root = _git(folder, "rev-parse", "--show-toplevel")
    own = [path for path in files if root and Path(path).is_relative_to(os.path.realpath(root))]
    commit = _git(folder, "log", "-1", "--format=%h", "--", *own) if own else ""
    if not commit:
        return ""
    return f"{commit} and changes since" if _git(folder, "status", "--porcelain", "--", *own) else commit


def _git(folder: str, *words: str) -> str:
    """What git says; nothing where there is no git, or no repository."""
    command = ["git", "-C", folder, "--no-optional-locks", *words]
    try:
        done = subprocess.run(command, capture_output=True, timeout=LIMIT_S, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return done.stdout.decode("utf-8", "replace").strip() if done.returncode == 0 else ""
