"""Every effect hangs on what caused it: a line is taken out, and nothing that follows is left without a cause."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

import pytest

from rigdsl.packs import discover
from rigdsl.rig import DiskReader, Unread
from rigdsl.show import Show, opened
from rigdsl.text import Source

EXAMPLES = Path(__file__).parents[2] / "examples"
WORDS = ("box", "clock", "insert", "keep", "link", "output", "patch", "power", "source", "way", "zone")


@dataclass(frozen=True)
class Without:
    """The files of an example, one of them with another text."""

    disk: DiskReader
    path: str
    text: str

    def read(self, path: str) -> Source | Unread:
        return Source(path, self.text) if os.path.realpath(path) == self.path else self.disk.read(path)

    def same(self, path: str) -> str:
        return self.disk.same(path)


def shown(name: str, path: Path, text: str) -> Show:
    root = EXAMPLES / name.split("/")[0]
    return opened(str(EXAMPLES / name), Without(DiskReader(root), str(path), text), discover(), "2026-01-01")


@pytest.mark.parametrize("name", ["analogue/shows/dance.rig", "club/shows/friday.rig"])
def test_no_effect_is_without_its_cause(name: str) -> None:
    whole = shown(name, Path(os.devnull), "")
    files = [source for source in whole.sources if EXAMPLES in Path(os.path.realpath(source.path)).parents]
    assert len(files) > 2
    tried = 0
    for source in files:
        lines = source.text.split("\n")
        for at, line in enumerate(lines):
            if line.split(" ")[0] in WORDS and not line.rstrip().endswith("{"):
                text = "\n".join([*lines[:at], *lines[at + 1 :]])
                found = shown(name, Path(os.path.realpath(source.path)), text).compare(whole)
                assert found.changes, line
                assert found.more == (), line
                tried += 1
    assert tried > 40
