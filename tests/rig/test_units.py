"""Quantities: every unit of the language, and what is said where one does not fit."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.rig.units import DIMENSIONS, UNITS, shown
from tests.rig.said import clean, said

# Published: SI Brochure, 9th edition (BIPM 2019), tables 2, 4 and 7 for the prefixes.
# 1 ft = 0.3048 m, 1 in = 25.4 mm, 1 lb = 0.45359237 kg: international yard and pound agreement, 1959.
CASES = [
    ("1 m", "length", 1.0),
    ("1 cm", "length", 0.01),
    ("1 mm", "length", 0.001),
    ("1.2 km", "length", 1200.0),
    ("1 ft", "length", 0.3048),
    ("200 ft", "length", 60.96),
    ("12 in", "length", 0.3048),
    ("850 nm", "length", 850e-9),
    ("50 Hz", "frequency", 50.0),
    ("48 kHz", "frequency", 48_000.0),
    ("606.5 MHz", "frequency", 606_500_000.0),
    ("2.4 GHz", "frequency", 2.4e9),
    ("1 s", "time", 1.0),
    ("0.4 ms", "time", 0.0004),
    ("60 us", "time", 60e-6),
    ("60 µs", "time", 60e-6),
    ("5 ns", "time", 5e-9),
    ("150 ohm", "resistance", 150.0),
    ("10 kohm", "resistance", 10_000.0),
    ("1 Mohm", "resistance", 1e6),
    ("84 mohm", "resistance", 0.084),
    ("110 pF/m", "capacitance per length", 110e-12),
    ("0.1 nF/m", "capacitance per length", 1e-10),
    ("52 nF/km", "capacitance per length", 52e-12),
    ("30 pF/ft", "capacitance per length", 30e-12 / 0.3048),
    ("0.08 ohm/m", "resistance per length", 0.08),
    ("84 mohm/m", "resistance per length", 0.084),
    ("84 ohm/km", "resistance per length", 0.084),
    ("26 ohm/kft", "resistance per length", 26 / 304.8),
    ("3.5 dB/km", "loss per length", 0.0035),
    ("0.2 dB/m", "loss per length", 0.2),
    ("2.6 dB", "loss", 2.6),
    ("4 mA", "current", 0.004),
    ("16 A", "current", 16.0),
    ("48 V", "voltage", 48.0),
    ("1 kV", "voltage", 1000.0),
    ("35 W", "power", 35.0),
    ("1.5 kW", "power", 1500.0),
    ("20 mW", "power", 0.02),
    ("4.2 kg", "mass", 4.2),
    ("900 g", "mass", 0.9),
    ("10 lb", "mass", 4.5359237),
    ("1.1 t", "mass", 1100.0),
    ("45 g/m", "mass per length", 0.045),
    ("0.9 kg/m", "mass per length", 0.9),
    ("45 kg/km", "mass per length", 0.045),
    ("1 lb/ft", "mass per length", 0.45359237 / 0.3048),
    ("2.5 mm2", "area", 2.5e-6),
    ("9600 bit/s", "bit rate", 9600.0),
    ("64 kbit/s", "bit rate", 64_000.0),
    ("100 Mbit/s", "bit rate", 1e8),
    ("1 Gbit/s", "bit rate", 1e9),
]


@pytest.mark.parametrize(("text", "dimension", "value"), CASES)
def test_a_unit(text: str, dimension: str, value: float) -> None:
    number, unit = text.split()
    found, factor = UNITS[unit]
    assert found == dimension
    assert float(number) * factor == pytest.approx(value, rel=1e-12)


def test_the_table_above_has_every_unit() -> None:
    assert {text.split()[1] for text, _, _ in CASES} == set(UNITS)
    assert {dimension for dimension, _ in UNITS.values()} == set(DIMENSIONS)


@pytest.mark.parametrize(
    ("value", "factor", "digits", "text"),
    [
        (100.0, 1.0, 1, "100"),
        (100.04, 1.0, 1, "100"),
        (65.25, 1.0, 1, "65.2"),
        (0.0004, 1e-3, 2, "0.4"),
        (0.0, 1.0, 1, "0"),
        (1200.0, 1000.0, 0, "1"),
    ],
)
def test_a_number_as_people_write_it(value: float, factor: float, digits: int, text: str) -> None:
    assert shown(value, factor, digits) == text


@given(st.floats(0.1, 9999).map(lambda value: round(value, 2)))
def test_metres_and_feet_are_one_length(metres: float) -> None:
    """A cable of so many feet is as long as one of so many metres: to a micrometre, as written with nine digits."""
    feet = f"{metres / 0.3048:.7f}"[:15]
    rig = clean(f"stock xlr {metres:.2f} m x 1; stock xlr {feet} ft x 1")
    assert isclose(rig.stock[0].length_m, rig.stock[1].length_m, abs_tol=1e-6)


@pytest.mark.parametrize(
    "text", ["stock xlr 60 m x 2", "stock xlr 60m x 2", "stock xlr 60\tm x 2", "stock xlr 60.0 m x 2"]
)
def test_the_space_before_a_unit_may_be_left_out(text: str) -> None:
    assert clean(text).stock[0].length_m == 60.0


LENGTH = "a length is given in m or ft"


@pytest.mark.parametrize(
    ("text", "rule", "place", "message", "help"),
    [
        # The wrong dimension says what it is, and what is needed.
        (
            "stock xlr 6 kg x 2",
            "wrong-unit",
            "6 kg",
            "`6 kg` is a weight, and a length is needed here",
            "give it in m or ft",
        ),
        (
            "link A -- B via xlr 10 ohm",
            "wrong-unit",
            "10 ohm",
            "`10 ohm` is a resistance, and a length is needed here",
            "give it in m or ft",
        ),
        (
            "cable c { capacitance 110 m }",
            "wrong-unit",
            "110 m",
            "`110 m` is a length, and a capacitance for each metre is needed here",
            "give it in pF/m or pF/ft",
        ),
        # An unknown unit has near ones.
        ("stock xlr 6 meter x 2", "wrong-unit", "6 meter", "`meter` is no unit", LENGTH),
        (
            "stock xlr 6 Km x 2",
            "wrong-unit",
            "6 Km",
            "`Km` is no unit",
            f"there is a unit with a similar name: `km`; {LENGTH}",
        ),
        (
            "cable c { resistance 84 mohms/m }",
            "wrong-unit",
            "84 mohms/m",
            "`mohms/m` is no unit",
            "there is a unit with a similar name: `mohm/m`; a resistance for each metre is given in mohm/m or ohm/km",
        ),
        # No unit at all.
        (
            "model m { kind panel; weight 4.2 }",
            "wrong-unit",
            "4.2",
            "`4.2` has no unit",
            "a weight is needed here, in kg, g or lb",
        ),
        (
            "zone z at (0, 1) kg",
            "wrong-unit",
            "kg",
            "`kg` is a weight, and a length is needed here",
            "give it in m or ft",
        ),
        # Numbers that nothing real has.
        (
            "stock xlr 0 m x 2",
            "wrong-number",
            "0 m",
            "`0 m` cannot be a length of anything real",
            "give the figure from the data sheet or the tape measure",
        ),
        (
            "stock xlr 1234567890123456 m x 2",
            "wrong-number",
            "1234567890123456 m",
            "`1234567890123456 m` cannot be a length of anything real",
            "give the figure from the data sheet or the tape measure",
        ),
        (
            "stock xlr 6 m x 1.5",
            "wrong-number",
            "1.5",
            "`1.5` is not a number of cables from 0 to 99999",
            "write a number of cables between 0 and 99999",
        ),
        (
            "cable c { lines 0 }",
            "wrong-number",
            "0",
            "`0` is not a number from 1 to 99999",
            "write a number between 1 and 99999",
        ),
        (
            "protocol p { carries 8 at 48 kHz; topology chain 1000 }",
            "wrong-number",
            "1000",
            "`1000` is not a number of boxes from 1 to 999",
            "write a number of boxes between 1 and 999",
        ),
    ],
)
def test_what_does_not_fit(text: str, rule: str, place: str, message: str, help: str) -> None:
    boxes = "model jack1 { kind panel; inputs i }; box A is jack1; box B is jack1\n" if text.startswith("link") else ""
    assert said(boxes + text) == [(rule, place, message, help)]


def test_slack_may_be_nothing() -> None:
    assert clean('rig "Bare" { slack 0 m }').head.slack_m == 0.0
