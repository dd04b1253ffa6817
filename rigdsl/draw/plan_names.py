"""What the parts of a plan are called, and what its zones are called on it."""

from __future__ import annotations

from rigdsl.draw.segments import slug
from rigdsl.rig import Rig

__all__ = ["card_id", "point_id", "zone_label"]


def card_id(zone: str) -> str:
    """What a zone's card is called."""
    return slug("zone", zone)


def point_id(zone: str) -> str:
    """What the mark at a zone's exact place is called."""
    return slug("point", zone)


def zone_label(rig: Rig, zone: str) -> str:
    """What a zone is called: its label, else its name."""
    known = rig.zones.get(zone)
    return (known.label or known.name) if known else "no zone"
