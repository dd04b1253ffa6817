"""Two states of rigs to hold against each other: files, folders, or commits of a git repository."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from rigdsl.cli.commits import CommitReader, commit_of
from rigdsl.cli.git_calls import git, said, top_of, why_none
from rigdsl.cli.reading import entries, one
from rigdsl.cli.trouble import Trouble
from rigdsl.config import Config, config_of
from rigdsl.packs import Packs
from rigdsl.review.review import ABSENT, Review, Side, review, texts_of
from rigdsl.rig import DiskReader, Reader, Unread, project_root
from rigdsl.show import Show, opened, today, typed
from rigdsl.syntax import headed

__all__ = ["Pair", "pairs_of", "rigs_in", "show_in", "side_of"]


@dataclass(frozen=True)
class Pair:
    """A rig in two states, None where there is none."""

    title: str
    old: Show | None
    new: Show | None

    @cached_property
    def review(self) -> Review:
        """What is otherwise in the new state; where all texts are the same, no rule is asked."""
        if self.old and self.new and texts_of(self.old.sources) == texts_of(self.new.sources):
            same = Side(self.new.rig, self.new.paths, self.new.sources, ())
            return review(same, same)
        return review(side_of(self.old), side_of(self.new))


def side_of(show: Show | None) -> Side:
    """A show as one state of a rig; of none, that of no rig."""
    return show.side if show else ABSENT


def pairs_of(arguments: Sequence[str], packs: Packs) -> list[Pair]:
    """The rigs that the words of the command line mean, each in both states."""
    first, *rest = arguments
    if len(rest) == 1 and _is_path(first) and _is_path(rest[0]):
        return list(_on_disk(first, rest[0], packs))
    if _is_path(first) and not said(os.curdir, "rev-parse", "--verify", "--quiet", "--end-of-options", first):
        raise Trouble(_path_first(first, rest))
    revisions, paths = [first], list(rest)
    if paths and not _is_path(paths[0]):
        revisions.append(paths.pop(0))
    if len(paths) > 1:
        what = "name two files, two folders, or one or two commits and then one rig"
        raise Trouble(f"{what}; a branch that is called like a file or folder is `heads/{paths[0]}`")
    return list(_in_git(revisions, paths[0] if paths else "", packs))


def _is_path(word: str) -> bool:
    """A word that means a file or folder, be it there or not."""
    return os.path.exists(word) or word.endswith(".rig")


def _path_first(path: str, rest: Sequence[str]) -> str:
    """What is wrong where a file or folder comes first and is not held against another."""
    commits = " ".join([word for word in rest if not _is_path(word)] or ["HEAD"])
    right = f"`rigdsl compare {commits} {path}`"
    if rest:
        return f"the commits come first, and the rig behind them: {right}"
    return f"`{path}` is one state: name what it is held against, another one or a commit, as {right}"


# ---- files and folders


def _on_disk(old: str, new: str, packs: Packs) -> Iterator[Pair]:
    if os.path.isdir(old) != os.path.isdir(new):
        raise Trouble(f"`{old}` and `{new}` are a file and a folder: name two of one kind")
    if not os.path.isdir(old):
        yield Pair(typed(new), one(old, packs), one(new, packs))
        return
    ours, theirs = (_rigs(folder, packs) for folder in (old, new))
    for name in sorted(ours.keys() | theirs.keys()):
        before, now = (one(some[name], packs) if name in some else None for some in (ours, theirs))
        yield Pair(name, before, now)


def _rigs(folder: str, packs: Packs) -> dict[str, str]:
    """The rigs of a folder, by their way from it."""
    root = project_root(os.path.join(folder, "-"))
    config = config_of(root, packs)
    here = [entry.path for entry in entries([folder], config) if entry.is_rig]
    return {_from(path, folder): path for path in here}


def _from(path: str, folder: str) -> str:
    """A path from a folder on, with `/`."""
    return os.path.relpath(path, folder).replace(os.sep, "/")


# ---- commits


def _in_git(revisions: Sequence[str], rig: str, packs: Packs) -> Iterator[Pair]:
    root = project_root(os.path.join(os.path.dirname(rig) or os.curdir, "-"))  # a link may lead out of it
    folder = top_of(root)
    if folder is None:
        missing = f"there is no file or folder `{revisions[0]}`"
        why = why_none(root)
        reason = f"git cannot be asked for a commit: {why}" if why else ""
        raise Trouble(f"{missing}, and {reason or 'no git repository here that could have a commit of that name'}")
    commits = [commit_of(folder, revision) for revision in revisions]
    config = config_of(root, packs)
    readers: list[Reader] = [CommitReader(folder, commit, Path(os.path.realpath(root))) for commit in commits]
    readers += [DiskReader(Path(os.path.realpath(root)))] if len(readers) == 1 else []
    one_rig = bool(rig) and not os.path.isdir(rig)
    rigs = [typed(rig)] if one_rig else [path for path in rigs_in(readers, root, config) if _is_in(path, rig)]
    was = {} if one_rig else _other_names(folder, commits)
    for path in (path for path in rigs if path not in was.values()):
        old, new = (
            show_in(name, reader, config) for name, reader in zip((was.get(path, path), path), readers, strict=True)
        )
        if old is None and new is None and one_rig:
            raise Trouble(_no_rig(path))
        if old is not None or new is not None:
            yield Pair(f"{path}, was {was[path]}" if path in was else path, old, new)


def _is_in(path: str, folder: str) -> bool:
    return not folder or f"{typed(folder)}/" in f"{path}/" or typed(folder) == "."


def _no_rig(path: str) -> str:
    if os.path.exists(path):
        return f"`{path}` has no `rig` head: it is a library, and is compared inside the rigs that use it"
    return f"there is no rig `{path}` in either state"


def _other_names(top: Path, commits: Sequence[str]) -> dict[str, str]:
    """Rig files that git knows under another name: the old one by the new one, as a user types them."""
    words = ("diff-tree", "-r") if len(commits) == 2 else ("diff-index",)
    told = git(top, *words, "--name-status", "--find-renames", "--diff-filter=R", "-z", *commits, "--", "*.rig") or b""
    names = told.decode("utf-8", "replace").split("\0")
    paths = [typed(str(top / name)) for at, name in enumerate(names[:-1]) if at % 3]
    return dict(zip(paths[1::2], paths[::2], strict=True))


def rigs_in(readers: Sequence[Reader], root: Path, config: Config) -> list[str]:
    """The rigs that a project has in any of these states."""
    found = {path for reader in readers if isinstance(reader, CommitReader) for path in reader.rigs}
    if any(isinstance(reader, DiskReader) for reader in readers):
        found |= {entry.path for entry in entries([str(root)], config)}
    return sorted(found)


def show_in(path: str, reader: Reader, config: Config) -> Show | None:
    """The rig in one state; nothing where it is not there, or is a library there. What cannot be read is told in it."""
    start = reader.read(path)
    if start.rule == "file-missing" if isinstance(start, Unread) else not headed(start):
        return None
    return opened(path, reader, config.packs, today(), config)
