"""The colours of numbers, digit by digit (IEC 60062): to mark sockets, lines and cables with.

The use for line numbers is common practice, no source; the colours of the digits are the standard's.
"""

from __future__ import annotations

__all__ = ["COLOURS", "colour_text"]

COLOURS = ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white")


def colour_text(number: int) -> str:
    """The colours of a whole number from 0 on: `yellow-violet` for 47."""
    return "-".join(COLOURS[int(digit)] for digit in str(number))
