"""The house's input list: rigdsl's own with one column more, the colour of the tape on the cable."""

from __future__ import annotations

from rigdsl.papers import INPUT_LIST, Facts, Paper, Table
from rigdsl.rig import Source
from rigdsl_road_rules.colours import HOUSE

__all__ = ["TAPED_INPUTS"]


def _taped_inputs(facts: Facts) -> Table:
    (ours,) = INPUT_LIST.tables(facts)
    tapes = [_tape(facts.rig.sources[str(name)]) for name in ours.column("source")]
    return ours.with_column("tape", tapes, after="cable")


def _tape(source: Source) -> str:
    lead = source.lead
    return "" if lead is None or lead.length_m is None else HOUSE.get(f"{lead.length_m:g}", "")


TAPED_INPUTS = Paper("road-rules/input-list", "Input list with tapes", _taped_inputs)
