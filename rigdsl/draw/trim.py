"""A node with some of its rows: what a drawing of a part leaves out, and what goes on on another sheet."""

from __future__ import annotations

import re
from collections.abc import Container
from dataclasses import replace

from rigdsl.draw.shapes import Cell, Node, Row
from rigdsl.draw.sizes import places

__all__ = ["trimmed"]

GROUP = re.compile(r"[^.]+\.(.+) \d+")  # of a socket, as `SL.mic 3`
NUMBERS = re.compile(r"\d[\d,-]*")


def trimmed(node: Node, kept: Container[int]) -> Node:
    """The node with the rows of these indexes. A field of several rows is as high as those of its rows that stay."""
    stays = [index for index in range(len(node.rows)) if index in kept]
    cells: dict[int, list[tuple[int, Cell]]] = {index: [] for index in stays}
    for index, placed in enumerate(places(node)):
        for column, cell in placed:
            own = [at for at in range(index, index + cell.rows) if at in cells]
            if own:
                cells[own[0]].append((column, replace(cell, rows=len(own))))
    rows = [replace(node.rows[index], cells=_in_order(cells[index])) for index in stays]
    alone = [index - 1 not in cells for index in stays]
    return replace(node, rows=tuple(_named(row) if first else row for row, first in zip(rows, alone, strict=True)))


def _named(row: Row) -> Row:
    """A row whose number stood under the name of its group, and no longer does: the name goes before it."""
    group = GROUP.fullmatch(row.things[0]) if row.things else None
    at = next((at for at, cell in enumerate(row.cells) if cell.text), None)
    if group is None or at is None or not NUMBERS.fullmatch(row.cells[at].text):
        return row
    named = replace(row.cells[at], text=f"{group[1]} {row.cells[at].text}")
    return replace(row, cells=(*row.cells[:at], named, *row.cells[at + 1 :]))


def _in_order(cells: list[tuple[int, Cell]]) -> tuple[Cell, ...]:
    return tuple(cell for _, cell in sorted(cells, key=lambda placed: placed[0]))
