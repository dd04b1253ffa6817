"""Redundant pairs: which runs are the second half of one."""

from __future__ import annotations

from rigdsl.paths import Paths, Run, twins

__all__ = ["second_runs"]


def second_runs(paths: Paths) -> frozenset[str]:
    """The names of runs on a secondary network, and of the later of two that carry the same between two boxes."""
    return frozenset(run.name for run in paths.runs if _is_secondary(paths, run) or _follows_its_twin(paths, run))


def _is_secondary(paths: Paths, run: Run) -> bool:
    rig = paths.rig
    return any((rig.group(port).net or rig.boxes[port.box].net) == "secondary" for port in run.ends)


def _follows_its_twin(paths: Paths, run: Run) -> bool:
    boxes = {port.box for port in run.ends}
    mates = {mate for port in run.ends for mate in twins(paths.rig, port)}
    for other in paths.runs:
        if other.key >= run.key or {port.box for port in other.ends} != boxes:
            continue
        both_say_so = all(any(link.redundant for link in one.links) for one in (run, other))
        if both_say_so or mates & set(other.ends):
            return True
    return False
