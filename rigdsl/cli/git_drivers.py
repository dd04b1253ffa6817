"""What is set in a clone, so that git compares and merges rigs by what things are called."""

from __future__ import annotations

import os
import shlex
import shutil
import sys
from pathlib import Path
from typing import NamedTuple

from rigdsl.branches import HEADING, WORD

__all__ = ["AGAIN", "MEANING", "Setting", "program", "settings", "there"]

MEANING = "diff.rigdsl.textconv"
# The base, ours, theirs, the length of marks, the name of the file, and what the three are called.
MERGE = "git merge -- %O %A %B %L %P %S %X %Y"
# Where rigdsl is not there any more, git would take our side alone for a clash, without marks: its own merge of lines
# is better. A backtick is a command to the shell, so none is in what is said.
AGAIN = "rigdsl is not where it was: type 'rigdsl git setup' again"
ELSE = (
    f'echo "rigdsl: this file is merged line by line; {AGAIN}" >&2;'
    " git merge-file --marker-size=%L -L ours -L base -L theirs %A %O %B"
)


class Setting(NamedTuple):
    """One setting: its key, its value, what it does, and what is so without it."""

    key: str
    value: str
    effect: str
    without: str


def settings(call: str, *, meaning: bool) -> list[Setting]:
    """All of them; `call` is rigdsl as a shell calls it."""
    found = [
        Setting(
            "diff.rigdsl.xfuncname",
            HEADING,
            "`git diff` heads each stretch with the box, source or zone it is about",
            "`git diff` does not say which box or source a stretch is about",
        ),
        Setting(
            "diff.rigdsl.wordRegex",
            WORD,
            "`git diff --word-diff` cuts by sockets, lengths and labels",
            "`git diff --word-diff` cuts sockets and labels at each blank",
        ),
        Setting(
            "merge.rigdsl.name",
            "rigs, by what things are called",
            "git can say what it merges rigs by",
            "git cannot say what it merges rigs by",
        ),
        Setting(
            "merge.rigdsl.driver",
            _driver(call),
            "`git merge` puts together what two branches say of different things",
            "two branches that add a source at one place clash",
        ),
    ]
    shown = Setting(
        MEANING,
        f"{call} git meaning --",
        "`git diff` shows what rigs say, sorted, and not their text",
        "`git diff` shows the text of rigs",
    )
    return [*found, shown] if meaning else found


def there(call: str) -> str:
    """What ends well in a shell where rigdsl is still there, and says nothing."""
    return f"{call} --version >/dev/null 2>&1"


def _driver(call: str) -> str:
    """The line that git runs for each file that both branches changed; a `%` in it is git's own, or stands twice."""
    plain = call.replace("%", "%%")
    return f"if {there(plain)}; then {plain} {MERGE}; else {ELSE}; fi"


def program() -> str:
    """Rigdsl as a shell calls it, from any folder.

    By name where every terminal finds the one that runs now; else by its Python, which takes no code from the folder
    that git happens to call it in (`-P`).
    """
    found = shutil.which("rigdsl")
    same = found and Path(os.path.realpath(found)).parent == Path(os.path.realpath(Path(sys.executable).parent))
    return (
        "rigdsl"
        if same and not os.environ.get("VIRTUAL_ENV")
        else f"{shlex.quote(Path(sys.executable).as_posix())} -P -m rigdsl"
    )
