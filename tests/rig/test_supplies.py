"""Supplies of the house, and which boxes are plugged into them."""

from __future__ import annotations

import pytest

from rigdsl.rig import Rig, read
from tests.rig.said import HEAD, clean, said, short

GEAR = """
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; power 35 W }
zone wing; zone foh
box SL is nw16 in wing; box A1 is nw16 in wing; box DESK is nw16 in foh
"""
SUPPLY = 'supply D1 "Stage left, 16 A" 230 V 16 A in wing { note "by the dock door" }\n'


def fed(rig: Rig) -> dict[str, str]:
    """The supply of each box."""
    return {box: power.supply for power in rig.powers for box in power.boxes}


def test_a_supply() -> None:
    (supply,) = clean(GEAR + SUPPLY).supplies.values()
    assert (supply.name, supply.label, supply.zone) == ("D1", "Stage left, 16 A", "wing")
    assert (supply.voltage_v, supply.current_a, supply.power_w) == (230, 16, 3680)
    assert (supply.note, supply.place.text) == ("by the dock door", "D1")


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ("power SL, A1 from D1", {"SL": "D1", "A1": "D1"}),
        ("power SL from D1\npower A1 from D1", {"SL": "D1", "A1": "D1"}),
        ("power SL from D1\npower A1 from D2\nsupply D2 400 V 32 A", {"SL": "D1", "A1": "D2"}),
        ("", {}),
    ],
)
def test_what_is_plugged_into_a_supply(lines: str, says: dict[str, str]) -> None:
    assert fed(clean(GEAR + SUPPLY + lines)) == says


@pytest.mark.parametrize(
    ("lines", "rule", "place", "message", "help"),
    [
        ("power DSK from D1", "unknown-name", "DSK", "there is no box called `DSK`", "`DESK`"),
        ("power SL from D2", "unknown-name", "D2", "there is no supply called `D2`", "define it: `supply NAME"),
        (
            "supply dock 230 V 16 A\npower SL from dokc",
            "unknown-name",
            "dokc",
            "there is no supply called `dokc`",
            "there is a supply with a similar name: `dock`",
        ),
        ("power SL from wing", "unknown-name", "wing", "`wing` is a zone, and a supply is needed here", "define it"),
        ("power SL from DESK", "unknown-name", "DESK", "`DESK` is a box, and a supply is needed here", "define it"),
        ("power wing from D1", "unknown-name", "wing", "`wing` is a zone, and a box is needed here", "define it"),
        ("power D1 from D1", "unknown-name", "D1", "`D1` is a supply, and a box is needed here", "define it"),
        ("power SL, SL from D1", "repeated-name", "SL", "`SL` is plugged into `D1` twice", "name it once"),
        (
            "power SL, A1 from D1\npower A1 from D1",
            "repeated-name",
            "A1",
            "`A1` is plugged into `D1` twice",
            "for two power supplies in one box, name the other supply",
        ),
        ("supply SL 230 V 16 A", "repeated-name", "SL", "there are two things called `SL`", "another name"),
        ("zone D1", "repeated-name", "D1", "there are two things called `D1`", "another name"),
        ("supply D2 16 A 230 V", "wrong-unit", "16 A", "`16 A` is a current, and a voltage is needed here", "in V"),
        ("supply D2 230 V 16 W", "wrong-unit", "16 W", "`16 W` is a power, and a current is needed here", "in mA or A"),
        ("supply D2 0 V 16 A", "wrong-number", "0 V", "`0 V` cannot be a voltage of anything real", "data sheet"),
        ("supply D2 230 V 16 A in wign", "unknown-name", "wign", "there is no zone called `wign`", "`wing`"),
        (
            "supply D2 230 V 16 A { power 3 W }",
            "unknown-name",
            "power",
            "a supply has no fact `power`",
            "its facts are",
        ),
        ("link C1: D1 -- SL.mic 1", "unknown-name", "D1", "`D1` is a supply, and sockets of a box are needed", "BOX"),
        ("clock D1", "unknown-name", "D1", "`D1` is a supply, and a box is needed here", "define it"),
    ],
)
def test_what_is_wrong_with_a_supply(lines: str, rule: str, place: str, message: str, help: str) -> None:
    found = said(GEAR + SUPPLY + lines)
    assert any((one[0], one[1]) == (rule, place) and one[2].startswith(message) and help in one[3] for one in found), (
        found
    )
    assert len(found) <= 2


@pytest.mark.parametrize("line", ["power SL, A1 from D1\npower A1 from D1", "power SL, A1, A1 from D1"])
def test_of_two_plugs_the_first_one_counts(line: str) -> None:
    assert [power.boxes for power in read(HEAD + GEAR + SUPPLY + line).powers] == [("SL", "A1")]


