"""A node with some of its rows: what a drawing of a part leaves out, and what goes on on another sheet."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import replace

from rigdsl.draw.shapes import Cell, Node
from rigdsl.draw.sizes import places

__all__ = ["trimmed"]


def trimmed(node: Node, kept: Container[int]) -> Node:
    """The node with the rows of these indexes. A field of several rows is as high as those of its rows that stay."""
    stays = [index for index in range(len(node.rows)) if index in kept]
    cells: dict[int, list[tuple[int, Cell]]] = {index: [] for index in stays}
    for index, placed in enumerate(places(node)):
        for column, cell in placed:
            own = [at for at in range(index, index + cell.rows) if at in cells]
            if own:
                cells[own[0]].append((column, replace(cell, rows=len(own))))
    rows = (replace(node.rows[index], cells=_in_order(cells[index])) for index in stays)
    return replace(node, rows=tuple(rows))


def _in_order(cells: list[tuple[int, Cell]]) -> tuple[Cell, ...]:
    return tuple(cell for _, cell in sorted(cells, key=lambda placed: placed[0]))
