"""`rigdsl tidy`."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

import click

from rigdsl.cli.reading import STDIN, Entry, entries
from rigdsl.cli.streams import document, notice, write
from rigdsl.cli.trouble import CANNOT, Trouble
from rigdsl.config import Config
from rigdsl.reports.look import clean
from rigdsl.reports.report import counted
from rigdsl.rig import Unread, project_root
from rigdsl.rig.readers import decoded
from rigdsl.syntax.tidy import Lines, Tidied, tidy
from rigdsl.text import Source

__all__ = ["command"]


ENDING = ".rig"
CHANGES = 1  # what one file comes to that would be set otherwise


class Opened(NamedTuple):
    """A file as it is: its bytes, and the text in them or why there is none."""

    path: str
    data: bytes
    text: Source | Unread


class Wanted(NamedTuple):
    """What is asked for: only to tell, to show the difference, some lines only."""

    check: bool
    diff: bool
    lines: Lines | None


@click.command("tidy")
@click.argument("paths", nargs=-1, metavar="[PATH ...]")
@click.option("--check", is_flag=True, help="Write nothing, and tell which files would change.")
@click.option("--diff", is_flag=True, help="Write nothing, and show what would change.")
@click.option("--lines", metavar="FIRST-LAST", help="Only these lines of one file.")
def command(paths: tuple[str, ...], check: bool, diff: bool, lines: str | None) -> int:
    """Set rig files in the one layout; what they say stays the same.

    PATH is a rig file, a folder, or `-` for standard input to standard output; without one, every rig file of the
    project is set. Lines stay where they are, in their order; remarks and what cannot be read stay as they are.
    With --check and --diff the exit status is 1 where a file would change; it is 2 where one could not be read.

    Example: rigdsl tidy --check
    """
    wanted = Wanted(check, diff, None if lines is None else _lines(lines))
    files = _stdin(paths) if STDIN in paths else _files(paths)
    if wanted.lines and (len(paths) != 1 or os.path.isdir(paths[0])):
        raise Trouble("`--lines` is for one file: name it")
    statuses = [_one(file, wanted) for file in files]
    if not any(statuses) and not diff and STDIN not in paths:
        click.echo(f"nothing to tidy in {counted([(len(statuses), 'file')]) or 'no file'}")
    elif check and not diff and CHANGES in statuses and STDIN not in paths:
        click.echo("to mend it: `rigdsl tidy`")
    return _ended(statuses, check or diff)


def _ended(statuses: Sequence[int], only_told: bool) -> int:
    """How the command ends: that a file was set is well, that it would have to be is not."""
    worst = max(statuses, default=0)
    return worst if only_told or worst == CANNOT else 0


def _lines(said: str) -> Lines:
    """The lines that an option names: `10-25`, or `10` alone."""
    match = re.fullmatch(r"([0-9]{1,9})(?:-([0-9]{1,9}))?", said)
    first, last = (int(match[1]), int(match[2] or match[1])) if match else (0, 0)
    if not 1 <= first <= last:
        raise Trouble(f"`--lines` takes the first and the last line, as `--lines 10-25`; `{clean(said)}` is not that")
    return Lines(first, last)


# ---- which files


def _stdin(paths: Sequence[str]) -> Iterator[Opened]:
    if len(paths) > 1:
        raise Trouble("`-` is standard input, and goes to standard output: it stands alone")
    data = sys.stdin.buffer.read()
    yield Opened(STDIN, data, decoded(STDIN, data))


def _files(paths: Sequence[str]) -> Iterator[Opened]:
    """The files that the paths mean; of folders only what lies in their project, whatever links lead out of it."""
    for path in paths:
        if os.path.isfile(path) and not path.endswith(ENDING):
            raise Trouble(f"`{clean(path)}` is no rig file and stays as it is: their names end in `{ENDING}`")
    named = {os.path.realpath(path) for path in paths if not os.path.isdir(path)}
    folders = [path for path in paths or [os.curdir] if os.path.isdir(path)]
    roots = {project_root(os.path.join(folder, STDIN)) for folder in folders}
    for entry in entries(paths, Config()):
        real = os.path.realpath(entry.path)
        if real in named or roots & set(Path(real).parents):
            yield _opened(entry)


def _opened(entry: Entry) -> Opened:
    text = entry.reader.read(entry.path)
    if isinstance(text, Unread):
        gone = Unread(text.rule, f"`{entry.path}` leads to a file that is not there", "take the link away")
        return Opened(entry.path, b"", gone if os.path.islink(entry.path) and text.rule == "file-missing" else text)
    data = Path(entry.path).read_bytes()
    return Opened(entry.path, data, decoded(entry.path, data))


# ---- one file


def _one(file: Opened, wanted: Wanted) -> int:
    """Set one file, or tell what would change: 0 where nothing does, 1 where something does, 2 where it cannot be."""
    if isinstance(file.text, Unread):
        notice(clean(f"{file.text.message}; {file.text.help}"))
        return CANNOT
    _require_lines(file.text, wanted.lines)
    done = tidy(file.text, wanted.lines)
    if done.doubt:
        mend = "mend first what cannot be read in it, as `rigdsl check` tells"
        why = mend if done.left else "that is a fault in rigdsl itself"
        notice(clean(f"`{file.path}` stays as it is: {done.doubt}; {why}"))
        return CANNOT
    _tell_left(file, done)
    data = _form(file, done, wanted)
    try:
        _put(file, data, wanted)
    except BrokenPipeError:  # whoever reads what is shown has seen enough
        raise
    except OSError as trouble:  # the other files are set all the same
        notice(clean(f"`{file.path}` stays as it is: {(trouble.strerror or str(trouble)).lower()}"))
        return CANNOT
    return CHANGES if data != file.data else 0


def _require_lines(text: Source, lines: Lines | None) -> None:
    there = text.text.count("\n") + (not text.text.endswith("\n"))
    if lines and lines.first > there:
        raise Trouble(
            f"`{clean(text.path)}` has {counted([(there, 'line')]) or 'no line'}, and `--lines` begins at {lines.first}"
        )


def _tell_left(file: Opened, done: Tidied) -> None:
    if done.left:
        one = done.left == 1
        what = f"{counted([(done.left, 'statement')])} that cannot be read {'stays' if one else 'stay'}"
        why = "`rigdsl check` says why"
        notice(clean(f"{file.path}: {what} as {'it is' if one else 'they are'}; {why}"))


def _form(file: Opened, done: Tidied, wanted: Wanted) -> bytes:
    """The bytes of a text. Of a file of which only some lines are asked for, line ends and mark stay what they are."""
    text = done.text
    if wanted.lines is None:
        return text.encode("utf-8")
    mark = b"\xef\xbb\xbf" if file.data.startswith(b"\xef\xbb\xbf") else b""
    return mark + (text.replace("\n", "\r\n") if b"\r\n" in file.data else text).encode("utf-8")


def _put(file: Opened, data: bytes, wanted: Wanted) -> None:
    changed = data != file.data
    if wanted.diff:
        document(_difference(file.path, file.data, data))
    elif wanted.check and changed:
        click.echo(f"not tidy: {clean(file.path)}")
    elif file.path == STDIN and not wanted.check:
        document(data)
    elif changed:
        write(Path(file.path), data)
        click.echo(f"tidied: {clean(file.path)}")


def _difference(path: str, before: bytes, after: bytes) -> bytes:
    """A unified diff, as `patch` and `git apply -p0` read it."""
    from difflib import diff_bytes, unified_diff

    name = clean(path).encode("utf-8", "replace")
    lines = diff_bytes(unified_diff, _cut(before), _cut(after), name, name)
    return b"".join(line if line.endswith(b"\n") else line + b"\n\\ No newline at end of file\n" for line in lines)


def _cut(data: bytes) -> list[bytes]:
    """Lines with their ends; a bare carriage return ends none."""
    return [line + b"\n" for line in data.split(b"\n")[:-1]] + [line for line in data.split(b"\n")[-1:] if line]
