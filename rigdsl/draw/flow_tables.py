"""Stands of a flow drawing as tables: sound comes in by the sockets on the left and leaves by those on the right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import Literal

from rigdsl.draw.flow_parts import Field, Part, stand_parts
from rigdsl.draw.segments import Segment, slug
from rigdsl.draw.shapes import CROSSINGS, Cell, Crossing, End, Node, Row
from rigdsl.draw.stands import Flow, Line
from rigdsl.draw.wires import Stand
from rigdsl.draw.words import kind_text
from rigdsl.rig import Group, Port, ports_text

__all__ = ["Table", "stand_table"]


@dataclass
class Table:
    """A node in the making, and where the lines of each socket end in it: sound comes in west and leaves east."""

    node: Node
    west: dict[Port, End] = field(default_factory=dict)
    east: dict[Port, End] = field(default_factory=dict)


def stand_table(flow: Flow, stand: Stand) -> Table:
    """The table of one stand."""
    box = flow.rig.boxes[stand.box]
    node = Node(
        id=stand.id,
        kind=f"box {box.kind}",
        title=box.name,
        subtitle=_subtitle(flow, stand),
        about=tuple(one.name for one in flow.rig.whole(box.name)),
        tip=f"{box.title} ({kind_text(box)})",
        group=box.zone,
        things=tuple(one.name for one in flow.rig.whole(box.name)),
        crosses=_crosses(flow, stand),
    )
    return _assembled(flow, Table(node), stand_parts(flow, stand))


def _subtitle(flow: Flow, stand: Stand) -> str:
    """The box's label, where it stands, and which of its two sides this is."""
    box = flow.rig.boxes[stand.box]
    zone = flow.rig.zones.get(box.zone)
    place = (zone.label or zone.name) if zone else ""
    where = " · ".join(filter(None, [place, _side_words(flow, stand)]))
    return "\n".join(filter(None, [box.label or kind_text(box), where]))


def _side_words(flow: Flow, stand: Stand) -> str:
    box = flow.rig.boxes[stand.box]
    both = any(other.box == stand.box and other.side != stand.side for other in flow.stands)
    if box.mixes:
        surfaces = [
            name for name in sorted(flow.paths.joined_boxes(box.name)) if flow.rig.boxes[name].kind == "surface"
        ]
        return f"set from {', '.join(surfaces)}" if surfaces else ""
    ways = [CROSSINGS[way] for way in _crosses(flow, stand)]
    if ways and stand.side in ("in", "out"):
        return f"{stand.side}puts, {', '.join(ways)}"
    if both:
        return {"in": "towards the desk", "out": "from the desk", "between": "between the desks"}.get(stand.side, "")
    return ""


def _crosses(flow: Flow, stand: Stand) -> tuple[Crossing, ...]:
    """Where digital sound leaves and analogue comes in, or the other way round, one is made of the other.

    What mixes digital sound makes all of its own digital, and goes out by its analogue sockets from there.
    """
    sends = any(trunk.left == stand for trunk in flow.trunks.trunks)
    takes = any(trunk.right == stand for trunk in flow.trunks.trunks)
    if stand.side == "hub":
        sends = takes = sends or takes
    roles = {
        flow.rig.group(port).role
        for port in flow.wires.sides
        if flow.rig.body(port.box) == stand.box and _wired(flow.rig.group(port)) and flow.stand(port) == stand
    }
    ways: tuple[tuple[Crossing, bool], ...] = (
        ("AD", sends and "inputs" in roles),
        ("DA", takes and "outputs" in roles),
    )
    return tuple(way for way, there in ways if there)


def _wired(group: Group) -> bool:
    return group.analogue and not group.soft and not group.wireless


def _assembled(flow: Flow, table: Table, parts: list[Part]) -> Table:
    """The rows with their narrow fields for lines at either side; a loom's field spans its rows."""
    rows: list[Row] = []
    leaves, arrives = flow.ends
    for part in parts:
        west = _placed(_bracketed(part.left, arrives))
        east = _placed(_bracketed(part.right, leaves))
        texts = _placed(part.right)
        for index, (number, line) in enumerate(part.rows):
            cells: list[Cell] = []
            if index in west:
                cells.append(_plug(table, west[index], "w"))
            cells += _words(number, line)
            if index in texts:
                cells.append(Cell(texts[index].text, tone="quiet", align="right", rows=texts[index].height))
            if index in east:
                cells.append(_plug(table, east[index], "e"))
            about = tuple(str(port) for port in line.ports) if line else ()
            things = _things(line, *(fields[index] for fields in (west, east) if index in fields))
            rows.append(Row(tuple(cells), (*(part.about if index == 0 else ()), *about), _tip(line), things=things))
    table.node = replace(table.node, rows=tuple(rows))
    return table


def _things(line: Line | None, *fields: Field) -> tuple[str, ...]:
    """The sockets of a row: those that it tells of, and those on its far sides, but for what a loom's bar spans."""
    ports = [*(line.ports if line else ()), *(port for one in fields if not one.bar for port in one.ports)]
    return tuple(map(str, dict.fromkeys(ports)))


def _placed(fields: list[Field]) -> dict[int, Field]:
    """Fields by the row that each begins in."""
    found: dict[int, Field] = {}
    row = 0
    for one in fields:
        found[row] = one
        row += one.height
    return found


def _bracketed(fields: list[Field], segments: Mapping[Port, Segment]) -> list[Field]:
    """Neighbouring fields in which the lines of one loom end become one, drawn as a bar."""
    made: list[Field] = []
    for segment, some in groupby(fields, key=lambda one: segments.get(one.ports[0]) if one.ports else None):
        alike = list(some)
        if segment is None or len(segment.wires) == 1:
            made += alike
        else:
            ports = tuple(port for one in alike for port in one.ports)
            made.append(Field(ports, "", sum(one.height for one in alike), bar=True))
    return made


def _plug(table: Table, field: Field, side: Literal["e", "w"]) -> Cell:
    """The narrow field that lines end in."""
    if not field.ports:
        return Cell(rows=field.height)
    first = field.ports[0]
    key = slug(
        *([] if table.node.title == first.box else [first.box]),
        first.group,
        *([first.number] if first.number else []),
        side,
    )
    for port in field.ports:
        (table.west if side == "w" else table.east)[port] = End(table.node.id, key, side)
    return Cell(key=key, tone="bar" if field.bar else "plain", rows=field.height)


def _words(number: str, line: Line | None) -> list[Cell]:
    if line is None:
        return [Cell(), Cell(), Cell()]
    tone: Literal["quiet", "plain"] = "quiet" if line.quiet else "plain"
    return [Cell(number, tone="quiet", align="right"), Cell(line.label, tone=tone), Cell(line.info)]


def _tip(line: Line | None) -> str:
    return f"{ports_text(line.ports)}: {' '.join(filter(None, [line.label, line.info]))}" if line else ""
