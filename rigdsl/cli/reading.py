"""From the paths of a command line to shows: files, folders, the whole project, or standard input."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from rigdsl.cli.streams import notice
from rigdsl.cli.trouble import CANNOT, Trouble
from rigdsl.config import Config, config_of
from rigdsl.config.globs import fits
from rigdsl.packs import Packs, discover
from rigdsl.rig import DiskReader, Reader, Unread, project_root
from rigdsl.rig.readers import decoded
from rigdsl.show import Show, opened, today, typed
from rigdsl.syntax import headed
from rigdsl.text import Source

__all__ = ["STDIN", "Entry", "ended", "entries", "found_packs", "here", "one", "pack_option"]

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
    for refused in packs.refused:
        notice(f"the pack {refused.title} is left out: {refused.reason}")
    return packs


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
    if show.config.findings:
        said = sorted({finding.place.source.path for finding in show.config.findings})
        notice(f"not all of {' and '.join(f'`{path}`' for path in said)} can be followed: `rigdsl check` says why")
    return show


def here() -> Path:
    """The root of the project that the current folder is in."""
    return project_root(os.path.join(os.curdir, STDIN))


def entries(paths: Sequence[str], config: Config) -> list[Entry]:
    """The files that the paths mean, each once and by path: as named, those of a folder, or those of the project.

    `config` is that of the current folder: it may say which rigs the project has.

    Trouble where one is not there, or where there is no rig at all.
    """
    found: dict[str, Entry] = {}
    for path in paths or [str(here())]:
        inside = _swept(path) if os.path.isdir(path) else [path]
        if not paths and config.rigs is not None:
            inside = [one for one in inside if any(fits(config.within(one), pattern) for pattern in config.rigs)]
        for entry in map(_entry, inside):
            _require(entry)
            found.setdefault(entry.reader.same(entry.path), entry)
    if not found:
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
