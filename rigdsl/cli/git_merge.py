"""`rigdsl git merge`: what git calls for a rig that two branches changed."""

from __future__ import annotations

import subprocess
from collections.abc import Sequence
from itertools import zip_longest
from pathlib import Path
from typing import NamedTuple

import click

from rigdsl.branches import Marks, Merged, by_lines, merged, unsettled
from rigdsl.branches.form import Form, of_three, taken_apart
from rigdsl.cli.streams import notice, write
from rigdsl.reports.look import clean
from rigdsl.rig import Unread
from rigdsl.rig.readers import decoded
from rigdsl.syntax import parse

__all__ = ["command"]

CLASH = 1
FAILED = 129  # from here on git takes it that nothing was merged
MOST_CLASHES = 127  # `git merge-file` ends with their number, or above it where it could not do its work


class Asked(NamedTuple):
    """The three files of a merge, and how clashes are marked."""

    base: str
    ours: str
    theirs: str
    marks: Marks


@click.command("merge")
@click.argument("base")
@click.argument("ours")
@click.argument("theirs")
@click.argument("size", type=click.IntRange(1, 1000), default=7)
@click.argument("path", default="")
@click.argument("labels", nargs=-1)
def command(base: str, ours: str, theirs: str, size: int, path: str, labels: tuple[str, ...]) -> int:
    """Merge a rig that two branches changed; git calls this, as `rigdsl git setup` tells it to.

    BASE is the file both came from; OURS is written over with the merge. SIZE is the length of the marks around what
    clashes, PATH the file's name in the repository, LABELS what base, ours and theirs are called. What two branches
    say of different things, or of different facts of one, is taken from both; only what both say of the same fact is
    left to you. A file that cannot be read is merged line by line, as git itself does.
    The exit status is 0 for a clean merge, 1 where something clashes, and above 128 where it could not be done.

    Example: rigdsl git merge base.rig ours.rig theirs.rig
    """
    names = _names(labels)
    asked = Asked(base, ours, theirs, Marks(names[1], names[2], names[0], size, _shows_base()))
    try:
        return _merge(asked, path or ours)
    except OSError as trouble:
        notice(clean(f"`{path or ours}` is not merged: {(trouble.strerror or str(trouble)).lower()}"))
        return FAILED
    except Exception as fault:  # nothing is written yet, and what git makes of it is better than one side alone
        notice(
            clean(f"a fault in rigdsl itself: {type(fault).__name__}: {fault}; `{path or ours}` is merged as git does")
        )
        return _as_git(asked)


def _names(labels: tuple[str, ...]) -> list[str]:
    """What base, ours and theirs are called; a git before 2.44 leaves the `%S %X %Y` of the driver as they are."""
    said = ["" if label.startswith("%") else label for label in labels]
    return [label or name for label, name in zip_longest(said[:3], ("base", "ours", "theirs"), fillvalue="")]


def _merge(asked: Asked, path: str) -> int:
    data = [Path(name).read_bytes() for name in asked[:3]]
    found = [one for one in map(taken_apart, data) if one is not None]
    if len(found) < len(data):
        _tell_unread(path, asked.marks, data)
        return _as_git(asked)
    form = of_three(*[form for form, _ in found])
    base, ours, theirs = (text for _, text in found)
    done = merged(base, ours, theirs)
    if done is None:
        _tell_unread(path, asked.marks, data)
        return _as_git(asked)
    if done.clashes:
        return _clashing(asked, path, done, form, (ours, theirs))
    write(Path(asked.ours), form.put(done.text()))
    return 0


def _clashing(asked: Asked, path: str, done: Merged, form: Form, sides: tuple[str, str]) -> int:
    """Where things clash by name and not line by line, git's own merge may be as good an answer."""
    plain = _merge_file(asked, "-p")
    apart = taken_apart(plain.stdout) if plain.returncode == 0 else None
    if apart is not None and by_lines(done, apart[1], *sides):
        write(Path(asked.ours), plain.stdout)
        return 0
    write(Path(asked.ours), form._replace(ended=True).put(done.text(asked.marks)))
    notice(clean(f"{path}: {unsettled(done)}"))
    return CLASH


def _tell_unread(path: str, marks: Marks, data: Sequence[bytes]) -> None:
    """Why a file is merged line by line: on which side it cannot be read, and from which line on."""
    sides = zip((marks.base, marks.ours, marks.theirs), data, strict=True)
    told = (f"{why} on the side of `{name}`" for name, one in sides if (why := _unread(one)))
    why = "; ".join(told) or "it is in doubt what became of what in it"
    notice(clean(f"{path} is merged line by line: {why}"))


def _unread(data: bytes) -> str:
    text = decoded("", data)
    if isinstance(text, Unread):
        return "it is no text in UTF-8"
    found = parse(text).findings
    if found:
        return f"line {found[0].place.from_position.line} cannot be read"
    return "" if taken_apart(data) else "its lines end in several ways"


def _as_git(asked: Asked) -> int:
    """The merge that git makes of any text, written into the file of our side."""
    done = _merge_file(asked)
    if done.returncode > MOST_CLASHES:
        notice(clean(done.stderr.decode("utf-8", "replace").strip() or "git cannot merge this file"))
        return FAILED
    return int(done.returncode > 0)


def _merge_file(asked: Asked, *options: str) -> subprocess.CompletedProcess[bytes]:
    marks = asked.marks
    names = [word for name in (marks.ours, marks.base, marks.theirs) for word in ("-L", name)]
    files = [asked.ours, asked.base, asked.theirs]
    command = ["git", "merge-file", *options, f"--marker-size={marks.size}", *names, "--", *files]
    return subprocess.run(command, capture_output=True, check=False)


def _shows_base() -> bool:
    """Whether the user wants to see between the marks what both sides came from."""
    style = subprocess.run(["git", "config", "--get", "merge.conflictStyle"], capture_output=True, check=False)
    return style.stdout.strip() in (b"diff3", b"zdiff3")
