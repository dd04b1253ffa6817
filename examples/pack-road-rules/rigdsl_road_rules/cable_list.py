"""The list that lies in the cable trunk."""

from __future__ import annotations

from rigdsl.papers import Cell, Facts, Paper, Table
from rigdsl.rig import Link, ports_text
from rigdsl_road_rules.colours import HOUSE, colour_of

__all__ = ["CABLE_LIST"]


def _cable_list(facts: Facts) -> Table:
    links = sorted(facts.rig.links.values(), key=lambda link: link.key)
    return Table(("tape", "cable", "kind", "m", "from", "to"), tuple(map(_row, links)))


def _row(link: Link) -> tuple[Cell, ...]:
    lead = link.lead
    length: Cell = lead.length_m if lead and lead.length_m is not None else ""  # a number: a spreadsheet adds it up
    left, right = ([pair[side] for pair in link.joins] for side in (0, 1))
    kind = lead.cable.name if lead else ""
    return colour_of(link, HOUSE), link.id, kind, length, ports_text(left), ports_text(right)


CABLE_LIST = Paper("road-rules/cable-list", "Cable trunk", _cable_list)
