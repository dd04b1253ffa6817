"""Nodes, and the words on lines, as tables in the engine's markup."""

from __future__ import annotations

from rigdsl.draw.compared import FAINT, LOOKS, PALE, Inks, inks
from rigdsl.draw.markup import escaped, field, small, table
from rigdsl.draw.patterns import BLACK, BLUE, INK, ORANGE, PAPER, VERMILLION
from rigdsl.draw.shapes import Cell, Crossing, Edge, Mark, Node, State
from rigdsl.draw.sizes import (
    HEAD_PAD,
    MARK_HEIGHT,
    MARK_WIDTH,
    PAD,
    SIGN_WIDTH,
    SMALL,
    beside_title,
    cell_lines,
    column_widths,
    head_lines,
    head_size,
    label_size,
    mark_column,
    nests,
    node_size,
    places,
    row_height,
)
from rigdsl.finding import Level

__all__ = [
    "cell_id",
    "crossing_id",
    "crossing_sign",
    "label_table",
    "mark_id",
    "marks_table",
    "naming",
    "node_table",
    "row_id",
]

MARK_GROUND = {Level.ERROR: VERMILLION, Level.WARNING: ORANGE, Level.NOTE: PAPER}
LETTER_WIDTH, LETTER_HEIGHT = 10, 12  # of a crossing's sign, for each of its letters
LEFT = '<BR ALIGN="LEFT"/>'


def _ruled(look: Inks) -> str:
    return f' BORDER="1" SIDES="T" COLOR="{look.rule}" BGCOLOR="{look.ground}"'


def marks_table(marks: tuple[Mark, ...], part: str = "") -> str:
    """Findings' numbers, each in its small frame: thick for an error, filled for errors and warnings.

    `part` is what they are marked at; without one they are samples and not known by a name.
    """
    cells = ""
    for mark in marks:
        border = 2 if mark.level is Level.ERROR else 1
        facts = f' BORDER="{border}" BGCOLOR="{MARK_GROUND[mark.level]}" COLOR="{INK}"'
        facts += naming(mark_id(part, mark)) if part else ""
        number = small(f"<B>{mark.number}</B>", SMALL, INK if mark.level is Level.NOTE else BLACK)
        cells += field(number, MARK_WIDTH - 2, MARK_HEIGHT - 2, steady=True, facts=facts)
    size = (len(marks) * (MARK_WIDTH - 1) + 1, MARK_HEIGHT)
    return table(f"<TR>{cells}</TR>", size, spacing=1)


def mark_id(part: str, mark: Mark) -> str:
    """What a finding's number is called in the drawing, by the part that it is marked at."""
    return f"{part}--finding-{mark.number}"


def row_id(node: Node, row: int) -> str:
    """What a row is called, where a finding is marked at it."""
    return f"{node.id}--row-{row}"


def cell_id(node: Node, row: int, column: int, cell: Cell) -> str:
    """What a field is called in the drawing: by its key where lines end in it, else by its place."""
    return f"{node.id}--{cell.key or f'row-{row}-{column}'}"


def naming(name: str) -> str:
    """What makes the engine put a field into a group of its own, with this name."""
    return f' ID="{name}" HREF="#" TITLE="."'


def label_table(edge: Edge) -> str:
    """A line's words, its name in bold, and its findings' numbers."""
    lines = [escaped(line) for line in edge.label]
    if edge.bold:
        name, rest = edge.label[0][: edge.bold], edge.label[0][edge.bold :]
        lines[0] = f"<B>{escaped(name)}</B>" + (escaped(rest) if rest else "")
    width, height = label_size(edge)
    room = MARK_WIDTH * len(edge.marks)
    steady = edge.label_at is not None
    cells = ""
    if lines:
        ink = inks(edge.worded or edge.state).ink
        cells += field(small("<BR/>".join(lines), SMALL, ink), width - room, height, steady=steady)
    if edge.marks:
        cells += field(marks_table(edge.marks, edge.id), room, height, steady=steady)
    return table(f"<TR>{cells}</TR>", (width, height) if steady else None)


def node_table(node: Node) -> str:
    """The table of a node: its heading, then its rows."""
    widths = column_widths(node)
    marked = mark_column(node)
    placed = enumerate(places(node))
    rows = "".join(_row(node, index, cells, widths, marked) for index, cells in placed)
    head = _head(node, sum(widths.values()) + MARK_WIDTH * marked, len(widths) + bool(marked))
    look = LOOKS.get(node.state)
    style = f' STYLE="{look.frame}"' if look and look.frame else ""
    facts = f' COLOR="{inks(node.state).frame}"{style} BGCOLOR="{PAPER}"'
    framed = table(head + rows, node_size(node) if node.at is not None else None, facts=facts)
    return framed.replace('BORDER="0"', 'BORDER="1"', 1)


