"""The words round a drawing: the title block, the legend, the findings beside it; on paper and off."""

from __future__ import annotations

from dataclasses import replace

import pytest
from lxml import etree

from rigdsl.draw import Cell, Edge, End, Mark, Node, Page, Row, View
from rigdsl.draw.caption import notes_size, notes_table, title_size, title_table
from rigdsl.draw.patterns import DIGITAL, LINE, PATTERNS
from rigdsl.finding import Level

BOX = Node("a", "box", "SL", rows=(Row((Cell("mic 1"), Cell(key="e"))),))
HERE = Node("on", "mark on", "", rows=(Row((Cell(key="mark-1"), Cell("B: C01 to DESK, sheet 2"))),), filled=False)
PLAIN = View("flow", "Moth Lamp Cellar", ("signal flow", "part: drums", "2026-12-04"), "", (BOX,), ())
A4 = Page(210, 297)


def fields(table: str) -> list[str]:
    """What a table says, field by field."""
    tree = etree.fromstring(table.replace("&#160;", " "))
    return [text for text in ("".join(font.itertext()).strip() for font in tree.iter("FONT")) if text]


def test_title_view_part_revision_date_and_sheet() -> None:
    view = replace(PLAIN, revision="2", sheet=(2, 5))
    assert fields(title_table(view)) == [
        "Moth Lamp Cellar",
        "signal flow",
        "revision 2",
        "part: drums",
        "2026-12-04",
        "sheet 2 of 5",
    ]


@pytest.mark.parametrize("long", ["Moth Lamp " * 30, "x" * 200, "舞台" * 80, '<b>"&amp;"</b> ]]> --> \\N ' * 9])
def test_no_title_or_fact_makes_a_block_wider_than_its_page(long: str) -> None:
    """And all of it stands there: the title, the revision, two facts."""
    view = replace(PLAIN, title=long, revision=long, facts=(long, long), page=A4)
    assert title_size(view)[0] <= A4.room[0]
    said = "".join(fields(title_table(view))).replace(" ", "").replace("\\\\", "\\")
    assert said.count(long.replace(" ", "")) == 4


def test_the_legend_names_what_is_there_and_says_what_letters_are() -> None:
    ends = (End("a", "e", "e"), End("on", "mark-1", "w"))
    view = replace(PLAIN, nodes=(BOX, HERE), edges=(Edge("x", *ends, DIGITAL), Edge("y", *ends, LINE)))
    assert fields(notes_table(view)) == [
        "one analogue line",
        "digital link",
        "B:",
        "the line goes on where the same letter stands",
    ]
    assert fields(notes_table(replace(view, nodes=(BOX,)))) == ["one analogue line", "digital link"]


def test_what_has_no_room_in_the_list_is_counted() -> None:
    """On a page the list is short, and nothing of it goes untold."""
    listed = tuple((Mark(n, Level.ERROR), f"`S{n}` is lost") for n in range(1, 31))
    view = replace(PLAIN, listed=listed, elsewhere=3)
    said = fields(notes_table(view))
    assert [text for text in said if "see the list" in text] == [
        "10 more marked here: see the list of `rigdsl check`",
        "3 not marked here: see the list of `rigdsl check`",
    ]
    small = fields(notes_table(replace(view, page=A4)))
    told = sum(text.startswith("error: `S") for text in small)
    assert 0 < told < 20
    assert f"{30 - told} more marked here: see the list of `rigdsl check`" in small
    assert notes_size(replace(view, page=A4))[1] < A4.room[1] / 3


def test_a_long_legend_stands_in_columns_no_wider_than_the_page() -> None:
    edges = tuple(Edge(pattern.name, End("a", "e", "e"), End("a", "e", "e"), pattern) for pattern in PATTERNS)
    wide, high = notes_size(replace(PLAIN, edges=edges, page=A4))
    assert wide <= A4.room[0]
    assert high < 18 * len(PATTERNS)
