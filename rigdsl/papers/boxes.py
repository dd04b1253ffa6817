"""Box sheets: every socket of a box, what is on it and where it goes on; to tape on the box."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
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
NOTHING = "a line that nothing is on"


@dataclass(frozen=True)
class Signals:
    """What is at each socket: lines, what they come to from there or are fed by, digital runs, what it is kept for."""

    lines: Mapping[Port, list[Leg]]
    desk: Mapping[tuple[Port, Leg], tuple[Port, ...]]
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
    desk: dict[tuple[Port, Leg], tuple[Port, ...]] = {}
    outputs = heard(rig, paths)
    for channels, leg in lines_of(paths, rig.sources):
        if leg.index < len(rig.sources[leg.name].ports):
            for port in paths.walk_of(leg).came:
                lines[port].append(leg)
                desk[port, leg] = _from_here(paths, port, leg, channels)
    for mixes, leg in lines_of(paths, outputs):
        if leg.index < len(outputs[leg.name].ports):
            for port in paths.walk_back(outputs[leg.name].ports[leg.index]).came:
                lines[port].append(leg)
                desk[port, leg] = mixes
    runs: dict[Port, list[str]] = defaultdict(list)
    for run in paths.runs:
        words = "data only" if run.data else run.protocol or "digital"
        for port in dict.fromkeys(port for piece in run.pieces for port in (piece.left, piece.right)):
            runs[port].append(words)
    return Signals(lines, desk, {port: keep.what for keep in rig.keeps for port in keep.ports}, runs)


def _from_here(paths: Paths, port: Port, leg: Leg, channels: tuple[Port, ...]) -> tuple[Port, ...]:
    """Those of its channels that a line comes to by way of a socket: behind a split each leg has its own."""
    behind, pairs = paths.walk_from(port).came, [pair for pair in paths.pairs_from(leg) if pair.route]
    here = {pair.route.right for pair in pairs if pair.route and pair.route.left in behind}
    every = {*paths.walk_of(leg).came, *(pair.route.right for pair in pairs if pair.route)}
    return tuple(channel for channel in channels if channel in here or channel in behind or channel not in every)


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
    legs = list(dict.fromkeys(signals.lines.get(port, ())))
    inserts = paths.inserts_through(port)
    cables, ends = _wired(rig, paths, port, legs)
    desks = dict.fromkeys(end for leg in legs for end in signals.desk.get((port, leg), ()))
    return (
        socket,
        _what(rig, paths, group, port, signals),
        ", ".join(filter(None, dict.fromkeys(cables))),
        ", ".join(ends),
        ports_text([*desks, *(insert.at for insert in inserts)]),
        "on" if port in paths.phantom_on else "",
        _note(rig, legs, paths.plugs.get(port, ())),
    )


def _wired(rig: Rig, paths: Paths, port: Port, legs: list[Leg]) -> tuple[list[str], list[str]]:
    """The cables at a socket, and their other ends; a source that is named as what is on it is not named again."""
    pieces, plugged, told = paths.pieces.get(port, ()), paths.plugs.get(port, ()), _titles(rig, legs)
    cables = [f"{piece.link.id or ''} {cable_text(piece.link)}".strip() for piece in pieces]
    cables += [lead_text(rig.thing(leg).lead) for leg in plugged]
    cables += [lead_text(insert.lead) for insert in paths.inserts_through(port)]
    ends = [str(piece.right) for piece in pieces]
    return cables, [*ends, *(rig.thing(leg).title for leg in plugged if rig.thing(leg).title not in told)]


def _what(rig: Rig, paths: Paths, group: Group, port: Port, signals: Signals) -> str:
    """The lines at a socket, else what it is for, else that it is free."""
    lines = _titles(rig, dict.fromkeys(signals.lines.get(port, ())))
    inserts = ports_text(insert.at for insert in paths.inserts_through(port))
    if inserts:
        return lines or f"insert of {inserts}"
    if port not in paths.pieces and port not in paths.plugs:
        kept = signals.kept.get(port)
        return f"kept for {kept}" if kept else lines or ("by radio" if group.wireless else FREE)
    runs = ", ".join(dict.fromkeys(signals.runs.get(port, ())))
    return lines or (NOTHING if group.role in ("inputs", "outputs") else runs)


def _titles(rig: Rig, legs: Iterable[Leg]) -> str:
    return ", ".join(leg_title_of(rig, leg) for leg in legs)


def leg_title_of(rig: Rig, leg: Leg) -> str:
    """A line by its label; a loudspeaker box by its own."""
    if leg.name in rig.boxes:
        return rig.boxes[leg.name].title
    return leg_title(rig, leg)


def _note(rig: Rig, legs: list[Leg], plugged: tuple[Leg, ...]) -> str:
    return "; ".join(filter(None, (rig.thing(leg).note for leg in legs if leg in plugged)))


BOX_SHEETS = Paper("box-sheets", "Box sheets", _box_sheets)