CARDED = """
model host { kind console; channels ch 1-8; slot opt 1-2 takes my16; power 120 W }
model card { kind card; fits my16; digital net; power 200 W }
box FOH is host in foh; box CARD is card in FOH.opt 1
"""


@pytest.mark.parametrize(
    ("lines", "plugged"),
    [("power CARD from D1", {}), ("power FOH, CARD from D1", {"FOH": "D1"}), ("power FOH from D1", {"FOH": "D1"})],
)
def test_a_card_has_its_current_from_the_box_that_it_sits_in(lines: str, plugged: dict[str, str]) -> None:
    rig = read(HEAD + GEAR + CARDED + SUPPLY + lines)
    told = (
        [
            (
                "unknown-name",
                "CARD",
                "`CARD` is a card and is fed by `FOH`",
                "name `FOH` in a `power` line, and not the card",
            )
        ]
        if "CARD" in lines
        else []
    )
    assert short(rig.findings) == told
    assert fed(rig) == plugged


TWO = "supply D2 230 V 32 A\n"


def plugs(rig: Rig) -> list[tuple[str, str]]:
    """Each box with a supply of its own, in the order of the lines."""
    return [(box, power.supply) for power in rig.powers for box in power.boxes]


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ("power SL from D1\npower SL from D2", [("SL", "D1"), ("SL", "D2")]),
        ("power SL, A1 from D1\npower A1 from D2", [("SL", "D1"), ("A1", "D1"), ("A1", "D2")]),
    ],
)
def test_a_box_with_two_power_supplies(lines: str, says: list[tuple[str, str]]) -> None:
    assert plugs(clean(GEAR + SUPPLY + TWO + lines)) == says


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ("", [("SL", "D1"), ("SL", "D2")]),
        ("power SL from D2", [("SL", "D2")]),
        ("supply D3 230 V 16 A\npower SL from D3\npower SL from D1", [("SL", "D3"), ("SL", "D1")]),
    ],
)
def test_the_lines_of_a_night_for_a_box_stand_for_all_of_the_house_file(
    lines: str, says: list[tuple[str, str]]
) -> None:
    house = GEAR + SUPPLY + TWO + "power SL from D1\npower SL from D2\n"
    assert plugs(clean(NIGHT + lines, house=house)) == says


@pytest.mark.parametrize(
    ("line", "quiet_about"),
    [
        ("supply D1 230 V", "D1"),  # the line does not read, and D1 is known to be meant by it
        ("supply D1 230 V 16 W", "D1"),
        ("spply D1 230 V 16 A", "D1"),
    ],
)
def test_a_supply_that_cannot_be_read_is_told_once(line: str, quiet_about: str) -> None:
    rig = read(HEAD + GEAR + line + "\npower SL from D1")
    assert len(rig.findings) == 1
    assert quiet_about in rig.incomplete
    assert "power" in rig.left_out


# ---- a night on top of a house file

HOUSE = GEAR + SUPPLY + "supply D2 230 V 32 A in foh\npower SL, A1 from D1\npower DESK from D2\n"
NIGHT = 'rig "Tonight" {}\nuse "house.rig"\n'


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ("", {"SL": "D1", "A1": "D1", "DESK": "D2"}),
        ("power SL from D2", {"SL": "D2", "A1": "D1", "DESK": "D2"}),
        ("without SL", {"A1": "D1", "DESK": "D2"}),
        ("without D1", {"DESK": "D2"}),
        ("without foh", {"SL": "D1", "A1": "D1"}),
        ("without D1\nsupply D1 120 V 20 A", {"DESK": "D2"}),
        ("without D1\nsupply D1 120 V 20 A\npower SL from D1", {"SL": "D1", "DESK": "D2"}),
    ],
)
def test_a_night_takes_away_and_plugs_elsewhere(lines: str, says: dict[str, str]) -> None:
    assert fed(clean(NIGHT + lines, house=HOUSE)) == says


def test_a_night_changes_a_supply() -> None:
    rig = clean(NIGHT + 'change D1 { note "only from noon"; label "Dock, 16 A" }', house=HOUSE)
    assert (rig.supplies["D1"].note, rig.supplies["D1"].label) == ("only from noon", "Dock, 16 A")


def test_a_subject_of_accept_may_be_a_supply() -> None:
    assert [one.subject for one in clean(GEAR + SUPPLY + 'accept circuit-load on D1 because "metered"').accepts] == [
        "D1"
    ]


def test_a_supply_that_is_not_there_cannot_be_taken_away() -> None:
    ((rule, place, message, help),) = short(
        read(NIGHT + "without dokc", house=HOUSE + "supply dock 230 V 16 A").findings
    )
    assert (rule, place) == ("unknown-name", "dokc")
    assert message == "no used file has a link, box, source, output, supply or zone called `dokc`"
    assert help == "there is a supply with a similar name: `dock`"
