"""The input list and the output list: a row for each line, in the order of the desk."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigdsl.draw.words import lead_text, leg_title, type_text
from rigdsl.papers.table import Paper, Table
from rigdsl.paths import Path, Paths
from rigdsl.rig import Leg, Output, Port, Rig, Source, natural, ports_text

__all__ = ["INPUT_LIST", "OUTPUT_LIST"]

MISSING = "some lines are plugged into nothing yet, or reach nothing: rigdsl check says what is missing"
DEMO = "demo data"

Line = tuple[tuple[Port, ...], Leg]  # the channels or mixes of a line, and the line


def _input_list(rig: Rig, paths: Paths) -> Table:
    lines = sorted(_lines(rig, paths, rig.sources), key=_order)
    columns = ("no", "channel", "source", "label", "type", "zone", "plugged into", "stand", "mic", "phantom", "cable")
    rows = tuple((str(number), *_input(rig, *line)) for number, line in enumerate(lines, 1))
    return Table(columns, rows, _notes(rig, paths, lines))


def _input(rig: Rig, channels: tuple[Port, ...], leg: Leg) -> tuple[str, ...]:
    source = rig.sources[leg.name]
    return (
        ports_text(channels),
        source.name,
        leg_title(rig, leg) if source.label or len(source.ports) > 1 else "",
        type_text(source),
        _zone(rig, source),
        _plugged(source, leg),
        source.stand,
        source.mic,
        "needed" if source.needs_phantom else "",
        lead_text(source.lead),
    )


def _output_list(rig: Rig, paths: Paths) -> Table:
    lines = sorted(_lines(rig, paths, rig.outputs), key=_order)
    columns = ("no", "fed from", "output", "label", "type", "zone", "plugged into", "cable")
    rows = tuple((str(number), *_output(rig, *line)) for number, line in enumerate(lines, 1))
    return Table(columns, rows, _notes(rig, paths, lines))


def _output(rig: Rig, mixes: tuple[Port, ...], leg: Leg) -> tuple[str, ...]:
    output = rig.outputs[leg.name]
    return (
        ports_text(mixes),
        output.name,
        leg_title(rig, leg) if output.label or len(output.ports) > 1 else "",
        type_text(output),
        _zone(rig, output),
        _plugged(output, leg),
        lead_text(output.lead),
    )


def _lines(rig: Rig, paths: Paths, names: Iterable[str]) -> Iterator[Line]:
    """Each line of each thing, with what feeds it or what it comes to at a desk."""
    for name in names:
        found: dict[Leg | None, list[Path]] = {}
        for path in paths.paths_of(name):
            found.setdefault(path.leg, []).append(path)
        for index in range(max(1, len(rig.thing(Leg(name, 0)).ports))):
            leg = Leg(name, index)
            ends = {end for path in found.get(leg, ()) if path.complete for end in (path.start, path.end)}
            desk = {end for end in ends if isinstance(end, Port) and rig.group(end).role in ("channels", "mixes")}
            yield tuple(sorted(desk, key=lambda port: port.key)), leg


def _order(line: Line) -> tuple[object, ...]:
    """By the first channel or mix; lines that have none come last, by name."""
    ports, leg = line
    return (0, ports[0].key, natural(leg.name), leg.index) if ports else (1, natural(leg.name), leg.index)


def _zone(rig: Rig, thing: Source | Output) -> str:
    zone = rig.zones.get(thing.zone)
    return zone.label or zone.name if zone else ""


def _plugged(thing: Source | Output, leg: Leg) -> str:
    """Its socket; a box alone where no socket is chosen yet."""
    return str(thing.ports[leg.index]) if leg.index < len(thing.ports) else thing.aimed


def _lost(rig: Rig, paths: Paths, line: Line) -> bool:
    """Whether a line is plugged into nothing, or lacks the channel or mix that it needs; talkback needs none."""
    ports, leg = line
    thing = rig.thing(leg)
    if leg.index >= len(thing.ports):
        return True
    if ports or thing.type == "talkback":
        return False
    return not (paths.arrives(leg.name) if isinstance(thing, Source) else paths.sounds(leg.name))


def _notes(rig: Rig, paths: Paths, lines: Iterable[Line]) -> tuple[str, ...]:
    lost = any(_lost(rig, paths, line) for line in lines)
    return tuple(note for note, holds in ((MISSING, lost), (DEMO, rig.head.demo)) if holds)


INPUT_LIST = Paper("input-list", "Input list", _input_list)
OUTPUT_LIST = Paper("output-list", "Output list", _output_list)
