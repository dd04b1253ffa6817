"""The head of a rig, zones, ways, and how far it is from one to another."""

from __future__ import annotations

import math
from typing import Any

import pytest

from rigdsl.rig import Head, read
from tests.rig.said import clean, faults, said, short


@pytest.mark.parametrize(
    ("facts", "fields"),
    [
        ("", {"rate_hz": 48_000, "slack_m": None, "lead": "", "date": "", "axes": False, "demo": False}),
        ("rate 96 kHz", {"rate_hz": 96_000}),
        ("rate 44.1 kHz", {"rate_hz": 44_100}),
        ("rate 88200 Hz", {"rate_hz": 88_200}),
        ("slack 3 m", {"slack_m": 3.0}),
        ("slack 10 ft", {"slack_m": pytest.approx(3.048)}),
        ("lead xlr", {"lead": "xlr"}),
        ("date 2026-12-04", {"date": "2026-12-04"}),
        ('revision "B"; note "load-in by the dock"', {"revision": "B", "note": "load-in by the dock"}),
        ("demo", {"demo": True}),
        ("measure axes", {"axes": True}),
    ],
)
def test_the_head(facts: str, fields: dict[str, Any]) -> None:
    head = clean(f'rig "Friday" {{ {facts} }}').head
    assert head.title == "Friday"
    assert {name: getattr(head, name) for name in fields} == fields


def test_a_file_without_a_head_is_a_library() -> None:
    rig = read('zone wing "Wing"')
    assert rig.head == Head()
    assert rig.zones["wing"].label == "Wing"
    assert rig.findings == ()


@pytest.mark.parametrize("text", ["", "\n", " \n\t\n", "\ufeff", "\r\n"])
def test_an_empty_file_is_told(text: str) -> None:
    """It is a file that was forgotten to be saved, more often than one that is meant."""
    told = ("syntax-error", "", "`test.rig` is empty", 'a rig begins with `rig "TITLE" { }`')
    assert short(read(text).findings) == [told]


@pytest.mark.parametrize("text", ["# nothing yet\n", ";;", "\r\n;\t;\r\n"])
def test_a_file_that_says_nothing_is_a_library_of_nothing(text: str) -> None:
    assert clean('rig "x" {}\nuse "house.rig"', house=text).zones == {}
    assert read(text).findings == ()


def test_two_heads() -> None:
    assert short(read('rig "One" {}\nrig "Two" { rate 96 kHz }').findings) == [
        (
            "repeated-name",
            '"Two"',
            "a file has one `rig` line, and this is its second",
            "put its facts into the first one, and take this line away",
        )
    ]
    assert read('rig "One" {}\nrig "Two" { rate 96 kHz }').head.rate_hz == 48_000


HOUSE = 'rig "The house" { rate 96 kHz; slack 5 m; lead xlr; date 2026-01-01 }\n'


def test_the_head_of_a_used_file_is_a_default() -> None:
    head = read('rig "Tonight" { slack 2 m; date 2026-12-04 }\nuse "house.rig"', house=HOUSE).head
    assert (head.title, head.rate_hz, head.slack_m, head.lead, head.date) == (
        "Tonight",
        96_000,
        2.0,
        "xlr",
        "2026-12-04",
    )


def test_the_nearer_file_beats_the_one_below_it() -> None:
    """Also where the entry uses both, and whichever it names first."""
    venue = 'rig "The venue" { slack 7 m; rate 44.1 kHz }'
    house = 'rig "The house" { slack 5 m }\nuse "venue.rig"'
    for uses in ('use "house.rig"', 'use "house.rig"; use "venue.rig"', 'use "venue.rig"; use "house.rig"'):
        head = read(f'rig "Tonight" {{}}\n{uses}', house=house, venue=venue).head
        assert (head.slack_m, head.rate_hz) == (5.0, 44_100)


def test_an_entry_without_a_head_has_no_title_of_its_own() -> None:
    head = read('use "house.rig"', house=HOUSE).head
    assert (head.title, head.rate_hz) == (None, 96_000)


def test_the_lead_of_the_head_is_a_cable_that_there_is() -> None:
    assert short(read('rig "Friday" { lead xrl }').findings) == [
        ("unknown-name", "xrl", "there is no cable called `xrl`", "there is a cable with a similar name: `xlr`")
    ]


@pytest.mark.parametrize(
    ("text", "position"),
    [
        ("zone z at (0, 4, 0.4) m", (0.0, 4.0, 0.4)),
        ("zone z at (0, -28) m", (0.0, -28.0, 0.0)),
        ("zone z at (10, 20, 3) ft", (3.048, 6.096, 0.9144)),
        ("zone z at (-150, 0, -50) cm", (-1.5, 0.0, -0.5)),
        ("zone z", None),
    ],
)
def test_a_position_is_in_metres(text: str, position: tuple[float, ...] | None) -> None:
    found = clean(text).zones["z"].position_m
    assert found == (None if position is None else pytest.approx(position))


def test_what_a_zone_says() -> None:
    zone = clean('zone alley "Side alley" { public; note "ramps in store 2" }').zones["alley"]
    assert (zone.label, zone.public, zone.note) == ("Side alley", True, "ramps in store 2")
    assert clean('zone alley { label "Side alley" }').zones["alley"].label == "Side alley"
    assert clean(r'zone alley "The \"alley\" \\ 2"').zones["alley"].label == r'The "alley" \ 2'


