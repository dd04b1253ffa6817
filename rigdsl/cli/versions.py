"""Two states of rigs to hold against each other: files, folders, or commits of a git repository."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from rigdsl.cli.commits import CommitReader, commit_of, top_of
from rigdsl.cli.reading import entries, one
from rigdsl.cli.trouble import Trouble
from rigdsl.config import Config, config_of
from rigdsl.packs import Packs
from rigdsl.review.review import ABSENT, Review, Side, review
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
        """What is otherwise in the new state."""
        return review(side_of(self.old), side_of(self.new))


def side_of(show: Show | None) -> Side:
    """A show as one state of a rig; of none, that of no rig."""
    return show.side if show else ABSENT


def pairs_of(arguments: Sequence[str], packs: Packs) -> list[Pair]:
    """The rigs that the words of the command line mean, each in both states."""
    first, *rest = arguments
    if rest and os.path.exists(first) and os.path.exists(rest[-1]) and len(rest) == 1:
        return list(_on_disk(first, rest[0], packs))
    revisions, paths = [first], list(rest)
    if paths and not os.path.exists(paths[0]):
        revisions.append(paths.pop(0))
    if len(paths) > 1:
        raise Trouble("name two files, two folders, or one or two commits and then one rig")
    return list(_in_git(revisions, paths[0] if paths else "", packs))


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
    root = project_root(rig or os.path.join(os.curdir, "-"))
    folder = top_of(root)
    if folder is None:
        missing = f"there is no file or folder `{revisions[0]}`"
        raise Trouble(f"{missing}, and no git repository here that could have a commit of that name")
    commits = [commit_of(folder, revision) for revision in revisions]
    config = config_of(root, packs)
    readers: list[Reader] = [CommitReader(folder, commit, Path(os.path.realpath(root))) for commit in commits]
    readers += [DiskReader(Path(os.path.realpath(root)))] if len(readers) == 1 else []
    rigs = [typed(rig)] if rig else rigs_in(readers, root, config)
    for path in rigs:
        old, new = (show_in(path, reader, config) for reader in readers)
        if old is None and new is None and rig:
            raise Trouble(f"there is no rig `{path}` in either state")
        if old is not None or new is not None:
            yield Pair(path, old, new)


def rigs_in(readers: Sequence[Reader], root: Path, config: Config) -> list[str]:
    """The rigs that a project has in any of these states."""
    found = {path for reader in readers if isinstance(reader, CommitReader) for path in reader.rigs}
    if any(isinstance(reader, DiskReader) for reader in readers):
        found |= {entry.path for entry in entries([str(root)], config)}
    return sorted(found)


def show_in(path: str, reader: Reader, config: Config) -> Show | None:
    """The rig in one state; nothing where it is not there, or is a library there."""
    start = reader.read(path)
    if isinstance(start, Unread) or not headed(start):
        return None
    return opened(path, reader, config.packs, today(), config)
