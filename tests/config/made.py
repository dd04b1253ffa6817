"""Projects made for the tests: a `rig.toml` of some lines, and packs of rules that say what they are told to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from rigdsl.config import Config, config_of
from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import Rule
from rigdsl.packs import Installed, Pack, Packs, Refused, discover
from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["FESTIVAL", "OURS", "config", "noisy", "packs", "told"]

OURS = discover()


@dataclass(frozen=True)
class Options:
    """What a rule for tests can be told."""

    most: int = field(default=3, metadata={"help": "how many", "minimum": 1})
    side: str = field(default="left", metadata={"help": "which side"})


def noisy(name: str, *, edition: int = 1, level: Level = Level.WARNING, on: bool = True) -> Rule[Any]:
    """A rule that says its name and its options of every box."""

    def check(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
        for box in rig.boxes.values():
            yield Finding(place=box.place, subject=box.name, message=f"{name} {options.most} {options.side}")

    return Rule(name, level, check, Options, f"Says {name}.\n\n## On the night\nNothing.", on, edition)


FESTIVAL = Installed(Pack("festival", rules=(noisy("festival/loud"), noisy("festival/late", edition=2))), "1.4")


def packs(*more: Installed, refused: tuple[Refused, ...] = ()) -> Packs:
    """Our own packs, and others beside them."""
    return Packs((*OURS.installed, *more), refused)


def config(folder: Path, text: str, found: Packs = OURS) -> Config:
    """What a `rig.toml` says."""
    (folder / "rig.toml").write_text(text, "utf-8")
    return config_of(folder, found)


def told(read: Config) -> list[str]:
    """What is wrong, each in one line: line, column, message; the way out."""
    return [
        f"{one.place.from_position.line}:{one.place.from_position.column}: {one.message}; {one.help}"
        for one in read.findings
    ]
