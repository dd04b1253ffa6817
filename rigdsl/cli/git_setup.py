"""`rigdsl git setup`."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import click

from rigdsl.cli import git_attributes as attributes
from rigdsl.cli import git_hook as hooks
from rigdsl.cli.git_calls import git, top_of, why_none
from rigdsl.cli.git_drivers import MEANING, Setting, program, settings
from rigdsl.cli.streams import write
from rigdsl.cli.trouble import Trouble
from rigdsl.reports.look import clean

__all__ = ["command"]

FILE = ".gitattributes"
NEXT = (
    "next: commit .gitattributes, it holds for everybody; what is set here holds for this clone alone, and whoever has"
    " another one types `rigdsl git setup` there"
)


class Clone(NamedTuple):
    """A repository as it is on this disk: its folder, and its list of attributes."""

    top: Path
    data: bytes

    def get(self, key: str) -> str | None:
        """What is set for this clone, or nothing."""
        done = _git(self.top, "config", "--local", "--get", key)
        return done.stdout.decode("utf-8", "replace").removesuffix("\n") if done.returncode == 0 else None

    def put(self, *words: str) -> None:
        """Change what is set for this clone."""
        done = _git(self.top, "config", "--local", *words)
        if done.returncode:
            why = done.stderr.decode("utf-8", "replace").strip()
            raise Trouble(clean(f"git cannot set `{words[0]}`: {why}; nothing more was changed"))


@click.command("setup")
@click.option(
    "--meaning/--no-meaning", default=None, help="Let `git diff` show what rigs say, sorted, and not their text."
)
@click.option("--check", is_flag=True, help="Write nothing, and tell what is missing (exit status 1).")
@click.option("--undo", is_flag=True, help="Take away what this command has written.")
def command(meaning: bool | None, check: bool, undo: bool) -> int:
    """Set this clone of a git repository up for rigs, once.

    From then on `git diff` heads each stretch with the box, source or zone it is about, `git diff --word-diff` cuts
    by sockets, lengths and labels, and `git merge` puts together what two branches say of different things, and tells
    what is wrong only together. Nothing but the list of attributes, the settings and the hook `post-merge` of this
    clone is written, somebody else's hook is left alone, and twice is the same as once.

    Example: rigdsl git setup
    """
    if check and undo:
        raise Trouble("`--check` writes nothing, and `--undo` takes away: choose one")
    clone = _clone()
    if check:
        return _told_missing(clone, meaning)
    done = list(_undone(clone) if undo else _set(clone, meaning))
    for line in done or ["nothing to take away" if undo else "all is set up already"]:
        click.echo(clean(line))
    if not undo and _is_uncommitted(clone):
        click.echo(NEXT)
    return 0


def _clone() -> Clone:
    here = Path(os.curdir)
    top = top_of(here)
    if top is None:
        why = why_none(here)
        raise Trouble(why or "there is no git repository here with files to work on: `git init` makes one")
    file = top / FILE
    if file.is_symlink():
        raise Trouble(
            f"`{FILE}` is a link to `{os.readlink(file)}`, and git reads no link there: put a file in its place"
        )
    return Clone(top, file.read_bytes() if file.exists() else b"")


def _is_uncommitted(clone: Clone) -> bool:
    """Whether the list of attributes is not as the last commit has it."""
    return bool(git(clone.top, "status", "--porcelain", "--", FILE))


def _git(folder: Path, *words: str) -> subprocess.CompletedProcess[bytes]:
    """What is written, and what git says against it; everything else is asked by `git_calls`."""
    return subprocess.run(["git", "-C", str(folder), *words], capture_output=True, check=False)


def _wanted(clone: Clone, meaning: bool | None) -> list[Setting]:
    """What is to be set; the meaning where it is asked for, or was."""
    with_meaning = clone.get(MEANING) is not None if meaning is None else meaning
    return settings(program(), meaning=with_meaning)


def _told_missing(clone: Clone, meaning: bool | None) -> int:
    missing = [f"missing in {FILE}: `{line}`" for line in attributes.missing(clone.data)]
    for setting in _wanted(clone, meaning):
        there = clone.get(setting.key)
        if there != setting.value:
            missing.append(f"{'not set' if there is None else 'set otherwise'}: {setting.key}, so {setting.without}")
    state = hooks.hook_of(clone.top).state(program())
    if state not in ("ours", "told"):
        how = "set otherwise" if state == "old" else "not set"
        missing.append(f"{how}: the hook `{hooks.NAME}`, so {hooks.WITHOUT}")
    for line in missing:
        click.echo(clean(line))
    click.echo("to mend it: rigdsl git setup" if missing else "all is set up")
    return int(bool(missing))


def _set(clone: Clone, meaning: bool | None) -> Iterator[str]:
    lines = attributes.missing(clone.data)
    if lines:
        write(clone.top / FILE, attributes.added(clone.data))
        yield from (f"added to {FILE}: `{line}`" for line in lines)
    for setting in _wanted(clone, meaning):
        if clone.get(setting.key) != setting.value:
            clone.put("--replace-all", setting.key, setting.value)
            yield f"set: {setting.key}, so {setting.effect}"
    if meaning is False and clone.get(MEANING) is not None:
        clone.put("--unset-all", MEANING)
        yield f"taken away: {MEANING}, so `git diff` shows the text of rigs"
    yield from _hooked(clone)


def _hooked(clone: Clone) -> Iterator[str]:
    """The hook, where it is ours to write; else what to do."""
    hook, call = hooks.hook_of(clone.top), program()
    state = hook.state(call)
    if state in ("free", "old"):
        hook.put(call)
        yield f"set: the hook `{hooks.NAME}`, so {hooks.EFFECT}"
    elif state == "foreign":
        path = _from(clone.top, hook.path)
        why = f"`{path}` is not of this command and stays as it is; add this line to it"
        if hook.data is None:
            elsewhere = f"`core.hooksPath` has git run `{path}`, which is not of this clone alone and is not written"
            why = f"{elsewhere}; make it, executable, with `#!/bin/sh` as its first line and this one below"
        yield f"not set: the hook `{hooks.NAME}`, so {hooks.WITHOUT}: {why}: {hooks.line(call)}"


def _from(top: Path, path: Path) -> str:
    real = Path(os.path.realpath(path))
    inside = real.is_relative_to(os.path.realpath(top))
    return (real.relative_to(os.path.realpath(top)) if inside else path).as_posix()


def _undone(clone: Clone) -> Iterator[str]:
    left, gone = attributes.without(clone.data)
    if gone and left:
        write(clone.top / FILE, left)
    elif gone:
        (clone.top / FILE).unlink()
    yield from (f"taken out of {FILE}: `{line}`" for line in gone)
    stays = attributes.ours(left)
    yield from (f"left in {FILE}, since this command has not written it, and harmless: `{line}`" for line in stays)
    for setting in settings(program(), meaning=True):
        if clone.get(setting.key) is not None:
            clone.put("--unset-all", setting.key)
            yield f"taken away: {setting.key}"
    hook = hooks.hook_of(clone.top)
    if hook.is_ours:
        hook.path.unlink()
        yield f"taken away: the hook `{hooks.NAME}`"
