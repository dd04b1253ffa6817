"""A node with some of its rows."""

from __future__ import annotations

from rigdsl.draw.shapes import Cell, Node, Row
from rigdsl.draw.trim import trimmed

NODE = Node(
    "box--SL",
    "box stage-box",
    "SL",
    rows=(
        Row((Cell(key="a", tone="bar", rows=3), Cell("1"), Cell("kick"))),
        Row((Cell("2"), Cell("snare"), Cell(key="out", rows=2))),
        Row((Cell("3"), Cell("free"))),
        Row((Cell(key="d"), Cell("4"), Cell("bass"))),
    ),
)


def texts(node: Node) -> list[list[str]]:
    return [[f"{cell.text or cell.key}*{cell.rows}" for cell in row.cells] for row in node.rows]


def test_a_bar_is_as_high_as_the_rows_that_stay() -> None:
    assert texts(trimmed(NODE, {0, 2})) == [["a*2", "1*1", "kick*1"], ["3*1", "free*1", "out*1"]]


def test_a_bar_whose_first_row_goes_begins_in_the_next_one() -> None:
    assert texts(trimmed(NODE, {1, 3})) == [["a*1", "2*1", "snare*1", "out*1"], ["d*1", "4*1", "bass*1"]]


def test_all_rows_are_the_node_itself() -> None:
    assert trimmed(NODE, range(4)) == NODE
