"""`rigdsl git meaning`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from rigdsl.branches import meaning
from rigdsl.cli.reading import STDIN
from rigdsl.cli.streams import document, notice
from rigdsl.cli.trouble import Trouble
from rigdsl.reports.look import clean
from rigdsl.rig import Unread
from rigdsl.rig.readers import decoded
from rigdsl.syntax import parse
from rigdsl.text import Source

__all__ = ["command"]


@click.command("meaning")
@click.argument("file", metavar="FILE")
def command(file: str) -> int:
    """Print what a rig file says, one thing and one fact a line, in the order of their names.

    FILE may be `-`, standard input. Only of the file itself: what it uses is not read, so rows of sockets stay as they
    are written. A file that cannot be read is printed as it is, and why is said. `rigdsl git setup --meaning` makes
    `git diff` show rigs so; for what a change means on the night there is `rigdsl compare`.

    Example: rigdsl git meaning shows/friday.rig
    """
    data = sys.stdin.buffer.read() if file == STDIN else _data(file)
    name = file if file == STDIN else Path(file).name  # git hands over files of its own, in folders of no interest
    text = decoded(name, data)
    said = None if isinstance(text, Unread) else meaning(text)
    if said is None:
        notice(clean(f"`{name}` is shown as it is: {_why(text)}"))
    document(data if said is None else said.encode("utf-8"))
    return 0


def _data(file: str) -> bytes:
    path = Path(file)
    if not path.exists():
        raise Trouble(f"there is no file `{file}`")
    if path.is_dir():
        raise Trouble(f"`{file}` is a folder: name the file inside it")
    return path.read_bytes()


def _why(text: Source | Unread) -> str:
    """Why nothing is known of what a file says."""
    if isinstance(text, Unread):
        return text.message
    found = parse(text).findings
    if found:
        return f"line {found[0].place.from_position.line} cannot be read: {found[0].message}"
    return "laid out anew it would not say the same"
