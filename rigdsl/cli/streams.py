"""Where output goes: consoles of any kind, colour or none, files written whole or not at all."""

from __future__ import annotations

import errno
import os
import sys
from io import TextIOWrapper
from pathlib import Path

import click

__all__ = ["colour", "columns", "document", "notice", "shown", "steady", "write"]


def steady() -> None:
    """Let no character that a console cannot show end a command.

    A file or pipe gets UTF-8 unless the user chose an encoding; a console of another
    encoding shows `?` for what it does not have.
    """
    for stream in (sys.stdout, sys.stderr):
        if not isinstance(stream, TextIOWrapper):
            continue
        chosen = os.environ.get("PYTHONIOENCODING")
        if os.name == "nt" and not chosen and not stream.isatty():
            stream.reconfigure(encoding="utf-8", errors="replace")
        elif not chosen or ":" not in chosen:
            stream.reconfigure(errors="replace")


def colour() -> bool:
    """Whether standard output takes colour: by NO_COLOR, else FORCE_COLOR, else TERM=dumb, else if it is a terminal."""
    if os.environ.get("NO_COLOR"):
        return False
    if os.environ.get("FORCE_COLOR", "0") not in ("", "0"):
        return True
    return os.environ.get("TERM") != "dumb" and sys.stdout.isatty()


def columns() -> int | None:
    """The width of the terminal, or None where there is none: then nothing is wrapped."""
    if not sys.stdout.isatty():
        return None
    import shutil

    return max(shutil.get_terminal_size().columns, 40)


def shown(text: str) -> str:
    """Text as standard output can show it."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    return text.encode(encoding, "replace").decode(encoding, "replace")


def document(data: bytes) -> None:
    """A machine's document, exactly these bytes, to standard output."""
    click.echo(data, nl=False)


def notice(text: str) -> None:
    """A word to the person at the terminal: standard error, so that documents stay pure."""
    click.echo(f"rigdsl: {text}", err=True)


def write(path: Path, data: bytes) -> None:
    """Write a file whole or not at all: a temporary one beside it takes its place. Folders are made where needed.

    Raises OSError with the name of the file that was asked for.
    """
    target = Path(os.path.realpath(path))  # behind a symbolic link: the link stays
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.exists() and not target.is_file():
            target.write_bytes(data)  # a device or pipe takes bytes, and must not be replaced
        else:
            _replace(target, data)
    except FileExistsError:  # a file stands where the folder should be
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(path)) from None
    except OSError as trouble:
        raise OSError(trouble.errno, trouble.strerror, str(path)) from None


def _replace(path: Path, data: bytes) -> None:
    import tempfile

    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:100]}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.chmod(temporary, _mode(path))
        os.replace(temporary, path)
    except BaseException:  # also where somebody stops it by the keyboard
        os.unlink(temporary)
        raise


def _mode(path: Path) -> int:
    """The permissions of the file that is replaced, else those of any new file."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