def _head(node: Node, width: float, columns: int) -> str:
    if not node.title:
        return ""
    title, subtitle = head_lines(node)
    text = "".join(f"<B>{escaped(line)}</B>{LEFT}" for line in title)
    look = inks(node.state, filled=node.filled)
    text += "".join(f"{small(escaped(line), SMALL, look.quiet)}{LEFT}" for line in subtitle)
    text = text if look.ink == INK else f'<FONT COLOR="{look.ink}">{text}</FONT>'
    own_width, height = head_size(node)
    width, pad, steady = max(width, own_width), HEAD_PAD, node.at is not None
    room = beside_title(node)
    if room:
        words = field(text, width - room - HEAD_PAD, height, steady=True, pad=HEAD_PAD, align="left")
        text = table(
            f"<TR>{words}{_beside_title(node, height)}</TR>",
            (width, height),
        )
        pad = 0.0
    span = f' COLSPAN="{columns}"' if columns > 1 else ""
    facts = f'{span} BGCOLOR="{look.head}"'
    return f"<TR>{field(text, width, height, steady=steady, pad=pad, align='left', facts=facts)}</TR>"


def _beside_title(node: Node, height: float) -> str:
    cells = ""
    for at, crossing in enumerate(node.crosses):
        last = not node.marks and at == len(node.crosses) - 1
        sign = crossing_sign(crossing, node.id, node.state)
        cells += field(sign, SIGN_WIDTH + HEAD_PAD * last, height, steady=True)
    if node.marks:
        marks = marks_table(node.marks, node.id)
        cells += field(marks, MARK_WIDTH * len(node.marks) + HEAD_PAD, height, steady=True)
    return cells


def crossing_sign(crossing: Crossing, part: str = "", state: State = "") -> str:
    """Two letters side by side, left to right as the sound goes: the digital one light on dark.

    `part` is where it stands; without one it is a sample.
    """
    cells, dark = "", PALE if state == "same" else INK
    for letter in crossing:
        ink, ground = (PAPER, dark if state else BLUE) if letter == "D" else (dark, PAPER)
        text = small(f"<B>{letter}</B>", SMALL, ink)
        cells += field(text, LETTER_WIDTH, LETTER_HEIGHT, steady=True, facts=f' BGCOLOR="{ground}"')
    size = (2 * LETTER_WIDTH + 2, LETTER_HEIGHT + 2)
    facts = f' COLOR="{dark}"' + (naming(crossing_id(part, crossing)) if part else "")
    return table(f"<TR>{cells}</TR>", size, facts=facts).replace('BORDER="0"', 'BORDER="1"', 1)


def crossing_id(part: str, crossing: Crossing) -> str:
    """What the sign of a crossing is called in the drawing, by the part that it stands at."""
    return f"{part}--crossing-{crossing}"


def _row(node: Node, index: int, placed: list[tuple[int, Cell]], widths: dict[int, float], marked: int) -> str:
    row = node.rows[index]
    cells = [(column, _cell(node, index, column, cell, widths[column])) for column, cell in placed]
    if marked:
        marks = marks_table(row.marks, row_id(node, index)) if row.marks else ""
        last = max(widths)
        at = next((index for index, (column, _) in enumerate(cells) if column == last), len(cells))
        cells.insert(at, (last, field(marks, marked * MARK_WIDTH, row_height(row), facts=_ruled(inks(row.state)))))
    return f"<TR>{''.join(text for _, text in cells)}</TR>"


def _cell(node: Node, index: int, column: int, cell: Cell, width: float) -> str:
    row = node.rows[index]
    own = (cell.rows == 1 and cell.tone != "bar") or node.state == row.state  # else it is of other rows too
    state: State = row.state if own or not row.state else "same"
    look = inks(state)
    facts = f' BGCOLOR="{FAINT if state == "same" else INK}"' if cell.tone == "bar" else _ruled(look)
    facts += f' PORT="{cell.key}"' if cell.key else ""
    if cell.key or (cell.text and row.things):
        facts += naming(cell_id(node, index, column, cell))
    text, pad = _text(cell, look), PAD - 1 if cell.text else 0.0
    if cell.rows > 1:
        return field(text, width, pad=pad, align=cell.align, facts=f'{facts} ROWSPAN="{cell.rows}"')
    height, steady = row_height(row), node.at is not None
    if row.marks and cell is row.cells[-1] and nests(node):
        room, inner = MARK_WIDTH * len(row.marks), height - 2  # the ruling goes off
        words = field(text, width - 2 - room, inner, steady=True, pad=pad, align=cell.align)
        both = f"<TR>{words}{field(marks_table(row.marks, row_id(node, index)), room, inner, steady=True)}</TR>"
        return field(table(both, (width - 2, inner)), width, height, steady=steady, facts=facts)
    return field(text, width, height, steady=steady, pad=pad, align=cell.align, facts=facts)


def _text(cell: Cell, look: Inks) -> str:
    """The lines of a field, each to its side."""
    lines = cell_lines(cell)
    if not lines:
        return ""
    breaks = f'<BR ALIGN="{cell.align.upper()}"/>'
    text = breaks.join(escaped(line) for line in lines) + (breaks if len(lines) > 1 else "")
    if cell.tone == "strong":
        text = f"<B>{text}</B>"
    colour = look.quiet if cell.tone == "quiet" else look.ink
    return text if colour == INK else f'<FONT COLOR="{colour}">{text}</FONT>'
