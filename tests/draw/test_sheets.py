"""Drawings in sheets: each fits its paper and can be read, and together they show all that the whole view shows."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rigdsl.draw import PAPERS, Plates, View, Wanted, draw, laid_out, named_view, sheets, view
from rigdsl.draw.shapes import Edge, Mark
from rigdsl.finding import Finding
from rigdsl.paths import Paths
from rigdsl.paths.schedule import schedule
from rigdsl.rig import Rig, read
from tests.bench.festival import CABLES, SOURCES, festival_text
from tests.draw.made import SHAPES, drawn, example, findings, small
from tests.draw.pages import OnPaper, letters, on_paper

# ISO 216:2007, table 1 (A series); ANSI/ASME Y14.1, size A (8.5 by 11 inches); both upright, in millimetres.
PUBLISHED_MM = {"a4": (210, 297), "a3": (297, 420), "letter": (215.9, 279.4)}
LEAST_PT = 8.0  # of the design: text is never smaller on the page that it is made for


VIEWS = ("flow", "cabling")  # those that are split; the plan fits itself
EVERY = [(name, which, paper) for name in SHAPES for which in VIEWS for paper in PUBLISHED_MM]


@cache
def pictures(name: str, which: str, paper: str) -> tuple[bytes, ...]:
    rig = example(name)
    return draw(rig, Paths(rig), findings(rig), Wanted(which, paper=paper), "svg")


@cache
def split(name: str, which: str, paper: str) -> tuple[View, ...]:
    rig = example(name)
    return drawn(rig, Wanted(which, paper=paper), findings(rig))


def whole(rig: Rig, which: str, said: tuple[Finding, ...] = ()) -> View:
    return view(rig, Paths(rig), said, which)


def test_the_papers_are_those_that_are_published() -> None:
    assert {name: pytest.approx(sides) for name, sides in PUBLISHED_MM.items()} == PAPERS


def fits(sheet: OnPaper, paper: str) -> None:
    """As large as the paper, everything inside the frame, the frame inside the page, no text too small."""
    sides = (float(sheet.width.removesuffix("mm")), float(sheet.height.removesuffix("mm")))
    assert sorted(sides) == pytest.approx(sorted(PUBLISHED_MM[paper]))
    assert sheet.page == pytest.approx([side / 25.4 * 72 for side in sides], abs=0.01)
    outer = (0.0, 0.0, *sheet.page)
    for inner, around in ((sheet.drawn, sheet.frame), (sheet.frame, outer)):
        assert (inner[0] >= around[0], inner[1] >= around[1]) == (True, True)
        assert (inner[2] <= around[2], inner[3] <= around[3]) == (True, True)
    assert sheet.smallest_pt >= LEAST_PT


def paired(svgs: tuple[bytes, ...]) -> None:
    """Each letter stands twice in a drawing: where its line leaves, and where it comes in again."""
    counts = Counter(letter for svg in svgs for letter in letters(svg))
    assert set(counts.values()) <= {2}


@pytest.mark.parametrize(("name", "which", "paper"), EVERY)
def test_each_sheet_fits_its_paper_and_can_be_read(name: str, which: str, paper: str) -> None:
    made = [on_paper(svg) for svg in pictures(name, which, paper)]
    for sheet in made:
        fits(sheet, paper)
    assert len({(sheet.width, sheet.height) for sheet in made}) == 1
    paired(pictures(name, which, paper))


def same_joins(whole: View, made: tuple[View, ...]) -> None:
    """Nothing lost and nothing twice, but for the two halves of a line that is cut."""
    cut = {edge.id for edge in whole.edges if edge.id.endswith("-edge")}  # by itself, as it ran backwards
    counts = Counter(join for edge in whole.edges for join in edge.joins if edge.id not in cut)
    halves = [edge for sheet in made for edge in sheet.edges if not edge.id.endswith("--back-edge")]
    backs = [edge for sheet in made for edge in sheet.edges if edge.id.endswith("--back-edge")]
    assert {join for edge in (*halves, *backs) for join in edge.joins} == {
        join for edge in whole.edges for join in edge.joins
    }
    ahead = Counter(join for edge in halves for join in edge.joins)
    assert all(ahead[join] == count for join, count in counts.items())
    cables = {cable for edge in whole.edges for cable in edge.cables}
    assert {cable for edge in (*halves, *backs) for cable in edge.cables} == cables


def one_name_each(made: tuple[View, ...]) -> None:
    ids = [node.id for sheet in made for node in sheet.nodes] + [edge.id for sheet in made for edge in sheet.edges]
    assert [name for name, count in Counter(ids).items() if count > 1] == []
    for sheet in made:
        keys = {(node.id, cell.key) for node in sheet.nodes for row in node.rows for cell in row.cells}
        assert all({(end.node, end.key) for end in (edge.left, edge.right)} <= keys for edge in sheet.edges)


def all_rows(whole: View, made: tuple[View, ...]) -> None:
    """Every row of every node stands on one sheet."""
    rows = Counter(row.tip for node in whole.nodes if node.kind != "mark" for row in node.rows)
    there = [node for sheet in made for node in sheet.nodes if not node.kind.startswith("mark")]
    assert Counter(row.tip for node in there for row in node.rows) == rows


def read_on(made: tuple[View, ...]) -> None:
    """What a mark says is so: on the sheet that it names stands the same letter, and names this one."""
    said: dict[str, list[tuple[int, int]]] = {}
    for sheet in made:
        for node in sheet.nodes:
            for row in node.rows if node.kind.startswith("mark") else ():
                letter, _, rest = row.tip.partition(": ")
                onto = re.search(r", sheet (\d+)$", rest)
                said.setdefault(letter, []).append((sheet.sheet[0], int(onto[1]) if onto else sheet.sheet[0]))
    for places in said.values():
        (here, there), (twin, back) = places
        assert (here, there) == (back, twin)


def marks(view: View) -> Counter[tuple[int, str]]:
    """Every mark with what it stands at."""
    found: list[tuple[Mark, str]] = []
    for node in view.nodes:
        found += [(mark, node.tip) for mark in node.marks]
        found += [(mark, row.tip) for row in node.rows for mark in row.marks]
    found += [(mark, edge.tip) for edge in view.edges for mark in edge.marks]
    return Counter((mark.number, at) for mark, at in found)


def same_findings(whole: View, made: tuple[View, ...]) -> None:
    """Marked where they were, once; listed where they are marked; the others are counted."""
    assert sum((marks(sheet) for sheet in made), Counter()) == marks(whole)
    for sheet in made:
        assert {mark.number for mark, _ in sheet.listed} == {number for number, _ in marks(sheet)}
        assert len(sheet.listed) + sheet.elsewhere == len(whole.listed) + whole.elsewhere


@pytest.mark.parametrize(("name", "which", "paper"), EVERY)
def test_together_they_show_all_of_the_view(name: str, which: str, paper: str) -> None:
    rig = example(name)
    all_of_it, made = whole(rig, which, findings(rig)), split(name, which, paper)
    same_joins(all_of_it, made)
    one_name_each(made)
    all_rows(all_of_it, made)
    read_on(made)
    same_findings(all_of_it, made)
    assert [sheet.sheet for sheet in made] == [(at, len(made)) for at in range(1, len(made) + 1)]


@pytest.mark.parametrize("which", VIEWS)
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_random_rigs(which: str, data: st.DataObject) -> None:
    """The same on rigs that nobody would build, split without an engine."""
    rig = small(data.draw(rigs()))
    all_of_it = whole(rig, which)
    made = sheets(all_of_it, rig, named_view(which), data.draw(st.sampled_from(sorted(PAPERS))))
    same_joins(all_of_it, made)
    one_name_each(made)
    all_rows(all_of_it, made)
    read_on(made)


@st.composite
def rigs(draw: st.DrawFn) -> str:
    """Stage boxes, sub-boxes and desks in zones, joined at random, with sources and outputs anywhere."""
    count = draw(st.integers(2, 9))
    kinds = [draw(st.sampled_from(["nw16", "sub8", "desk32", "split4"])) for _ in range(count)]
    lines = [f"zone z{n} at ({n % 2 * 5}, {n // 2 * 5}) m" for n in range(3)]
    lines += [f"box B{n} is {kind} in z{draw(st.integers(0, 2))}" for n, kind in enumerate(kinds)]
    outs = {"nw16": ("line", 8), "sub8": ("tail", 8), "desk32": ("out", 8), "split4": ("iso", 4)}
    ins = {"nw16": ("mic", 16), "sub8": ("panel", 8), "desk32": ("local", 8), "split4": ("in", 4)}
    for number, (a, b) in enumerate(combinations(range(count), 2)):
        (left, most), (right, room) = outs[kinds[a]], ins[kinds[b]]
        wide = draw(st.integers(0, min(most, room)))
        if wide:
            cable = draw(st.sampled_from(["xlr", "loom8"]))
            lines.append(f"link L{number}: B{a}.{left} 1-{wide} -- B{b}.{right} 1-{wide} via {cable} 5 m")
    for number in range(draw(st.integers(0, 40))):
        box = draw(st.integers(0, count - 1))
        group, room = ins[kinds[box]]
        socket = draw(st.integers(1, room))
        lines.append(f"source s{number} dynamic in z{number % 3} to B{box}.{group} {socket} via xlr 5 m")
    return "\n".join(lines)


LONG = "\n".join(
    [
        "model big { kind stage-box; inputs mic 1-96 { preamp }; outputs line 1-4; digital A { protocol moss } }",
        "cable loom96 { medium analogue; lines 96 }",
        "model multi { kind sub-box; inputs panel 1-96; outputs tail 1-96; pass panel -> tail }",
        "zone a",
        "box SL is big in a",
        "box MP is multi in a",
        "link L01: MP.tail 1-96 -- SL.mic 1-96 via loom96 10 m",
        *(f'source s{n} "Voice {n}" dynamic in a to MP {n} via xlr 3 m' for n in range(1, 97)),
    ]
)


def test_a_box_too_high_for_a_page_goes_on_on_another_sheet() -> None:
    rig = small(LONG)
    made = drawn(rig, Wanted("flow", paper="a4"))
    boxes = [node for sheet in made for node in sheet.nodes if node.kind == "box stage-box"]
    assert [node.title for node in boxes] == ["SL"] + ["SL, continued"] * (len(boxes) - 1)
    assert len(boxes) > 2
    parts: list[Edge] = [edge for sheet in made for edge in sheet.edges if "L01" in edge.cables]
    assert sorted({join for edge in parts for join in edge.joins}) == sorted(
        (f"MP.tail {n}", f"SL.mic {n}") for n in range(1, 97)
    )
    same_joins(whole(rig, "flow"), made)
    all_rows(whole(rig, "flow"), made)


def test_a_box_too_large_for_any_sheet_is_said() -> None:
    """A node of one row that is higher than the page cannot be cut."""
    told: list[str] = []
    title = "way too long " * 600
    rig = small(f'box S "{title}" is nw16\nsource a dynamic to S 1')
    draw(rig, Paths(rig), (), Wanted("flow", paper="a4"), "svg", say=told.append)
    assert told == ["text under 8 points on 1 of 2 sheets of `flow`: one box alone is too large for this paper"]


def test_words_of_a_mark() -> None:
    """What it is, where it goes on and on which sheet; several towards one place stand under one heading."""
    made = split("club/friday", "flow", "a3")
    words = {
        letter: row.tip
        for sheet in made
        for node in sheet.nodes
        if node.kind == "mark on"
        for row in node.rows
        for letter in row.tip[:1]
    }
    assert words == {"A": "A: L02 to SR, sheet 1", "B": "B: C01 to SL, sheet 1", "C": "C: C01 to DESK, sheet 2"}
    heads = [node for sheet in split("festival/saturday-night", "cabling", "a3") for node in sheet.nodes]
    several = next(node for node in heads if node.kind == "mark on" and node.title)
    assert re.fullmatch(r"to \w+, sheet \d", several.title)
    assert all(re.fullmatch(r"[A-Z]\d*: \w+", cell.text) for row in several.rows for cell in row.cells if cell.text)


def test_without_paper_a_small_rig_is_one_sheet_and_a_large_one_no_poster() -> None:
    """No sheet is larger than A0, 841 by 1189 mm (ISO 216)."""
    assert len(drawn(example("club/friday"), Wanted("flow"))) == 1
    made = drawn(example("festival/saturday-night"), Wanted("flow"))
    assert len(made) > 1
    for wide, high in Plates().sizes(made):
        assert wide <= 1189 / 25.4 * 72
        assert high <= 841 / 25.4 * 72


def test_a_view_that_fits_itself_is_one_sheet() -> None:
    """It is given the ways in which its paper may lie, and says which it took."""
    rig = example("club/friday")
    named = replace(named_view("cabling"), fit=lambda view, _, pages: (replace(view, page=pages[1]),))
    (one,) = sheets(whole(rig, "cabling"), rig, named, "a4")
    assert one.page is not None
    assert (one.page.width_mm, one.page.height_mm) == PUBLISHED_MM["a4"]


def test_the_big_festival_on_a3() -> None:
    """5 stages, 480 sources, 1,500 cables: every sheet fits, can be read, and no line is lost."""
    rig = read(festival_text())
    assert (len(rig.sources), sum(wanted.count for wanted in schedule(rig))) == (SOURCES, CABLES) == (480, 1500)
    assert {finding.level and finding.level.name for finding in findings(rig)} <= {"NOTE"}
    for which in VIEWS:
        svgs = draw(rig, Paths(rig), (), Wanted(which, paper="a3"), "svg")
        for svg in svgs:
            fits(on_paper(svg), "a3")
        paired(svgs)
        made = laid_out(rig, Paths(rig), (), Wanted(which, paper="a3"), Plates())
        same_joins(whole(rig, which), made)
        one_name_each(made)
        read_on(made)
        assert len(made) < 60
        assert sum(len(sheet.nodes) < 3 for sheet in made) == 0  # no sheet for one small box
