"""A drawing of two states read back: nothing overlaps, lines end in their sockets, words stand clear."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from rigdsl.draw import Plates, Wanted, drawn, named_view, sheets
from rigdsl.reports.review_drawing import both_states
from rigdsl.review import review
from rigdsl.review.review import Side
from rigdsl.show import load
from tests.draw import geometry
from tests.draw.test_geometry import loose_ends, overlaps, struck_through
from tests.review.made import STAGE, side
from tests.review.test_drawing_laws import EDITS, edited

SHOWS = Path(__file__).parents[2] / "examples"
PAIRS = [
    ("festival/shows/saturday-day.rig", "festival/shows/saturday-night.rig"),
    ("hall/shows/winter-concert.rig", "club/shows/friday.rig"),
    ("faulty/shows/friday.rig", "faulty/shows/saturday.rig"),
]


def faults(before: Side, now: Side, which: str, paper: str = "") -> list[object]:
    """What is wrong on any sheet of a drawing."""
    view, ground = both_states(before.paths, now.paths, review(before, now), which)
    plates = Plates()
    wanted = Wanted(which, paper=paper)
    pages = sheets(view, ground, named_view(which), paper, plates.sizes)
    found: list[object] = []
    for page, svg in zip(pages, drawn(view, ground, wanted, "svg", plates), strict=True):
        sheet = geometry.read(svg)
        found += [*overlaps(sheet), *loose_ends(page, sheet), *struck_through(page, sheet)]
    return found


@pytest.mark.parametrize("which", ["flow", "cabling"])
@pytest.mark.parametrize("edits", [*([one] for one in EDITS), EDITS[:6], EDITS[6:11], EDITS[-4:]])
def test_an_edited_rig(edits: list[tuple[str, str, str]], which: str) -> None:
    assert faults(side(STAGE), side(edited(edits)), which) == []


@pytest.mark.parametrize(("pair", "which"), list(product(PAIRS, ["flow", "cabling"])))
def test_two_nights(pair: tuple[str, str], which: str) -> None:
    shows = (load(SHOWS / name) for name in pair)
    before, now = (Side(show.rig, show.paths, show.sources, ()) for show in shows)
    assert faults(before, now, which, "a3" if which == "cabling" else "") == []
