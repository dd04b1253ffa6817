"""A part of a drawing: what is shown of it, and that it says so."""

from __future__ import annotations

import pytest

from rigdsl.draw import Choice, Wanted, draw, view
from rigdsl.draw.choice import chosen
from rigdsl.draw.shapes import View
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from tests.draw.made import example, findings, small, svg

STAGE = """
zone drums "Drums"
zone left "Left wing"
zone foh "House"
box SUB is sub8 in drums
box SL is nw16 in left
box SR is nw16 in left
box DESK is desk32 in foh
link L1: SUB.tail 1-8 -- SL.mic 1-8 via loom8 10 m
link C1: SL.A -- DESK.stage 1 via c6 30 m
link C2: SR.A -- SL.B via c6 10 m
source kick "Kick" dynamic in drums to SUB 1 via xlr 3 m
source snare "Snare" dynamic in drums to SUB 2 via xlr 3 m
source bass "Bass" di in left to SR 1 via xlr 3 m
output wdg "Wedge" wedge in drums from SL.line 1 via xlr 8 m
patch kick, snare, bass -> DESK.ch 1-3
patch DESK.mix 1 -> wdg
"""


def part(choice: Choice, which: str = "flow", rig: Rig | None = None) -> View:
    rig = rig or small(STAGE)
    paths = Paths(rig)
    return chosen(view(rig, paths, findings(rig), which), paths, choice)


def joined(shown: View) -> set[tuple[str, str]]:
    return {join for edge in shown.edges for join in edge.joins}


def things(shown: View) -> set[str]:
    return {thing for node in shown.nodes for row in node.rows for thing in row.things}


def test_nothing_chosen_is_everything() -> None:
    rig = small(STAGE)
    paths = Paths(rig)
    whole = view(rig, paths, (), "flow")
    assert chosen(whole, paths, Choice()) is whole


@pytest.mark.parametrize(
    ("only", "sources", "joins"),
    [
        (("kick",), {"kick"}, {("kick", "SUB.panel 1"), ("SL.A", "DESK.stage 1")}),
        (("kick", "bass"), {"kick", "bass"}, {("bass", "SR.mic 1"), ("SR.A", "SL.B"), ("SL.A", "DESK.stage 1")}),
        (("C2",), {"bass"}, {("bass", "SR.mic 1"), ("SR.A", "SL.B")}),
        (("SL.mic 2",), {"snare"}, {("snare", "SUB.panel 2")}),
        (("wdg",), set(), {("DESK.stage 1", "SL.A"), ("SL.line 1", "wdg")}),
        (("SUB 1",), {"kick"}, {("kick", "SUB.panel 1")}),
    ],
)
def test_only_the_whole_ways_of_names(only: tuple[str, ...], sources: set[str], joins: set[tuple[str, str]]) -> None:
    shown = part(Choice(only=only))
    assert things(shown) & {"kick", "snare", "bass"} == sources
    assert joins <= joined(shown)
    assert ("DESK.stage 1", "SL.A") not in joined(shown) or "wdg" in only


def test_a_zone_with_where_its_lines_go_on() -> None:
    """What is in it stands whole; the box behind a line has just the row that the line ends in, and says so."""
    shown = part(Choice(zones=("drums",)), "cabling")
    whole, beyond = (next(node for node in shown.nodes if node.title == name) for name in ("SUB", "SL"))
    assert "more row" not in whole.subtitle
    assert "4 more rows not shown" in beyond.subtitle
    assert {node.title for node in shown.nodes if node.kind.startswith("box")} == {"SUB", "SL"}


def test_what_goes_to_and_from_a_desk() -> None:
    shown = part(Choice(desks=("DESK",)))
    assert {"kick", "snare", "bass", "wdg"} <= things(shown)


