"""The whole small rig, from its two files to what it comes to."""

from __future__ import annotations

import math

from rigdsl.paths import Paths
from tests.rig.lantern import GEAR, SHOW
from tests.rig.said import clean, ports

RIG = clean(SHOW + 'use "house.rig"', house=GEAR)


def test_what_there_is() -> None:
    assert list(RIG.zones) == ["drums", "front", "wing", "foh"]
    assert {name: box.title for name, box in RIG.boxes.items()} == {
        "DESK": "Main desk",
        "SL": "Stage left rack",
        "DR": "Drum sub-box",
        "CP": "Compressors",
        "DC": "Stage card",
    }
    assert list(RIG.links) == ["C01", "C02"]
    assert list(RIG.sources) == ["kick", "oh-l", "bass", "keys"]
    assert list(RIG.outputs) == ["wdg1", "wdg2"]
    assert RIG.incomplete == RIG.left_out == frozenset()


def test_where_things_are_plugged() -> None:
    assert {name: ports(source.ports) for name, source in RIG.sources.items()} == {
        "kick": ["DR.panel 1"],
        "oh-l": ["DR.panel 5"],
        "bass": ["SL.mic 13"],
        "keys": ["SL.mic 14", "SL.mic 15"],
    }
    assert len(RIG.links["C02"].joins) == 12
    assert [patch.name for patch in RIG.patches] == [
        "SL.mic 1-13 -> DESK.ch 1-13",
        "keys -> DESK.ch 14-15",
        "DESK.mix 1 -> wdg1",
        "DESK.mix 2-4 -> SL.line 2-4",
    ]


def test_what_is_measured() -> None:
    keys, wdg2 = RIG.sources["keys"].lead, RIG.outputs["wdg2"].lead
    assert keys is not None
    assert wdg2 is not None
    # In one zone: the slack. From the riser (0, 4, 0.4) to the wing (6, 1): the straight line, and the slack.
    assert (keys.cable.name, keys.length_m, keys.measured) == ("xlr", 3.0, True)
    assert wdg2.length_m is not None
    assert math.isclose(wdg2.length_m, math.sqrt(6**2 + 3**2 + 0.4**2) + 3)


def test_everything_arrives() -> None:
    paths = Paths(RIG)
    assert all(paths.arrives(name) for name in RIG.sources)
    assert all(paths.sounds(name) for name in RIG.outputs)


def test_what_is_said_about_it() -> None:
    (accept,) = RIG.accepts
    assert (accept.rule, accept.subject, accept.until) == ("unused-port", "SL.line 5", "2026-12-31")
    assert [(ports(keep.ports), keep.what) for keep in RIG.keeps] == [(["SL.mic 16"], "support act")]
    assert [(control.by, len(control.ports)) for control in RIG.controls] == [("DESK", 16)]
    assert [clock.box for clock in RIG.clocks] == ["DESK"]


def test_what_is_inserted_powered_and_fitted() -> None:
    assert [f"{one.at} > {one.send} > {one.back}" for one in RIG.inserts] == [
        "DESK.ch 13 > CP.in 1 > CP.out 1",
        "DESK.mix 1 > CP.in 2 > CP.out 2",
    ]
    assert [(power.supply, power.boxes) for power in RIG.powers] == [("D1", ("SL",))]
    assert RIG.supplies["D1"].power_w == 3680
    assert str(RIG.boxes["DC"].slot) == "DESK.opt 1"
