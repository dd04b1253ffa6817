"""Cards are a part of the box that they sit in: sound, load, clock and control go through them as through it."""

from __future__ import annotations

import pytest

from rigdsl.finding import Level
from rigdsl.paths import Paths
from rigdsl.testing import findings
from tests.paths.small import lines, moved, paths, port
from tests.rules.whole import told

CARDS = """
model deskx { kind console; channels ch 1-64; mixes mix 1-16; inputs local 1-4 { preamp; latency 0.2 ms }
  outputs local-out 1-4; slot opt 1-3 takes my64 }
model fl64 { kind card; fits my64; digital pri, sec { protocol fernlink; control fern } }
model bn64 { kind card; fits my64; digital pri { protocol brooknet; control fern } }
model ad8 { kind card; fits my64; inputs in 1-8 { preamp; latency 0.3 ms }; outputs out 1-8 { latency 0.2 ms } }
box DESK is deskx in foh; box DC is fl64 in DESK.opt 1; box AC is ad8 in DESK.opt 2
"""
STAGE = """
box SL is nw16 in wing
link C01: SL.A -- DC.pri via cat6s 60 m
source kick dynamic in drums to SL 1 via xlr 6 m
output side wedge in drums from SL.line 1 via xlr 5 m
source talk dynamic in foh to AC 1 via xlr 2 m
output main main in foh from AC.out 1 via xlr 3 m
patch kick -> DESK.ch 1; patch talk -> DESK.ch 2; patch DESK.mix 1 -> side; patch DESK.mix 2 -> main
"""


@pytest.mark.parametrize(
    ("name", "way"),
    [
        (
            "kick",
            [
                "kick",
                "plug xlr 6 m: SL.mic 1",
                "preamp 0.4 ms: SL.A",
                "C01 cat6s 60 m fernlink 0.06 ms: DC.pri",
                "patch: DESK.ch 1",
            ],
        ),
        (
            "side",
            [
                "DESK.mix 1",
                "patch: DC.pri",
                "C01 cat6s 60 m fernlink 0.06 ms: SL.A",
                "convert 0.3 ms: SL.line 1",
                "plug xlr 5 m: side",
            ],
        ),
        ("talk", ["talk", "plug xlr 2 m: AC.in 1", "patch 0.3 ms: DESK.ch 2"]),
        ("main", ["DESK.mix 2", "patch 0.2 ms: AC.out 1", "plug xlr 3 m: main"]),
    ],
)
def test_sound_goes_through_a_card(name: str, way: list[str]) -> None:
    assert lines(paths(CARDS + STAGE), name) == [way]


def test_from_one_card_to_another_through_their_host() -> None:
    found = paths(
        CARDS
        + STAGE
        + """
        box NC is bn64 in DESK.opt 3; box PC is pc32 in foh
        link N1: NC.pri -- PC.net via cat6s 3 m
        patch SL.mic 1 -> PC.rec 1
    """
    )
    (one, _) = found.paths_of("kick")
    ways = [[str(hop.right) for hop in path.hops] for path in found.paths_of("kick")]
    assert ways[1] == ["SL.mic 1", "SL.A", "DC.pri", "NC.pri", "PC.net", "PC.rec 1"]
    assert one.complete


def test_a_card_s_chain_begins_at_its_host() -> None:
    found = paths(
        CARDS + STAGE + "box SR is nw16 in wing\nlink C02: SL.B -- SR.A via cat6s 20 m\npatch SR.mic 1 -> DESK.ch 3"
    )
    assert [(one.box, str(one.head), one.position, one.before) for one in found.chains.values()] == [
        ("SL", "DC.pri", 1, "DESK"),
        ("SR", "DC.pri", 2, "SL"),
    ]
    (into, back) = found.load_of(next(run for run in found.runs if run.name == "C01"))
    counted = {str(load.enters): (load.channels, load.by_box) for load in (into, back)}
    assert counted == {"SL.A": (32, (("SL", 16), ("SR", 16))), "DC.pri": (16, (("SL", 8), ("SR", 8)))}


def test_gain_is_set_over_a_card() -> None:
    (gain,) = paths(CARDS + STAGE).gains
    assert (gain.box, gain.owner, gain.desks, gain.cut) == ("SL", "DESK", ("DESK",), ())


@pytest.mark.parametrize("who", ["DESK", "DC"])
def test_the_host_leads_the_clock_of_its_cards(who: str) -> None:
    (island,) = paths(CARDS + STAGE + f"clock {who}").islands
    assert (island.boxes, island.declared, island.leader) == (("DESK", "SL"), ("DESK",), "DESK")


def test_boxes_are_joined_to_the_host() -> None:
    found = paths(CARDS + STAGE)
    assert found.joined_boxes("SL") == {"DESK"}
    assert found.joined_boxes("DC") == found.joined_boxes("DESK") == {"SL"}


