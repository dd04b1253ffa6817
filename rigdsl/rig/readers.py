"""Where files come from: the disk, memory, or a reader of a caller's own. What cannot be read is told, not raised."""

from __future__ import annotations

import codecs
import os
import posixpath
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from rigdsl.finding import near
from rigdsl.rig.amounts import clipped
from rigdsl.text import Source, normalised

__all__ = ["DictReader", "DiskReader", "Reader", "Unread", "project_root", "typed"]

LARGEST_FILE_BYTES = 64 * 1024 * 1024


@dataclass(frozen=True)
class Unread:
    """Why a file could not be read: the rule that says so, and the words."""

    rule: str
    message: str
    help: str


class Reader(Protocol):
    """Reads files by their path as the user would type it, with `/`."""

    def read(self, path: str) -> Source | Unread:
        """The file's text, or why there is none."""
        ...

    def same(self, path: str) -> str:
        """One name for one file, however its path is spelled."""
        ...


@dataclass(frozen=True)
class DictReader:
    """Files in memory, for tests and editors."""

    files: Mapping[str, str]

    def read(self, path: str) -> Source | Unread:
        """The text kept under that path."""
        if path.startswith(("/", "..")):
            return _outside(path)
        if path in self.files:
            return Source(path, normalised(self.files[path]))
        return _missing(path, self.files)

    def same(self, path: str) -> str:
        """The path itself."""
        return path


@dataclass(frozen=True)
class DiskReader:
    """Files below a folder of the disk; nothing outside `root` is read."""

    root: Path

    def read(self, path: str) -> Source | Unread:
        """The file's text, or why there is none."""
        try:
            return self._read(path)
        except PermissionError:
            return Unread(
                "unreadable-file", f"`{_named(path)}` may not be read", "ask its owner for permission to read it"
            )
        except (OSError, ValueError) as error:
            return _impossible(path, error)

    def _read(self, path: str) -> Source | Unread:
        real = Path(os.path.realpath(path))
        if real != self.root and self.root not in real.parents:
            return _outside(path)
        if real.is_dir():
            return Unread("unreadable-file", f"`{_named(path)}` is a folder, not a file", "name the file inside it")
        if not real.is_file():
            return _missing(path, _neighbours(path, real)) if not real.exists() else _special(path)
        if real.stat().st_size > LARGEST_FILE_BYTES:
            return Unread(
                "unreadable-file", f"`{_named(path)}` is larger than 64 MiB", "a rig is a text of some kilobytes"
            )
        return decoded(path, real.read_bytes())

    def same(self, path: str) -> str:
        """The real path, symbolic links followed."""
        try:
            return os.path.realpath(path)
        except (OSError, ValueError):
            return path


def decoded(path: str, data: bytes) -> Source | Unread:
    """Bytes as text: UTF-8, or why not."""
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return Unread(
            "unreadable-file", f"`{_named(path)}` is in UTF-16, not in UTF-8", "save it as UTF-8 in your text editor"
        )
    if b"\0" in data[:65536]:
        return Unread("unreadable-file", f"`{_named(path)}` is no text file", "a rig is a plain text, saved as UTF-8")
    try:
        return Source(path, normalised(data.decode("utf-8")))
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        message = f"`{_named(path)}` is not in UTF-8: line {line} has a character in another encoding"
        return Unread("unreadable-file", message, "save it as UTF-8 in your text editor")


def project_root(entry: str) -> Path:
    """The nearest parent folder with `rig.toml` or `.git`, else the file's own folder."""
    folder = Path(os.path.realpath(entry)).parent
    for candidate in (folder, *folder.parents):
        if (candidate / "rig.toml").exists() or (candidate / ".git").exists():
            return candidate
    return folder


def typed(path: str) -> str:
    """A path as reports say it: relative to the current folder, with `/`, on every system."""
    try:
        path = os.path.relpath(path)
    except ValueError:  # another drive
        path = os.path.abspath(path)
    return path.replace(os.sep, "/")


def beside(using: str, used: str) -> str:
    """The path of a used file, relative to the file that uses it."""
    return posixpath.normpath(posixpath.join(posixpath.dirname(using), used))


def _named(path: str) -> str:
    return clipped(path, 200)


def _outside(path: str) -> Unread:
    message = f"`{_named(path)}` lies outside the project"
    return Unread("outside-project", message, "copy it into the project: a rig uses only files of its own project")


def _missing(path: str, near_by: Mapping[str, str] | list[str]) -> Unread:
    by_stem = {_stem(name): name for name in near_by}
    found = near(_stem(path), by_stem)
    hint = f"there is a file with a similar name: `{by_stem[found]}`" if found else ""
    return Unread(
        "file-missing", f"there is no file `{_named(path)}`", hint or "paths are relative to the file that uses them"
    )


def _stem(path: str) -> str:
    return posixpath.basename(path).removesuffix(".rig")


def _impossible(path: str, error: OSError | ValueError) -> Unread:
    reason = (getattr(error, "strerror", "") or "no file can be called that").lower()
    return Unread("unreadable-file", f"`{_named(path)}` cannot be read: {reason}", "check the disk and the path")


def _special(path: str) -> Unread:
    return Unread("unreadable-file", f"`{_named(path)}` is no ordinary file", "a rig is a plain text file")


def _neighbours(path: str, real: Path) -> list[str]:
    try:
        return sorted(entry.name for entry in real.parent.iterdir() if entry.suffix == ".rig")
    except OSError:
        return []
