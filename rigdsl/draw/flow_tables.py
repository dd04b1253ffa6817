"""Stands of a flow drawing as tables: sound comes in by the sockets on the left and leaves by those on the right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import Literal

from rigdsl.draw.segments import Segment, slug
from rigdsl.draw.shapes import Cell, End, Node, Row
from rigdsl.draw.stands import Flow, Line
from rigdsl.draw.wires import Stand
from rigdsl.draw.words import by_numbers, kind_text, short
from rigdsl.rig import Group, Port, ports_text

__all__ = ["Table", "stand_table"]


@dataclass
class Table:
    """A node in the making, and where the lines of each socket end in it: sound comes in west and leaves east."""

    node: Node
    west: dict[Port, End] = field(default_factory=dict)
    east: dict[Port, End] = field(default_factory=dict)


@dataclass(frozen=True)
class _Field:
    """What ends at one side of a node, `height` rows high: the sockets, and the words beside them."""

    ports: tuple[Port, ...] = ()
    text: str = ""
    height: int = 1
    bar: bool = False


@dataclass(frozen=True)
class _Part:
    """Rows of one group, and the fields at either side that together are as high."""

    rows: list[tuple[str, Line | None]]
    left: list[_Field]
    right: list[_Field]
    about: tuple[str, ...]


def stand_table(flow: Flow, stand: Stand) -> Table:
    """The table of one stand."""
    box = flow.rig.boxes[stand.box]
    passed: set[str] = set()
    parts: list[_Part] = []
    for group in box.model.groups.values():
        if group.role == "inputs":
            parts += _inputs(flow, stand, group, passed)
    digital = flow.digital_ports.get(stand, ())
    parts += [_digital(flow, port) for port in digital if not flow.rig.group(port).analogue]
    for group in box.model.groups.values():
        if group.role in ("channels", "mixes"):
            parts += _summary(flow, stand, group)
    for group in box.model.groups.values():
        if group.role == "outputs" and group.name not in passed:
            parts += _outputs(flow, stand, group)
    node = Node(
        id=stand.id,
        kind=f"box {box.kind}",
        title=box.name,
        subtitle=_subtitle(flow, stand),
        about=(box.name,),
        tip=f"{box.title} ({kind_text(box)})",
    )
    return _assembled(flow, Table(node), parts)


def _subtitle(flow: Flow, stand: Stand) -> str:
    """The box's label, where it stands, and which of its two sides this is."""
    box = flow.rig.boxes[stand.box]
    zone = flow.rig.zones.get(box.zone)
    place = (zone.label or zone.name) if zone else ""
    where = " · ".join(filter(None, [place, _side_words(flow, stand)]))
    return "\n".join(filter(None, [box.label or kind_text(box), where]))


def _side_words(flow: Flow, stand: Stand) -> str:
    box = flow.rig.boxes[stand.box]
    sends = any(trunk.left == stand for trunk in flow.trunks.trunks)
    takes = any(trunk.right == stand for trunk in flow.trunks.trunks)
    both = any(other.box == stand.box and other.side != stand.side for other in flow.stands)
    analogue = any(
        flow.rig.group(port).analogue and flow.stand(port) == stand for port in flow.wires.sides if port.box == box.name
    )
    if box.mixes:
        surfaces = [
            name for name in sorted(flow.paths.joined_boxes(box.name)) if flow.rig.boxes[name].kind == "surface"
        ]
        return f"set from {', '.join(surfaces)}" if surfaces else ""
    if stand.side == "in" and sends and analogue:
        return "inputs, analogue to digital"
    if (
        stand.side == "out"
        and takes
        and any(flow.rig.group(p).role == "outputs" for p in flow.wires.sides if p.box == box.name)
    ):
        return "outputs, digital to analogue"
    if both:
        return {"in": "towards the desk", "out": "from the desk", "between": "between the desks"}.get(stand.side, "")
    return ""


def _inputs(flow: Flow, stand: Stand, group: Group, passed: set[str]) -> list[_Part]:
    """Inputs, with the sockets that their passes lead to on the right."""
    ports = flow.ports_at(stand, group)
    if not ports:
        return []
    lines = flow.input_lines(ports)
    onward = _onward(flow, lines) if stand.side != "hub" else {}
    passed |= set(onward)
    right: list[_Field] = []
    if len(onward) == 1:
        by_line = next(iter(onward.values()))
        for line, others in zip(lines, by_line, strict=True):
            same = by_numbers(others) == line.numbers if others else True
            right.append(_Field(others, "" if same else by_numbers(others)))
    elif onward:
        right = _branches(flow, onward)
    spare = max(sum(one.height for one in right) - len(lines), 0)
    rows = _numbered(group, lines) + [("", None)] * spare
    if not onward:
        right = [_crossed(flow, line) for line in lines]
    left = [_Field(line.ports) for line in lines] + [_Field()] * spare
    return [_Part(rows, left, _stretched(right, len(rows)), (f"{stand.box}.{group.name}",))]


def _crossed(flow: Flow, line: Line) -> _Field:
    """The far side of an analogue socket: nothing ends there, but a cable that was joined to a digital port."""
    return _Field(line.ports) if line.ports[0] in flow.misjoined else _Field()


