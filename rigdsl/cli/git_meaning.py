"""`rigdsl git meaning`."""

from __future__ import annotations

from pathlib import Path

import click

from rigdsl.branches import meaning
from rigdsl.cli.streams import document
from rigdsl.cli.trouble import Trouble
from rigdsl.rig import Unread
from rigdsl.rig.readers import decoded

__all__ = ["command"]


@click.command("meaning")
@click.argument("file", metavar="FILE")
def command(file: str) -> int:
    """Print what a rig file says, one thing and one fact a line, in the order of their names.

    Only of the file itself: what it uses is not read, so rows of sockets stay as they are written. A file that cannot
    be read is printed as it is. `rigdsl git setup --meaning` makes `git diff` show rigs so; for what a change means on
    the night there is `rigdsl compare`.

    Example: rigdsl git meaning shows/friday.rig
    """
    path = Path(file)
    if not path.exists():
        raise Trouble(f"there is no file `{file}`")
    if path.is_dir():
        raise Trouble(f"`{file}` is a folder: name the file inside it")
    data = path.read_bytes()
    text = decoded(file, data)
    said = None if isinstance(text, Unread) else meaning(text)
    document(data if said is None else said.encode("utf-8"))
    return 0
