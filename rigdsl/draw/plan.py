"""The plan: zones to scale as seen from above, the audience at the bottom, and every cable between two of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from rigdsl.draw.cables import Cabling, Stub
from rigdsl.draw.patterns import LEADER, LINE, LOOM, PATTERNS, Pattern
from rigdsl.draw.segments import slug
from rigdsl.draw.shapes import Cell, Edge, End, Node, Row, View
from rigdsl.draw.sizes import row_height
from rigdsl.draw.words import length_text
from rigdsl.lint.words import count
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Rig, Zone, natural
from rigdsl.rig.units import shown

__all__ = ["CABLES", "LOOSE", "bare", "card_id", "plan", "point_id", "shortened"]

ZONES = "plan-zones"  # the list of what is in the zones, where their cards have no room for it
LOOSE = "plan-loose"  # the list of zones whose place nobody gave
CABLES = "plan-cables"  # the list of what lies between zones, where the lines themselves say only its name
COLUMN = 400.0  # points, how high a list beside the plan gets
MOST_LINES = 6  # of words beside a line; what is more is counted
WALKED = "people walk here: cover or fly cables, as the venue and local rules say"


def card_id(zone: str) -> str:
    """What a zone's card is called."""
    return slug("zone", zone)


def point_id(zone: str) -> str:
    """What the mark at a zone's exact place is called."""
    return slug("point", zone)


@dataclass(frozen=True)
class Laid:
    """A cable, or some alike, between two zones: what it is in words, and what it joins."""

    zones: tuple[str, str]
    pattern: Pattern
    words: str
    joins: tuple[tuple[str, str], ...]
    cables: tuple[str, ...] = ()
    about: tuple[str, ...] = ()
    ids: str = ""


def plan(paths: Paths) -> tuple[tuple[Node, ...], tuple[Edge, ...]]:
    """A card and a point for each zone, and a line for each kind of cable between two, all still without places."""
    facts = Cabling(paths)
    placed = [zone for zone in _zones(paths.rig) if zone.position_m is not None]
    laid = list(_laid(facts))
    nodes = [_card(facts, zone, laid) for zone in placed]
    nodes += [_point(zone) for zone in placed]
    loose = _loose(facts, {zone.name for zone in placed}, laid)
    nodes += [loose] if loose else []
    leaders = [_leader(zone) for zone in placed]
    return tuple(nodes), (*leaders, *_lines(paths.rig, {zone.name for zone in placed}, laid))


def _zones(rig: Rig) -> list[Zone]:
    return sorted(rig.zones.values(), key=lambda zone: natural(zone.name))


def _label(zone: Zone) -> str:
    return zone.label or zone.name


# ---- cards


def _card(facts: Cabling, zone: Zone, laid: Iterable[Laid]) -> Node:
    assert zone.position_m is not None
    height = zone.position_m[2]
    said = [f"{shown(height)} m up" if height > 0 else f"{shown(-height)} m down" if height < 0 else ""]
    subtitle = "\n".join(filter(None, [*said, WALKED if zone.public else ""]))
    rows = tuple(_rows(facts, zone.name, laid))
    title = _label(zone)
    return Node(card_id(zone.name), "zone", title, subtitle, rows, (zone.name,), f"zone {title}", group=zone.name)


def _rows(facts: Cabling, zone: str, laid: Iterable[Laid]) -> Iterator[Row]:
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
    inside = tuple(name for one in laid if one.zones == (zone, zone) for name in one.cables)
    if inside:
        words = f"{count(len(inside), 'cable')} inside"
        yield Row((Cell(words, tone="quiet"),), inside, f"{words}: {', '.join(inside)}", things=inside)


def _point(zone: Zone) -> Node:
    return Node(point_id(zone.name), "point", "", tip=f"the place of {_label(zone)}", group=zone.name)


