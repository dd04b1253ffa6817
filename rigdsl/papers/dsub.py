"""The pins of the 25-pin plug that carries eight balanced lines one way (AES59-2012)."""

from __future__ import annotations

from rigdsl.rig import Cable

__all__ = ["DSUB_PINS", "NOT_CONNECTED", "PIN_COLUMNS", "ends_in_dsub"]

CONNECTOR = "dsub25"
NOT_CONNECTED = 13
PIN_COLUMNS = ("line", "hot", "cold", "screen")
# AES59-2012, eight lines in one direction: line, hot, cold, screen.
PINS = (
    (1, 24, 12, 25),
    (2, 10, 23, 11),
    (3, 21, 9, 22),
    (4, 7, 20, 8),
    (5, 18, 6, 19),
    (6, 4, 17, 5),
    (7, 15, 3, 16),
    (8, 1, 14, 2),
)
NOTES = (
    "AES59, eight analogue lines in one direction; pin 13 is not connected",
    "some gear differs: measure one cable before all are plugged, phantom off",
)
DSUB_PINS = (PIN_COLUMNS, PINS, NOTES)


def ends_in_dsub(cable: Cable) -> bool:
    """An analogue cable with such a plug."""
    words = (*cable.connectors, *cable.ends)
    return cable.medium == "analogue" and any(word.partition("-")[0] == CONNECTOR for word in words)
