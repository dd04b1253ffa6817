"""The changeover between two acts on one stage."""

from __future__ import annotations

import pytest

from rigdsl.papers import Table
from rigdsl.review import review
from rigdsl.review.changeover import changeover, hands
from tests.review.made import STAGE, side


def sheets(new: str, old: str = STAGE) -> dict[str, Table]:
    before, after = side(old), side(new)
    return {table.title: table for table in changeover(before.paths, after.paths, review(before, after))}


def steps(new: str) -> list[tuple[object, ...]]:
    return [row[:5] for row in sheets(new)["On stage"].rows]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("to SL 2 via", "to SL 4 via", [("Left wing", "replug", "Snare", "SL.mic 2", "SL.mic 4")]),
        ('source snare "Snare" dynamic in left to SL 2 via xlr 3 m\n', "", [
            ("Left wing", "unplug", "Snare", "SL.mic 2", ""),
        ]),
        ("condenser in right to SR 1", "condenser in left to SR 1", [
            ("Left wing", "move", "Vocal", "Right wing", "Left wing"),
        ]),
        ("via c6 30 m", "via c6 40 m", [
            ("Left wing", "swap", "cable C01", "", "SL.A -- DESK.stage 1"),
        ]),
        ("to SL 2 via xlr 3 m", "to SL 2 via xlr 6 m", [("Left wing", "swap", "Snare", "", "SL.mic 2")]),
        ("to SL 2 via xlr 3 m", "to SL", [("Left wing", "unplug", "Snare", "SL.mic 2", "")]),
        ("SL \"Left rack\" is nw8", "SL \"Left rack\" is nw16", [
            ("Left wing", "swap", "box SL: nw16 instead of nw8", "", ""),
        ]),
        ("is nw8 in right", "is nw8 in left", [("Left wing", "move", "box SR", "Right wing", "Left wing")]),
        ('"Snare"', '"Rim shot"', []),  # nothing for hands to do
        ("dynamic in left to SL 2", "condenser in left to SL 2", [
            ("Left wing", "swap", "Snare: condenser instead of dynamic", "", "SL.mic 2"),
        ]),
        ("C02: SR.A -- SL.B via c6", "C02: SR.B -- SL.B via c6", [
            ("Right wing", "replug", "cable C02", "SR.A", "SR.B"),
        ]),
        ("-> DESK.ch 3", "-> DESK.ch 7", []),  # that is done at the desk
    ],
)  # fmt: skip
def test_what_hands_do(old: str, new: str, said: list[tuple[object, ...]]) -> None:
    text = STAGE.replace(old, new).replace("patch kick, snare -> DESK.ch 1-2", "patch kick -> DESK.ch 1")
    found = sheets(text, STAGE.replace("patch kick, snare -> DESK.ch 1-2", "patch kick -> DESK.ch 1"))
    assert [row[:5] for row in found["On stage"].rows] == said


def test_zones_come_in_the_order_of_the_house_and_plugs_come_out_first() -> None:
    new = STAGE.replace("to SR 1 via", "to SR 2 via").replace("to SL 2 via", "to SL 4 via")
    kick = 'source kick "Kick" dynamic in left to SL 1 via xlr 3 m\n'
    gone = new.replace(kick, "").replace("kick, snare -> DESK.ch 1-2", "snare -> DESK.ch 2")
    assert [(row[0], row[1]) for row in steps(gone)] == [
        ("Left wing", "unplug"),
        ("Left wing", "replug"),
        ("Right wing", "replug"),
    ]


def test_who_shares_a_socket_and_what_changes_at_the_desk() -> None:
    other = STAGE.replace('source vox "Vocal" condenser', 'source sax "Saxophone" condenser').replace(
        "patch vox", "patch sax"
    )
    found = sheets(other)
    assert found["Who shares what"].rows == (("Right wing", "socket and cable", "SR.mic 1", "Vocal", "Saxophone"),)
    assert found["At the desk"].rows == (("DESK.ch 3", "Vocal, SR.mic 1", "Saxophone, SR.mic 1"),)


def test_where_the_cable_stays_only_what_hangs_on_it_is_swapped() -> None:
    sax = STAGE.replace('source vox "Vocal" condenser', 'source sax "Saxophone" condenser').replace(
        "patch vox", "patch sax"
    )
    (row,) = sheets(sax)["On stage"].rows
    assert row[:6] == ("Right wing", "swap", "Saxophone (condenser) instead of Vocal", "", "SR.mic 1", "xlr 5 m, stays")
    longer = sax.replace("SR 1 via xlr 5 m", "SR 1 via xlr 10 m")
    assert [row[1:6] for row in sheets(longer)["On stage"].rows] == [
        ("unplug", "Vocal", "SR.mic 1", "", "xlr 5 m"),
        ("plug", "Saxophone", "", "SR.mic 1", "xlr 10 m"),
    ]


def test_what_stays_is_counted() -> None:
    assert (
        "2 sources and 1 output stay as they are"
        in sheets(STAGE.replace("to SL 2 via", "to SL 4 via"))["On stage"].notes
    )


@pytest.mark.parametrize(("plugs", "people"), [(0, 1), (15, 1), (16, 2), (45, 3)])
def test_how_many_people(plugs: int, people: int) -> None:
    """Three plugs a minute each: common practice, no source."""
    assert hands(plugs, 5) == people


def test_nobody_plugs_a_radio() -> None:
    receiver = "model rx { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line }\n"
    radio = f"{STAGE}{receiver}box RX is rx in left\n"
    assert sheets(radio + 'source mc "Caller" wireless in left to RX 1\n', radio)["On stage"].rows == ()


