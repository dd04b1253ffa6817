"""`rigdsl start`."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path

import click

from rigdsl.cli.reading import STDIN
from rigdsl.cli.streams import notice, write
from rigdsl.cli.trouble import Trouble
from rigdsl.reports.look import clean
from rigdsl.rig import DiskReader, Unread, typed
from rigdsl.rig.readers import decoded
from rigdsl.rig.units import counted
from rigdsl.start import (
    BAND,
    BAND_SHOW,
    FIRST_SHOW,
    HEADER,
    LARGEST_BYTES,
    BandList,
    ListError,
    Updated,
    band_list,
    beside,
    new_files,
    sheet_of,
    updated,
)
from rigdsl.text import Source

__all__ = ["command"]

RIBBON = "phantom can damage a ribbon microphone that needs none: be sure that it is off before one is plugged in"


@click.command("start")
@click.argument("folder", metavar="FOLDER")
@click.option(
    "--from", "source", metavar="LIST", help="The input list that a band sent, as .csv or .xlsx; `-` reads it."
)
def command(folder: str, source: str | None) -> int:
    """Start a project, from nothing or from a band's input list.

    FOLDER gets a first show, a venue and gear to change into your own. With --from, the rows of the list become the
    sources in shows/band.rig, and a newer list changes there only what has changed in it. No file that is there
    already is written over.

    Example: rigdsl start lantern-hall --from list.csv
    """
    _require_place(folder)
    if source is None:
        _begin(Path(folder), new_files(band=False))
        _tell_next(folder, FIRST_SHOW)
    else:
        _take_in(Path(folder), _read(source))
        _tell_next(folder, *_shows(Path(folder)))
    return 0


def _require_place(folder: str) -> None:
    """Say before anything is written if it cannot be."""
    if not folder:
        raise Trouble("FOLDER is empty: name the folder of the project")
    for place in (BAND, ".ci/check.sh", "gear/gear.rig", "venue/house.rig"):
        nearest = Path(folder, place).parent
        while not os.path.lexists(nearest) and nearest != nearest.parent:
            nearest = nearest.parent
        if not nearest.is_dir():
            raise Trouble(f"`{nearest}` is a file, and a folder is needed there")
        if not os.access(nearest, os.W_OK):
            raise Trouble(f"`{nearest}` cannot be written to")


def _take_in(root: Path, found: BandList) -> None:
    """The rows of a list into a new project, or on top of an earlier list."""
    if os.path.lexists(root / BAND):
        _renew(root, found)
    else:
        files = new_files(band=True)
        made = _made(found, HEADER, beside({**files, **_rigs(root), BAND: ""}, BAND)[1])
        _begin(root, {**files, BAND: made.text})
        _count(root, made, found)
    if any(item.guess.type == "ribbon" for item in found.items):
        notice(RIBBON)


def _begin(root: Path, files: dict[str, str]) -> None:
    """Write what is not there yet."""
    real = Path(os.path.realpath(root))
    in_git = any((folder / ".git").exists() for folder in (real, *real.parents))
    if in_git and not os.path.lexists(root / ".gitattributes"):
        notice("this is a git repository: `rigdsl git setup`, once in each clone, has rigs merged by what they say")
    for path, text in sorted(files.items()):
        target = root / path
        if os.path.lexists(target):
            click.echo(f"left as it is: {typed(str(target))}")
        else:
            write(target, text.encode("utf-8"))
            click.echo(f"written: {typed(str(target))}")


def _read(source: str) -> BandList:
    """The list; all that a person must know of it is told."""
    name = "standard input" if source == STDIN else source
    try:
        found = band_list(sheet_of(_bytes(source)))
    except ListError as why:
        raise Trouble(f"`{name}` cannot be read as a list: {clean(str(why))}") from None
    except ModuleNotFoundError as missing:
        if missing.name != "openpyxl":
            raise
        raise Trouble("a workbook needs `openpyxl`, which is not installed: `pip install 'rigdsl[papers]'`") from None
    for line in found.told:
        notice(clean(f"{name}: {line}"))
    return found


def _bytes(source: str) -> bytes:
    if source == STDIN:
        return sys.stdin.buffer.read(LARGEST_BYTES + 1)
    if not os.path.exists(source):
        raise Trouble(f"there is no file `{source}`")
    if os.path.isdir(source):
        raise Trouble(f"`{source}` is a folder: --from takes a file")
    with open(source, "rb") as file:
        return file.read(LARGEST_BYTES + 1)


def _renew(root: Path, found: BandList) -> None:
    """A newer list on top of what is there: the file keeps its line ends, and is not written where nothing changes."""
    path = root / BAND
    data = path.read_bytes()
    there = decoded(typed(str(path)), data)
    if isinstance(there, Unread):
        raise Trouble(f"{there.message}; {there.help}")
    made = _made(found, there.text, beside(_rigs(root), BAND)[1], there.path)
    if made.text != there.text:
        write(path, _as_before(made.text, data))
    for line in made.told:
        notice(clean(line))
    _count(root, made, found)


def _as_before(text: str, data: bytes) -> bytes:
    """A text in the form that the file had: its line ends, and its byte order mark."""
    ends = "\r\n" if b"\r\n" in data else "\n"
    mark = b"\xef\xbb\xbf" if data.startswith(b"\xef\xbb\xbf") else b""
    return mark + text.replace("\n", ends).encode("utf-8")


def _made(found: BandList, text: str, taken: frozenset[str], path: str = BAND) -> Updated:
    try:
        return updated(path, text, found.rows, taken)
    except ValueError as why:
        raise Trouble(f"{why}: `rigdsl check {path}` says what is wrong; nothing was changed") from None


def _rigs(root: Path) -> dict[str, str]:
    """The rig files of the project, by their path in it."""
    reader = DiskReader(Path(os.path.realpath(root)))
    read = ((path.relative_to(root).as_posix(), reader.read(str(path))) for path in _swept(root))
    return {path: file.text for path, file in read if isinstance(file, Source)}


def _swept(root: Path) -> Iterator[Path]:
    for here, folders, files in os.walk(root):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield from (Path(here, name) for name in sorted(files) if name.endswith(".rig"))


def _shows(root: Path) -> tuple[str, ...]:
    """The shows that use the band's file; where none does, that is told."""
    shows, _ = beside(_rigs(root), BAND)
    if not shows:
        notice(f'no show uses `{BAND}` yet: write `use "band.rig"` into {BAND_SHOW} or another')
    return shows


def _count(root: Path, made: Updated, found: BandList) -> None:
    """How much of the list is new, and how much is a guess."""
    guesses = sum(bool(item.guess.because) for item in found.items)
    click.echo(
        f"{typed(str(root / BAND))}: {counted(len(found.items), 'source')} in the list,"
        f" the {'type' if guesses == 1 else 'types'} of {guesses} guessed (`# guessed` says from what)"
    )
    click.echo(f"{made.new} new, {made.changed} changed, {made.gone} gone, {made.unchanged} unchanged")


def _tell_next(folder: str, *shows: str) -> None:
    """What to do now."""
    click.echo(f"next: rigdsl check {typed(folder)}")
    for show in shows:
        path = typed(os.path.join(folder, show))
        click.echo(f"      rigdsl draw {path} --out made")
        click.echo(f"      rigdsl papers {path} --out made")
