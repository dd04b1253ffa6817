"""A git repository's commits: their files and rigs. The checkout is not touched."""

from __future__ import annotations

import os
import posixpath
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from rigdsl.cli.git_calls import git, said
from rigdsl.cli.trouble import Trouble
from rigdsl.finding import similar
from rigdsl.rig import DiskReader, Unread
from rigdsl.rig.readers import decoded
from rigdsl.show import typed
from rigdsl.text import Source

__all__ = ["CommitReader", "commit_of"]

LINK, MODULE = "120000", "160000"  # what git calls a symbolic link, and a repository in a repository
MOST_LINKS = 8  # that lead from one to the next


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
        done = self._blob(inside)
        if done is None:
            message = f"there is no file `{path}` in `{self.commit[:9]}`"
            return Unread("file-missing", message, "it may have another name there")
        return decoded(path, done)

    def same(self, path: str) -> str:
        """One name for one file."""
        return self._inside(path) or path

    @cached_property
    def rigs(self) -> tuple[str, ...]:
        """The rig files of the project in the commit, as a user types them."""
        listed = git(self.top, "ls-tree", "-r", "-z", "--name-only", self.commit) or b""
        names = (name for name in listed.decode("utf-8", "replace").split("\0") if name.endswith(".rig"))
        below = (self.top / name for name in names if self.root in (self.top / name).parents)
        return tuple(sorted(typed(str(path)) for path in below))

    def _inside(self, path: str) -> str | None:
        whole = posixpath.normpath(posixpath.join(Path.cwd().as_posix(), path))
        folder, project = Path(os.path.realpath(Path(whole).parent)), Path(os.path.realpath(self.root))
        if folder != project and project not in folder.parents:
            return None
        return (folder / posixpath.basename(whole)).relative_to(self.top).as_posix()

    def _blob(self, inside: str, links: int = 0) -> bytes | None:
        """A file's bytes: of a link what it leads to, and in a repository within this one as this commit has it."""
        mode = self._mode(inside)
        if mode == LINK and links < MOST_LINKS:
            target = git(self.top, "cat-file", "blob", f"{self.commit}:{inside}") or b""
            led = posixpath.normpath(posixpath.join(posixpath.dirname(inside), target.decode("utf-8", "replace")))
            return None if led.startswith(("../", "/")) else self._blob(led, links + 1)
        if mode:
            return git(self.top, "cat-file", "blob", f"{self.commit}:{inside}")
        for folder in map(str, Path(inside).parents):
            if self._mode(folder) == MODULE:
                commit = said(self.top, "rev-parse", f"{self.commit}:{folder}")
                rest = posixpath.relpath(inside, folder)
                return git(self.top / folder, "cat-file", "blob", f"{commit}:{rest}")
        return None

    def _mode(self, inside: str) -> str:
        """What git calls the kind of thing that is there; nothing where there is none."""
        return said(self.top, "ls-tree", self.commit, "--", f":(literal){inside}").split(" ")[0]


def commit_of(top: Path, revision: str) -> str:
    """The whole name of a commit."""
    found = said(top, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
    if not found:
        raise Trouble(_unknown(top, revision))
    return found


def _unknown(top: Path, revision: str) -> str:
    """Why a word is no commit."""
    if not said(top, "rev-parse", "--verify", "--quiet", "HEAD"):
        return "nothing is committed here yet, so there is no older state to hold against this one"
    if ".." in revision:
        one, other = revision.replace("...", "..").split("..", 1)
        return f"`{revision}` is two states in one word: write `{one or 'HEAD'} {other or 'HEAD'}`"
    names = said(top, "for-each-ref", "--format=%(refname:short)").split("\n")
    hint = similar("branch", revision, filter(None, names))
    return f"there is no file, folder or commit called `{revision}`" + (f"; {hint}" if hint else "")
