"""The plan: to scale, with every zone, box and cable between zones, and nothing over anything."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest
from lxml import etree

from rigdsl.draw import Wanted, draw, view
from rigdsl.draw.curves import Point
from rigdsl.draw.patterns import LEADER
from rigdsl.draw.shapes import View
from rigdsl.draw.sizes import node_size
from rigdsl.paths import Paths
from rigdsl.rig import Rig, read
from tests.draw import geometry
from tests.draw.geometry import overlap
from tests.draw.made import GEAR, SHAPES, drawn, example, findings, sheet, small, svg

SVG = "{http://www.w3.org/2000/svg}"
STAGE = """
zone drums "Drum riser" at (0, 4, 0.4) m
zone left "Left wing" at (4, 2) m
zone foh "Mixing place" at (0, -12) m
way foh -- left 22 m "over the door"
box SUB is sub8 in drums
box SL is nw16 in left
box DESK is desk32 in foh
link L1: SUB.tail 1-8 -- SL.mic 1-8 via loom8 10 m
link C1: SL.A -- DESK.stage 1 via c6 30 m
source kick "Kick" dynamic in drums to SUB 1 via xlr 3 m
source vox "Vocal" dynamic in drums to SL 9 via xlr 12 m
output wdg "Wedge" wedge in drums from SL.line 1 via xlr 8 m
"""


def words(sheet: View) -> list[str]:
    return [cell.text for node in sheet.nodes for row in node.rows for cell in row.cells]


def labels(sheet: View) -> list[tuple[str, ...]]:
    return [edge.label for edge in sheet.edges if edge.label]


def test_a_card_says_what_is_in_a_zone() -> None:
    drums = next(node for node in sheet(small(STAGE), "plan").nodes if node.id == "zone--drums")
    assert (drums.title, drums.subtitle) == ("Drum riser", "0.4 m up")
    assert [row.cells[0].text for row in drums.rows] == ["SUB", "2 sources", "1 output"]


def test_a_line_says_its_cables_how_long_they_are_and_how_far_it_is() -> None:
    """The way that the rig gives, and the straight distance: 14.6 m is the root of 4 x 4 + 14 x 14."""
    assert labels(sheet(small(STAGE), "plan")) == [
        ("xlr 8 m of outputs at SL", "xlr 12 m of sources at SL", "4.5 m straight"),
        ("L1 loom8 10 m",),
        ("C1 c6 30 m", "way 22 m over the door, 14.6 m straight"),
    ]


@pytest.mark.parametrize("paper", ["", "a3", "a4", "letter"])
@pytest.mark.parametrize("name", [name for name in SHAPES if name not in ("faulty/saturday",)])
def test_it_is_to_scale(name: str, paper: str) -> None:
    """The distance of two points on the paper, times the scale, is that of their zones in the room."""
    rig = example(name)
    data = draw(rig, Paths(rig), findings(rig), Wanted("plan", paper=paper), "svg")[0]
    root = etree.fromstring(data)
    (scale,) = [int(text.text[8:]) for text in root.iter(f"{SVG}text") if (text.text or "").startswith("scale 1:")]
    at = {
        group.get("data-zone"): group.find(f"{SVG}ellipse")
        for group in root.iter(f"{SVG}g")
        if "point" in (group.get("class") or "")
    }
    at = {zone: (float(mark.get("cx")), float(mark.get("cy"))) for zone, mark in at.items()}
    assert len(at) > 1
    pt_mm = 25.4 / 72
    for one, other in zip(sorted(at), sorted(at)[1:], strict=False):
        on_paper_m = math.dist(at[one], at[other]) * pt_mm * scale / 1000
        here, there = (rig.zones[zone].position_m for zone in (one, other))
        assert here is not None
        assert there is not None
        assert on_paper_m == pytest.approx(math.dist(here[:2], there[:2]), rel=0.01)
    transform = root.find(f"{SVG}g").get("transform")
    assert "scale(1.0000)" in transform or not paper  # put on paper as large as it is


@pytest.mark.parametrize("name", SHAPES)
def test_nothing_lies_over_anything(name: str) -> None:
    """No card over another, no words over a card or over other words."""
    rig = example(name)
    picture = geometry.read(svg(rig, "plan", findings(rig)))
    boxes = sorted((key, box) for key, box in picture.nodes.items())
    assert [(a, b) for i, (a, x) in enumerate(boxes) for b, y in boxes[i + 1 :] if overlap(x, y)] == []
    texts = sorted(picture.labels.items())
    assert [(a, b) for a, x in texts for b, y in boxes if overlap(x, y)] == []
    assert [(a, b) for i, (a, x) in enumerate(texts) for b, y in texts[i + 1 :] if overlap(x, y)] == []


@pytest.mark.parametrize("name", SHAPES)
def test_every_cable_between_zones_is_a_line_and_every_box_in_a_card(name: str) -> None:
    """Cables that do not leave their zone, and those to a zone without a place, are rows."""
    rig = example(name)
    made = view(rig, Paths(rig), (), "plan")
    rows = {thing for node in made.nodes for row in node.rows for thing in row.things}
    lines = {name for edge in made.edges for name in edge.cables}
    assert set(rig.links) <= rows | lines
    assert set(rig.boxes) <= rows
    assert set(rig.sources) | set(rig.outputs) <= rows
    zone_of = {**{box.name: box.zone for box in rig.boxes.values()}}
    for link in rig.links.values():
        for left, right in link.joins:
            between = zone_of[left.box] != zone_of[right.box]
            placed = all(rig.zones[zone_of[end.box]].position_m for end in (left, right) if zone_of[end.box])
            joined = any({(str(left), str(right)), (str(right), str(left))} & set(edge.joins) for edge in made.edges)
            assert joined == (between and placed), link.name


def test_a_zone_without_a_position_is_listed_with_what_is_in_it() -> None:
    made = sheet(
        small(STAGE + 'zone bar "Bar"\nbox B2 is sub8 in bar\nlink L2: B2.tail 1 -- SL.mic 10 via xlr 9 m'), "plan"
    )
    loose = next(node for node in made.nodes if node.id == "plan-loose")
    assert loose.title == "Not on the plan: no position given"
    assert [row.cells[0].text for row in loose.rows] == ["Bar: B2", "L2 xlr 9 m, Bar to Left wing"]


def test_a_rig_without_positions_says_how_to_give_them() -> None:
    made = sheet(small("zone a\nbox B is sub8 in a"), "plan")
    assert [node.subtitle for node in made.nodes] == ["write `at (x, y) m` behind the name of a zone"]
    assert b"no position given" in svg(small("zone a\nbox B is sub8 in a"), "plan")


def test_where_people_walk_the_plan_says_so() -> None:
    """Common practice, no source: cables across a walkway are covered or flown, as the venue's rules say."""
    made = sheet(small(STAGE.replace("at (4, 2) m", "at (4, 2) m { public }")), "plan")
    assert "cover or fly cables" in next(node.subtitle for node in made.nodes if node.id == "zone--left")


