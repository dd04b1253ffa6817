"""How large the tables of a drawing are: worked out here, in whole points, so that every engine makes them alike."""

from __future__ import annotations

from math import ceil

from rigdsl.draw.measure import SIZE, text_width, wrapped
from rigdsl.draw.shapes import Cell, Edge, Node, Row

__all__ = [
    "HEAD_PAD",
    "LINE_HEIGHT",
    "MARK_HEIGHT",
    "MARK_WIDTH",
    "PAD",
    "ROW_HEIGHT",
    "SIGN_WIDTH",
    "SMALL",
    "beside_title",
    "cell_lines",
    "column_widths",
    "head_lines",
    "head_size",
    "label_size",
    "mark_column",
    "nests",
    "node_size",
    "places",
    "row_height",
    "row_middles",
]

PAD = 3.0  # points of air round the text of a field
PLUG = 6.0  # width of the narrow field at a node's edge that a line ends in
SMALL = 9.0  # points, of text that explains
LINE_HEIGHT = 1.2 * SIZE
ROW_HEIGHT = LINE_HEIGHT + 6  # two points of air and one of ruling, above and below
HEAD_PAD = 4.0
MARK_WIDTH = 18.0
MARK_HEIGHT = 15.0
SIGN_WIDTH = 26.0  # of a crossing's sign, with the air before it
WRAP = 190.0  # points, after which the text of a field goes on in a second line
HEAD_WRAP = 260.0


def cell_lines(cell: Cell) -> tuple[str, ...]:
    """The text of a field, broken into lines."""
    return wrapped(cell.text, WRAP, bold=cell.tone == "strong") if cell.text else ()


def _cell_width(cell: Cell, marks: int = 0) -> float:
    if cell.tone == "bar" or (not cell.text and cell.key):
        return PLUG
    widths = (text_width(line, bold=cell.tone == "strong") for line in cell_lines(cell))
    return 2 * PAD + ceil(max(widths, default=0.0)) + MARK_WIDTH * marks


def row_height(row: Row) -> float:
    """The height of a row; a field of several rows does not make its first one higher."""
    lines = max((len(cell_lines(cell)) for cell in row.cells if cell.rows == 1), default=1)
    return ROW_HEIGHT + (max(lines, 1) - 1) * LINE_HEIGHT


def head_lines(node: Node) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The lines of a node's title and of what explains it."""
    title = wrapped(node.title, HEAD_WRAP, bold=True)
    return title, wrapped(node.subtitle, HEAD_WRAP, SMALL) if node.subtitle else ()


def head_size(node: Node) -> tuple[float, float]:
    """Width and height of a node's heading; nothing where it has no title."""
    if not node.title:
        return 0.0, 0.0
    title, subtitle = head_lines(node)
    widths = [text_width(line, bold=True) for line in title] + [text_width(line, SMALL) for line in subtitle]
    height = LINE_HEIGHT * len(title) + ceil(1.2 * SMALL * len(subtitle))
    return ceil(max(widths)) + 2 * HEAD_PAD + 2 + beside_title(node), height + 2 * HEAD_PAD


def beside_title(node: Node) -> float:
    """The width of the signs and numbers that stand beside a node's title."""
    return SIGN_WIDTH * len(node.crosses) + MARK_WIDTH * len(node.marks)


def places(node: Node) -> list[list[tuple[int, Cell]]]:
    """Each row's fields with the column of each: a field of several rows keeps its column in the next ones."""
    taken: dict[int, int] = {}
    rows = []
    for row in node.rows:
        column, placed = 0, []
        for cell in row.cells:
            while taken.get(column, 0) > 0:
                column += 1
            placed.append((column, cell))
            taken[column] = cell.rows
            column += 1
        taken = {key: left - 1 for key, left in taken.items()}
        rows.append(placed)
    return rows


def column_widths(node: Node) -> dict[int, float]:
    """Widths of the columns; where the heading is wider, the widest column takes the rest."""
    widths: dict[int, float] = {}
    beside = nests(node)
    for row, placed in zip(node.rows, places(node), strict=True):
        for column, cell in placed:
            marks = len(row.marks) if beside and cell is row.cells[-1] else 0
            widths[column] = max(widths.get(column, 0.0), _cell_width(cell, marks))
    if widths:
        missing = max(head_size(node)[0], node.width - 2) - sum(widths.values()) - MARK_WIDTH * mark_column(node)
        if missing > 0:
            widths[max(widths, key=lambda key: (widths[key], -key))] += missing
    return widths


def nests(node: Node) -> bool:
    """Rows that end in words hold their findings' numbers beside these; others have a column for them."""
    return all(row.cells[-1].text for row in node.rows)


def mark_column(node: Node) -> int:
    """How many numbers the column for them has to hold."""
    return 0 if nests(node) else max((len(row.marks) for row in node.rows), default=0)


def node_size(node: Node) -> tuple[float, float]:
    """Width and height of a node, its border with it."""
    width, height = head_size(node)
    body = sum(column_widths(node).values()) + MARK_WIDTH * mark_column(node)
    return max(width, body, node.width - 2) + 2, height + sum(map(row_height, node.rows)) + 2


def row_middles(node: Node) -> list[float]:
    """How far below a node's top edge the middle of each row lies."""
    top = 1 + head_size(node)[1]
    middles = []
    for row in node.rows:
        height = row_height(row)
        middles.append(top + height / 2)
        top += height
    return middles


def label_size(edge: Edge) -> tuple[float, float]:
    """Width and height of a line's words with its findings' numbers."""
    widths = [text_width(line, SMALL, bold=index == 0 and edge.bold > 0) for index, line in enumerate(edge.label)]
    words = ceil(max(widths)) + 4.0 if widths else 0.0
    height = max(ceil(1.2 * SMALL * len(edge.label)) + 2.0, MARK_HEIGHT if edge.marks else 0.0)
    return words + MARK_WIDTH * len(edge.marks), height
