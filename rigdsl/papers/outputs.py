"""The output list: a row for each line of each output and loudspeaker, in the order of the mixes."""

from __future__ import annotations

from collections.abc import Iterable

from rigdsl.draw.words import lead_text, type_text
from rigdsl.papers.lines import (
    Line,
    heard,
    held,
    label_text,
    lines_of,
    notes_of,
    plugged_text,
    radio_text,
    zone_text,
)
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Output, Port, Rig, ports_text

__all__ = ["LIVE", "LOUD", "OUTPUT_LIST"]

LIVE = "amplifiers off before anybody touches their cables: their outputs can carry dangerous voltages"
LOUD = "bring levels up slowly, and keep to the limits for hearing that apply where you are"

COLUMNS = (
    "no",
    "fed from",
    "output",
    "label",
    "type",
    "zone",
    "by way of",
    "amplifier",
    "plugged into",
    "cable",
    "radio",
    "note",
)


def _output_list(facts: Facts) -> Table:
    rig, paths = facts.rig, facts.paths
    things = heard(rig, paths)
    lines = lines_of(paths, things)
    rows = tuple((number, *_row(rig, paths, things[line[1].name], line)) for number, line in enumerate(lines, 1))
    amplifiers = any(rig.boxes[box].kind == "amplifier" for box in _boxes(paths, things))
    cautions = (LIVE, amplifiers), (LOUD, bool(lines))
    return Table(COLUMNS, rows, (*held(cautions), *notes_of(paths, lines, things)))


def _boxes(paths: Paths, names: Iterable[str]) -> set[str]:
    """All boxes that the ways to these leave by a socket."""
    hops = (hop for name in names for path in paths.paths_of(name) for hop in path.hops)
    return {hop.left.box for hop in hops if isinstance(hop.left, Port)}


def _row(rig: Rig, paths: Paths, output: Output, line: Line) -> tuple[Cell, ...]:
    mixes, leg = line
    between = [port for port in reversed(paths.outlets_of(leg)) if _leaves(rig, output, port)]
    amplifiers = [port for port in between if rig.boxes[port.box].kind == "amplifier"]
    return (
        ports_text(mixes) or ", ".join(_direct(paths, leg)),
        output.name,
        label_text(rig, output, leg),
        type_text(output),
        zone_text(rig, output),
        ports_text(port for port in between if port not in amplifiers),
        ports_text(amplifiers),
        plugged_text(output, leg),
        lead_text(output.lead),
        radio_text(output),
        output.note,
    )


def _direct(paths: Paths, leg: Leg) -> list[str]:
    """The sources that feed a line without a mix between."""
    starts = (path.start for path in paths.paths_of(leg.name) if path.leg == leg and path.complete)
    return list(dict.fromkeys(start.name for start in starts if isinstance(start, Leg)))


def _leaves(rig: Rig, output: Output, port: Port) -> bool:
    """A socket on the way that is not the output's own: of a stage box, before an amplifier or a sender."""
    return port not in output.ports and rig.group(port).role == "outputs"


OUTPUT_LIST = Paper("output-list", "Output list", _output_list)
