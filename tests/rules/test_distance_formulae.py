"""The formulae of the distance rules against published figures and an independent solver."""

from __future__ import annotations

from math import inf, pi

import numpy as np
import pytest
from scipy import signal

from rigdsl.paths import in_parallel_ohm, treble_loss_db
from rigdsl_distance.fibre_budget import Options
from rigdsl_distance.formulae import (
    SECTIONS_M2,
    class5_ohm_per_m,
    fibre_loss_db,
    loop_loss_db,
)


@pytest.mark.parametrize(
    ("impedance_ohm", "capacitance_f", "corner_hz"),
    [
        (8_000, 1_600e-12, 12_434),  # 20 ft at 80 pF/ft: "12.4 kHz" (vbatpower.com, audio cable roll-off)
        (100, 500 * 32e-12, 99_472),  # 500 ft at 32 pF/ft: "100 kHz" (livesoundsystem.blogspot.com, 2007/06)
        (150, 100 * 100e-12, 106_103),  # 100 m of microphone cable at 100 pF/m (E. Sengpiel's formula)
        (200, 100 * 100e-12, 79_577),
        (600, 100 * 100e-12, 26_526),
    ],
)
def test_the_corner_of_source_and_cable_is_where_3_db_are_lost(
    impedance_ohm: float, capacitance_f: float, corner_hz: float
) -> None:
    assert treble_loss_db(impedance_ohm, capacitance_f, corner_hz) == pytest.approx(3.0103, abs=1e-3)


def test_half_the_corner_loses_one_decibel() -> None:
    """For 1 dB one enters twice the frequency (E. Sengpiel): 10 lg 1.25 = 0.969 dB."""
    corner_hz = 1 / (2 * pi * 200 * 100e-12 * 100)
    assert treble_loss_db(200, 100e-12 * 100, corner_hz / 2) == pytest.approx(0.969, abs=5e-4)


@pytest.mark.parametrize("impedance_ohm", [150, 200, 600, 10_000])
@pytest.mark.parametrize("length_m", [10, 100, 300])
def test_treble_loss_is_that_of_an_rc_low_pass(impedance_ohm: float, length_m: float) -> None:
    """The oracle: the frequency response of 1 / (1 + s RC), by scipy."""
    capacitance_f = length_m * 100e-12
    _, response = signal.freqs([1.0], [impedance_ohm * capacitance_f, 1.0], worN=[2 * pi * 20_000])
    loss_db = -20 * np.log10(np.abs(response[0]))
    assert treble_loss_db(impedance_ohm, capacitance_f, 20_000) == pytest.approx(loss_db, rel=1e-9)


@pytest.mark.parametrize(
    ("area_mm2", "ohm_per_km"),
    # IEC 60228, class 5, plain copper, 20 C, one conductor (mycableengineering.com, etechnik-synergie.com agree)
    [(0.5, 39.0), (0.75, 26.0), (1, 19.5), (1.5, 13.3), (2.5, 7.98), (4, 4.95), (6, 3.30), (10, 1.91)],
)
def test_conductors_have_the_resistance_of_iec_60228(area_mm2: float, ohm_per_km: float) -> None:
    assert class5_ohm_per_m(area_mm2 * 1e-6) * 1000 == pytest.approx(ohm_per_km, rel=1e-12)


def test_every_conductor_is_a_little_worse_than_solid_copper() -> None:
    """Copper has 17.241 ohm mm2/km at 20 C (IACS); class 5 allows 13 to 16 % more, in between the sections too."""
    for area_m2 in (*SECTIONS_M2, 3.31e-6, 0.3e-6, 16e-6):
        assert 1.10 < class5_ohm_per_m(area_m2) * area_m2 * 1e9 / 17.241 < 1.17


@pytest.mark.parametrize(
    ("area_mm2", "load_ohm", "length_m"),
    # Length at which 0.5 dB is lost, worked out by hand from the table above
    [(1.5, 4, 8.9), (1.5, 8, 17.8), (2.5, 4, 14.9), (2.5, 8, 29.7), (2.5, 16, 59.4), (4, 8, 47.9), (6, 2, 18.0)],
)
def test_so_long_may_a_loudspeaker_cable_be_for_half_a_decibel(
    area_mm2: float, load_ohm: float, length_m: float
) -> None:
    def loss_db(metres: float) -> float:
        return loop_loss_db(2 * metres * class5_ohm_per_m(area_mm2 * 1e-6), load_ohm)

    assert loss_db(length_m - 0.05) < 0.5 < loss_db(length_m + 0.05)


