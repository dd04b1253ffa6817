"""Work that measures itself, each in a process of its own: `python -m tests.bench.tasks check 20000`.

Prints one JSON object: milliseconds, or megabytes of memory.
"""

from __future__ import annotations

import gc
import json
import os
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from contextlib import redirect_stdout
from pathlib import Path

from tests.bench.rigs import list_text, rig_text

__all__: list[str] = []


def _ms(work: Callable[[], object]) -> float:
    begun = time.perf_counter()
    kept = work()
    taken = time.perf_counter() - begun
    del kept  # taking a large value apart is not part of the work
    return taken * 1e3


def _checking(lines: int, measured: Callable[[Callable[[], object]], dict[str, float]]) -> dict[str, float]:
    """All of `rigdsl check`, once the program is there: reading, paths, every rule, the report."""
    from rigdsl.cli import main

    with tempfile.TemporaryDirectory() as folder:
        warm, rig = Path(folder, "warm.rig"), Path(folder, "bench.rig")
        warm.write_text(rig_text(60))
        rig.write_text(rig_text(lines))
        with open(os.devnull, "w") as nowhere, redirect_stdout(nowhere):
            main(["check", str(warm)])
            return measured(lambda: main(["check", str(rig)]))


def check(lines: int) -> dict[str, float]:
    """How long a check takes."""
    return _checking(lines, lambda work: {"ms": _ms(work)})


def memory(lines: int) -> dict[str, float]:
    """How much memory a check takes at most."""

    def measured(work: Callable[[], object]) -> dict[str, float]:
        tracemalloc.start()
        work()
        return {"mb": tracemalloc.get_traced_memory()[1] / 1e6}

    return _checking(lines, measured)


def tree(lines: int) -> dict[str, float]:
    """lark alone: a plain tree of the same text with the same grammar."""
    from importlib.resources import files

    from lark import Lark

    grammar = (files("rigdsl_grammar") / "rig.lark").read_text("utf-8")
    parser = Lark(grammar, parser="lalr", lexer="basic")
    source = rig_text(lines)
    return {"ms": _ms(lambda: parser.parse(source))}


def draw(lines: int) -> dict[str, float]:
    """Drawing a rig that is read already, and the layout engine alone on the same DOT text."""
    from rigdsl.draw import Wanted, draw, render
    from rigdsl.paths import Paths
    from rigdsl.rig import read

    rig = read(rig_text(lines))
    paths = Paths(rig)
    taken = {}
    for view in ("flow", "cabling"):
        dot = draw(rig, paths, (), Wanted(view), "gv")[0].decode("utf-8")
        taken[f"{view}_engine"] = _ms(lambda dot=dot: render(dot))  # type: ignore[misc]
        taken[view] = _ms(lambda view=view: draw(rig, Paths(rig), (), Wanted(view), "svg"))  # type: ignore[misc]
    return taken


def tidied(lines: int) -> dict[str, float]:
    """Setting a text of which every line has to be set, and reading it."""
    from rigdsl.syntax import parse
    from rigdsl.syntax.tidy import tidy
    from rigdsl.text import Source

    loose = Source("bench.rig", rig_text(lines).replace(" ", "  "))
    parse(Source("warm.rig", rig_text(60)))
    return {"set": _ms(lambda: tidy(loose)), "read": _ms(lambda: parse(loose))}


def workbook(channels: int) -> dict[str, float]:
    """An input list as a workbook, and its library alone writing the same cells; and the list made from the rig."""
    import io

    import xlsxwriter

    from rigdsl.papers import PAPERS, Facts, printed
    from rigdsl.paths import Paths
    from rigdsl.reports.paper_xlsx import papers_xlsx
    from rigdsl.rig import read

    gc.disable()  # as the command does
    rig = read(list_text(channels))
    papers_xlsx([printed(PAPERS["input-list"], Facts(rig, Paths(rig)))], rig, "a4")  # all is loaded
    list_ms = _ms(lambda: printed(PAPERS["input-list"], Facts(rig, Paths(rig))))
    paper = printed(PAPERS["input-list"], Facts(rig, Paths(rig)))
    (table,) = paper.tables

    def alone() -> None:
        book = xlsxwriter.Workbook(io.BytesIO(), {"in_memory": True})
        page = book.add_worksheet()
        for at, row in enumerate((table.columns, *table.rows)):
            for column, cell in enumerate(row):
                page.write(at, column, cell)
        book.close()

    alone_ms = min(_ms(alone) for _ in range(5))
    ours_ms = min(_ms(lambda: papers_xlsx([paper], rig, "a4")) for _ in range(5))
    return {"workbook": ours_ms, "alone": alone_ms, "list": list_ms}


def lose(lines: int) -> dict[str, float]:
    """Ranking all cables and boxes of a rig that is read already, and one pass of a graph library over the same."""
    import networkx as nx

    from rigdsl.paths import Paths
    from rigdsl.paths.failure import Failures
    from rigdsl.rig import read

    gc.disable()  # as the command does
    rig = read(rig_text(lines))
    graph: nx.Graph[str] = nx.Graph()
    graph.add_edges_from((end.box, link.name) for link in rig.links.values() for pair in link.joins for end in pair)
    for things in (rig.sources, rig.outputs):
        graph.add_edges_from((thing.name, port.box) for thing in things.values() for port in thing.ports)
    return {
        "ranking": _ms(lambda: Failures(Paths(rig)).ranking),
        "cuts": _ms(lambda: (list(nx.articulation_points(graph)), list(nx.bridges(graph)))),
    }


def rules(lines: int) -> dict[str, float]:
    """What each rule takes, the paths worked out before; `""` is that working out."""
    from rigdsl.lint.timing import costs
    from rigdsl.packs import discover
    from rigdsl.rig import read

    gc.disable()  # as the command does
    found = costs(read(rig_text(lines)), discover().rules)
    return {"": found.shared_s * 1e3} | {name: seconds * 1e3 for name, seconds in found.by_rule.items()}


if __name__ == "__main__":
    TASKS = {task.__name__: task for task in (check, draw, lose, memory, rules, tidied, tree, workbook)}
    print(json.dumps(TASKS[sys.argv[1]](int(sys.argv[2]))))
