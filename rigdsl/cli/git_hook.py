"""What git runs after each merge of a clone: a few lines of shell, ours only where nobody else has any."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path
from typing import Literal, NamedTuple

from rigdsl.cli.git_drivers import AGAIN, there
from rigdsl.cli.streams import write

__all__ = ["EFFECT", "NAME", "WITHOUT", "Hook", "hook_of", "line"]

NAME = "post-merge"
MARK = "# Written by `rigdsl git setup`, taken away by `rigdsl git setup --undo`."
EFFECT = "each merge ends with what is wrong only together, and whose lines these are"
WITHOUT = "after a merge nobody tells what is wrong only together"
TOLD = b"compare --merge"  # what somebody else's hook has in it that tells the same
COMPARED = "compare --merge HEAD"  # by name: to git the merge is still under way while the hook runs

State = Literal["ours", "old", "free", "told", "foreign"]


class Hook(NamedTuple):
    """The file that git runs, what stands in it (nothing where it is not there), and if its folder is this clone's."""

    path: Path
    data: bytes | None
    own_folder: bool

    def state(self, call: str) -> State:
        """How it stands: `ours`, or ours of `old`; `free` to be written; somebody else's that has it `told`, or not."""
        if self.is_ours:
            return "ours" if self.data == _text(call) and os.access(self.path, os.X_OK) else "old"
        if self.data is None:
            return "free" if self.own_folder else "foreign"
        return "told" if TOLD in self.data else "foreign"

    @property
    def is_ours(self) -> bool:
        """Whether this command has written it."""
        return self.data is not None and MARK.encode() in self.data.splitlines()[:2]

    def put(self, call: str) -> None:
        """Write it; git runs no file that is not executable."""
        write(self.path, _text(call))
        self.path.chmod(self.path.stat().st_mode | 0o111)


def hook_of(top: Path) -> Hook:
    """The hook of the clone that has its files at `top`; all its worktrees share it."""
    path, common = (top / _said(top, *words) for words in (("--git-path", f"hooks/{NAME}"), ("--git-common-dir",)))
    inside = Path(os.path.realpath(path)).is_relative_to(os.path.realpath(common))
    return Hook(path, path.read_bytes() if path.exists() else None, inside)


def line(call: str) -> str:
    """The line that does it in somebody else's hook; it never fails."""
    return f"git rev-parse --quiet --verify HEAD^2 >/dev/null && {call} {COMPARED} || true"


def _text(call: str) -> bytes:
    """A fast-forward has nothing to tell, and `1` is a squash: the last commit is no merge, or an older one."""
    return f"""#!/bin/sh
{MARK}
# After a merge: what is wrong only together, and whose lines these are. It never fails one.
[ "$1" != 1 ] && git rev-parse --quiet --verify HEAD^2 >/dev/null || exit 0
if {there(call)}; then
  {call} {COMPARED}
else
  echo "rigdsl: it is not checked what the two branches make wrong together; {AGAIN}"
fi
exit 0
""".encode()


def _said(top: Path, *words: str) -> str:
    """Asked with the settings of the clone: `git_calls` leaves out its hooks, and these are looked for here."""
    done = subprocess.run(["git", "-C", str(top), "rev-parse", *words], capture_output=True, check=True)
    return done.stdout.decode("utf-8", "surrogateescape").removesuffix("\n")
