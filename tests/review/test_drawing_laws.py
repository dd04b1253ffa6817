"""What holds for the drawing of any two states of a rig."""

from __future__ import annotations

import os
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from rigdsl.draw import View, around_changes, dot, faults, named_view, sheets
from rigdsl.reports.review_drawing import both_states
from rigdsl.review import review
from rigdsl.review.review import Side
from rigdsl.show import Show, load
from tests.draw.geometry import read
from tests.review.made import STAGE
from tests.review.pictures import STATES, both, picture

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/shows/*.rig"))
NAMES = [path.relative_to(path.parents[2]).as_posix() for path in EXAMPLES]

# Edits that can be made together, each with the thing that it changes.
EDITS = [
    ("kick", "to SL 1 via", "to SL 5 via"),
    ("kick", '"Kick"', '"Kick in"'),
    ("snare", 'source snare "Snare" dynamic in left to SL 2 via xlr 3 m', ""),
    ("vox", "to SR 1 via xlr 5 m", "to SR 1 via xlr 10 m"),
    ("vox", "vox", "voc"),
    ("wdg", "from SR.line 1 via", "from SL.line 3 via"),
    ("wdg", "wedge in right", "wedge in left"),
    ("SL", '"Left rack" is nw8', '"Left rack" is nw16'),
    ("SR", "is nw8 in right", "is nw8 in foh"),
    ("SR", "SR", "SX"),
    ("C01", "via c6 30 m", "via c6 40 m"),
    ("C02", "link C02: SR.A -- SL.B via c6", ""),
    ("C01", "DESK.stage 1 via", "DESK.stage 2 via"),
    ("C03", "patch vox", "link C03: SR.B -- DESK.stage 2 via c6 30 m\npatch vox"),
    ("SY", "patch vox", "box SY is nw8 in left\npatch vox"),
    ("tom", "patch vox", "source tom dynamic in left to SL 2 via xlr 3 m\npatch vox"),
    ("fill", "patch vox", "output fill fill in left from SL.line 2 via xlr 5 m\npatch vox"),
]


def edited(edits: list[tuple[str, str, str]]) -> str:
    """The rig with edits; one whose place is gone already is left out."""
    text = STAGE
    for _, old, new in edits:
        text = text.replace(old, new)
    return text


def marked(view: View) -> set[str]:
    """All that stands out, by the names of things."""
    found = {name for node in view.nodes if node.state in STATES for name in node.things}
    found |= {thing for node in view.nodes for row in node.rows if row.state in STATES for thing in row.things}
    for edge in view.edges:
        if edge.state in STATES or edge.worded:
            found |= {*edge.cables, *(name for pair in edge.joins for name in pair)}
    return found


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(EDITS), max_size=6, unique=True))
def test_every_change_of_a_thing_is_seen(edits: list[tuple[str, str, str]]) -> None:
    """On one drawing or the other: sources, outputs, cables, boxes. Nothing stands out where nothing changed."""
    from tests.review.made import compared

    new = edited(edits)
    views = [both(STAGE, new, which) for which in ("flow", "cabling")]
    seen = marked(views[0]) | marked(views[1])
    there = {
        change.name for change in compared(STAGE, new).changes if change.what in ("source", "output", "link", "box")
    }
    assert there <= seen
    assert bool(seen) or not there
    for view in views:
        assert faults(view) == []
        assert faults(around_changes(view)) == []


@settings(max_examples=40, deadline=None)
@given(st.lists(st.sampled_from(EDITS), max_size=6, unique=True), st.sampled_from(["flow", "cabling"]))
def test_what_came_is_what_goes_the_other_way_round(edits: list[tuple[str, str, str]], which: str) -> None:
    """Of lines, by what they join."""
    there, back = (both(*texts, which).edges for texts in ((STAGE, edited(edits)), (edited(edits), STAGE)))
    if ("SR", "SR", "SX") in edits or ("vox", "vox", "voc") in edits:
        return  # other names in one direction than in the other
    came = {(edge.state, edge.joins) for edge in there if edge.state in ("added", "removed")}
    other = {"added": "removed", "removed": "added"}
    assert {(other[edge.state], edge.joins) for edge in back if edge.state in other} == came


@settings(max_examples=40, deadline=None)
@given(st.lists(st.sampled_from(EDITS), max_size=6, unique=True), st.sampled_from(["flow", "cabling"]))
def test_what_is_the_same_keeps_its_order(edits: list[tuple[str, str, str]], which: str) -> None:
    """Boxes, and the rows in each, that are as they were follow each other as in the drawing of the old state."""
    before = both(STAGE, STAGE, which)
    now = both(STAGE, edited(edits), which)
    same = [node.id for node in now.nodes if node.state == "same" and node.id in {one.id for one in before.nodes}]
    assert same == [node.id for node in before.nodes if node.id in same]
    old_rows = {node.id: [row.cells for row in node.rows] for node in before.nodes}
    for node in now.nodes:
        kept = [row.cells for row in node.rows if row.state == "same" and row.cells in old_rows.get(node.id, ())]
        assert kept == [cells for cells in old_rows.get(node.id, ()) if cells in kept]


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: f"{edit[0]}-{EDITS.index(edit)}")
def test_what_is_the_same_stays_put(edit: tuple[str, str, str]) -> None:
    """On the cabling two boxes that are as they were stand to each other as they stood: the one above stays above,
    the one to the left stays left."""
    before, now = (read(etree.tostring(picture(STAGE, text, "cabling"))).nodes for text in (STAGE, edited([edit])))
    same = {node.id for node in both(STAGE, edited([edit]), "cabling").nodes if node.state == "same"} & before.keys()
    for axis in (0, 1):
        order = sorted(same, key=lambda name: (before[name][axis], name))
        apart = [(one, other) for one, other in pairwise(order) if before[other][axis] - before[one][axis] > 60]
        assert [pair for pair in apart if now[pair[0]][axis] > now[pair[1]][axis]] == []


def side(show: Show) -> Side:
    """A show as a review takes it, without findings."""
    return Side(show.rig, show.paths, show.sources, ())


@pytest.mark.parametrize("at", range(len(EXAMPLES)), ids=NAMES)
def test_any_two_rigs_can_be_drawn(at: int) -> None:
    """Unlike as they are: every line ends somewhere, on the whole drawing and on that of what changed."""
    old, new = EXAMPLES[at], EXAMPLES[(at + 1) % len(EXAMPLES)]
    for other in (old, new):
        before, now = side(load(old)), side(load(other))
        found = review(before, now)
        for which in ("flow", "cabling"):
            view, ground = both_states(before.paths, now.paths, found, which)
            part = around_changes(view) if view.compared else view
            assert faults(view) == faults(part) == []
            assert view.compared == (other != old)
            assert all(dot(sheet) for sheet in sheets(part, ground, named_view(which)))


@pytest.mark.parametrize("which", ["flow", "cabling"])
def test_the_same_two_states_give_the_same_bytes(which: str, tmp_path: Path) -> None:
    """Whatever order the interpreter keeps sets in."""
    (tmp_path / "old.rig").write_text(STAGE)
    (tmp_path / "new.rig").write_text(edited(EDITS[:3] + EDITS[-3:]))
    made = []
    for seed in ("0", "1", "77"):
        out = tmp_path / f"{seed}.svg"
        words = [sys.executable, "-m", "rigdsl", "compare", "old.rig", "new.rig", "--draw", which, "--out", str(out)]
        subprocess.run(words, check=True, cwd=tmp_path, env={**os.environ, "PYTHONHASHSEED": seed})
        made.append(out.read_bytes())
    assert made[0] == made[1] == made[2]
