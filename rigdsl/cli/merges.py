"""A merge in a git repository, made or still under way: its branches, and what it makes that none of them has."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from rigdsl.cli.commits import CommitReader, commit_of
from rigdsl.cli.git_calls import git, said, top_of
from rigdsl.cli.trouble import Trouble
from rigdsl.cli.versions import rigs_in, show_in, side_of
from rigdsl.config import config_of
from rigdsl.packs import Packs
from rigdsl.review.items import Standing, place_of, standing
from rigdsl.review.merge import MergeFinding, Part, merge_findings, new_fields
from rigdsl.rig import DiskReader, Reader, project_root
from rigdsl.show import typed
from rigdsl.syntax.tokens import scan
from rigdsl.text import Span

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
    def brought(self) -> tuple[tuple[str, ...], ...]:
        """The commits that each branch has and the base has not, the last one first."""
        less = [f"^{self.base}"] if self.base else []
        return tuple(tuple(said(self.top, "rev-list", branch, *less).split()) for branch in self.branches)


def merge_of(revision: str, rig: str) -> Merge:
    """The merge that a commit is; without one the merge that is under way, else the last commit."""
    root = project_root(rig or os.path.join(os.curdir, "-"))
    top = top_of(root)
    if top is None:
        raise Trouble("there is no git repository here, and so no merge")
    other = _under_way(top)
    if other and not revision:
        _require_settled(top)
        state, branches = "", (commit_of(top, "HEAD"), *other)
    else:
        state = commit_of(top, revision or "HEAD")
        branches = tuple(said(top, "rev-list", "--parents", "-n", "1", state).split()[1:])
    if len(branches) < 2:
        raise Trouble(_no_merge(revision, under_way=bool(other)))
    base = said(top, "merge-base", "--octopus", *branches)
    here = not state or state == commit_of(top, "HEAD")
    names = tuple(_name(top, branch, is_current=here and not at) for at, branch in enumerate(branches))
    return Merge(top, branches, names, base, state)


def _no_merge(revision: str, *, under_way: bool) -> str:
    if under_way:
        return f"`{revision}` is no merge; one is under way: leave `{revision}` out to look at that"
    what = f"`{revision}`" if revision else "the last commit"
    rest = "after a rebase, `rigdsl compare ORIG_HEAD HEAD` tells what has changed"
    return f"{what} is no merge, and none is under way: name the commit of a merge; {rest}"


def _under_way(top: Path) -> tuple[str, ...]:
    """The commits that are being merged into the last one."""
    path = said(top, "rev-parse", "--git-path", "MERGE_HEAD")
    try:
        return tuple((top / path).read_text("ascii").split()) if path else ()
    except (OSError, UnicodeDecodeError):
        return ()


def _require_settled(top: Path) -> None:
    listed = (git(top, "ls-files", "--unmerged", "-z") or b"").decode("utf-8", "replace").split("\0")
    open_ones = list(dict.fromkeys(line.partition("\t")[2] for line in listed if line))
    if open_ones:
        names = ", ".join(f"`{typed(str(top / name))}`" for name in open_ones[:3])
        what = f"{names} still {'holds' if len(open_ones) == 1 else 'hold'} both texts"
        raise Trouble(f"the merge is not settled yet: {what}; settle that and `git add` it first")


def _name(top: Path, commit: str, *, is_current: bool) -> str:
    """What people call a branch: its own name where one ends there or it is checked out, else its commit."""
    if is_current:
        current = said(top, "symbolic-ref", "--short", "--quiet", "HEAD")
        if current:
            return current
    branches = ("--format=%(refname:short)", "refs/heads", "refs/remotes")
    ending = said(top, "for-each-ref", f"--points-at={commit}", *branches)
    return ending.split("\n")[0] or commit[:9]


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
            commits = (merge.base, *merge.branches)
            before = (show_in(path, reader(commit), config) if commit else None for commit in commits)
            base, *branches = map(side_of, before)
            places = [standing(side.rig, side.own) for side in branches]
            yield path, tuple(_dated(merge, one, places) for one in merge_findings(base, branches, show.side))


Places = Sequence[Standing]  # of each branch, where its things stand in its own files


def _dated(merge: Merge, one: MergeFinding, places: Places) -> MergeFinding:
    return replace(one, parts=tuple(_with_commit(merge, part, places) for part in one.parts))


def _with_commit(merge: Merge, part: Part, places: Places) -> Part:
    """With the commit of its branch that changed its statement last; none where git does not say."""
    change = part.change
    place = place_of(places[part.branch], change.what, change.name, new_fields(change))
    inside = Path(os.path.realpath(place.source.path)) if place else merge.top
    if place is None or merge.top not in inside.parents:
        return part
    first, last = _lines(place)
    file = inside.relative_to(merge.top).as_posix()
    words = ("blame", "--porcelain", "--no-textconv", f"-L{first},{last}", merge.branches[part.branch], "--", file)
    told = {line.split(" ", 1)[0] for line in said(merge.top, *words).split("\n")}
    commit = next((commit for commit in merge.brought[part.branch] if commit in told), "")
    if not commit:
        return part
    return replace(part, commit=commit, summary=said(merge.top, "show", "--no-patch", "--format=%s", commit))


def _lines(place: Span) -> tuple[int, int]:
    """The first and the last line of the statement that has its name at a place."""
    source = place.source
    first = last = source.position(place.start).line
    depth = 0
    for token in scan(source.text, source.line_starts[first - 1]):
        depth += (token.kind == "_OPEN") - (token.kind == "_CLOSE")
        last = source.position(token.start).line
        if token.text == "\n" and depth <= 0:
            break
    return first, last