def test_without_the_card_nothing_comes_in() -> None:
    house = CARDS + STAGE
    assert all(path.complete for path in moved(house, "").paths_of("kick"))
    night: Paths = moved(house, "without DC")
    assert not any(path.complete for path in night.paths_of("kick"))
    assert all(path.complete for path in night.paths_of("talk"))
    assert port("AC.in 1") in night.rig.sources["talk"].ports


RULES = """rig "Cards" { rate 48 kHz; slack 3 m; lead xlr }
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
protocol stage-way { carries 64 at 48 kHz; over coax75 100 m; one-way }
cable cat6s { medium twisted-pair; category 6 }
model nw16 { kind stage-box; inputs mic 1-16 { preamp; phantom; gain remote }; outputs line 1-8
  digital A, B { protocol fernlink; control fern; chain } }
model s64 { kind stage-box; inputs mic 1-16; outputs line 1-8
  digital tx { protocol stage-way; sends }; digital rx { protocol stage-way; takes } }
model desk { kind console; channels ch 1-64; mixes mix 1-16; slot opt 1-2 takes my64 }
model mixcore { kind engine; channels ch 1-64; mixes mix 1-16; slot opt 1-2 takes my64 }
model face { kind surface; data net { control fern } }
model fl64 { kind card; fits my64; digital pri, sec { protocol fernlink; control fern } }
model mute { kind card; fits my64; digital pri, sec { protocol fernlink } }
model sw64 { kind card; fits my64; digital tx { protocol stage-way; sends }; digital rx { protocol stage-way; takes } }
model ctl { kind card; fits my64; data net { control fern } }
zone wing at (0, 0) m; zone foh at (0, -30) m
box SL is nw16 in wing
source kick condenser in wing to SL 1 via xlr 6 m
output side wedge in wing from SL.line 1 via xlr 6 m
patch SL.mic 1 -> DESK.ch 1
patch DESK.mix 1 -> side
"""
GOOD = "box DESK is desk in foh\nbox DC is fl64 in DESK.opt 1\nlink C01: SL.A -- DC.pri via cat6s 60 m"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (GOOD, []),
        (GOOD.replace("60 m", "160 m"), ["error run-too-long C01"]),
        (GOOD.replace("fl64", "mute"), ["error control-mismatch SL.mic"]),
        (GOOD + "\nbox CC is ctl in DESK.opt 2", []),
        (
            "box DESK is desk in foh\nbox DC is fl64 in DESK.opt 1",
            ["error lost-patch SL.mic 1 -> DESK.ch 1", "error lost-patch DESK.mix 1 -> side"],
        ),
        # An engine is steered by what is joined to its card.
        (
            GOOD.replace("is desk in", "is mixcore in")
            + "\nbox CC is ctl in DESK.opt 2\nbox F is face in foh\nlink N1: F.net -- CC.net via cat6s 3 m",
            [],
        ),
        (GOOD.replace("is desk in", "is mixcore in"), ["warning surface-alone DESK"]),
    ],
)
def test_what_the_rules_say_of_a_desk_that_has_only_cards(text: str, says: list[str]) -> None:
    assert sorted(told(RULES + text)) == sorted(says)


def test_a_one_way_card_needs_a_way_back() -> None:
    text = (
        RULES.replace("box SL is nw16", "box SL is s64").replace(" condenser ", " line ")
        + """
        box DESK is desk in foh; box DC is sw64 in DESK.opt 1
        link M1: SL.tx -- DC.rx via coax75 60 m
        clock DESK
    """
    )
    assert told(text) == ["error return-missing SL"]
    assert told(text + "link M2: DC.tx -- SL.rx via coax75 60 m") == []


def test_a_card_in_a_desk_without_slots_is_told_and_nothing_else() -> None:
    """Its zone, and so the length of its cable, are not known only because of that."""
    text = (
        'rig "Wrong desk" { rate 48 kHz; slack 2 m }\n'
        "protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }\n"
        "model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }\n"
        "model plain { kind console; channels ch 1-16; inputs local 1-4 { preamp }; pass local -> ch 1-4 }\n"
        "model fl64 { kind card; fits my64; digital pri { protocol fernlink } }\n"
        "zone wing at (0, 0) m; zone foh at (0, -20) m\n"
        "box SL is nw16 in wing; box P is plain in foh; box DC is fl64 in P.opt 1\n"
        "link C01: SL.A -- DC.pri via cat6\n"
        "source kick dynamic in wing to SL 1 via xlr 3 m\npatch SL.mic 1 -> P.ch 5\n"
    )
    assert [item.rule for item in findings(text) if item.level != Level.NOTE] == ["no-such-port"]
