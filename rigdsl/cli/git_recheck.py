"""What is wrong with a merged rig and was on neither side: two sources on one socket, a trunk overfilled."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from rigdsl.cli.reading import entries, found_packs
from rigdsl.cli.trouble import Trouble
from rigdsl.config import Config, config_of
from rigdsl.finding import Level
from rigdsl.lint.order import worst_first
from rigdsl.packs import Packs
from rigdsl.reports.report import counted
from rigdsl.review.found import only_here
from rigdsl.rig import DiskReader, Unread, project_root
from rigdsl.show import Show, opened, today
from rigdsl.syntax import headed
from rigdsl.text import Source

__all__ = ["new_together"]

MOST = 3  # findings that are told one by one


@dataclass(frozen=True)
class Instead:
    """The disk, with another text in one of its files."""

    disk: DiskReader
    real: str
    text: str

    def read(self, path: str) -> Source | Unread:
        """The file's text, or why there is none."""
        return Source(path, self.text) if self.same(path) == self.real else self.disk.read(path)

    def same(self, path: str) -> str:
        """One name for one file."""
        return self.disk.same(path)


@dataclass(frozen=True)
class Project:
    """The project of the merged file, with all its other files as they are now."""

    path: str
    config: Config
    packs: Packs

    def show(self, rig: str, text: str) -> Show:
        """A rig with that text in the merged file."""
        disk = DiskReader(Path(os.path.realpath(project_root(self.path))))
        return opened(rig, Instead(disk, os.path.realpath(self.path), text), self.packs, today(), self.config)


def new_together(path: str, ours: str, theirs: str, both: str) -> Iterator[str]:
    """A line for each error or warning of the merged file that neither side had, read with the project around it."""
    root = project_root(path)
    packs = found_packs()
    config = config_of(root, packs)
    project = Project(path, config, config.packs)
    for rig in _rigs(project, root, both):
        found = worst_first(project.show(rig, both).findings())
        merged = only_here(found, ((project.show(rig, text).findings(), {}) for text in (ours, theirs)))
        new = [one for one in merged if (one.level or Level.ERROR) > Level.NOTE]
        for one in new[:MOST]:
            night = f"; on the night: {one.consequence}" if one.consequence else ""
            yield f"{rig}: merged, and wrong only together: {one.message} [{one.rule}]{night}"
        if new:
            more = f"{counted([(len(new) - MOST, 'finding')])} more; " if len(new) > MOST else ""
            where = f"`rigdsl check {rig}` says where, and how to mend it"
            yield f"{rig}: {more}{where}; `rigdsl compare --merge {rig}` says whose lines these are, after a merge"


def _rigs(project: Project, root: Path, text: str) -> list[str]:
    """The merged file itself; where it is a library, the rigs that use it."""
    if headed(Source(project.path, text)):
        return [project.path]
    try:
        found = [entry.path for entry in entries([str(root)], project.config) if entry.is_rig]
    except Trouble:  # there is no rig here
        return []
    real = os.path.realpath(project.path)
    return [rig for rig in found if any(os.path.realpath(one.path) == real for one in project.show(rig, text).sources)]
