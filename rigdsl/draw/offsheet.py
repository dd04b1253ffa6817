"""One sheet of several: its nodes and lines, and a mark wherever a line goes on to another sheet.

Both ends of a line that was cut have the same letter, and say what it is, where it goes on and on which sheet.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from rigdsl.draw.cuts import MARK, mark_row
from rigdsl.draw.shapes import Edge, End, Mark, Node, Row, Side, View
from rigdsl.draw.sizes import node_size

__all__ = ["Whole", "part", "with_findings"]

SMALL_PAGE = 1000.0  # points of width
DRAFT_SHEET, DRAFT_LETTER = 10, "M2"  # as wide as they may well become


@dataclass(frozen=True)
class Whole:
    """All that is to be split: nodes by their ids, how large they are, and the lines at each by their place."""

    view: View
    nodes: Mapping[str, Node]
    lines: Mapping[str, Sequence[int]]
    sizes: Mapping[str, tuple[float, float]]

    @staticmethod
    def of(view: View) -> Whole:
        """The whole of a view."""
        lines: dict[str, list[int]] = {node.id: [] for node in view.nodes}
        for index, edge in enumerate(view.edges):
            for name in dict.fromkeys((edge.left.node, edge.right.node)):
                lines[name].append(index)
        sizes = {node.id: node_size(node) for node in view.nodes}
        return Whole(view, {node.id: node for node in view.nodes}, lines, sizes)


@dataclass(frozen=True)
class Numbers:
    """The sheet on which each node stands, from 1, and the letter of each line that is cut; empty in a draft."""

    sheet: Mapping[str, int] = field(default_factory=dict)
    letter: Mapping[str, str] = field(default_factory=dict)


@dataclass
class Marks:
    """The marks of one sheet in the making: rows by the node they stand beside, and where its lines go on."""

    whole: Whole
    numbers: Numbers
    rows: dict[tuple[str, str, Side], list[tuple[str, str]]] = field(default_factory=dict)

    def end(self, edge: Edge, here: End, there: End, way: str) -> End:
        """A new row for a line that is cut, and where it ends in it."""
        letter = self.numbers.letter.get(edge.id, DRAFT_LETTER)
        side: Side = "w" if here.side == "e" else "e"
        rows = self.rows.setdefault((here.node, there.node, side), [])
        rows.append((f"{letter}: {_what(edge)}", way))
        return End(_name(here.node, there.node, side), _key(len(rows)), side)

    def _gap(self) -> str:
        """On a small page the words go on in a second line, so that the boxes have more of it."""
        page = self.whole.view.page
        return "\n" if page and page.room[0] < SMALL_PAGE else " "

    def nodes(self) -> list[Node]:
        """Each a node: several lines to one place stand under one heading."""
        made, gap = [], self._gap()
        for (here, there, side), rows in self.rows.items():
            node = self.whole.nodes[here]
            ways = dict.fromkeys(way for _, way in rows)
            sheet = self.numbers.sheet.get(there, DRAFT_SHEET)
            at = f"{self.whole.nodes[there].title}, sheet {sheet}"
            place, alone = f"{' and '.join(ways)} {at}", len(rows) == 1
            lines = [
                mark_row(f"{words}{gap}{place}" if alone else words, side, _key(number), f"{words} {way} {at}")
                for number, (words, way) in enumerate(rows, 1)
            ]
            kind = f"{MARK} {'on' if side == 'w' else 'from'}"
            title = "" if alone else place
            tip = lines[0].tip if alone else place
            name = _name(here, there, side)
            made.append(Node(name, kind, title, rows=tuple(lines), tip=tip, group=node.group, filled=False))
        return made


def _name(here: str, there: str, side: Side) -> str:
    return f"off--{here}--{there}--{side}"


def _key(number: int) -> str:
    return f"mark-{number}"


def _what(edge: Edge) -> str:
    """What a line is: its own name, else what is plugged in by it."""
    if edge.label:
        return edge.label[0][: edge.bold] if edge.bold else edge.label[0]
    plugged = [name for pair in edge.joins for name in pair if "." not in name]
    return plugged[0] if plugged else edge.joins[0][0] if edge.joins else "a line"


def part(whole: Whole, names: Sequence[str], numbers: Numbers | None = None) -> View:
    """The sheet with these nodes, in the order of the view; a draft of it where there are no numbers yet."""
    numbers = numbers or Numbers()
    view, here = whole.view, set(names)
    marks = Marks(whole, numbers)
    edges: list[Edge] = []
    for index in sorted({index for name in names for index in whole.lines[name]}):
        edge = view.edges[index]
        if edge.left.node in here and edge.right.node in here:
            edges.append(edge)
        elif edge.left.node in here:
            on = marks.end(edge, edge.left, edge.right, "to")
            edges.append(replace(edge, id=f"{edge.id}--on-edge", right=on, words_at="left"))
        else:
            back = marks.end(edge, edge.right, edge.left, "from")
            rest = replace(edge, label=(), bold=0, about=(), marks=(), words_at="right")
            edges.append(replace(rest, id=f"{edge.id}--back-edge", left=back))
    nodes = [_read_on(whole.nodes[name], here, numbers) for name in names]
    return with_findings(replace(view, nodes=(*nodes, *marks.nodes()), edges=tuple(edges)), view)


def _read_on(node: Node, here: set[str], numbers: Numbers) -> Node:
    """A mark that was there already says the sheet of its twin, where that is another one."""
    stem, _, end = node.id.rpartition("--")
    twin = f"{stem}--{'back' if end == 'on' else 'on'}"
    if node.kind.split()[0] != MARK or twin in here or twin not in numbers.sheet:
        return node
    more = f", sheet {numbers.sheet[twin]}"
    row = node.rows[0]
    cells = tuple(replace(cell, text=cell.text + more) if cell.text else cell for cell in row.cells)
    return replace(node, rows=(Row(cells, tip=row.tip + more),), tip=node.tip + more)


def with_findings(sheet: View, whole: View) -> View:
    """The list of those findings that are marked on the sheet; the others are counted."""
    shown = {mark.number for mark in _marks(sheet)}
    listed = tuple(one for one in whole.listed if one[0].number in shown)
    groups = {node.group for node in sheet.nodes}
    return replace(
        sheet,
        listed=listed,
        elsewhere=whole.elsewhere + len(whole.listed) - len(listed),
        groups=tuple(group for group in whole.groups if group.id in groups),
    )


def _marks(sheet: View) -> list[Mark]:
    on_nodes = [mark for node in sheet.nodes for mark in node.marks]
    in_rows = [mark for node in sheet.nodes for row in node.rows for mark in row.marks]
    return on_nodes + in_rows + [mark for edge in sheet.edges for mark in edge.marks]
