"""A git repository's commits: their files and rigs, and who wrote a line. The checkout is not touched."""

from __future__ import annotations

import os
import posixpath
import subprocess
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from rigdsl.cli.trouble import Trouble
from rigdsl.rig import DiskReader, Unread
from rigdsl.rig.readers import decoded
from rigdsl.show import typed
from rigdsl.text import Source

__all__ = ["CommitReader", "commit_of", "git", "top_of"]


@dataclass(frozen=True)
class CommitReader:
    """Files as a commit has them; the checkout is not touched. Paths are as a user types them, from here."""

    top: Path
    commit: str
    root: Path

    def read(self, path: str) -> Source | Unread:
        """The file's text in the commit, or why there is none."""
        inside = self._inside(path)
        if inside is None:
            return DiskReader(self.root).read(path)  # it lies outside the project, and this says so
        done = git(self.top, "cat-file", "blob", f"{self.commit}:{inside}")
        if done is None:
            message = f"there is no file `{path}` in `{self.commit[:9]}`"
            return Unread("file-missing", message, "it may have another name there")
        return decoded(path, done)

    def same(self, path: str) -> str:
        """One name for one file."""
        return self._inside(path) or path

    def _inside(self, path: str) -> str | None:
        whole = posixpath.normpath(posixpath.join(Path.cwd().as_posix(), path))
        folder, project = Path(os.path.realpath(Path(whole).parent)), Path(os.path.realpath(self.root))
        if folder != project and project not in folder.parents:
            return None
        return (folder / posixpath.basename(whole)).relative_to(self.top).as_posix()

    @cached_property
    def rigs(self) -> tuple[str, ...]:
        """The rig files of the project in the commit, as a user types them."""
        listed = git(self.top, "ls-tree", "-r", "-z", "--name-only", self.commit) or b""
        names = (name for name in listed.decode("utf-8", "replace").split("\0") if name.endswith(".rig"))
        below = (self.top / name for name in names if self.root in (self.top / name).parents)
        return tuple(sorted(typed(str(path)) for path in below))


def top_of(root: Path) -> Path | None:
    """The folder of the repository that a project is in; None where it is in none, or there is no git."""
    top = git(root, "rev-parse", "--show-toplevel")
    return None if top is None else Path(os.path.realpath(top.decode("utf-8", "replace").strip()))


def commit_of(top: Path, revision: str) -> str:
    """The whole name of a commit."""
    found = git(top, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
    if found is None:
        raise Trouble(f"there is no file, folder or commit called `{revision}`")
    return found.decode("ascii", "replace").strip()


def git(folder: Path, *words: str) -> bytes | None:
    """What git says; nothing where it has nothing to say, or is not there."""
    command = ["git", "-C", str(folder), "--no-optional-locks", *words]
    try:
        done = subprocess.run(command, capture_output=True, check=False)
    except OSError:
        return None
    return done.stdout if done.returncode == 0 else None