PLACES = """
zone stage at (0, 4, 0.4) m
zone foh at (3, -28) m
zone wing at (6, 4) m
zone store "Store"
zone cellar "Cellar"
way foh -- wing 65 m "under the balcony"
way store -- stage 40 m
"""
FOH_STAGE = math.hypot(3, 32, 0.4)


@pytest.mark.parametrize(
    ("one", "other", "metres"),
    [
        ("stage", "foh", FOH_STAGE),
        ("foh", "stage", FOH_STAGE),
        # A way beats the coordinates, from either end.
        ("foh", "wing", 65.0),
        ("wing", "foh", 65.0),
        # ... and serves where there are none.
        ("stage", "store", 40.0),
        # No way and no coordinates: nobody knows.
        ("store", "foh", None),
        ("store", "cellar", None),
        # Inside one zone nothing is measured.
        ("stage", "stage", None),
    ],
)
def test_how_far_it_is(one: str, other: str, metres: float | None) -> None:
    rig = clean('rig "Hall" { slack 3 m }' + PLACES)
    assert rig.distance_m(one, other) == (None if metres is None else pytest.approx(metres))


def test_along_the_axes() -> None:
    rig = clean('rig "Hall" { measure axes }' + PLACES)
    assert rig.distance_m("stage", "foh") == pytest.approx(3 + 32 + 0.4)
    assert rig.distance_m("foh", "wing") == 65.0


@pytest.mark.parametrize(
    ("slack", "one", "other", "metres"),
    [
        ("slack 3 m", "stage", "foh", FOH_STAGE + 3),
        ("slack 3 m", "foh", "wing", 68.0),
        ("", "foh", "wing", 65.0),
        # A cable inside one zone is as long as the slack.
        ("slack 3 m", "stage", "stage", 3.0),
        ("", "stage", "stage", None),
        ("slack 3 m", "store", "foh", None),
        # Of what stands nowhere nothing is known.
        ("slack 3 m", "", "", None),
        ("slack 3 m", "", "foh", None),
    ],
)
def test_how_long_a_cable_is_made(slack: str, one: str, other: str, metres: float | None) -> None:
    rig = clean(f'rig "Hall" {{ {slack} }}' + PLACES)
    assert rig.measured_m(one, other) == (None if metres is None else pytest.approx(metres))


def test_the_way_of_the_using_file_beats_that_of_the_used_one() -> None:
    house = "zone foh; zone wing; way foh -- wing 65 m"
    assert clean('rig "x" {}\nuse "house.rig"\nway wing -- foh 80 m', house=house).distance_m("foh", "wing") == 80.0


@pytest.mark.parametrize(
    ("text", "rule", "place", "message", "help"),
    [
        (
            "zone foh\nway foh -- wign 6 m\nzone wing",
            "unknown-name",
            "wign",
            "there is no zone called `wign`",
            "there is a zone with a similar name: `wing`",
        ),
        (
            "zone a; zone b; way a -- b 3 m; way b -- a 5 m",
            "repeated-name",
            "way b -- a 5 m",
            "there are two ways between `b` and `a`",
            "keep the way that the cable really goes",
        ),
        (
            "zone wing { colour red }",
            "unknown-name",
            "colour",
            "a zone has no fact `colour`",
            "its facts are: label, note, public",
        ),
        (
            "zone wing { pubic }",
            "unknown-name",
            "pubic",
            "a zone has no fact `pubic`",
            "there is a fact with a similar name: `public`",
        ),
        (
            "zone wing { public; public }",
            "repeated-name",
            "public",
            "`public` is said twice of one thing",
            "keep one of the two",
        ),
        (
            "zone wing { public 3 }",
            "syntax-error",
            "public 3",
            "`public 3` does not say what `public` needs",
            "it reads: `public`",
        ),
        ("zone wing { note }", "syntax-error", "note", "`note` needs something behind it", 'it reads: `note "..."`'),
        (
            "zone wing at (0, 2000000) m",
            "wrong-number",
            "at (0, 2000000) m",
            "`at (0, 2000000) m` is more than 1000 km away from the middle of the stage",
            "metres to stage left, upstage and up: `at (0, 4, 0.4) m`",
        ),
    ],
)
def test_what_is_wrong_with_places(text: str, rule: str, place: str, message: str, help: str) -> None:
    assert said(text) == [(rule, place, message, help)]


@pytest.mark.parametrize("fact", ["rate 96 kHz 3", "rate", "date 3", "measure", "measure ways", "slack", "lead 3 m"])
def test_a_fact_of_the_head_that_says_nothing_to_the_point(fact: str) -> None:
    (finding,) = read(f'rig "x" {{ {fact} }}').findings
    assert (finding.rule, finding.place.text) == ("syntax-error", fact)
    assert finding.help.startswith(f"it reads: `{fact.split()[0]}")


def test_one_zone_named_by_many_is_missed_once() -> None:
    text = "model p { kind panel }\nbox A is p in wing\nbox B is p in wing\nsource kick dynamic in wing"
    assert faults(text) == [("unknown-name", "wing")]
    (finding,) = read('rig "x" {}\n' + text).findings
    assert [other.message for other in finding.related] == ["it is named here too"] * 2