def shortened(view: View, rig: Rig) -> View:
    """The view with nothing but names and lengths at its lines; what they say otherwise stands in a list."""
    rows: list[Row] = []
    zones = {point_id(name): _name(rig, name) for name in rig.zones}
    pair = ("", "")
    for edge in (edge for edge in view.edges if edge.label):
        if pair != (edge.left.node, edge.right.node):
            pair = (edge.left.node, edge.right.node)
            between = f"{zones[pair[0]]} to {zones[pair[1]]}"
            rows.append(Row((Cell("\n".join((between, edge.label[-1])), tone="quiet"),), tip=between))
        words = edge.label[:-1] if _says_way(edge) else edge.label
        rows.append(Row((Cell("\n".join(words)),), tip=edge.tip, things=edge.cables))
    lists = _in_columns(CABLES, "Cables between zones", rows)
    edges = tuple(replace(edge, label=_in_short(edge)) for edge in view.edges)
    return replace(view, nodes=(*view.nodes, *lists), edges=edges)


def bare(view: View) -> View:
    """The view with nothing but names in the cards; what is in the zones stands in a list."""
    rows: list[Row] = []
    for node in (node for node in view.nodes if node.kind == "zone" and node.rows):
        rows.append(Row((Cell(node.title, tone="quiet"),), tip=node.title))
        rows += node.rows
    nodes = tuple(replace(node, rows=()) if node.kind == "zone" else node for node in view.nodes)
    return replace(view, nodes=(*nodes, *_in_columns(ZONES, "In the zones", rows)))


def _in_columns(name: str, title: str, rows: Sequence[Row]) -> tuple[Node, ...]:
    """The list in columns that are no higher than a sheet is; it goes on only where another two zones begin."""
    columns: list[list[Row]] = [[]]
    high = 0.0
    for index, row in enumerate(rows):
        begins = row.cells[0].tone == "quiet" and index > 0
        block = sum(map(row_height, _block(rows, index))) if begins else 0.0
        if begins and high + block > COLUMN:
            columns.append([])
            high = 0.0
        columns[-1].append(row)
        high += row_height(row)
    return tuple(
        Node(slug(name, at), "list", title, "", tuple(some), tip=title.lower()) for at, some in enumerate(columns, 1)
    )


def _block(rows: Sequence[Row], start: int) -> Sequence[Row]:
    """A heading and the rows below it."""
    end = next((at for at in range(start + 1, len(rows)) if rows[at].cells[0].tone == "quiet"), len(rows))
    return rows[start:end]


def _says_way(edge: Edge) -> bool:
    """Whether the last of a line's words say how far it is: those of the first line between two zones do."""
    return edge.label[-1].endswith(" straight")


def _in_short(edge: Edge) -> tuple[str, ...]:
    """The names of a line's cables, else how many there are of what."""
    if not edge.label:
        return ()
    ids = edge.label[0][: edge.bold]
    return (ids or " ".join(edge.label[0].split(" of ")[0].split()),)


def _leader(zone: Zone) -> Edge:
    ends = End(point_id(zone.name), "", "e"), End(card_id(zone.name), "", "w")
    return Edge(slug("leader", zone.name), *ends, LEADER, tip=f"the place of {_label(zone)}", forward=False)


def _loose(facts: Cabling, placed: set[str], laid: Iterable[Laid]) -> Node | None:
    """The zones that have no place, with what stands in each; and cables to them, which no line can show."""
    rows = []
    for zone in (zone for zone in _zones(facts.rig) if zone.name not in placed):
        held = list(_rows(facts, zone.name, laid))
        words = "; ".join(row.cells[0].text for row in held) or "nothing in it"
        things = tuple(thing for row in held for thing in row.things)
        cell = Cell(f"{_label(zone)}: {words}")
        rows.append(Row((cell,), (zone.name, *things), f"{_label(zone)}: no position given", things=things))
    off = [one for one in laid if one.zones[0] != one.zones[1] and not set(one.zones) <= placed]
    for one in off:
        between = " to ".join(_name(facts.rig, zone) for zone in one.zones)
        rows.append(Row((Cell(f"{one.words}, {between}", tone="quiet"),), one.about, one.words, things=one.cables))
    if not rows:
        return None
    how = "write `at (x, y) m` behind the name of a zone"
    return Node(LOOSE, "loose", "Not on the plan: no position given", how, tuple(rows), tip="zones without a position")


def _name(rig: Rig, zone: str) -> str:
    return _label(rig.zones[zone]) if zone in rig.zones else "no zone"


# ---- cables