def test_a_circuit_is_for_licensed_people() -> None:
    made = sheet(small(STAGE + "supply D1 230 V 16 A in left"), "plan")
    assert "D1, 230 V 16 A: licensed people only" in words(made)


def test_the_order_of_the_lines_does_not_matter() -> None:
    lines = STAGE.strip().splitlines()
    first = svg(small(STAGE), "plan")
    for seed in range(3):
        random.Random(seed).shuffle(lines)
        assert svg(small("\n".join(lines)), "plan") == first


def test_an_empty_rig_is_an_empty_plan() -> None:
    rig: Rig = small("")
    assert b"<svg" in svg(rig, "plan")


def test_a_rig_that_measures_along_the_axes_says_and_draws_that() -> None:
    """From (0, 4, 0.4) to (4, 2, 0) it is 4 + 2 + 0.4 m; the line turns once, at a right angle."""
    rig = read('rig "Test" { lead xlr; measure axes }\n' + GEAR + STAGE)
    made = sheet(rig, "plan")
    first = next(edge for edge in made.edges if edge.label and edge.label[-1].endswith("straight"))
    assert first.label[-1] == "6.4 m along the axes, 4.5 m straight"
    (left, right) = (next(node.at for node in made.nodes if node.id == f"point--{zone}") for zone in ("drums", "left"))
    assert left is not None
    assert right is not None
    assert any(abs(x - right[0]) < 0.01 and abs(y - left[1]) < 0.01 for x, y in first.points)


