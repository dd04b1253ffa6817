"""The input list: a row for each line of each source, in the order of the channels."""

from __future__ import annotations

from rigdsl.draw.words import lead_text, type_text
from rigdsl.papers.lines import (
    Line,
    held,
    label_text,
    lines_of,
    notes_of,
    phantom_text,
    plugged_text,
    preamps_of,
    radio_text,
    zone_text,
)
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import Paths, gain_owners, keep_off
from rigdsl.rig import Port, Rig, ports_text

__all__ = ["INPUT_LIST", "PHANTOM", "RIBBON"]

PHANTOM = "phantom: mute, plug in, then switch it on; a damaged cable or an unbalanced line may not stand it"
RIBBON = "phantom can damage a ribbon microphone that needs none: be sure that it is off before one is plugged in"

COLUMNS = (
    "no",
    "channel",
    "source",
    "label",
    "type",
    "mic",
    "stand",
    "phantom",
    "gain by",
    "zone",
    "plugged into",
    "preamp",
    "cable",
    "radio",
    "note",
)


def _input_list(facts: Facts) -> Table:
    rig, paths = facts.rig, facts.paths
    lines, owners = lines_of(paths, rig.sources), gain_owners(paths)
    rows = tuple((number, *_row(rig, paths, line, owners)) for number, line in enumerate(lines, 1))
    sources = [rig.sources[leg.name] for _, leg in lines]
    cautions = (PHANTOM, any(one.needs_phantom for one in sources)), (RIBBON, any(map(keep_off, sources)))
    return Table(COLUMNS, rows, (*held(cautions), *notes_of(paths, lines, rig.sources)))


def _row(rig: Rig, paths: Paths, line: Line, owners: dict[Port, str]) -> tuple[Cell, ...]:
    channels, leg = line
    source, preamps = rig.sources[leg.name], preamps_of(paths, leg)
    return (
        ports_text(channels),
        source.name,
        label_text(rig, source, leg),
        type_text(source),
        source.mic,
        source.stand,
        phantom_text(paths, leg, owners),
        ", ".join(dict.fromkeys(owners[port] for port in preamps if port in owners)),
        zone_text(rig, source),
        plugged_text(source, leg),
        ports_text(preamps),
        lead_text(source.lead),
        radio_text(source),
        source.note,
    )


INPUT_LIST = Paper("input-list", "Input list", _input_list, COLUMNS)
