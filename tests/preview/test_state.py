"""States of the page: the newest drawing, or the last good one with what is wrong beside it."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from lxml import html

from rigdsl.draw import Choice, NamedView, Node, View, Wanted, sheet
from rigdsl.draw import render as drawn_by_engine
from rigdsl.packs import Installed, Pack, Packs
from rigdsl.preview import Maker
from rigdsl.rig import Rig
from rigdsl.show import Show, load, typed
from tests.preview.made import RIG, boxes_of, drawings_of, maker, note_of, views_of


def test_a_saved_change_is_drawn(rig: Path) -> None:
    made = maker(rig)
    assert boxes_of(made.made()) == ["SL"]
    rig.write_text(RIG + "box SR is b in wing\nlink L1: SL.line 1 -- SR.mic 1 via xlr 5 m\n")
    again = made.made()
    assert (again.number, boxes_of(again), note_of(again)) == (2, ["SL", "SR"], "")


def test_a_broken_file_keeps_the_last_drawing_and_says_what_is_wrong(rig: Path) -> None:
    made = maker(rig)
    made.made()
    rig.write_text(RIG.replace("box SL", "bxo SL"))
    broken = made.made()
    assert boxes_of(broken) == ["SL"]
    assert "friday.rig:4:" in note_of(broken)
    assert note_of(broken).endswith("the drawings are of the last text that could be read")
    data = json.loads(html.fromstring(broken.page.decode("utf-8")).get_element_by_id("data").text)
    assert "syntax-error" in {finding["rule"] for finding in data["findings"]}
    rig.write_text(RIG)
    assert note_of(made.made()) == ""


def test_a_file_that_is_broken_from_the_start_shows_what_is_found(rig: Path) -> None:
    rig.write_text(RIG.replace("box SL", "bxo SL"))
    first = maker(rig).made()
    assert boxes_of(first) == []
    assert "friday.rig:4:" in note_of(first)


def test_a_file_that_vanishes_and_comes_back(rig: Path) -> None:
    made = maker(rig)
    made.made()
    rig.unlink()
    gone = made.made()
    assert "friday.rig" in gone.said
    assert boxes_of(gone) == ["SL"]
    assert note_of(gone).endswith("the drawings are of the last text that could be read")
    rig.write_text(RIG)
    assert boxes_of(made.made()) == ["SL"]


def test_no_fault_ends_it(rig: Path) -> None:
    def fault() -> Show:
        raise RuntimeError("<b>what nobody thought of</b>")

    made = Maker(fault, lambda show: Wanted()).made()
    assert b"&lt;b&gt;what nobody thought of" in made.page
    assert "what nobody thought of" in made.said


def test_a_fault_keeps_the_last_drawing(rig: Path) -> None:
    made = maker(rig)
    made.made()

    def fault() -> Show:
        raise RuntimeError("what nobody thought of")

    made.opened = fault
    assert boxes_of(made.made()) == ["SL"]


def test_a_part_that_is_gone_keeps_the_last_drawing(rig: Path) -> None:
    made = Maker(lambda: load(rig), lambda show: Wanted(choice=Choice(around=(("SL", 1),))))
    made.made()
    rig.write_text(RIG.replace("SL", "SR"))
    gone = made.made()
    assert boxes_of(gone) == ["SL"]
    assert "no box called `SL`" in note_of(gone)
    assert note_of(gone).endswith("the drawings are of the last text that could be drawn")


def test_a_view_that_has_nothing_of_a_part_leaves_the_others(rig: Path) -> None:
    """As `draw --out` does: an empty zone has its place on the plan, and nothing on the others."""
    rig.write_text(RIG + 'zone far "Far" at (9, 9) m\n')
    only = Maker(lambda: load(rig), lambda show: Wanted(choice=Choice(zones=("far",)))).made()
    assert views_of(only) == ["plan"]
    assert "nothing of that is on the drawing `flow`" in note_of(only)


def test_a_packs_view_is_shown_and_may_break_down(rig: Path) -> None:
    """The other drawings stay; what the pack did is said."""

    def rack(rig: Rig, *_: object) -> View:
        return sheet(rig, (), "fest/racks", "racks", ((Node("box-SL", "box", "SL"),), ()), "left to right")

    def breaks(*_: object) -> View:
        raise RuntimeError("out of tape")

    def opened(make: Callable[..., View]) -> Show:
        pack = Pack("fest", views=(NamedView("fest/racks", "racks", make),))
        return replace(load(rig), packs=Packs((Installed(pack, "1.0"),)))

    made = Maker(lambda: opened(rack), lambda show: Wanted())
    assert views_of(made.made()) == ["flow", "cabling", "plan", "fest/racks"]
    made.opened = lambda: opened(breaks)
    broken = made.made()
    assert views_of(broken) == ["flow", "cabling", "plan"]
    assert "out of tape" in note_of(broken)


def test_only_what_has_changed_is_laid_out_again(rig: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is kept gives the same page, and what was never asked for again is not kept."""
    laid: list[str] = []

    def render(text: str, *rest: Any, **more: Any) -> bytes:
        laid.append(text)
        return drawn_by_engine(text, *rest, **more)

    monkeypatch.setattr("rigdsl.draw.plates.render", render)
    made = maker(rig)
    first = made.made()
    assert laid
    laid.clear()
    rig.write_text("# a comment\n" + RIG)
    again = made.made()
    assert laid == []
    assert drawings_of(again) == drawings_of(first)
    rig.write_text(RIG.replace('"Kick"', '"Bass drum"'))
    made.made()
    assert any("Bass drum" in text for text in laid)
    made.made()
    assert not any("Kick" in text for _, text in made.layouts.now | made.layouts.before)


def test_a_file_that_a_rig_uses_is_awaited(rig: Path) -> None:
    """It is watched before it is there: who writes `use` first saves the other file next."""
    rig.write_text('rig "Test" { lead xlr }\nuse "gear/club.rig"\n')
    assert typed(str(rig.parent / "gear/club.rig")) in maker(rig).made().files
