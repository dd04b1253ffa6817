"""The colours that the house winds round its cables, by their length."""

from __future__ import annotations

import re
from collections.abc import Mapping

from rigdsl.rig import Link

__all__ = ["HOUSE", "colour_of", "metres", "named"]

# Metres as the rig has them, and the colour of the tape at both ends.
HOUSE: Mapping[str, str] = {"3": "white", "10": "yellow", "30": "blue", "60": "red"}


def metres(link: Link) -> str:
    """The length of a cable as `colours` has it, "30"; nothing where none is given."""
    lead = link.lead
    return "" if lead is None or lead.measured or lead.length_m is None else f"{lead.length_m:g}"


def colour_of(link: Link, colours: Mapping[str, str]) -> str:
    """The colour that a cable of this length has; nothing where the house has none for it."""
    return colours.get(metres(link), "")


def named(link: Link, colours: Mapping[str, str]) -> list[str]:
    """The colours that its label and its note name, in the order of the alphabet."""
    words = set(re.findall(r"\w+", f"{link.label} {link.note}".casefold()))
    return sorted(colour for colour in {*colours.values()} if colour.casefold() in words)
