"""The tutorial of the README, done step by step: `python -m tests.readme` writes what it prints and draws into place.

A comment before a block says what the block is: `chapel.rig` (the file), `chapel.rig, added`, `chapel.rig, edit` (a
line taken out and one put in), `run` (commands and what they print), `run, first 8` (no more lines than that).
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from rigdsl.show import load
from tests.reference import with_tables

__all__ = ["DAY", "README", "Block", "blocks", "done", "pictures", "run"]

README = Path(__file__).parent.parent / "README.md"
PICTURES = README.parent / "docs"
BLOCK = re.compile(r"<!-- ([^\n]+?) -->\n```(\w+)\n(.*?)```\n", re.DOTALL)
DAY = "1764547200"  # 2025-12-01, before every date in the tutorial


@dataclass(frozen=True)
class Block:
    """A block of the README: what its comment says, its text, and where in the README the text stands."""

    what: str
    text: str
    start: int
    end: int


def blocks(readme: str) -> list[Block]:
    """The blocks of the tutorial, in its order."""
    return [Block(found[1], found[3], found.start(3), found.end(3)) for found in BLOCK.finditer(readme)]


def done(readme: str, folder: Path) -> Iterator[tuple[Block, str]]:
    """Do the tutorial in a folder; for each block of commands, the text that it should have."""
    (folder / "rig.toml").write_text("")
    for block in blocks(readme):
        name, _, how = block.what.partition(", ")
        if name == "run":
            yield block, run(block.text, how, folder)
        elif how == "edit":
            old, new = (line[1:] for line in block.text.splitlines())
            text = (folder / name).read_text("utf-8")
            assert text.count(f"{old}\n") == 1, old
            (folder / name).write_text(text.replace(f"{old}\n", f"{new}\n"), "utf-8")
        else:
            before = (folder / name).read_text("utf-8") + "\n" if how == "added" else ""
            (folder / name).write_text(before + block.text, "utf-8")


def run(text: str, how: str, folder: Path) -> str:
    """The commands of a block, each with what it prints now."""
    out = ""
    for command in re.findall(r"^\$ rigdsl (.+)$", text, re.MULTILINE):
        ran = subprocess.run(
            [sys.executable, "-m", "rigdsl", *shlex.split(command)],
            cwd=folder,
            env={**os.environ, "SOURCE_DATE_EPOCH": DAY},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            check=False,
        )
        lines = ran.stdout.splitlines(keepends=True)
        limit = re.fullmatch(r"first (\d+)", how)
        out += f"$ rigdsl {command}\n" + "".join(lines[: int(limit[1])] if limit else lines)
    return out


def pictures(folder: Path) -> dict[Path, bytes]:
    """The pictures that the README shows: of the tutorial's rig, done in a folder, and of an example."""
    made = {PICTURES / f"{path.name}": path.read_bytes() for path in (folder / "drawings").glob("*.svg")}
    club = load(README.parent / "examples" / "club" / "shows" / "friday.rig")
    return made | {PICTURES / "club-flow.svg": club.draw("flow").data}


def main() -> None:
    """Write the README and its pictures anew: what the commands print and draw now, and what the tool knows."""
    readme = README.read_text("utf-8")
    with tempfile.TemporaryDirectory() as name:
        found = list(done(readme, Path(name)))
        for path, data in pictures(Path(name)).items():
            path.write_bytes(data)
    for block, text in reversed(found):
        readme = readme[: block.start] + text + readme[block.end :]
    README.write_text(with_tables(readme), "utf-8")


if __name__ == "__main__":
    main()