def test_the_caution_stands_on_the_sheet() -> None:
    """Common practice, no source."""
    assert any("phantom off first" in note for note in sheets(STAGE)["On stage"].notes)


def test_what_is_plugged_into_a_box_is_pulled_first() -> None:
    new = STAGE.replace('SL "Left rack" is nw8', 'SL "Left rack" is nw16')
    (row,) = sheets(new)["On stage"].rows
    assert row[6] == "first pull, then put back: Kick; Snare; cable C01; cable C02"
    assert sheets(new)["On stage"].notes[:2] == (
        "1 thing to do; 8 plugs to pull or put: about 3 minutes for one person; boxes, looms and trunks come on top",
        "nothing stays wholly as it is",
    )


def test_what_only_has_another_name_is_pulled_too() -> None:
    new = STAGE.replace('SL "Left rack" is nw8', 'SL "Left rack" is nw16').replace("source kick", "source bd")
    (row,) = sheets(new.replace("patch kick", "patch bd"))["On stage"].rows
    assert row[6] == "first pull, then put back: Kick; Snare; cable C01; cable C02"


def test_a_socket_in_another_zone_has_to_be_free_first() -> None:
    new = STAGE.replace("to SL 2 via", "to SR 1 via").replace(
        "in right to SR 1 via xlr 5 m", "in right to SL 2 via xlr 5 m"
    )
    assert {row[2]: row[6] for row in sheets(new)["On stage"].rows} == {
        "Snare": "pull Vocal too, then put both",
        "Vocal": "pull Snare too, then put both",
    }


def test_nothing_to_do() -> None:
    assert sheets(STAGE)["On stage"].notes[0] == "nothing to do on stage"


@pytest.mark.parametrize(
    ("kinds", "phantom"),
    [
        (("dynamic", "dynamic"), ""),
        (("dynamic", "condenser"), "on"),
        (("condenser", "dynamic"), "off"),
        (("condenser", "ribbon"), "off before it is plugged: ribbon"),
        (("condenser", "condenser"), "off, then on again"),
        (("dynamic", "ribbon"), "keep off: ribbon"),
    ],
)
def test_phantom_of_a_preamp_that_gets_something_else(kinds: tuple[str, str], phantom: str) -> None:
    """Phantom into a ribbon may damage it (common practice, no source)."""
    old, new = (
        STAGE + f'source x{at} "Thing {at}" {kind} in left to SL 5 via xlr 3 m\n' for at, kind in enumerate(kinds)
    )
    rows = {row[0]: row[1:] for row in sheets(new, old)["At the preamps"].rows}
    assert rows == {"SL.mic 5": ("Thing 0", "Thing 1", phantom, "")}


def test_another_box_comes_with_nothing_set() -> None:
    new = STAGE.replace('SL "Left rack" is nw8', 'SL "Left rack" is nw16').replace(
        '"Snare" dynamic', '"Snare" condenser'
    )
    old = STAGE.replace('"Snare" dynamic', '"Snare" condenser')
    assert sheets(new, old)["At the preamps"].rows == (
        ("SL.mic 1", "Kick", "Kick", "", "DESK"),
        ("SL.mic 2", "Snare", "Snare", "on", "DESK"),
    )


def test_a_preamp_that_somebody_else_sets() -> None:
    new = STAGE.replace("gain remote", "gain local", 1)
    assert [row[-1] for row in sheets(new)["At the preamps"].rows] == ["SL", "SL", "SR"]


def test_what_is_wrong_with_the_act_that_comes_stands_first() -> None:
    new = STAGE.replace("via c6 30 m", "via c6 150 m")
    before, after = side(STAGE), side(new)
    first = changeover(before.paths, after.paths, review(before, after))[0]
    assert first.title == "Wrong with the act that comes: mend this first"
    assert any("`C01`" in str(row[0]) for row in first.rows)


def test_a_ribbon_is_never_told_to_get_phantom() -> None:
    """Mics 5 to 8 are one switch, and it is on for a condenser."""
    bank = STAGE.replace("phantom 48 V 10 mA; gain", "phantom 48 V 10 mA; bank 4; gain", 1)
    hat = 'source hat "Hat" dynamic in left to SL 6 via xlr 3 m\n'
    old = f'{bank}{hat}source gtr "Guitar" ribbon in left to SL 5 via xlr 3 m\n'
    new = old.replace('"Hat" dynamic', '"Hat" condenser')
    rows = {row[0]: row[3] for row in sheets(new, old)["At the preamps"].rows}
    assert rows["SL.mic 5"] == "is on for others of its bank: do not plug it here: ribbon"


def test_the_row_of_a_ribbon_has_the_caution() -> None:
    """Common practice, no source."""
    new = STAGE.replace('source vox "Vocal" condenser', 'source vox "Vocal" ribbon')
    (row,) = sheets(new)["On stage"].rows
    assert row[2] == "Vocal: ribbon instead of condenser"
    assert row[6] == "ribbon: phantom of its preamp off first"


def test_a_zone_that_moves_takes_all_along() -> None:
    (row,) = sheets(STAGE.replace("(0, -20)", "(0, -26)"))["On stage"].rows
    assert row[:5] == ("Mixing place", "move", "all that stands here", "(0, -20) m", "(0, -26) m")


def test_two_leads_are_two() -> None:
    keys = STAGE + 'source keys "Keys" di in left to SL 5-6 via xlr 6 m\n'
    (row,) = sheets(keys)["On stage"].rows
    assert row[1:7] == ("plug", "Keys", "", "SL.mic 5-6", "2 x xlr 6 m", "di")
