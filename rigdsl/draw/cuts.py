"""Lines that would run backwards, cut: a mark where the line leaves, and its twin where it comes in again.

From desk to desk and back, or from a box into itself, sound goes in a circle. A drawing that reads from left to
right has no place for the way back, so it says where to read on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import count

from rigdsl.draw.shapes import Cell, Edge, End, Node, Row, Side

__all__ = ["MARK", "cut", "letters", "letters_used", "mark_row"]

MARK = "mark"  # the first word of a mark's kind


def cut(nodes: Sequence[Node], edges: Sequence[Edge]) -> tuple[tuple[Node, ...], tuple[Edge, ...]]:
    """The same nodes and lines without a circle among them."""
    back = _backward([node.id for node in nodes], edges)
    titles = {node.id: node.title for node in nodes}
    free = letters(nodes)
    marks: list[Node] = []
    kept: list[Edge] = []
    for edge in edges:
        if edge.id not in back:
            kept.append(edge)
            continue
        letter = next(free)
        there = _mark(f"{edge.id}--on", f"{letter}: on to {titles[edge.right.node]}", "w")
        here = _mark(f"{edge.id}--back", f"{letter}: from {titles[edge.left.node]}", "e")
        marks += [replace(mark, state=edge.state, rows=_in_state(mark, edge)) for mark in (there, here)]
        kept.append(replace(edge, id=f"{edge.id}--on-edge", right=End(there.id, "mark", "w")))
        kept.append(
            replace(edge, id=f"{edge.id}--back-edge", left=End(here.id, "mark", "e"), label=(), bold=0, about=())
        )
    return (*nodes, *marks), tuple(kept)


def _in_state(mark: Node, edge: Edge) -> tuple[Row, ...]:
    return tuple(replace(row, state=edge.state) for row in mark.rows)


def mark_row(words: str, side: Side, key: str = "mark", tip: str = "") -> Row:
    """Where a line is cut: its words, and the field at `side` of them that the line ends in."""
    plug = Cell(key=key)
    return Row((plug, Cell(words)) if side == "w" else (Cell(words), plug), tip=tip or words)


def _mark(name: str, words: str, side: Side) -> Node:
    return Node(name, MARK, "", rows=(mark_row(words, side),), tip=words, filled=False)


def letters(nodes: Iterable[Node]) -> Iterator[str]:
    """A, B ... Z, A2, B2 ... but for those that marks have already."""
    taken = set(letters_used(nodes))
    named = (chr(ord("A") + index % 26) + (str(index // 26 + 1) if index >= 26 else "") for index in count())
    return (letter for letter in named if letter not in taken)


def letters_used(nodes: Iterable[Node]) -> Iterator[str]:
    """The letters of the marks among these nodes."""
    for node in nodes:
        if node.kind.split()[0] == MARK:
            yield from (cell.text.partition(":")[0] for row in node.rows for cell in row.cells if cell.text)


def _backward(names: list[str], edges: Sequence[Edge]) -> frozenset[str]:
    """The lines that close a circle, walking from the nodes that nothing comes into, in the order given."""
    onward: dict[str, list[Edge]] = {}
    for edge in edges:
        onward.setdefault(edge.left.node, []).append(edge)
    entered = {edge.right.node for edge in edges if edge.left.node != edge.right.node}
    found: set[str] = set()
    done: set[str] = set()
    for start in sorted(names, key=lambda name: name in entered):
        if start not in done:
            found.update(_closing(start, onward, done))
    return frozenset(found)


def _closing(start: str, onward: dict[str, list[Edge]], done: set[str]) -> Iterator[str]:
    """Depth first: a line to a node that is still being walked from closes a circle."""
    open_nodes = {start}
    stack = [(start, iter(onward.get(start, ())))]
    while stack:
        node, ways = stack[-1]
        edge = next(ways, None)
        if edge is None:
            done.add(node)
            open_nodes.discard(node)
            stack.pop()
        elif edge.right.node in open_nodes:
            yield edge.id
        elif edge.right.node not in done:
            open_nodes.add(edge.right.node)
            stack.append((edge.right.node, iter(onward.get(edge.right.node, ()))))