@pytest.mark.parametrize("paper", ["", "a3", "a4"])
@pytest.mark.parametrize("name", [name for name in SHAPES if name not in ("faulty/saturday",)])
def test_a_way_along_the_edge_goes_past_no_other_zone(name: str, paper: str) -> None:
    """A line that runs through the place of a third zone would seem to end there."""
    rig = example(name)
    made = drawn(rig, Wanted("plan", paper=paper), findings(rig))[0]
    at = {node.id: node.at for node in made.nodes if node.kind == "point"}
    ways = {frozenset(f"point--{zone}" for zone in pair) for pair in rig.ways}
    assert [
        (edge.id, point)
        for edge in made.edges
        if {edge.left.node, edge.right.node} in ways
        for point, place in at.items()
        if point not in (edge.left.node, edge.right.node)
        and any(near(place, *stretch) for stretch in pairwise(edge.points))
    ] == []


def near(at: tuple[float, float] | None, here: tuple[float, float], there: tuple[float, float]) -> bool:
    """Whether a place is within 3 points of a stretch at right angles."""
    assert at is not None
    return all(min(here[i], there[i]) - 3 <= at[i] <= max(here[i], there[i]) + 3 for i in (0, 1))


@pytest.mark.parametrize("paper", ["", "a3", "a4", "letter"])
def test_a_way_goes_by_the_same_side_on_every_paper(paper: str) -> None:
    """Amplifier room (9, 10) to stage edge (0, 1): as far across as along, so that neither side is the nearer one."""
    made = drawn(example("hall/winter-concert"), Wanted("plan", paper=paper))[0]
    way = next(edge for edge in made.edges if edge.id.startswith("way--attic--edge"))
    (start, *corners, end) = way.points
    assert min(x for x, _ in corners) > max(start[0], end[0])


@pytest.mark.parametrize(
    ("name", "paper", "scale"),
    [("club/friday", "a4", 100), ("club/friday", "a3", 50), ("stage-core/cabaret", "a3", 100)],
)
def test_a_plan_is_as_large_as_its_paper_lets_it_be_read(name: str, paper: str, scale: int) -> None:
    """From stage to mixing place these are 16 m and 20 m: 16 cm at 1:100, 32 cm at 1:50, 20 cm at 1:100."""
    rig = example(name)
    assert drawn(rig, Wanted("plan", paper=paper), findings(rig))[0].facts[1] == f"scale 1:{scale}"


@pytest.mark.parametrize("paper", ["", "a3", "a4", "letter"])
@pytest.mark.parametrize("name", [name for name in SHAPES if name not in ("faulty/saturday",)])
def test_no_cable_runs_through_a_card(name: str, paper: str) -> None:
    rig = example(name)
    made = drawn(rig, Wanted("plan", paper=paper), findings(rig))[0]
    cards = {node.id: (node.at, node_size(node)) for node in made.nodes if node.kind == "zone"}
    assert [
        (edge.id, card)
        for edge in made.edges
        if edge.pattern is not LEADER
        for card, (at, size) in cards.items()
        if any(through(at, size, *stretch) for stretch in pairwise(edge.points))
    ] == []


def through(at: Point | None, size: Point, here: Point, there: Point) -> bool:
    """Whether a stretch comes inside of a card, looked at in 400 places of it."""
    assert at is not None
    steps = ([here[i] + (there[i] - here[i]) * n / 400 for i in (0, 1)] for n in range(401))
    return any(all(abs(step[i] - at[i]) < size[i] / 2 - 1 for i in (0, 1)) for step in steps)
