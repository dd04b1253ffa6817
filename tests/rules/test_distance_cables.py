"""Cables that do not reach, and loudspeaker cables that take too much."""

from __future__ import annotations

import pytest

from rigdsl_distance.link_too_short import link_too_short
from rigdsl_distance.speaker_loss import speaker_loss
from tests.rules.said import findings, said


def hall(*lines: str, head: str = "slack 3 m") -> str:
    """Three zones of which two have positions, a sub-box and a desk, and the lines given."""
    return "\n".join(
        (
            f'rig "Hall" {{ {head} }}',
            "model sub12 { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }",
            "model desk12 {",
            "  kind console; channels ch 1-12; mixes mix 1-2; inputs local 1-12 { preamp }; outputs out 1-2",
            "  pass local -> ch; pass mix -> out",
            "}",
            "zone drums at (3, 4) m",
            "zone foh at (0, 0) m",
            "zone bar",
            "box DR is sub12 in drums",
            "box DESK is desk12 in foh",
            *lines,
        )
    )


@pytest.mark.parametrize(
    ("length", "told"),
    [
        ("8 m", None),
        ("30 m", None),
        (
            "7.9 m",
            ("note", "`X01` is pulled tight: 7.9 m of `xlr`, and from `drums` to `foh` it is 5 m and 3 m of slack"),
        ),
        ("5 m", ("note", "`X01` is pulled tight: 5 m of `xlr`, and from `drums` to `foh` it is 5 m and 3 m of slack")),
        ("4.9 m", ("error", "`X01` is 4.9 m of `xlr`, and from `drums` to `foh` it is 5 m")),
        ("16 ft", ("error", "`X01` is 4.9 m of `xlr`, and from `drums` to `foh` it is 5 m")),
        ("", None),  # measured: always long enough
    ],
)
def test_a_link_reaches_from_zone_to_zone(length: str, told: tuple[str, str] | None) -> None:
    found = said(link_too_short, hall(f"link X01: DR.tail 1-12 -- DESK.local 1-12 via xlr {length}"))
    assert found == ([(told[0], "X01", told[1])] if told else [])


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("way drums -- foh 20 m",), "`X01` is 12 m of `xlr`, and from `drums` to `foh` it is 20 m"),
        (("way drums -- foh 4 m",), None),
        (("zone a at (0, 0, 9) m", "box D2 is sub12 in a"), None),
    ],
)
def test_the_way_beats_the_straight_line(lines: tuple[str, ...], told: str | None) -> None:
    rig = hall("link X01: DR.tail 1 -- DESK.local 1 via xlr 12 m", *lines)
    assert [message for _, _, message in said(link_too_short, rig)] == ([told] if told else [])


def test_without_slack_nothing_is_pulled_tight() -> None:
    assert said(link_too_short, hall("link X01: DR.tail 1 -- DESK.local 1 via xlr 5 m", head="")) == []


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("source vox dynamic in drums to DESK 1 via xlr 4 m", ("error", "vox")),
        ("output wdg wedge in drums from DESK.out 1 via xlr 6 m", ("note", "wdg")),
        ("source vox dynamic in bar to DESK 1 via xlr 1 m", None),  # nobody knows how far the bar is
        ("source vox dynamic in foh to DESK 1 via xlr 1 m", None),  # inside one zone nothing is measured
        ("source vox dynamic to DESK 1 via xlr 1 m", None),
        ("source vox dynamic in drums to DESK 1 via xlr", None),
        ("source vox dynamic in drums to DESK via xlr 1 m", None),  # no socket yet
    ],
)
def test_plugs_reach_too(line: str, told: tuple[str, str] | None) -> None:
    assert [one[:2] for one in said(link_too_short, hall(line))] == ([told] if told else [])


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("insert DESK.ch 1-2 through CP 1-2 via xlr 4 m", ("error", "DESK.ch 1")),  # 5 m, by its two zones
        ("insert DESK.ch 1 through CP 1 via xlr 6 m", ("note", "DESK.ch 1")),
        ("insert DESK.ch 1 through CP 1 via xlr 8 m", None),
        ("insert DESK.ch 1 through CP 1 via xlr", None),
        ("insert DESK.ch 1 through CP 1", None),
    ],
)
def test_the_lead_of_an_insert_reaches_too(line: str, told: tuple[str, str] | None) -> None:
    comp = "model comp { kind outboard; inputs in 1-2; outputs out 1-2 }\nbox CP is comp in drums"
    found = said(link_too_short, hall(comp, line))
    assert [one[:2] for one in found] == ([told] if told else [])
    assert all(message.startswith("the insert of `DESK.ch 1` is") for _, _, message in found)


def test_the_stock_has_a_longer_one() -> None:
    rig = hall(
        "link X01: DR.tail 1 -- DESK.local 1 via xlr 4 m",
        "stock xlr 6 m x 9",
        "stock xlr 20 m x 2",
        "stock xlr 10 m x 9",
        "stock jack 8 m x 1",
    )
    (finding,) = findings(link_too_short, rig)
    assert finding.help == "take one of 10 m, which the stock has, or write a `way` if the cable goes another way"
    assert finding.consequence == "it does not reach"