def _laid(facts: Cabling) -> Iterator[Laid]:
    """Every cable with the zones that it lies between, those of plugs in bunches."""
    boxes = facts.rig.boxes
    for cable in facts.cables:
        zones = boxes[cable.left.box].zone, boxes[cable.right.box].zone
        names = tuple(dict.fromkeys(link.name for link in cable.links))
        runs = {run.name: run for name in names for run in facts.runs_of.get(name, ())}
        ramp = ", under a ramp" if any(link.ramp for link in cable.links) else ""
        words = " ".join(filter(None, [cable.ids, cable.label])) + ramp
        yield _turned(Laid(zones, cable.pattern, words, cable.joins, names, (*names, *runs), cable.ids))
    for stub, legs in facts.stubs.items():
        if facts.stub_ports(stub):
            zones = stub.zone, boxes[stub.box].zone
            joins = tuple(_plugged(facts, stub, leg) for leg in legs)
            pattern = LOOM if len(legs) > 1 else LINE
            words = f"{facts.stub_label(stub)} of {stub.what} at {stub.box}"
            yield _turned(Laid(zones, pattern, words, joins))


def _plugged(facts: Cabling, stub: Stub, leg: Leg) -> tuple[str, str]:
    """A source and its socket, or a socket and its output: first what stands in the stub's zone."""
    return leg.name, str(facts.rig.thing(leg).ports[leg.index])


def _turned(one: Laid) -> Laid:
    """The same cable from the zone whose name comes first."""
    joins = tuple(one.joins)
    left, right = one.zones
    if natural(left) <= natural(right):
        return Laid(one.zones, one.pattern, one.words, joins, one.cables, one.about, one.ids)
    turned = tuple((b, a) for a, b in joins)
    return Laid((right, left), one.pattern, one.words, turned, one.cables, one.about, one.ids)


def _lines(rig: Rig, placed: set[str], laid: Iterable[Laid]) -> Iterator[Edge]:
    """One line for all cables of one pattern between two zones; the first of them says how the way goes."""
    between: dict[tuple[str, str], dict[Pattern, list[Laid]]] = {}
    for one in laid:
        if one.zones[0] != one.zones[1] and set(one.zones) <= placed:
            between.setdefault(one.zones, {}).setdefault(one.pattern, []).append(one)
    for pair in sorted(between, key=lambda pair: (natural(pair[0]), natural(pair[1]))):
        first = True
        for pattern in (pattern for pattern in PATTERNS if pattern in between[pair]):
            yield _line(rig, pair, pattern, between[pair][pattern], way=first)
            first = False


def _line(rig: Rig, pair: tuple[str, str], pattern: Pattern, some: list[Laid], *, way: bool) -> Edge:
    words = [one.words for one in some]
    if len(words) > MOST_LINES:
        words = [*words[: MOST_LINES - 1], f"and {len(words) - MOST_LINES + 1} more: see cabling"]
    label = (*words, *(_way_words(rig, pair) if way else ()))
    return Edge(
        slug("way", *pair, pattern.name),
        End(point_id(pair[0]), "", "e"),
        End(point_id(pair[1]), "", "w"),
        pattern,
        label,
        tuple(dict.fromkeys(name for one in some for name in one.about)),
        f"{_name(rig, pair[0])} to {_name(rig, pair[1])}: {'; '.join(one.words for one in some)}",
        forward=False,
        bold=len(some[0].ids),
        words_at="beside",
        joins=tuple(join for one in some for join in one.joins),
        cables=tuple(name for one in some for name in one.cables),
    )


def _way_words(rig: Rig, pair: tuple[str, str]) -> tuple[str, ...]:
    """How far it is: along the way that is given, or straight."""
    way = rig.ways.get(frozenset(pair))
    straight = straight_m(rig.zones, pair)
    if way is None:
        return (f"{length_text(straight)} straight",)
    label = f" {way.label}" if way.label else ""
    return (f"way {length_text(way.length_m)}{label}, {length_text(straight)} straight",)


def straight_m(zones: Mapping[str, Zone], pair: tuple[str, str]) -> float:
    """From place to place through the air, heights and all, to a tenth of a metre."""
    here, there = (zones[name].position_m for name in pair)
    assert here is not None
    assert there is not None
    return round(math.dist(here, there), 1)
