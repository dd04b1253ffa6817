"""From the paths of a command line to shows: files, folders, the whole project, or standard input."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from rigdsl.cli.streams import notice
from rigdsl.cli.trouble import CANNOT, Trouble
from rigdsl.config import Config, config_of
from rigdsl.config.globs import fits
from rigdsl.packs import Packs, Refused, discover
from rigdsl.rig import DiskReader, Reader, Unread, project_root
from rigdsl.rig.readers import decoded
from rigdsl.show import Show, opened, today, typed
from rigdsl.syntax import headed
from rigdsl.text import Source

__all__ = [
    "STDIN",
    "Entry",
    "ended",
    "entries",
    "found_packs",
    "here",
    "one",
    "pack_option",
    "settled",
    "whole_project",
]

STDIN = "-"
FOREIGN = ("node_modules", "__pycache__")  # folders that hold nobody's rigs
NO_RIG = 'there is no rig here: a rig is a text that ends in `.rig` and begins with `rig "TITLE" { }`'


@dataclass(frozen=True)
class StdinReader:
    """Standard input as the file `-`; what it uses is read from the disk, from the current folder on."""

    text: Source | Unread
    disk: DiskReader

    def read(self, path: str) -> Source | Unread:
        """The file's text, or why there is none."""
        return self.text if path == STDIN else self.disk.read(path)

    def same(self, path: str) -> str:
        """One name for one file."""
        return path if path == STDIN else self.disk.same(path)


@dataclass(frozen=True)
class Entry:
    """A file that may be a rig, by the path that reports say, and the reader that reads it and what it uses."""

    path: str
    reader: Reader
    root: Path

    @property
    def is_rig(self) -> bool:
        """Whether it has a head, or cannot be read (which must be told); else it is a library."""
        start = self.reader.read(self.path)
        return isinstance(start, Unread) or headed(start)

    def opened(self, packs: Packs, day: str, config: Config | None = None) -> Show:
        """Its show, as its project has it."""
        return opened(self.path, self.reader, packs, day, config or config_of(self.root, packs))


# A file on the command line is the only way to run code that is not installed: a rig and `rig.toml` cannot ask for it.
pack_option = click.option(
    "--pack", "pack_files", multiple=True, metavar="FILE", help="Use the pack in this Python file too, which is run."
)


def found_packs(files: Sequence[str] = ()) -> Packs:
    """The packs in use, those in the files among them; one that has to be left out is said aloud."""
    for path in files:
        if not os.path.isfile(path):
            raise Trouble(f"there is no file `{path}` to take a pack from")
    packs = discover(files=files)
    _tell_refused(packs.refused)
    return packs


def settled(packs: Packs) -> Config:
    """What the project of the current folder has set; what of it cannot be followed is said aloud."""
    config = config_of(here(), packs)
    _tell(config, packs)
    return config


def _tell(config: Config, packs: Packs) -> None:
    """Which of the packs that a project lists had to be left out, and whether anything else is wrong there."""
    _tell_refused(refused for refused in config.installed.refused if refused not in packs.refused)
    if config.findings:
        said = sorted({finding.place.source.path for finding in config.findings})
        notice(f"not all of {' and '.join(f'`{path}`' for path in said)} can be followed: `rigdsl check` says why")


def _tell_refused(refused: Iterable[Refused]) -> None:
    for one in refused:
        notice(f"the pack {one.title} is left out: {one.reason}")


def ended(packs: Packs, status: int = 0) -> int:
    """How a command ends that did the rest of its work: not well where a pack was left out."""
    return CANNOT if packs.refused else status


def one(path: str, packs: Packs) -> Show:
    """The show of one rig file, or of standard input. Trouble where it cannot be read."""
    entry = _entry(path)
    start = entry.reader.read(entry.path)
    if isinstance(start, Unread):
        raise _unread(start)
    show = entry.opened(packs, today())
    _tell(show.config, packs)
    return show


def here() -> Path:
    """The root of the project that the current folder is in."""
    return project_root(os.path.join(os.curdir, STDIN))


def whole_project(paths: Sequence[str]) -> Path | None:
    """The root of the project that the paths mean as a whole: no path at all, or its own folder."""
    if not paths:
        return here()
    if len(paths) > 1 or not os.path.isdir(paths[0]):
        return None
    root = project_root(os.path.join(paths[0], STDIN))
    return root if os.path.realpath(paths[0]) == os.path.realpath(root) else None


def entries(paths: Sequence[str], config: Config) -> list[Entry]:
    """The files that the paths mean, each once and by path: as named, those of a folder, or those of the project.

    `config` may say which rigs a project has; where it means none of those that are there, there is nothing to open.

    Trouble where one is not there, or where there is no rig at all.
    """
    found: dict[str, Entry] = {}
    left_out = False
    for path in paths or [str(here())]:
        inside = list(_swept(path)) if os.path.isdir(path) else [path]
        if config.rigs is not None:
            left_out = left_out or bool(inside)
            inside = [one for one in inside if any(fits(config.within(one), pattern) for pattern in config.rigs)]
        for entry in map(_entry, inside):
            if not os.path.isdir(path):  # one of a folder may be a link to nothing: that is told, and costs no other
                _require(entry)
            found.setdefault(entry.reader.same(entry.path), entry)
    if not found and not left_out:
        raise Trouble(NO_RIG)
    return sorted(found.values(), key=lambda entry: entry.path)


def _require(entry: Entry) -> None:
    start = entry.reader.read(entry.path)
    if isinstance(start, Unread) and start.rule == "file-missing":
        raise _unread(start)


def _unread(why: Unread) -> Trouble:
    """Why a named file is of no use; how `use` finds files is no help here."""
    missing = why.rule == "file-missing" and not why.help.startswith("there is")
    return Trouble(why.message if missing else f"{why.message}; {why.help}")


def _entry(path: str) -> Entry:
    shown = STDIN if path == STDIN else typed(path)
    disk = DiskReader(project_root(os.path.join(os.curdir, STDIN) if path == STDIN else shown))
    reader = StdinReader(_stdin(), disk) if path == STDIN else disk
    return Entry(shown, reader, disk.root)


def _stdin() -> Source | Unread:
    return decoded(STDIN, sys.stdin.buffer.read())


def _swept(folder: str) -> Iterator[str]:
    """The rig files of a folder and those below it; hidden folders and virtual environments are left alone."""
    for here, folders, files in os.walk(folder):
        folders[:] = sorted(
            name
            for name in folders
            if not name.startswith(".") and name not in FOREIGN and not Path(here, name, "pyvenv.cfg").exists()
        )
        yield from (os.path.join(here, name) for name in sorted(files) if name.endswith(".rig"))
