"""Load a rig: its files, the libraries beside them, and what they make together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from rigdsl.rig.project import Project, gather
from rigdsl.rig.readers import DictReader, Reader
from rigdsl.rig.resolve import resolve
from rigdsl.rig.rig import Rig
from rigdsl.text import Source, normalised

__all__ = ["Loaded", "library", "load", "read"]

USER, PACK, STANDARDS = 0, 1, 2


@dataclass(frozen=True)
class Loaded:
    """A rig and the files that it is made of, the entry first; the standards' files are not among them."""

    rig: Rig
    sources: tuple[Source, ...]


@cache
def library() -> tuple[Source, ...]:
    """The open standards that come with rigdsl, in the rig language."""
    folder = Path(__file__).parent.parent / "library"
    found = sorted(folder.glob("*.rig"), key=lambda entry: entry.name)
    return tuple(Source(f"rigdsl/library/{entry.name}", normalised(entry.read_text("utf-8"))) for entry in found)


def load(entry: str, reader: Reader, libraries: Iterable[Source] = ()) -> Loaded:
    """The rig whose head stands in the file `entry`. Never raises for what a user wrote; see `Loaded.rig.findings`.

    `libraries` are gear files of packs: the user's own definitions beat them, and they beat the standards.
    """
    shelves = [(source, PACK) for source in libraries] + [(source, STANDARDS) for source in library()]
    project: Project = gather(entry, reader, shelves)
    sources = tuple(file.source for file in project.files.values() if file.shelf == USER)
    return Loaded(resolve(project), sources)


def read(text: str, **more_files: str) -> Rig:
    """The rig of a text, with the standards; `more_files` are other files by name, `house="..."` for `house.rig`."""
    extra = {f"{name}.rig": content for name, content in more_files.items()}
    return load("test.rig", DictReader({"test.rig": text} | extra)).rig
