"""The formulae of phantom power against published figures."""

from __future__ import annotations

import pytest

from rigdsl_power.formulae import SUPPLIES, at_microphone_v, most_power_w, short_circuit_a, supply_of

BY_NAME = {supply.name: supply for supply in SUPPLIES}
E96_OHM = 6810  # the nearest 1 % value, which is what is built in ("6.81k", forum FAQ on phantom power)


@pytest.mark.parametrize(
    ("name", "power_mw", "within"),
    [
        # Published: "up to 170 mW", "100 mW", "22 mW", "520 mW" (Sound on Sound's glossary, phantom-power)
        ("P48", 170, 0.01),
        ("P12", 100, 0.06),
        ("P12L", 22, 0.01),
        ("SP48", 520, 0.01),
        # 240 mW for P24 (worked out: 24^2 / (4 x 600))
        ("P24", 240, 1e-9),
    ],
)
def test_one_formula_gives_the_published_powers(name: str, power_mw: float, within: float) -> None:
    supply = BY_NAME[name]
    assert most_power_w(supply.voltage_v, supply.feed_ohm) * 1000 == pytest.approx(power_mw, rel=within)


@pytest.mark.parametrize("supply", SUPPLIES, ids=lambda supply: supply.name)
def test_the_most_power_is_taken_at_half_the_voltage(supply: object) -> None:
    """By search over all currents up to the short circuit, instead of by the formula."""
    assert supply in SUPPLIES
    one = next(item for item in SUPPLIES if item == supply)
    short_a = short_circuit_a(one.voltage_v, one.feed_ohm)
    currents = [short_a * step / 2000 for step in range(2001)]
    powers = [current * at_microphone_v(one.voltage_v, one.feed_ohm, current) for current in currents]
    best = max(range(len(powers)), key=powers.__getitem__)
    assert powers[best] == pytest.approx(most_power_w(one.voltage_v, one.feed_ohm), rel=1e-6)
    assert at_microphone_v(one.voltage_v, one.feed_ohm, currents[best]) == pytest.approx(one.voltage_v / 2, rel=1e-3)
    assert at_microphone_v(one.voltage_v, one.feed_ohm, short_a) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("supply_v", "current_ma", "left_v"),
    # worked out by Ohm's law with 3405 ohm (two of 6.81 kohm in parallel)
    [(48, 2, 41.2), (48, 4, 34.4), (48, 7, 24.2), (48, 10, 13.95), (44, 10, 9.95)],
)
def test_what_is_left_at_the_microphone(supply_v: float, current_ma: float, left_v: float) -> None:
    assert at_microphone_v(supply_v, E96_OHM, current_ma / 1000) == pytest.approx(left_v, abs=0.05)


def test_a_short_draws_less_than_15_ma_of_p48() -> None:
    """Less than 15 mA (encyclopedia of the Institute of Professional Sound, phantom-power); 48 V / 3.4 kohm."""
    assert short_circuit_a(48, 6800) * 1000 == pytest.approx(14.1, abs=0.05)
    assert short_circuit_a(24, 1200) * 1000 == pytest.approx(40, abs=1e-9)


def test_what_p12_leaves_at_its_most() -> None:
    """15 mA through 340 ohm (Sound on Sound's glossary has both figures): 12 - 5.1 V."""
    assert at_microphone_v(12, 680, 0.015) == pytest.approx(6.9, abs=1e-9)


@pytest.mark.parametrize(
    ("voltage_v", "current_ma", "name"),
    [
        (48, 10, "P48"),
        (48, 7, "P48"),
        (44, 10, "P48"),  # 48 V within 4 V: 44 to 52 V (Sound on Sound's glossary)
        (52, 10, "P48"),
        (43.9, 10, None),
        (48, 14, "P48"),
        (48, 22, "SP48"),
        (24, 10, "P24"),
        (12, 4, "P12L"),
        (12, 15, "P12"),
        (36, 10, None),
        (48, 60, None),
    ],
)
def test_the_supply_behind_a_preamp(voltage_v: float, current_ma: float, name: str | None) -> None:
    found = supply_of(voltage_v, current_ma / 1000)
    assert (found.name if found else None) == name
