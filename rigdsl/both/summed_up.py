"""What the title block says of a drawing of two states: how much changed, and how much of it is not on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from rigdsl.draw.compared import LOOKS
from rigdsl.draw.shapes import View
from rigdsl.review.changes import Change
from rigdsl.rig import Rig

__all__ = ["summed_up"]


def summed_up(view: View, changes: tuple[Change, ...], rigs: tuple[Rig, Rig]) -> View:
    """The view with what is said of it. Where nothing on it changed nothing is pale: it is that of the new state."""
    shown = set(_shown(view))
    there = [change for change in changes if _about(change, rigs) & shown]
    kinds = Counter(change.kind if change.kind in ("added", "removed") else "otherwise" for change in there)
    counts = [f"{kinds[kind]} {kind}" for kind in ("added", "removed", "otherwise") if kinds[kind]]
    elsewhere = len(changes) - len(there)
    counts += [f"{elsewhere} {'more ' if there else ''}not on this drawing"] if elsewhere else []
    marked = _is_marked(view)
    said = f"before and after: {', '.join(counts)}" if marked else ", ".join(["nothing on it changed", *counts])
    what, *facts = view.facts
    titled = replace(view, facts=(what, said, *facts), description=f"{view.description.removesuffix('.')}; {said}.")
    return titled if marked else _plain(titled)


def _is_marked(view: View) -> bool:
    """Something on it is otherwise than it was."""
    states = {node.state for node in view.nodes} | {row.state for node in view.nodes for row in node.rows}
    states |= {state for edge in view.edges for state in (edge.state, edge.worded)}
    return bool(states & LOOKS.keys())


def _plain(view: View) -> View:
    """The drawing of one state: nothing is pale where nothing stands out."""
    nodes = (replace(node, state="", rows=tuple(replace(row, state="") for row in node.rows)) for node in view.nodes)
    edges = (replace(edge, state="") for edge in view.edges)
    groups = (replace(group, state="") for group in view.groups)
    return replace(view, nodes=tuple(nodes), edges=tuple(edges), groups=tuple(groups))


def _about(change: Change, rigs: tuple[Rig, Rig]) -> set[str]:
    """What a change is seen at: a thing by its name, a patch at either of its ends."""
    names = {change.name, change.old_name}
    if change.what != "patch":
        return names
    ends = {change.name, *(str(end) for end in change.fields.get("from", ()) if end)}
    legs = {end.rpartition(" ")[0] or end for end in ends if "." not in end} | ends
    plugs = (some[name] for rig in rigs for some in (rig.sources, rig.outputs) for name in legs if name in some)
    return ends | {str(port) for plug in plugs for port in plug.ports}


def _shown(view: View) -> Iterator[str]:
    """The names of all that has a sign."""
    for node in view.nodes:
        if node.state in LOOKS:
            yield from node.things
        for row in node.rows:
            if row.state in LOOKS:
                yield from row.things
    for edge in view.edges:
        if edge.state in LOOKS or edge.worded:
            yield from (*edge.cables, *(name for pair in edge.joins for name in pair))
