"""The rows of a stand in a flow drawing, group by group, and which sockets end at either side of each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from rigdsl.draw.outboard import through_rows
from rigdsl.draw.stands import Flow, Line
from rigdsl.draw.wires import Stand
from rigdsl.draw.words import by_numbers, short
from rigdsl.rig import Box, Group, Port

__all__ = ["Field", "Part", "stand_parts"]


@dataclass(frozen=True)
class Field:
    """What ends at one side of a node, `height` rows high: the sockets, and the words beside them."""

    ports: tuple[Port, ...] = ()
    text: str = ""
    height: int = 1
    bar: bool = False


@dataclass(frozen=True)
class Part:
    """Rows of one group, and the fields at either side that together are as high."""

    rows: list[tuple[str, Line | None]]
    left: list[Field]
    right: list[Field]
    about: tuple[str, ...]


def stand_parts(flow: Flow, stand: Stand) -> list[Part]:
    """All parts of a stand: inputs, digital ports, channels and mixes, outputs; those of its cards are among them."""
    passed: set[tuple[str, str]] = set()
    parts: list[Part] = []
    for box, group in flow.rig.groups_of(stand.box, "inputs"):
        parts += _inputs(flow, stand, box, group, passed)
    digital = flow.digital_ports.get(stand, ())
    parts += [_digital(flow, port) for port in digital if not flow.rig.group(port).analogue]
    for box, group in flow.rig.groups_of(stand.box, "channels", "mixes"):
        parts += _summary(flow, stand, box, group)
    for box, group in flow.rig.groups_of(stand.box, "outputs"):
        if (box.name, group.name) not in passed:
            parts += _outputs(flow, stand, box, group)
    return parts


def _inputs(flow: Flow, stand: Stand, box: Box, group: Group, passed: set[tuple[str, str]]) -> list[Part]:
    """Inputs, with the sockets that their passes lead to on the right."""
    ports = flow.ports_at(stand, box, group)
    if not ports:
        return []
    lines = flow.input_lines(ports)
    onward = _onward(flow, lines) if stand.side != "hub" else {}
    passed |= {(box.name, name) for name in onward}
    right: list[Field] = []
    if len(onward) == 1:
        by_line = next(iter(onward.values()))
        for line, others in zip(lines, by_line, strict=True):
            same = by_numbers(others) == line.numbers if others else True
            right.append(Field(others, "" if same else by_numbers(others)))
    elif onward:
        right = _branches(flow, onward)
    spare = max(sum(one.height for one in right) - len(lines), 0)
    rows = _numbered(_name(stand, box, group), group, lines) + [("", None)] * spare
    if not onward:
        right = [_crossed(flow, line) for line in lines]
    left = [Field(line.ports) for line in lines] + [Field()] * spare
    return [Part(rows, left, _stretched(right, len(rows)), (f"{box.name}.{group.name}",))]


def _name(stand: Stand, box: Box, group: Group) -> str:
    """A group by its name; that of a card says whose it is."""
    return group.name if box.name == stand.box else f"{box.name}.{group.name}"


def _crossed(flow: Flow, line: Line) -> Field:
    """The far side of an analogue socket: nothing ends there, but a cable that was joined to a digital port."""
    return Field(line.ports) if line.ports[0] in flow.misjoined else Field()


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


def _branches(flow: Flow, onward: Mapping[str, list[tuple[Port, ...]]]) -> list[Field]:
    """Each stretch of lines that leaves together, group by group: a splitter's legs."""
    made: list[Field] = []
    for name, by_line in onward.items():
        ports = [port for others in by_line for port in others]
        for _, some in groupby(ports, key=lambda port: (flow.ends[0].get(port), flow.plugged(port))):
            stretch = tuple(some)
            free = not flow.ends[0].get(stretch[0]) and not flow.plugged(stretch[0])
            words = f"{name} {by_numbers(stretch)}" if stretch[0].number else name
            isolated = any(one.isolated for one in flow.rig.boxes[stretch[0].box].model.passes if one.right == name)
            notes = ", ".join(filter(None, ["isolated" if isolated else "", "free" if free else ""]))
            made.append(Field(stretch, f"{words}\n{notes}" if notes else words, 2 if notes else 1))
    return made


def _stretched(right: list[Field], rows: int) -> list[Field]:
    """Fields on the right made higher, so that together they are as high as the rows on the left."""
    if not right:
        return [Field()] * rows
    each, more = divmod(rows - sum(one.height for one in right), len(right))
    return [replace(one, height=one.height + each + (index < more)) for index, one in enumerate(right)]


def _digital(flow: Flow, port: Port) -> Part:
    group = flow.rig.group(port)
    name = short(port) if flow.rig.body(port.box) == port.box else f"{port.box}.{short(port)}"
    protocols = {run.protocol for run in flow.paths.run_at.get(port, ()) if run.protocol}
    words = " or ".join(sorted(protocols) or group.protocols) or ("control data" if group.role == "data" else "")
    return Part([(name, Line((port,), words))], [Field((port,))], [Field((port,))], (f"{port.box}.{port.group}",))


def _summary(flow: Flow, stand: Stand, box: Box, group: Group) -> list[Part]:
    """Channels and mixes are counted, not listed."""
    ports = box.ports(group)
    fed = [port for port in ports if port in flow.trunks.fed or _wired(flow, port)]
    feeding = [port for port in ports if port in flow.trunks.feeds or any(True for _ in flow.paths.wiring.onward(port))]
    used = fed if group.role == "channels" else [port for port in ports if port in {*fed, *feeding}]
    if not used or (stand.side not in ("hub", "out")):
        return []
    line = Line(tuple(used), f"{len(used)} of {group.count} used")
    about = (f"{box.name}.{group.name}", *(str(port) for port in ports))
    called = _name(stand, box, group)
    name = f"{called} {by_numbers(used)}" if used[0].number else called
    return [Part([(name, line)], [Field()], [Field()], about), *_through(flow, box, group, called)]


def _through(flow: Flow, box: Box, group: Group, called: str) -> Iterator[Part]:
    """Channels and mixes with outboard in them."""
    for ports, words in through_rows(flow.paths, box, group):
        name = f"{called} {by_numbers(ports)}" if ports[0].number else called
        about = (f"{box.name}.{group.name}", *map(str, ports))
        yield Part([(name, Line(ports, words))], [Field()], [Field()], about)


def _wired(flow: Flow, port: Port) -> bool:
    """A channel that an input is wired to inside the desk, with something at that input."""
    return any(flow.used(other) for other, _ in flow.paths.wiring.back(port))


def _outputs(flow: Flow, stand: Stand, box: Box, group: Group) -> list[Part]:
    ports = flow.ports_at(stand, box, group)
    if not ports:
        return []
    lines = flow.output_lines(ports)
    fields = [Field(line.ports) for line in lines]
    crossed = [_crossed(flow, line) for line in lines]
    rows = _numbered(_name(stand, box, group), group, lines)
    return [Part(rows, crossed, fields, (f"{box.name}.{group.name}",))]


def _numbered(name: str, group: Group, lines: list[Line]) -> list[tuple[str, Line | None]]:
    """The first row of a group says its name."""
    if group.count == 1:
        return [(name, line) for line in lines]
    return [(f"{name} {line.numbers}" if index == 0 else line.numbers, line) for index, line in enumerate(lines)]
