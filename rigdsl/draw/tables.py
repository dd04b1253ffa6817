"""A node as a table: how wide its columns are, and the table's text in the engine's own markup.

Every width is set, from our own measuring, so that a table has the same size whichever engine draws it
and whichever font that engine has.
"""

from __future__ import annotations

from collections.abc import Iterable

from rigdsl.draw.measure import SIZE, text_width, wrapped
from rigdsl.draw.patterns import BLACK, GROUND, INK, ORANGE, PAPER, QUIET, RULING, VERMILLION
from rigdsl.draw.shapes import Cell, Edge, Mark, Node, Row
from rigdsl.finding import Level

__all__ = ["ROW_HEIGHT", "escaped", "label_size", "label_table", "marks_table", "node_size", "node_table", "row_middles"]

PAD = 3.0  # points of air round the text of a cell
PLUG = 6.0  # width of the narrow field at a node's edge that a line ends in
SMALL = 9.0
LINE_HEIGHT = 1.2 * SIZE
ROW_HEIGHT = LINE_HEIGHT + 4
HEAD_PAD = 4.0
MARK_WIDTH = 18.0
MARK_HEIGHT = 15.0
WRAP = 190.0  # points, after which the text of a cell goes on in a second line
HEAD_WRAP = 260.0

MARK_GROUND = {Level.ERROR: VERMILLION, Level.WARNING: ORANGE, Level.NOTE: PAPER}


def escaped(text: str) -> str:
    """Text as data for the engine, in a table or between quotes: nothing in it is markup or an escape any more."""
    for plain, safe in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("\\", "\\\\")):
        text = text.replace(plain, safe)
    return text


def cell_lines(cell: Cell) -> list[str]:
    """The text of a cell, broken into lines."""
    return wrapped(cell.text, WRAP, bold=cell.tone == "strong") if cell.text else []


def _cell_width(cell: Cell) -> float:
    if cell.tone == "bar" or (not cell.text and cell.key):
        return PLUG
    return 2 * PAD + max((text_width(line, bold=cell.tone == "strong") for line in cell_lines(cell)), default=0.0)


def _row_height(row: Row) -> float:
    lines = max((len(cell_lines(cell)) for cell in row.cells if cell.rows == 1), default=1)
    return ROW_HEIGHT + (max(lines, 1) - 1) * LINE_HEIGHT


def _marked(node: Node) -> bool:
    return any(row.marks for row in node.rows)


def _marks_width(marks: Iterable[Mark]) -> float:
    return sum(MARK_WIDTH for _ in marks)


def _head_lines(node: Node) -> tuple[list[str], list[str]]:
    title = wrapped(node.title, HEAD_WRAP, bold=True)
    return title, wrapped(node.subtitle, HEAD_WRAP, SMALL) if node.subtitle else []


def _head_size(node: Node) -> tuple[float, float]:
    title, subtitle = _head_lines(node)
    widths = [text_width(line, bold=True) for line in title] + [text_width(line, SMALL) for line in subtitle]
    height = LINE_HEIGHT * len(title) + 1.2 * SMALL * len(subtitle)
    return max(widths) + 2 * HEAD_PAD + 2 + _marks_width(node.marks), height + 2 * HEAD_PAD


def _places(node: Node) -> list[list[tuple[int, Cell]]]:
    """Each row's cells with the column that each stands in: a cell of several rows keeps its columns in the next ones."""
    taken: dict[int, int] = {}
    rows = []
    for row in node.rows:
        column, placed = 0, []
        for cell in row.cells:
            while taken.get(column, 0) > 0:
                column += 1
            placed.append((column, cell))
            for covered in range(column, column + cell.columns):
                taken[covered] = cell.rows
            column += cell.columns
        taken = {key: left - 1 for key, left in taken.items()}
        rows.append(placed)
    return rows


def _columns(node: Node) -> dict[int, float]:
    """Widths of the columns; where the heading is wider, the widest column takes the rest."""
    widths: dict[int, float] = {}
    for row in _places(node):
        for column, cell in row:
            if cell.columns == 1:
                widths[column] = max(widths.get(column, 0.0), _cell_width(cell))
    for row in _places(node):
        for column, cell in row:
            span = range(column, column + cell.columns)
            missing = _cell_width(cell) - sum(widths.setdefault(key, 0.0) for key in span)
            if missing > 0:
                widths[max(span, key=lambda key: (widths[key], -key))] += missing
    if widths:
        missing = max(_head_size(node)[0], node.width - 2) - sum(widths.values()) - MARK_WIDTH * _most_marks(node)
        if missing > 0:
            widths[max(widths, key=lambda key: (widths[key], -key))] += missing
    return widths


def _most_marks(node: Node) -> int:
    return max((len(row.marks) for row in node.rows), default=0)


def node_size(node: Node) -> tuple[float, float]:
    """Width and height of a node, its border with it."""
    width, height = _head_size(node)
    body = sum(_columns(node).values()) + MARK_WIDTH * _most_marks(node)
    return max(width, body, node.width - 2) + 2, height + sum(map(_row_height, node.rows)) + 2


def row_middles(node: Node) -> list[float]:
    """How far below a node's top edge the middle of each row lies."""
    top = 1 + _head_size(node)[1]
    middles = []
    for row in node.rows:
        middles.append(top + _row_height(row) / 2)
        top += _row_height(row)
    return middles


