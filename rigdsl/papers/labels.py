"""Label strips: a field for each channel, mix and socket, with its number and a short name."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.draw.words import kind_text
from rigdsl.papers.colours import colour_text
from rigdsl.papers.lines import heard, lines_of
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import Paths
from rigdsl.rig import Box, Group, Leg, Port, Rig, natural

__all__ = ["LABEL_STRIPS", "LONGEST", "short_name"]

COLUMNS = ("number", "name")
COLOUR = "colour"
LONGEST = 12  # letters that are still read on a field of the width of a fader
STRIPPED = ("channels", "mixes", "inputs", "outputs")


def _label_strips(facts: Facts) -> tuple[Table, ...]:
    rig, paths = facts.rig, facts.paths
    names = _names(rig, paths)
    found = (
        _strip(box, group, names, colours=facts.settings.colours)
        for _, box in sorted(rig.boxes.items(), key=lambda item: (not item[1].mixes, natural(item[0])))
        for group in box.model.of_role(*STRIPPED)
        if box.kind != "loudspeaker" and not group.wireless and not group.soft
    )
    return tuple(strip for strip in found if any(row[1] for row in strip.rows))


def _names(rig: Rig, paths: Paths) -> dict[Port, str]:
    """What is at each channel, mix and socket, in short; of several the first and a sign that there are more."""
    found: dict[Port, list[str]] = {}
    for port, leg in _at(rig, paths):
        found.setdefault(port, []).append(short_name(rig, leg))
    return {
        port: names[0] if len(set(names)) == 1 else f"{names[0]} +{len(set(names)) - 1}"
        for port, names in found.items()
    }


def _at(rig: Rig, paths: Paths) -> Iterator[tuple[Port, Leg]]:
    outputs = heard(rig, paths)
    for things in (rig.sources, outputs):
        for ports, leg in lines_of(paths, things):
            yield from ((port, leg) for port in ports)
    for leg in paths.legs:
        if leg.index < len(rig.sources[leg.name].ports):
            yield from ((port, leg) for port in paths.walk_of(leg).came if _is_socket(rig, port))
    for name, output in outputs.items():
        for index, socket in enumerate(output.ports):
            yield from ((port, Leg(name, index)) for port in paths.walk_back(socket).came if _is_socket(rig, port))


def _is_socket(rig: Rig, port: Port) -> bool:
    return rig.group(port).role in ("inputs", "outputs")


def short_name(rig: Rig, leg: Leg) -> str:
    """The label where it is short enough, else the name; with L and R, or a number, where it has several lines."""
    if leg.name in rig.boxes:
        title, count, mono = rig.boxes[leg.name].title, 1, True
    else:
        thing = rig.thing(leg)
        title, count, mono = thing.title, len(thing.ports), thing.mono
    side = "" if count < 2 else f" {'LR'[leg.index]}" if count == 2 and not mono else f" {leg.index + 1}"
    room = LONGEST - len(side)
    return (title if len(title) <= room else leg.name) + side


def _strip(box: Box, group: Group, names: dict[Port, str], *, colours: bool) -> Table:
    rows = tuple(_field(port, names.get(port, ""), colours=colours) for port in box.ports(group))
    columns = (*COLUMNS, COLOUR) if colours else COLUMNS
    return Table(columns, rows, (kind_text(box),), f"{box.name}.{group.name}", strip=True)


def _field(port: Port, name: str, *, colours: bool) -> tuple[Cell, ...]:
    number = port.number or 1
    return (number, name, colour_text(number)) if colours else (number, name)


LABEL_STRIPS = Paper("label-strips", "Label strips", _label_strips, (*COLUMNS, COLOUR))
