"""A merge in a git repository, made or still under way: its branches, and what it makes that none of them has."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from rigdsl.cli.commits import CommitReader, commit_of, git, top_of
from rigdsl.cli.trouble import Trouble
from rigdsl.cli.versions import rigs_in, show_in, side_of
from rigdsl.config import config_of
from rigdsl.packs import Packs
from rigdsl.review.merge import MergeFinding, Part, merge_findings
from rigdsl.rig import DiskReader, Reader, project_root
from rigdsl.show import typed

__all__ = ["Merge", "findings_of", "merge_of"]


@dataclass(frozen=True)
class Merge:
    """Branches by their last commits and by their names; `state` is the merge's commit, empty while it is under way.

    `base` is what the branches have in common, empty where that is nothing.
    """

    top: Path
    branches: tuple[str, ...]
    names: tuple[str, ...]
    base: str
    state: str = ""

    @cached_property
    def brought(self) -> tuple[frozenset[str], ...]:
        """The commits that each branch has and the base has not."""
        less = [f"^{self.base}"] if self.base else []
        lists = (git(self.top, "rev-list", branch, *less) or b"" for branch in self.branches)
        return tuple(frozenset(listed.decode("ascii", "replace").split()) for listed in lists)


def merge_of(revision: str, rig: str) -> Merge:
    """The merge that a commit is; without one the merge that is under way, else the last commit."""
    root = project_root(rig or os.path.join(os.curdir, "-"))
    top = top_of(root)
    if top is None:
        raise Trouble("there is no git repository here, and so no merge")
    other = () if revision else _under_way(top)
    if other:
        _require_settled(top)
        state, branches = "", (commit_of(top, "HEAD"), *other)
    else:
        state = commit_of(top, revision or "HEAD")
        branches = tuple(_said(top, "rev-list", "--parents", "-n", "1", state).split()[1:])
    if len(branches) < 2:
        what = f"`{revision}`" if revision else "the last commit"
        raise Trouble(f"{what} is no merge, and none is under way: name the commit of a merge")
    base = _said(top, "merge-base", "--octopus", *branches)
    here = not state or state == commit_of(top, "HEAD")
    names = tuple(_name(top, branch, is_current=here and not at) for at, branch in enumerate(branches))
    return Merge(top, branches, names, base, state)


def _under_way(top: Path) -> tuple[str, ...]:
    """The commits that are being merged into the last one."""
    path = _said(top, "rev-parse", "--git-path", "MERGE_HEAD")
    try:
        return tuple((top / path).read_text("ascii").split()) if path else ()
    except (OSError, UnicodeDecodeError):
        return ()


def _require_settled(top: Path) -> None:
    listed = (git(top, "diff", "--name-only", "--diff-filter=U", "-z") or b"").decode("utf-8", "replace")
    open_ones = [name for name in listed.split("\0") if name]
    if open_ones:
        names = ", ".join(f"`{name}`" for name in open_ones[:3])
        raise Trouble(
            f"the merge is not settled yet: {names} still holds both texts; settle that and `git add` it first"
        )


def _name(top: Path, commit: str, *, is_current: bool) -> str:
    """What people call a branch: its own name where one ends there or it is checked out, else its commit."""
    if is_current:
        current = _said(top, "symbolic-ref", "--short", "--quiet", "HEAD")
        if current:
            return current
    ending = _said(
        top, "for-each-ref", f"--points-at={commit}", "--format=%(refname:short)", "refs/heads", "refs/remotes"
    )
    return ending.split("\n")[0] or commit[:9]


def _said(top: Path, *words: str) -> str:
    return (git(top, *words) or b"").decode("utf-8", "replace").strip()


# ---- what it makes


def findings_of(merge: Merge, rig: str, packs: Packs) -> Iterator[tuple[str, tuple[MergeFinding, ...]]]:
    """Each rig with what only the merge makes of it, the commits of what brought it about filled in."""
    root = Path(os.path.realpath(project_root(rig or os.path.join(os.curdir, "-"))))
    config = config_of(root, packs)

    def reader(commit: str) -> Reader:
        return CommitReader(merge.top, commit, root) if commit else DiskReader(root)

    merged = reader(merge.state)
    for path in [typed(rig)] if rig else rigs_in([merged], root, config):
        show = show_in(path, merged, config)
        if show is None and rig:
            raise Trouble(f"there is no rig `{path}` in what was merged")
        if show is not None:
            before = [
                show_in(path, reader(commit), config) if commit else None for commit in (merge.base, *merge.branches)
            ]
            base, *branches = map(side_of, before)
            yield path, tuple(_dated(merge, one) for one in merge_findings(base, branches, show.side))


def _dated(merge: Merge, one: MergeFinding) -> MergeFinding:
    return replace(one, parts=tuple(_with_commit(merge, part) for part in one.parts))


def _with_commit(merge: Merge, part: Part) -> Part:
    """With the commit of its branch that its line came with; else the last one that touched the file."""
    if part.place is None:
        return part
    inside = Path(os.path.realpath(part.place.source.path))
    if merge.top not in inside.parents:
        return part
    file = inside.relative_to(merge.top).as_posix()
    line = part.place.source.position(part.place.start).line
    state = [merge.state] if merge.state else []
    told = _said(merge.top, "blame", "--porcelain", f"-L{line},{line}", *state, "--", file)
    commit = told.split(" ", 1)[0]
    if commit not in merge.brought[part.branch]:
        less = [f"^{merge.base}"] if merge.base else []
        commit = _said(merge.top, "rev-list", "-n", "1", merge.branches[part.branch], *less, "--", file)
    if not commit:
        return part
    return replace(part, commit=commit, summary=_said(merge.top, "show", "--no-patch", "--format=%s", commit))