def marks_table(marks: tuple[Mark, ...]) -> str:
    """Findings' numbers, each in its small frame: thick for an error, filled for errors and warnings."""
    cells = "".join(
        f'<TD BORDER="{2 if mark.level is Level.ERROR else 1}" BGCOLOR="{MARK_GROUND[mark.level]}" COLOR="{INK}" '
        f'WIDTH="{MARK_WIDTH - 2:g}" HEIGHT="{MARK_HEIGHT - 2:g}"><FONT POINT-SIZE="9" COLOR="{BLACK}"><B>{mark.number}</B></FONT></TD>'
        for mark in marks
    )
    size = f'FIXEDSIZE="TRUE" WIDTH="{len(marks) * (MARK_WIDTH - 1) + 1:g}" HEIGHT="{MARK_HEIGHT:g}"'
    return f'<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="1" CELLPADDING="0" {size}><TR>{cells}</TR></TABLE>'


def label_size(edge: Edge) -> tuple[float, float]:
    """Width and height of a line's words with its findings' numbers."""
    words = max((text_width(line, SMALL, bold=index == 0) for index, line in enumerate(edge.label)), default=-4.0) + 4
    return words + MARK_WIDTH * len(edge.marks), max(1.2 * SMALL * len(edge.label) + 2, MARK_HEIGHT if edge.marks else 0.0)


def label_table(edge: Edge) -> str:
    """A line's words, the first of them bold, and its findings' numbers."""
    lines = [f'<FONT POINT-SIZE="{SMALL:g}">{escaped(line) or "&#160;"}</FONT>' for line in edge.label]
    if edge.label:
        lines[0] = f"<B>{lines[0]}</B>"
    width, height = label_size(edge)
    words = width - MARK_WIDTH * len(edge.marks)
    text = f'<TD WIDTH="{words:.1f}" HEIGHT="{height:g}">{"<BR/>".join(lines)}</TD>' if lines else ""
    marks = f"<TD>{marks_table(edge.marks)}</TD>" if edge.marks else ""
    return f'<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="0"><TR>{text}{marks}</TR></TABLE>'


def _text(lines: list[str], cell: Cell) -> str:
    breaks = f'<BR ALIGN="{cell.align.upper()}"/>'
    text = breaks.join(escaped(line) if line else "&#160;" for line in lines)
    if len(lines) > 1:
        text += breaks
    if cell.tone == "strong":
        text = f"<B>{text}</B>"
    return f'<FONT COLOR="{QUIET}">{text}</FONT>' if cell.tone == "quiet" else text


def _cell(node: Node, row: Row, cell: Cell, width: float) -> str:
    facts = [f'WIDTH="{width:.1f}"'] if cell.columns == 1 else [f'COLSPAN="{cell.columns}"']
    if cell.rows > 1:
        facts.append(f'ROWSPAN="{cell.rows}"')
    else:
        facts.append(f'HEIGHT="{_row_height(row):g}"')
    if cell.key:
        facts.append(f'PORT="{cell.key}" ID="{node.id}--{cell.key}" TITLE="."')
    facts.append(f'BGCOLOR="{INK if cell.tone == "bar" else PAPER}"')
    if cell.tone != "bar":
        facts.append(f'BORDER="1" SIDES="T" COLOR="{RULING}"')
    text = _text(cell_lines(cell), cell) if cell.text else ""
    pad = PAD if text else 0
    return f'<TD {" ".join(facts)} CELLPADDING="{pad - 1 if pad else 0:g}" ALIGN="{cell.align.upper()}">{text}</TD>'


def _row(node: Node, row: Row, placed: list[tuple[int, Cell]], widths: dict[int, float], marked: int) -> str:
    cells = [(column, _cell(node, row, cell, widths[column])) for column, cell in placed]
    if marked:
        last = max(widths)
        field = (
            f'<TD WIDTH="{marked * MARK_WIDTH:g}" HEIGHT="{_row_height(row):g}" BORDER="1" SIDES="T" COLOR="{RULING}" '
            f'BGCOLOR="{PAPER}" CELLPADDING="0">{marks_table(row.marks) if row.marks else ""}</TD>'
        )
        at = next((index for index, (column, _) in enumerate(cells) if column == last), len(cells))
        ends_in_plug = widths[last] <= PLUG
        cells.insert(at if ends_in_plug else len(cells), (last, field))
    return f"<TR>{''.join(text for _, text in cells)}</TR>"


def _head(node: Node, columns: int) -> str:
    title, subtitle = _head_lines(node)
    breaks = '<BR ALIGN="LEFT"/>'
    text = breaks.join(f"<B>{escaped(line)}</B>" for line in title if line) or "&#160;"
    for line in subtitle:
        text += f'{breaks}<FONT POINT-SIZE="{SMALL:g}" COLOR="{QUIET}">{escaped(line) or "&#160;"}</FONT>'
    text += breaks
    width, height = _head_size(node)
    ground = GROUND if node.filled else PAPER
    if node.marks:
        text = (
            f'<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="0"><TR><TD ALIGN="LEFT">{text}</TD>'
            f"<TD>{marks_table(node.marks)}</TD></TR></TABLE>"
        )
    span = f'COLSPAN="{columns}" ' if columns > 1 else ""
    return (
        f'<TR><TD {span}WIDTH="{width:.1f}" HEIGHT="{height:g}" BGCOLOR="{ground}" ALIGN="LEFT" '
        f'CELLPADDING="{HEAD_PAD:g}">{text}</TD></TR>'
    )


def node_table(node: Node) -> str:
    """The table of a node: its heading, then its rows."""
    widths = _columns(node)
    marked = _most_marks(node)
    columns = max(len(widths) + (1 if marked else 0), 1)
    rows = "".join(_row(node, row, placed, widths, marked) for row, placed in zip(node.rows, _places(node), strict=True))
    return (
        f'<TABLE BORDER="1" CELLBORDER="0" CELLSPACING="0" CELLPADDING="0" COLOR="{INK}" BGCOLOR="{PAPER}">'
        f"{_head(node, columns)}{rows}</TABLE>"
    )
