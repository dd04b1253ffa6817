"""The guest's sheet: for a visiting engineer, only their sockets and channels, on one side of paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rigdsl.papers.inputs import PHANTOM, RIBBON
from rigdsl.papers.lines import (
    Line,
    heard,
    held,
    label_text,
    lines_of,
    notes_of,
    phantom_text,
    plugged_text,
    preamps_of,
)
from rigdsl.papers.outputs import LOUD
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import Paths, gain_owners, keep_off
from rigdsl.rig import Output, Port, Rig, Source, ports_text

__all__ = ["GUEST_SHEET", "guests_of"]

INPUTS = ("channel", "source", "mic", "plugged into", "preamp", "phantom", "gain by")
OUTPUTS = ("fed from", "output", "type", "plugged into")

Things = Mapping[str, Source] | Mapping[str, Output]


def guests_of(facts: Facts) -> frozenset[str]:
    """The sources and outputs of the guest: those that were asked for, by name, zone, desk or box.

    Else those of tonight's own file; all of them, where it has none.
    """
    rig, paths = facts.rig, facts.paths
    things: dict[str, Source | Output] = {**rig.sources, **heard(rig, paths)}
    if facts.guest:
        names = {name for asked in facts.guest for name in _belonging(rig, paths, things, asked)}
        return frozenset(names)
    own = {name for name, thing in things.items() if thing.place.source.path == facts.path}
    return frozenset(own or things)


def _belonging(rig: Rig, paths: Paths, things: Mapping[str, Source | Output], asked: str) -> list[str]:
    """What a name stands for: a source or output, all of a zone, all that goes through a box."""
    if asked in things:
        return [asked]
    if asked in rig.zones:
        return [name for name, thing in things.items() if thing.zone == asked]
    ways = paths.trace(asked) if asked in rig.boxes else ()
    return [path.leg.name for path in ways if path.leg is not None]


def _guest_sheet(facts: Facts) -> tuple[Table, ...]:
    rig, paths, names = facts.rig, facts.paths, guests_of(facts)
    sources = {name: source for name, source in rig.sources.items() if name in names}
    outputs = {name: output for name, output in heard(rig, paths).items() if name in names}
    owners = gain_owners(paths)
    ins, outs = lines_of(paths, sources), lines_of(paths, outputs)
    inputs = Table(INPUTS, tuple(_input(rig, paths, line, owners) for line in ins), _cautions(sources), "Inputs")
    said = Table(OUTPUTS, tuple(_output(rig, line, outputs) for line in outs), held(((LOUD, bool(outs)),)), "Outputs")
    some = [table for table in (inputs, said) if table.rows] or [inputs]
    last = replace(some[-1], notes=(*some[-1].notes, *_missing(paths, ins, outs, sources, outputs)))
    return (*some[:-1], last)


def _cautions(sources: Mapping[str, Source]) -> tuple[str, ...]:
    some = sources.values()
    return held(((PHANTOM, any(one.needs_phantom for one in some)), (RIBBON, any(map(keep_off, some)))))


def _missing(
    paths: Paths, ins: Sequence[Line], outs: Sequence[Line], sources: Things, outputs: Things
) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*notes_of(paths, ins, sources), *notes_of(paths, outs, outputs))))


def _input(rig: Rig, paths: Paths, line: Line, owners: Mapping[Port, str]) -> tuple[Cell, ...]:
    channels, leg = line
    source, preamps = rig.sources[leg.name], preamps_of(paths, leg)
    return (
        ports_text(channels),
        label_text(rig, source, leg) or source.name,
        source.mic or {"di": "DI", "active-di": "active DI"}.get(source.type, source.type),
        plugged_text(source, leg),
        ports_text(preamps),
        phantom_text(paths, leg, owners),
        ", ".join(dict.fromkeys(owners[port] for port in preamps if port in owners)),
    )


def _output(rig: Rig, line: Line, outputs: Mapping[str, Output]) -> tuple[Cell, ...]:
    mixes, leg = line
    output = outputs[leg.name]
    return ports_text(mixes), label_text(rig, output, leg) or output.name, output.type, plugged_text(output, leg)


GUEST_SHEET = Paper("guest-sheet", "Guest's sheet", _guest_sheet, (*INPUTS, *OUTPUTS))
