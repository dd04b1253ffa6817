"""The plan: zones to scale as seen from above, the audience at the bottom, and every cable between two of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigdsl.draw.cables import Cabling
from rigdsl.draw.patterns import LEADER
from rigdsl.draw.plan_cables import Laid, laid, lines
from rigdsl.draw.plan_names import card_id, point_id, zone_label
from rigdsl.draw.segments import slug
from rigdsl.draw.shapes import Cell, Edge, End, Node, Row
from rigdsl.lint.words import count
from rigdsl.paths import Paths
from rigdsl.rig import Rig, Zone, natural
from rigdsl.rig.units import shown

__all__ = ["LOOSE", "plan"]

LOOSE = "plan-loose"  # the list of zones whose place nobody gave
WALKED = "people walk here: cover or fly cables, as the venue and local rules say"


def plan(paths: Paths) -> tuple[tuple[Node, ...], tuple[Edge, ...]]:
    """A card and a point for each zone, and a line for each kind of cable between two, all still without places."""
    facts = Cabling(paths)
    placed = [zone for zone in _zones(paths.rig) if zone.position_m is not None]
    cables = list(laid(facts))
    nodes = [_card(facts, zone, cables) for zone in placed]
    nodes += [_point(zone) for zone in placed]
    loose = _loose(facts, {zone.name for zone in placed}, cables)
    nodes += [loose] if loose else []
    leaders = [_leader(zone) for zone in placed]
    return tuple(nodes), (*leaders, *lines(paths.rig, {zone.name for zone in placed}, cables))


def _zones(rig: Rig) -> list[Zone]:
    return sorted(rig.zones.values(), key=lambda zone: natural(zone.name))


def _card(facts: Cabling, zone: Zone, cables: Iterable[Laid]) -> Node:
    assert zone.position_m is not None
    height = zone.position_m[2]
    said = [f"{shown(height)} m up" if height > 0 else f"{shown(-height)} m down" if height < 0 else ""]
    subtitle = "\n".join(filter(None, [*said, WALKED if zone.public else ""]))
    rows = tuple(_rows(facts, zone.name, cables))
    title = zone.label or zone.name
    return Node(card_id(zone.name), "zone", title, subtitle, rows, (zone.name,), f"zone {title}", group=zone.name)


def _rows(facts: Cabling, zone: str, cables: Iterable[Laid]) -> Iterator[Row]:
    """What is in a zone: its boxes, its sources and outputs, its circuits, the cables that do not leave it."""
    rig = facts.rig
    boxes = sorted((box.name for box in rig.boxes.values() if box.zone == zone and box.slot is None), key=natural)
    if boxes:
        held = tuple(one.name for name in boxes for one in rig.whole(name))
        yield Row((Cell(", ".join(boxes)),), held, f"boxes: {', '.join(boxes)}", things=held)
    for things, word in ((rig.sources, "source"), (rig.outputs, "output")):
        here = tuple(sorted((name for name, thing in things.items() if thing.zone == zone), key=natural))
        if here:
            words = count(len(here), word)
            yield Row((Cell(words, tone="quiet"),), here, f"{words}: {', '.join(here)}", things=here)
    for supply in sorted((one for one in rig.supplies.values() if one.zone == zone), key=lambda one: natural(one.name)):
        words = f"{supply.name}, {shown(supply.voltage_v)} V {shown(supply.current_a)} A: licensed people only"
        yield Row((Cell(words),), (supply.name,), f"circuit {supply.name}", things=(supply.name,))
    inside = tuple(name for one in cables if one.zones == (zone, zone) for name in one.cables)
    if inside:
        words = f"{count(len(inside), 'cable')} inside"
        yield Row((Cell(words, tone="quiet"),), inside, f"{words}: {', '.join(inside)}", things=inside)


def _point(zone: Zone) -> Node:
    return Node(point_id(zone.name), "point", "", tip=f"the place of {zone.label or zone.name}", group=zone.name)


def _leader(zone: Zone) -> Edge:
    ends = End(point_id(zone.name), "", "e"), End(card_id(zone.name), "", "w")
    return Edge(slug("leader", zone.name), *ends, LEADER, tip=f"the place of {zone.label or zone.name}", forward=False)


def _loose(facts: Cabling, placed: set[str], cables: Iterable[Laid]) -> Node | None:
    """The zones that have no place, with what stands in each; and cables to them, which no line can show."""
    rows = []
    for zone in (zone for zone in _zones(facts.rig) if zone.name not in placed):
        held = list(_rows(facts, zone.name, cables))
        words = "; ".join(row.cells[0].text for row in held) or "nothing in it"
        things = tuple(thing for row in held for thing in row.things)
        cell = Cell(f"{zone.label or zone.name}: {words}")
        rows.append(Row((cell,), (zone.name, *things), f"{zone.label or zone.name}: no position given", things=things))
    off = [one for one in cables if one.zones[0] != one.zones[1] and not set(one.zones) <= placed]
    for one in off:
        between = " to ".join(zone_label(facts.rig, zone) for zone in one.zones)
        rows.append(Row((Cell(f"{one.words}, {between}", tone="quiet"),), one.about, one.words, things=one.cables))
    if not rows:
        return None
    how = "write `at (x, y) m` behind the name of a zone"
    return Node(LOOSE, "loose", "Not on the plan: no position given", how, tuple(rows), tip="zones without a position")
