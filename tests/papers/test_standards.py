"""Colours and pins against the published standards."""

from __future__ import annotations

import pytest

from rigdsl.papers.colours import COLOURS, colour_text
from rigdsl.papers.dsub import DSUB_PINS, NOT_CONNECTED


def test_the_colours_of_the_digits() -> None:
    """IEC 60062:2016, table of colours: the digits 0 to 9."""
    published = {
        "black": 0,
        "brown": 1,
        "red": 2,
        "orange": 3,
        "yellow": 4,
        "green": 5,
        "blue": 6,
        "violet": 7,
        "grey": 8,
        "white": 9,
    }
    assert {colour: digit for digit, colour in enumerate(COLOURS)} == published


@pytest.mark.parametrize(
    ("number", "colours"),
    [(47, "yellow-violet"), (1, "brown"), (10, "brown-black"), (22, "red-red"), (0, "black")],
)
def test_numbers_in_colours(number: int, colours: str) -> None:
    """47 is yellow-violet, as in IEC 60062's 4.7 kohm; marking lines so is common practice, no source."""
    assert colour_text(number) == colours


def test_the_pins_of_eight_lines_in_one_plug() -> None:
    """AES59-2012, eight channels in one direction: hot, cold, screen, in the law that its table follows."""
    _, pins, _ = DSUB_PINS
    for line, hot, cold, screen in pins:
        first = (24, 12, 25) if line % 2 else (10, 23, 11)
        step = 3 * ((line - 1) // 2)
        assert (hot, cold, screen) == tuple(pin - step for pin in first)
    used = sorted(pin for row in pins for pin in row[1:])
    assert used == sorted({*range(1, 26)} - {NOT_CONNECTED})