def amp(*lines: str) -> str:
    """An amplifier and loudspeakers of 8 ohm, some with a second socket, and the lines given."""
    return "\n".join(
        (
            'rig "PA" {}',
            "cable thick { medium loudspeaker; conductor 4 mm2 }",
            "cable thin { medium loudspeaker; conductor 2.5 mm2 }",
            "cable multi { medium loudspeaker; lines 4; conductor 2.5 mm2 }",
            "cable bell { medium loudspeaker; resistance 20 mohm/m }",
            "model amp4 {",
            "  kind amplifier; inputs in 1-4 { level line }; outputs out 1-4 { level loudspeaker }; pass in -> out",
            "}",
            "model top8 {",
            "  kind loudspeaker; inputs in { level loudspeaker; impedance 8 ohm }; outputs link; pass in -> link",
            "}",
            "model sub8 { kind loudspeaker; inputs in 1-2 { level loudspeaker; impedance 8 ohm; thru } }",
            "model top { kind loudspeaker; inputs in { level loudspeaker } }",
            "model ls-panel { kind panel; inputs back 1-4; outputs face 1-4; pass back -> face }",
            "box AMP is amp4",
            *(f"box T{number} is top8" for number in (1, 2, 3, 4)),
            "box S1 is sub8",
            "box S2 is sub8",
            "box U1 is top",
            "box LP is ls-panel",
            *lines,
        )
    )


LOSS = "gets {} dB less than `AMP.out 1` gives"


@pytest.mark.parametrize(
    ("lines", "subject", "told"),
    [
        # 2.5 mm2 into 8 ohm loses 0.5 dB at 29.7 m (IEC 60228, class 5, 7.98 ohm/km)
        (("link L1: AMP.out 1 -- T1.in via thin 29.6 m",), "", None),
        (("link L1: AMP.out 1 -- T1.in via thin 29.8 m",), "L1", "`T1` " + LOSS.format("0.5")),
        (("link L1: AMP.out 1 -- T1.in via thick 47 m",), "", None),
        (("link L1: AMP.out 1 -- T1.in via bell 30 m",), "L1", "`T1` " + LOSS.format("1.21")),
        # Two in parallel at the far end: 4 ohm, 0.5 dB at 14.9 m; the short link between hardly counts
        (
            ("link L1: AMP.out 1 -- T1.in via thin 20 m", "link L2: T1.link -- T2.in via thin 1 m"),
            "L1+L2",
            "`T2` " + LOSS.format("0.68"),
        ),
        (
            ("link L1: AMP.out 1 -- S1.in 1 via thin 20 m", "link L2: S1.in 2 -- S2.in 1 via thin 1 m"),
            "L1+L2",
            "`S2` " + LOSS.format("0.68"),
        ),
        # Through a panel in the wall the pieces add up
        (
            ("link L2: AMP.out 1 -- LP.back 3 via thin 20 m", "link L10: LP.face 3 -- T1.in via thin 20 m"),
            "L2+L10",
            "`T1` " + LOSS.format("0.67"),
        ),
        # Not known: the loudspeaker's impedance, the cable's conductor, its length
        (("link L1: AMP.out 1 -- U1.in via thin 100 m",), "", None),
        (("link L1: AMP.out 1 -- T1.in via xlr",), "", None),
        (("link L1: AMP.out 1 -- T1.in via thin",), "", None),
        # An output says its impedance itself
        (("output pa main from AMP 1 via thin 40 m { impedance 8 ohm }",), "pa", "`pa` " + LOSS.format("0.67")),
        (("output pa main from AMP 1 via thin 40 m",), "", None),
    ],
)
def test_what_loudspeaker_cables_take(lines: tuple[str, ...], subject: str, told: str | None) -> None:
    found = said(speaker_loss, amp(*lines))
    assert found == ([("warning", subject, told)] if told else [])


def test_four_lines_of_one_cable_are_one_finding() -> None:
    lines = [f"link L{number}: LP.face {number} -- T{number}.in via thin {number} m" for number in (1, 2, 3, 4)]
    (finding,) = findings(speaker_loss, amp("link M1: AMP.out 1-2 -- T1.in, T2.in via multi 40 m", *lines[2:]))
    assert finding.subject == "M1"
    assert finding.message == "`T1` gets 0.67 dB less than `AMP.out 1-2` gives"
    assert finding.ports == ("AMP.out 1", "AMP.out 2")


def test_the_least_conductor_that_would_do() -> None:
    (finding,) = findings(speaker_loss, amp("link L1: AMP.out 1 -- T1.in via thin 60 m"))
    assert finding.help.startswith("6 mm2 would lose 0.42 dB")
    (finding,) = findings(speaker_loss, amp("link L1: AMP.out 1 -- T1.in via thin 200 m"))
    assert finding.help.startswith("stand the amplifier nearer to its loudspeakers")


def test_a_ring_of_loudspeakers_comes_to_an_end() -> None:
    rig = amp(
        "link L1: AMP.out 1 -- S1.in 1 via thin 20 m",
        "link L2: S1.in 2 -- S2.in 1 via thin 1 m",
        "link L3: S2.in 2 -- S1.in 1 via thin 1 m",
    )
    assert [subject for _, subject, _ in said(speaker_loss, rig)] == ["L1+L2"]  # L3 closes the ring
