"""Which revision a drawing is of: given, else the rig's own, else the commit of its files."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from rigdsl.cli.git_calls import said
from rigdsl.show import Show

__all__ = ["revision_of"]


def revision_of(show: Show, given: str) -> str:
    """What stands in the title block; nothing where no one says, and where the files are in no repository."""
    return given or show.rig.head.revision or _commit([source.path for source in show.sources])


def _commit(paths: Sequence[str]) -> str:
    """The last commit of these files, and whether they have changed since."""
    files = sorted({os.path.realpath(path) for path in paths if os.path.isfile(path)})
    if not files:
        return ""
    folder = str(Path(files[0]).parent)
    root = said(folder, "rev-parse", "--show-toplevel")
    own = [path for path in files if root and Path(path).is_relative_to(os.path.realpath(root))]
    commit = said(folder, "log", "-1", "--format=%h", "--", *own) if own else ""
    if not commit:
        return ""
    return f"{commit} and changes since" if said(folder, "status", "--porcelain", "--", *own) else commit