def _onward(flow: Flow, lines: list[Line]) -> dict[str, list[tuple[Port, ...]]]:
    """By the group that passes lead to: for each row the sockets on the far side."""
    groups: dict[str, list[tuple[Port, ...]]] = {}
    for index, line in enumerate(lines):
        for port in line.ports:
            for other, _ in flow.paths.wiring.onward(port):
                if flow.rig.group(other).analogue:
                    by_line = groups.setdefault(other.group, [()] * len(lines))
                    by_line[index] = (*by_line[index], other)
    return groups


def _branches(flow: Flow, onward: Mapping[str, list[tuple[Port, ...]]]) -> list[_Field]:
    """Each stretch of lines that leaves together, group by group: a splitter's legs."""
    made: list[_Field] = []
    for name, by_line in onward.items():
        ports = [port for others in by_line for port in others]
        for _, some in groupby(ports, key=lambda port: (flow.ends[0].get(port), flow.plugged(port))):
            stretch = tuple(some)
            free = not flow.ends[0].get(stretch[0]) and not flow.plugged(stretch[0])
            words = f"{name} {by_numbers(stretch)}" if stretch[0].number else name
            isolated = any(one.isolated for one in flow.rig.boxes[stretch[0].box].model.passes if one.right == name)
            notes = ", ".join(filter(None, ["isolated" if isolated else "", "free" if free else ""]))
            made.append(_Field(stretch, f"{words}\n{notes}" if notes else words, 2 if notes else 1))
    return made


def _stretched(right: list[_Field], rows: int) -> list[_Field]:
    """Fields on the right made higher, so that together they are as high as the rows on the left."""
    if not right:
        return [_Field()] * rows
    each, more = divmod(rows - sum(one.height for one in right), len(right))
    return [replace(one, height=one.height + each + (index < more)) for index, one in enumerate(right)]


def _digital(flow: Flow, port: Port) -> _Part:
    group = flow.rig.group(port)
    protocols = {run.protocol for run in flow.paths.run_at.get(port, ()) if run.protocol}
    words = " or ".join(sorted(protocols) or group.protocols) or ("control data" if group.role == "data" else "")
    return _Part(
        [(short(port), Line((port,), words))], [_Field((port,))], [_Field((port,))], (f"{port.box}.{port.group}",)
    )


def _summary(flow: Flow, stand: Stand, group: Group) -> list[_Part]:
    """Channels and mixes are counted, not listed."""
    box = flow.rig.boxes[stand.box]
    ports = box.ports(group)
    fed = [port for port in ports if port in flow.trunks.fed or _wired(flow, port)]
    feeding = [port for port in ports if port in flow.trunks.feeds or any(True for _ in flow.paths.wiring.onward(port))]
    used = fed if group.role == "channels" else [port for port in ports if port in {*fed, *feeding}]
    if not used or (not box.mixes and stand.side != "out"):
        return []
    line = Line(tuple(used), f"{len(used)} of {group.count} used")
    about = (f"{box.name}.{group.name}", *(str(port) for port in ports))
    name = f"{group.name} {by_numbers(used)}" if used[0].number else group.name
    return [_Part([(name, line)], [_Field()], [_Field()], about)]


def _wired(flow: Flow, port: Port) -> bool:
    """A channel that an input is wired to inside the desk, with something at that input."""
    return any(flow.used(other) for other, _ in flow.paths.wiring.back(port))


def _outputs(flow: Flow, stand: Stand, group: Group) -> list[_Part]:
    ports = flow.ports_at(stand, group)
    if not ports:
        return []
    lines = flow.output_lines(ports)
    fields = [_Field(line.ports) for line in lines]
    crossed = [_crossed(flow, line) for line in lines]
    return [_Part(_numbered(group, lines), crossed, fields, (f"{stand.box}.{group.name}",))]


def _assembled(flow: Flow, table: Table, parts: list[_Part]) -> Table:
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
            rows.append(Row(tuple(cells), (*(part.about if index == 0 else ()), *about), _tip(line)))
    table.node = replace(table.node, rows=tuple(rows))
    return table


def _placed(fields: list[_Field]) -> dict[int, _Field]:
    """Fields by the row that each begins in."""
    found: dict[int, _Field] = {}
    row = 0
    for one in fields:
        found[row] = one
        row += one.height
    return found


def _bracketed(fields: list[_Field], segments: Mapping[Port, Segment]) -> list[_Field]:
    """Neighbouring fields in which the lines of one loom end become one, drawn as a bar."""
    made: list[_Field] = []
    for segment, some in groupby(fields, key=lambda one: segments.get(one.ports[0]) if one.ports else None):
        alike = list(some)
        if segment is None or len(segment.wires) == 1:
            made += alike
        else:
            ports = tuple(port for one in alike for port in one.ports)
            made.append(_Field(ports, "", sum(one.height for one in alike), bar=True))
    return made


def _plug(table: Table, field: _Field, side: Literal["e", "w"]) -> Cell:
    """The narrow field that lines end in."""
    if not field.ports:
        return Cell(rows=field.height)
    key = slug(short(field.ports[0]), side)
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


def _numbered(group: Group, lines: list[Line]) -> list[tuple[str, Line | None]]:
    """The first row of a group says its name."""
    if group.count == 1:
        return [(group.name, line) for line in lines]
    return [(f"{group.name} {line.numbers}" if index == 0 else line.numbers, line) for index, line in enumerate(lines)]