@pytest.mark.parametrize(
    ("cables", "boxes"),
    [(0, {"SR", "SL"}), (1, {"SR", "SL", "SUB", "DESK"})],
)
def test_around_a_box(cables: int, boxes: set[str]) -> None:
    """So many cables far, and one more as a stub: what is behind it is not there."""
    shown = part(Choice(around=(("SR", cables),)), "cabling")
    assert {node.title for node in shown.nodes if node.kind.startswith("box")} == boxes


def test_several_wishes_show_what_all_of_them_show() -> None:
    shown = part(Choice(zones=("drums",), only=("kick",)))
    assert things(shown) & {"kick", "snare"} == {"kick"}
    assert "DESK" not in {node.title for node in shown.nodes}


def test_the_title_block_says_what_is_shown() -> None:
    choice = Choice(zones=("drums",), only=("kick", "snare"), around=(("SUB", 1),))
    assert part(choice).facts[1:4] == ("zone drums only", "kick, snare only", "around SUB, 1 cable far")
    assert b"kick, snare only" in svg_of(choice)


def svg_of(choice: Choice) -> bytes:
    rig = small(STAGE)
    return draw(rig, Paths(rig), (), Wanted("flow", choice), "svg")[0]


def test_findings_that_are_not_shown_are_counted() -> None:
    rig = example("faulty/friday")
    paths = Paths(rig)
    whole = view(rig, paths, findings(rig), "flow")
    shown = chosen(whole, paths, Choice(only=("kick",)))
    assert 0 < len(shown.listed) < len(whole.listed)
    assert len(shown.listed) + shown.elsewhere == len(whole.listed) + whole.elsewhere


@pytest.mark.parametrize(
    ("choice", "said"),
    [
        (Choice(zones=("drms",)), "there is no zone called `drms`; there is a zone with a similar name: `drums`"),
        (Choice(desks=("SL",)), "there is no desk called `SL`; there are: `DESK`"),
        (
            Choice(only=("kik",)),
            "there is no source, output, cable or box called `kik`; there is one with",
        ),
        (Choice(around=(("XX", 1),)), "there is no box called `XX`; there are: `DESK`, `SL`, `SR`, `SUB`"),
        (Choice(only=("SL.mic 9",)), "nothing of that is on the drawing `flow`: SL.mic 9 only"),
    ],
)
def test_what_there_is_not(choice: Choice, said: str) -> None:
    with pytest.raises(LookupError) as trouble:
        part(choice)
    assert trouble.value.args[0].startswith(said)


@pytest.mark.parametrize("which", ["flow", "cabling", "plan"])
def test_a_part_can_be_drawn(which: str) -> None:
    rig = example("club/friday")
    for choice in (Choice(zones=("drums",)), Choice(only=("kick-in",)), Choice(around=(("SL", 1),))):
        (data,) = draw(rig, Paths(rig), findings(rig), Wanted(which, choice), "svg")
        assert b"<svg" in data
        assert data != svg(rig, which, findings(rig))


def test_a_way_within_one_zone_is_on_the_plan_too() -> None:
    inside = small(
        f"""{STAGE}
source keys "Keys" di in foh to DESK.local 1 via xlr 3 m
patch keys -> DESK.ch 9
""".replace('"Drums"', '"Drums" at (0, 0) m').replace('"House"', '"House" at (0, 12) m')
    )
    shown = part(Choice(only=("keys",)), "plan", inside)
    assert "keys" in things(shown)
    assert "SUB" not in things(shown)


def test_a_loom_into_a_far_box_has_all_its_rows_there() -> None:
    shown = part(Choice(zones=("drums",)))
    (rack,) = (node for node in shown.nodes if node.id == "box--SL--in")
    assert [row.things for row in rack.rows][:2] == [("SL.mic 1",), ("SL.mic 2",)]


def test_a_way_has_only_its_own_row_of_a_loom_and_says_of_which_group() -> None:
    shown = part(Choice(only=("snare",)))
    assert "kick" not in things(shown)
    (rack,) = (node for node in shown.nodes if node.id == "box--SL--in")
    assert next(cell.text for cell in rack.rows[0].cells if cell.text) == "mic 2"
