"""Work that measures itself, each in a process of its own: `python -m tests.bench.tasks check 20000`.

Prints one JSON object: milliseconds, and megabytes of memory on top of what stood before the work began.
"""

from __future__ import annotations

import json
import os
import resource
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import redirect_stdout
from pathlib import Path

from tests.bench.rigs import rig_text

__all__: list[str] = []

KIBI = 1024


def _memory_mb() -> float:
    """The largest amount of memory that this process has had."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KIBI


def _measured(work: Callable[[], object]) -> dict[str, float]:
    before = _memory_mb()
    begun = time.perf_counter()
    kept = work()
    taken = (time.perf_counter() - begun) * 1e3
    del kept
    return {"ms": taken, "mb": _memory_mb() - before}


def check(lines: int) -> dict[str, float]:
    """All of `rigdsl check`, once the program is there: reading, paths, every rule, the report."""
    from rigdsl.cli import main

    with tempfile.TemporaryDirectory() as folder:
        warm, rig = Path(folder, "warm.rig"), Path(folder, "bench.rig")
        warm.write_text(rig_text(60))
        rig.write_text(rig_text(lines))
        with open(os.devnull, "w") as nowhere, redirect_stdout(nowhere):
            main(["check", str(warm)])
            return _measured(lambda: main(["check", str(rig)]))


def tree(lines: int) -> dict[str, float]:
    """lark alone: a plain tree of the same text with the same grammar."""
    from importlib.resources import files

    from lark import Lark

    grammar = (files("rigdsl_grammar") / "rig.lark").read_text("utf-8")
    parser = Lark(grammar, parser="lalr", lexer="basic")
    source = rig_text(lines)
    return _measured(lambda: parser.parse(source))


def draw(lines: int) -> dict[str, float]:
    """Drawing a rig that is read already, and the layout engine alone on the same DOT text."""
    from rigdsl.draw import draw, render
    from rigdsl.paths import Paths
    from rigdsl.rig import read

    rig = read(rig_text(lines))
    paths = Paths(rig)
    taken = {}
    for view in ("flow", "cabling"):
        dot = draw(rig, paths, (), view, "gv").decode("utf-8")
        taken[f"{view}_engine"] = _measured(lambda dot=dot: render(dot, "svg"))["ms"]  # type: ignore[misc]
        taken[view] = _measured(lambda view=view: draw(rig, Paths(rig), (), view, "svg"))["ms"]  # type: ignore[misc]
    return taken


if __name__ == "__main__":
    TASKS = {"check": check, "draw": draw, "tree": tree}
    print(json.dumps(TASKS[sys.argv[1]](int(sys.argv[2]))))
