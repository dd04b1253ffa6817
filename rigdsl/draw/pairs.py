"""Redundant pairs: which runs are the second half of one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigdsl.paths import Paths, Run, twins
from rigdsl.rig import Port, Rig

__all__ = ["second_runs"]


def second_runs(paths: Paths) -> frozenset[str]:
    """The names of runs on a secondary network, and of the later of two that carry the same between two boxes."""
    second = {run.name for run in paths.runs if _is_secondary(paths.rig, run)}
    between: dict[frozenset[str], list[Run]] = {}
    for run in sorted(paths.runs, key=lambda run: run.key):
        between.setdefault(frozenset(paths.rig.body(port.box) for port in run.ends), []).append(run)
    followers = (_followers(paths.rig, runs) for runs in between.values() if len(runs) > 1)
    return frozenset(second | {run.name for some in followers for run in some})


def _is_secondary(rig: Rig, run: Run) -> bool:
    return any((rig.group(port).net or rig.boxes[port.box].net) == "secondary" for port in run.ends)


def _followers(rig: Rig, runs: Iterable[Run]) -> Iterator[Run]:
    """Of the runs between two boxes, in their order, those that carry what one before them does.

    Both are said to be redundant, or they end at ports of one box that carry the same.
    """
    said = False
    mates: set[Port] = set()
    for run in runs:
        says_so = any(link.redundant for link in run.links)
        if (says_so and said) or not mates.isdisjoint(run.ends):
            yield run
        said = said or says_so
        mates.update(mate for port in run.ends for mate in twins(rig, port))
