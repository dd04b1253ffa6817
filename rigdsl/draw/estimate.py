"""About how large the layout engine will make a drawing: ranks from left to right, nodes of a rank above each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rigdsl.draw.caption import notes_size, title_size
from rigdsl.draw.dot import NODE_SEP, RANK_SEP
from rigdsl.draw.shapes import Edge, View
from rigdsl.draw.sizes import label_size, node_size

__all__ = ["estimate", "ranks_of", "whole_size"]

PAD = 8.0  # points, of the engine round everything
FRAME = 24.0  # more of them across, round what it lays out
LANE = 8.0  # that a line takes where it passes a rank
SLACK = 1.06  # nodes do not stand as close as they could, so that lines are straight


def estimate(view: View, sizes: Mapping[str, tuple[float, float]] | None = None) -> tuple[float, float]:
    """Width and height of a drawing that the engine lays out, its captions with it.

    `sizes` are those of nodes that have been measured before, by their ids.
    """
    known = sizes or {}
    ranks = ranks_of([node.id for node in view.nodes], view.edges)
    columns: dict[int, list[tuple[float, float]]] = {}
    for node in view.nodes:
        columns.setdefault(ranks[node.id], []).append(known.get(node.id) or node_size(node))
    lanes: dict[int, int] = {}
    for edge in view.edges:
        left, right = ranks[edge.left.node], ranks[edge.right.node]
        worded = bool(edge.label or edge.marks)
        if worded:
            columns.setdefault(left + 1, []).append(label_size(edge))
        for rank in range(left + 1 + worded, right):
            lanes[rank] = lanes.get(rank, 0) + 1
    width = sum(max(wide for wide, _ in some) for some in columns.values()) + RANK_SEP * 72 * max(len(columns) - 1, 0)
    height = max(
        (
            sum(high + NODE_SEP * 72 for _, high in some) - NODE_SEP * 72 + LANE * lanes.get(rank, 0)
            for rank, some in columns.items()
        ),
        default=0.0,
    )
    return whole_size(view, width + FRAME, height * SLACK)


def whole_size(view: View, width: float, height: float) -> tuple[float, float]:
    """Width and height with the title above and the legend below."""
    title, notes = title_size(view), notes_size(view)
    return max(width, title[0], notes[0]) + PAD, height + title[1] + notes[1] + PAD + 18


def ranks_of(names: Sequence[str], edges: Sequence[Edge]) -> dict[str, int]:
    """How far right each node stands: the longest way to it; what nothing comes into stands next to what it feeds."""
    onward: dict[str, list[tuple[str, int]]] = {name: [] for name in names}
    missing = dict.fromkeys(names, 0)
    for edge in edges:
        if edge.left.node != edge.right.node:
            onward[edge.left.node].append((edge.right.node, 2 if edge.label or edge.marks else 1))
            missing[edge.right.node] += 1
    entered = {name for name, count in missing.items() if count}
    ranks = dict.fromkeys(names, 0)
    ready = [name for name in names if not missing[name]]
    for name in ready:
        for other, step in onward[name]:
            ranks[other] = max(ranks[other], ranks[name] + step)
            missing[other] -= 1
            if not missing[other]:
                ready.append(other)
    for name in names:
        if name not in entered and onward[name]:
            ranks[name] = min(ranks[other] - step for other, step in onward[name])
    return ranks
