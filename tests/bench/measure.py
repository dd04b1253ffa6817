"""Taking times: commands side by side and by turns, so that whatever else the machine does falls on both."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median

__all__ = ["Ratio", "by_turns", "figures"]


@dataclass(frozen=True)
class Ratio:
    """A row of the table: what took how much (of a unit), what it is held against, and how far it may go."""

    what: str
    against: str
    took: float
    other: float
    limit: float
    unit: str = "ms"

    @property
    def value(self) -> float:
        """How many times as much."""
        return self.took / self.other

    @property
    def kept(self) -> bool:
        """Whether it stays below its limit."""
        return self.value < self.limit


def by_turns(commands: Sequence[Sequence[str]], rounds: int, folder: Path) -> list[float]:
    """The median time of each command in ms, run one after the other so many times, after one run that is not counted.

    Modules are kept compiled between runs, as they are wherever a program is installed.
    """
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    taken: list[list[float]] = [[] for _ in commands]
    for _ in range(rounds + 1):
        for times, command in zip(taken, commands, strict=True):
            begun = time.perf_counter()
            done = subprocess.run(
                command, cwd=folder, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False
            )
            times.append(time.perf_counter() - begun)
            if done.returncode not in (0, 1):
                raise RuntimeError(f"{' '.join(command)}: {done.stderr.decode('utf-8', 'replace')}")
    return [median(times[1:]) * 1e3 for times in taken]


def figures(task: str, *arguments: str, rounds: int = 3) -> dict[str, float]:
    """What a task of `tests.bench.tasks` measures of itself, in a process of its own: the best of several."""
    best: dict[str, float] = {}
    for _ in range(rounds):
        command = [sys.executable, "-m", "tests.bench.tasks", task, *arguments]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        for name, value in json.loads(done.stdout).items():
            best[name] = min(value, best.get(name, value))
    return best