@pytest.mark.parametrize(
    ("loop_ohm", "load_ohm", "lost_db"),
    [
        (0.3264, 8, 0.347),  # 160 ft of 10 AWG (a forum's quotation of an amplifier manual, thread 107897)
        (0.300, 8, 0.320),  # damping factor 25 with an amplifier of 400: "0.3 dB" (doctorproaudio.com 2276)
        (0.05 * 8, 8, 0.424),  # 5 % of the load
        (0.399, 8, 0.423),  # 25 m of 2.5 mm2
    ],
)
def test_a_loop_takes_its_share_of_the_voltage(loop_ohm: float, load_ohm: float, lost_db: float) -> None:
    assert loop_loss_db(loop_ohm, load_ohm) == pytest.approx(lost_db, abs=5e-4)


# Longest run in feet for a loop of 5 % of the load, by wire gauge and by load of 2, 4, 6 and 8 ohm
# (speaker wire table, guitargear.org, the same as in Wikipedia, "Speaker wire"), and the resistance of the
# gauge in ohm/km (ASTM B258-02 diameters, copper of 17.241 nohm m; daycounter.com has the same figures).
FEET_BY_GAUGE = [
    (22, 52.96, (3, 6, 9, 12)),
    (20, 33.31, (5, 10, 15, 20)),
    (18, 20.95, (8, 16, 24, 32)),
    (16, 13.17, (12, 24, 36, 48)),
    (14, 8.285, (20, 40, 60, 80)),
    (12, 5.211, (30, 60, 90, 120)),
    (10, 3.277, (50, 100, 150, 200)),
]


@pytest.mark.parametrize(("gauge", "ohm_per_km", "feet"), FEET_BY_GAUGE)
def test_the_handbook_table_of_loudspeaker_runs(gauge: int, ohm_per_km: float, feet: tuple[int, ...]) -> None:
    """Its lengths are rounded, so its loops are 4.7 to 5.2 % of the load: 0.40 to 0.44 dB."""
    for load_ohm, length_ft in zip((2, 4, 6, 8), feet, strict=True):
        loop_ohm = 2 * length_ft * 0.3048 * ohm_per_km / 1000
        assert 20 * np.log10(1.047) < loop_loss_db(loop_ohm, load_ohm) < 20 * np.log10(1.052), gauge


def test_loudspeakers_in_parallel() -> None:
    assert in_parallel_ohm([8, 8]) == pytest.approx(4)
    assert in_parallel_ohm([8, 8, 4]) == pytest.approx(2)
    assert in_parallel_ohm([]) == inf


@pytest.mark.parametrize(
    ("length_km", "db_per_km", "connectors", "splices", "lost_db"),
    # 0.75 dB a mated pair (TIA-568, Fiber Optic Association), 0.3 dB a splice (TIA-568, from memory)
    [
        (2, 3.5, 5, 1, 11.05),
        (2, 1.5, 5, 1, 7.05),
        (0.3, 3.5, 2, 0, 2.55),
        (0.4, 3.0, 2, 0, 2.70),
        (10, 0.4, 2, 0, 5.5),
    ],
)
def test_fibre_loss_adds_up(length_km: float, db_per_km: float, connectors: int, splices: int, lost_db: float) -> None:
    most = Options()  # what the rule takes where nobody says otherwise
    found = fibre_loss_db(length_km * db_per_km, connectors, splices, most.connector_db, most.splice_db)
    assert found == pytest.approx(lost_db, abs=5e-3)


def test_fibre_loss_with_typical_joints() -> None:
    """0.5 dB a pair and 0.3 dB a splice are typical (table of the Fiber Optic Association): 8.80 dB."""
    assert fibre_loss_db(2 * 3.0, 5, 1, connector_db=0.5, splice_db=0.3) == pytest.approx(8.80, abs=5e-3)
