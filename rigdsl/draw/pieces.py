"""Nodes that are higher than a sheet, cut between their rows: `SL`, and `SL, continued`.

Lines go to the piece in which their socket is. What is plugged in is cut where the box that it is plugged into is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import ceil

from rigdsl.draw.shapes import Edge, End, Node
from rigdsl.draw.sizes import node_size, places, row_height
from rigdsl.draw.trim import trimmed

__all__ = ["cut_up", "satellites"]

Pieces = dict[str, list[Node]]


def cut_up(nodes: Sequence[Node], edges: Sequence[Edge], most: float) -> tuple[tuple[Node, ...], tuple[Edge, ...]]:
    """The nodes, none much higher than `most` points, and the lines between them."""
    if all(node_size(node)[1] <= most for node in nodes):
        return tuple(nodes), tuple(edges)
    hosts = satellites(nodes, edges)
    pieces: Pieces = {node.id: _pieces(node, _even(node, most)) for node in nodes if node.id not in hosts}
    for node in nodes:
        if node.id in hosts:
            pieces[node.id] = _pieces(node, _beside(node, edges, pieces, most))
    whole = tuple(piece for node in nodes for piece in pieces[node.id])
    return whole, tuple(part for edge in edges for part in _ended(edge, pieces))


def satellites(nodes: Iterable[Node], edges: Iterable[Edge]) -> dict[str, str]:
    """What is plugged in, and what marks where a line goes on, by id: the one node that it hangs on."""
    loose = {node.id for node in nodes if not node.filled}
    partners: dict[str, set[str]] = {}
    for edge in edges:
        for mine, other in ((edge.left.node, edge.right.node), (edge.right.node, edge.left.node)):
            if mine in loose and other not in loose:
                partners.setdefault(mine, set()).add(other)
    return {name: min(others) for name, others in partners.items() if len(others) == 1}


def _pieces(node: Node, cuts: list[range]) -> list[Node]:
    if len(cuts) < 2:
        return [node]
    title = f"{node.title}, continued" if node.title else ""
    rest = replace(node, title=title, marks=(), about=())
    made = [trimmed(replace(rest, id=f"{node.id}--{number}"), rows) for number, rows in enumerate(cuts, 1)]
    first = trimmed(node, cuts[0])
    return [first, *made[1:]]


def _even(node: Node, most: float, rows: range | None = None) -> list[range]:
    """Stretches of rows of about one height; no loom is cut that has room on a sheet."""
    rows = range(len(node.rows)) if rows is None else rows
    heights = [row_height(node.rows[index]) for index in rows]
    room = max(most - (node_size(node)[1] - sum(map(row_height, node.rows))), 2 * max(heights, default=1.0))
    count = ceil(sum(heights) / room)
    if count < 2:
        return [rows]
    whole = _held(node, most)
    cuts: list[range] = []
    begun, taken, target = rows.start, 0.0, sum(heights) / count
    for index, height in zip(rows, heights, strict=True):
        full = taken + height > room
        good = taken >= target - height / 2 and index not in whole and len(cuts) < count - 1
        if index > begun and (full or good):
            at = next((at for at in range(index, begun, -1) if at not in whole), index) if full else index
            cuts.append(range(begun, at))
            begun = at
            taken = sum(row_height(node.rows[back]) for back in range(at, index))
        taken += height
    return [*cuts, range(begun, rows.stop)]


def _held(node: Node, most: float) -> set[int]:
    """Rows before which nothing is cut, as a field reaches into them from above.

    A loom that is too high itself is cut in equal parts, so that it is cut alike in the box at its other end.
    """
    held: set[int] = set()
    for index, row in enumerate(node.rows):
        for cell in row.cells:
            parts = ceil(sum(map(row_height, node.rows[index : index + cell.rows])) / most)
            cuts = {index + round(cell.rows * part / parts) for part in range(1, parts)}
            held.update(at for at in range(index + 1, index + cell.rows) if at not in cuts)
    return held


def _beside(node: Node, edges: Sequence[Edge], pieces: Pieces, most: float) -> list[range]:
    """Stretches whose lines go to one piece of the box beside, none too high."""
    keys = {end.key: other for edge in edges for end, other in _both(edge) if end.node == node.id}
    where: list[str] = []
    for row in node.rows:
        ends = [keys[cell.key] for cell in row.cells if cell.key in keys]
        there = [piece.id for piece in _with_key(pieces, ends[0])] if ends else where[-1:]
        where.append(there[0] if there else "")
    cuts: list[range] = []
    begun = 0
    for index in range(1, len(where) + 1):
        if index == len(where) or where[index] != where[begun]:
            cuts += _even(node, most, range(begun, index))
            begun = index
    return cuts


def _both(edge: Edge) -> tuple[tuple[End, End], tuple[End, End]]:
    return (edge.left, edge.right), (edge.right, edge.left)


def _with_key(pieces: Pieces, end: End) -> list[Node]:
    """The pieces of a node in which a line may end there."""
    return [piece for piece in pieces[end.node] if any(cell.key == end.key for row in piece.rows for cell in row.cells)]


def _ended(edge: Edge, pieces: Pieces) -> list[Edge]:
    """A line to the pieces that it ends in; as several lines where a loom's bracket is on several pieces."""
    lefts, rights = _with_key(pieces, edge.left), _with_key(pieces, edge.right)
    parts: dict[tuple[str, str], list[tuple[str, str]]] = {}
    joins = edge.joins or (("", ""),)
    for index, (left, right) in enumerate(joins):
        share = (index + 0.5) / len(joins)
        ends = (_holding(lefts, left, edge.left.key, share), _holding(rights, right, edge.right.key, share))
        parts.setdefault(ends, []).append((left, right))
    made = []
    for number, ((left, right), some) in enumerate(parts.items(), 1):
        ended = replace(edge, left=replace(edge.left, node=left), right=replace(edge.right, node=right))
        if number > 1:
            ended = replace(ended, id=f"{edge.id}--{number}", marks=(), about=())
        made.append(replace(ended, joins=tuple(some) if edge.joins else ()))
    return made


def _holding(pieces: list[Node], socket: str, key: str, share: float) -> str:
    """The piece with a socket's row, else the one that far down the loom's bracket."""
    for piece in pieces if len(pieces) > 1 else ():
        if any(socket in row.things for row in piece.rows):
            return piece.id
    spans = [cell.rows for piece in pieces for placed in places(piece) for _, cell in placed if cell.key == key]
    reached = 0
    for piece, span in zip(pieces, spans, strict=True):
        reached += span
        if reached >= share * sum(spans):
            return piece.id
    return pieces[-1].id
