"""What is said of a field that differs: units as people write them, and of gear only the parts that differ."""

from __future__ import annotations

import re
from dataclasses import fields
from typing import Any

import pytest

from rigdsl.reports.review_values import QUANTITIES, called, value_words
from rigdsl.reports.review_words import change_words, field_words, total_words
from rigdsl.review import Change
from rigdsl.rig.gear import Cable, Group, Model, Pass, Protocol
from rigdsl.rig.signals import Output, Source
from rigdsl.rig.stage import Box, Link, Supply, Way, Zone
from tests.review.made import STAGE, compared

LEAD = {"cable": "xlr", "length_m": 6.0, "measured": False}


@pytest.mark.parametrize(
    ("name", "old", "new", "said"),
    [
        ("ports", ["SL.mic 3"], ["SL.mic 4"], "plugged into SL.mic 4, was SL.mic 3"),
        ("ports", [], ["SL.mic 4", "SL.mic 5"], "plugged into SL.mic 4-5, was nothing"),
        ("lead", LEAD, {**LEAD, "length_m": 10.5}, "cable xlr 10.5 m, was xlr 6 m"),
        ("lead", LEAD, {**LEAD, "length_m": None}, "cable xlr to be measured, was xlr 6 m"),
        ("lead", None, LEAD, "cable xlr 6 m, was none"),
        ("position_m", [0.0, -18.0, 4.5], [0.0, -20.0, 4.5], "at (0, -20, 4.5) m, was (0, -18, 4.5) m"),
        ("joins", [["DESK.stage 1", "SL.A"]], [["DESK.stage 2", "SL.A"]],
         "joins DESK.stage 2 -- SL.A, was DESK.stage 1 -- SL.A"),
        ("latency_s", 0.0, 0.002, "latency 2 ms, was 0 ms"),
        ("latency_s", 0.000021, None, "latency none, was 0.021 ms"),
        ("impedance_ohm", 200.0, 10_000.0, "impedance 10 kohm, was 200 ohm"),
        ("current_a", 0.004, 16.0, "current 16 A, was 4 mA"),
        ("rate_hz", 48_000, 96_000, "rate 96 kHz, was 48 kHz"),
        ("frequency_hz", None, 606_500_000.0, "frequency 606.5 MHz, was none"),
        ("weight_kg", 4.2, 0.3, "weight 300 g, was 4.2 kg"),
        ("capacitance_f_per_m", 1.1e-10, 5.2e-11, "capacitance 52 pF/m, was 110 pF/m"),
        ("resistance_ohm_per_m", 0.0084, 0.084, "resistance 84 mohm/m, was 8.4 mohm/m"),
        ("conductor_m2", 1.5e-6, 4e-6, "conductor 4 mm2, was 1.5 mm2"),
        ("loss_db_per_m", 0.0035, 0.0004, "loss 0.4 dB/km, was 3.5 dB/km"),
        ("speed_bit_s", 1e9, 1e8, "speed 100 Mbit/s, was 1 Gbit/s"),
        ("channels_at_hz", {"48000": 40}, {"48000": 40, "96000": 20},
         "carries 40 at 48 kHz, 20 at 96 kHz, was 40 at 48 kHz"),
        ("reach_m", {"cat5e": 100.0}, {"cat5e": 80.0}, "reach cat5e 80 m, was cat5e 100 m"),
        ("needs_phantom", True, False, "needs phantom no, was yes"),
        ("label", "", "Kick", "label Kick, was none"),
    ],
)  # fmt: skip
def test_a_field(name: str, old: Any, new: Any, said: str) -> None:
    assert field_words(name, old, new) == said


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("mic 1-8 { preamp; phantom 48 V 10 mA", "mic 1-12 { preamp",
         "mic number 12, was 8; mic phantom none, was 48 V 10 mA"),
        ("outputs line 1-4\n", "outputs line 1-4; outputs tape 1-2\n",
         "tape outputs, number 2, levels line, was none"),
        ("gain remote", "gain local", "mic gain local, was remote"),
        ("weight 4 kg; inputs", "weight 4.5 kg; inputs", "weight 4.5 kg, was 4 kg"),
        ("carries 40 at 48 kHz", "carries 32 at 48 kHz", "carries 32 at 48 kHz, was 40 at 48 kHz"),
        ("chain }\n}\nmodel nw16", "chain }\n  pass mic 1 -> line 1\n}\nmodel nw16",
         "mic 1 -> line number 1, was none"),
        ("chain 4 }", "chain 3 }", "boxes in a chain 3, was 4"),
    ],
)  # fmt: skip
def test_gear_is_told_by_what_differs(old: str, new: str, said: str) -> None:
    assert old in STAGE
    changes = compared(STAGE, STAGE.replace(old, new, 1)).changes
    assert any(said in change_words(change) for change in changes), [change_words(change) for change in changes]


def test_every_quantity_of_a_rig_is_told_in_a_unit() -> None:
    """A key that ends in a unit has one of those that people say; none is told as a bare number in SI."""
    things = (Source, Output, Zone, Way, Box, Link, Supply, Model, Group, Pass, Cable, Protocol)
    keys = {field.name for thing in things for field in fields(thing)}
    measured = {key for key in keys if re.search(r"_(m|s|a|v|w|kg|hz|ohm|db|m2|[a-z]+_per_m|bit_s)$", key)}
    assert len(measured) > 20
    for key in measured - {"position_m"}:
        assert re.fullmatch(r"1(000)? \S+|1e\S+", value_words(key, 1.0)) or value_words(key, 1.0).split()[1], key
        assert any(key.endswith(end) for end in QUANTITIES), key
        assert not re.search(r" (m|s|a|v|w|kg|hz|ohm|db)$", called(key)), key


def test_an_impedance_that_is_only_written_down() -> None:
    old = STAGE.replace("via xlr 3 m\nsource snare", "via xlr 3 m { impedance 200 ohm }\nsource snare")
    (change,) = compared(STAGE, old).changes
    assert change_words(change) == "source kick changed: impedance written down yes, was no"
    (change,) = compared(STAGE, old.replace("200 ohm", "150 ohm")).changes
    assert change_words(change) == "source kick changed: impedance 150 ohm, was 200 ohm"


def test_renamed_and_more() -> None:
    change = Change("renamed", "source", "bd", {"name": ("kick", "bd"), "label": ("", "Bass drum")}, (), "kick")
    assert change_words(change) == "source kick is now called bd; label Bass drum, was none"


def test_totals() -> None:
    assert total_words("cables", 42, 44) == "cables: 44, was 42"
    assert total_words("latency_ms", 2.125, 0.1) == "longest way to an output: 0.1 ms, was 2.1 ms"
    assert total_words("weight_kg", None, 3.0) == "boxes: 3 kg, was not known"
