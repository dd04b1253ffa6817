"""Box sheets: every socket of a box, what is on it and where it goes on; to tape on the box."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from rigdsl.draw.words import cable_text, kind_text, lead_text, leg_title, short
from rigdsl.papers.lines import heard, held, lines_of, zone_text
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import Paths
from rigdsl.rig import Box, Group, Leg, Port, Rig, natural, ports_text

__all__ = ["BOX_SHEETS"]

COLUMNS = ("socket", "what is on it", "cable", "other end", "channel or mix", "phantom", "note")
SOCKETS = ("inputs", "outputs", "digital", "data")
LIVE = "loudspeaker level: amplifier off before a plug is touched"
FREE = "free"


@dataclass(frozen=True)
class Signals:
    """What is at each socket (lines, digital runs, what it is kept for), and the channels or mixes of each line."""

    lines: Mapping[Port, list[Leg]]
    desk: Mapping[Leg, tuple[Port, ...]]
    kept: Mapping[Port, str]
    runs: Mapping[Port, list[str]]


def _box_sheets(facts: Facts) -> tuple[Table, ...]:
    rig, paths = facts.rig, facts.paths
    signals = _signals(rig, paths)
    names = sorted((name for name, box in rig.boxes.items() if box.slot is None), key=natural)
    tables = (_sheet(rig, paths, name, signals) for name in names)
    return tuple(table for table in tables if table.rows)


def _signals(rig: Rig, paths: Paths) -> Signals:
    lines: dict[Port, list[Leg]] = defaultdict(list)
    outputs = heard(rig, paths)
    for leg in paths.legs:
        if leg.index < len(rig.sources[leg.name].ports):
            for port in paths.walk_of(leg).came:
                lines[port].append(leg)
    for name, output in outputs.items():
        for index, socket in enumerate(output.ports):
            for port in paths.walk_back(socket).came:
                lines[port].append(Leg(name, index))
    desk = {leg: ports for things in (rig.sources, outputs) for ports, leg in lines_of(paths, things)}
    runs: dict[Port, list[str]] = defaultdict(list)
    for run in paths.runs:
        words = "data only" if run.data else run.protocol or "digital"
        for port in dict.fromkeys(port for piece in run.pieces for port in (piece.left, piece.right)):
            runs[port].append(words)
    return Signals(lines, desk, {port: keep.what for keep in rig.keeps for port in keep.ports}, runs)


def _sheet(rig: Rig, paths: Paths, name: str, signals: Signals) -> Table:
    box = rig.boxes[name]
    groups = [(one, group) for one, group in rig.groups_of(name, *SOCKETS) if not group.soft]
    rows = tuple(
        _row(rig, paths, one, group, port, signals) for one, group in _ordered(groups) for port in one.ports(group)
    )
    facts = (kind_text(box), zone_text(rig, box), box.note, f"address {box.address}" if box.address else "")
    live = any("loudspeaker" in group.levels for _, group in groups)
    title = f"{name}: {box.label}" if box.label else name
    return Table(COLUMNS, rows, (*filter(None, facts), *held(((LIVE, live),))), title)


def _ordered(groups: list[tuple[Box, Group]]) -> list[tuple[Box, Group]]:
    """Inputs, outputs, then digital and data sockets; within one kind as the model has them."""
    return sorted(groups, key=lambda pair: SOCKETS.index(pair[1].role))


def _row(rig: Rig, paths: Paths, box: Box, group: Group, port: Port, signals: Signals) -> tuple[Cell, ...]:
    own = rig.body(port.box) == port.box
    socket = short(port) if own else str(port)
    pieces = paths.pieces.get(port, ())
    legs = list(dict.fromkeys(signals.lines.get(port, ())))
    plugged = paths.plugs.get(port, ())
    what = ", ".join(leg_title_of(rig, leg) for leg in legs)
    cables = [f"{piece.link.id or ''} {cable_text(piece.link)}".strip() for piece in pieces]
    cables += [lead_text(rig.thing(leg).lead) for leg in plugged]
    ends = [str(piece.right) for piece in pieces]
    ends += [rig.thing(leg).title for leg in plugged if rig.thing(leg).title not in what]
    if not pieces and not plugged:
        kept = signals.kept.get(port)
        what = f"kept for {kept}" if kept else what or ("by radio" if group.wireless else FREE)
    elif not what and group.role in ("inputs", "outputs"):
        what = "a line that nothing is on"
    desks = dict.fromkeys(end for leg in legs for end in signals.desk.get(leg, ()))
    return (
        socket,
        what or ", ".join(dict.fromkeys(signals.runs.get(port, ()))),
        ", ".join(filter(None, dict.fromkeys(cables))),
        ", ".join(ends),
        ports_text(desks),
        "on" if port in paths.phantom_on else "",
        _note(rig, legs, plugged),
    )


def leg_title_of(rig: Rig, leg: Leg) -> str:
    """A line by its label; a loudspeaker box by its own."""
    if leg.name in rig.boxes:
        return rig.boxes[leg.name].title
    return leg_title(rig, leg)


def _note(rig: Rig, legs: list[Leg], plugged: tuple[Leg, ...]) -> str:
    return "; ".join(filter(None, (rig.thing(leg).note for leg in legs if leg in plugged)))


BOX_SHEETS = Paper("box-sheets", "Box sheets", _box_sheets)
