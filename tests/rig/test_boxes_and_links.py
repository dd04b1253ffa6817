"""Boxes, links, and the cables between them."""

from __future__ import annotations

from typing import Any

import pytest

from rigdsl.rig import natural
from tests.rig.said import HEAD, clean, faults, said

GEAR = """
cable loom12 { lines 12 }
model nw16 {
  kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A, B
  rate 48 kHz; power 35 W; weight 4.2 kg; latency 0.4 ms
}
model sub12 { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }
zone drums at (0, 4) m; zone wing at (3, 0) m; zone store
"""
BOXES = GEAR + "box SL is nw16 in wing; box DR is sub12 in drums; box XX is nw16 in store; box NO is nw16\n"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ('box SL "Stage left rack" is nw16 in wing', {"label": "Stage left rack", "zone": "wing", "kind": "stage-box"}),
        ("box SL is nw16", {"label": "", "zone": "", "title": "SL", "mixes": False}),
        ('box SL "Rack" is nw16', {"title": "Rack"}),
        ('box SL is nw16 { label "Rack" }', {"title": "Rack"}),
        # The model's facts are the box's ...
        ("box SL is nw16", {"rate_hz": 48_000, "power_w": 35.0, "weight_kg": 4.2, "latency_s": pytest.approx(0.0004)}),
        ("box SL is nw16", {"net": "", "converts_rate": False, "serial": "", "address": ""}),
        # ... unless its own block says otherwise.
        ("box SL is nw16 { rate 96 kHz; net secondary }", {"rate_hz": 96_000, "net": "secondary", "power_w": 35.0}),
        ("box SL is nw16 { power 50 W; weight 10 lb }", {"power_w": 50.0, "weight_kg": pytest.approx(4.5359237)}),
        ("box SL is nw16 { converts rate; latency 1 ms }", {"converts_rate": True, "latency_s": 0.001}),
        ('box SL is nw16 { serial "A1-77"; note "spare in store" }', {"serial": "A1-77", "note": "spare in store"}),
        ("box SL is nw16 { address 10.0.4.11 }", {"address": "10.0.4.11"}),
    ],
)
def test_a_box(line: str, expected: dict[str, Any]) -> None:
    box = clean(GEAR + line).boxes["SL"]
    assert {name: getattr(box, name) for name in expected} == expected


@pytest.mark.parametrize(
    ("line", "length_m", "measured"),
    [
        ("link DR.tail 1 -- SL.mic 1 via xlr 12 m", 12.0, False),
        ("link DR.tail 1 -- SL.mic 1 via xlr 30 ft", pytest.approx(9.144), False),
        # No length: as long as the way is, and the slack on top.
        ("link DR.tail 1 -- SL.mic 1 via xlr", 8.0, True),
        ("link SL.mic 1 -- DR.tail 1 via xlr", 8.0, True),
        # In one zone: the slack.
        ("link SL.line 1 -- SL.mic 1 via xlr", 3.0, True),
        # Where nobody knows, nobody knows.
        ("link DR.tail 1 -- XX.mic 1 via xlr", None, True),
        ("link NO.line 1 -- NO.mic 1 via xlr", None, True),
    ],
)
def test_how_long_the_cable_of_a_link_is(line: str, length_m: float | None, measured: bool) -> None:
    """From (0, 4) to (3, 0) it is 5 m."""
    (link,) = clean('rig "x" { slack 3 m; lead jack }' + BOXES + line).links.values()
    assert link.lead is not None
    assert (link.lead.cable.name, link.lead.length_m, link.lead.measured) == ("xlr", length_m, measured)


def test_a_link_without_via_has_no_cable() -> None:
    """The `lead` of the head is for sources and outputs."""
    (link,) = clean('rig "x" { slack 3 m; lead xlr }' + BOXES + "link A1: DR.tail 1 -- SL.mic 1").links.values()
    assert link.lead is None


@pytest.mark.parametrize(
    ("lines", "names"),
    [
        ("link C1: SL.A -- XX.A", ["C1"]),
        # Without an id: the two ends, in natural order.
        ("link XX.A -- SL.A", ["SL.A -- XX.A"]),
        ("link SL.mic 10 -- DR.tail 2", ["DR.tail 2 -- SL.mic 10"]),
        ("link SL.mic 10 -- SL.line 2", ["SL.line 2 -- SL.mic 10"]),
        ("link DR.tail 1-12 -- SL.mic 1-12", ["DR.tail 1-12 -- SL.mic 1-12"]),
        # Two that are alike are told apart.
        ("link SL.A -- XX.A; link XX.A -- SL.A", ["SL.A -- XX.A", "SL.A -- XX.A #2"]),
    ],
)
def test_what_a_link_is_called(lines: str, names: list[str]) -> None:
    assert list(clean(BOXES + lines).links) == names


def test_one_cable_with_several_groups() -> None:
    rig = clean(
        BOXES
        + """
        link X1 via loom12 40 m {
          DR.tail 1-2 -- SL.mic 1-2
          loom T1
          SL.line 1 -- XX.mic 4; note "returns in the same jacket"
        }
        """
    )
    link = rig.links["X1"]
    assert [(str(a), str(b)) for a, b in link.joins] == [
        ("DR.tail 1", "SL.mic 1"),
        ("DR.tail 2", "SL.mic 2"),
        ("SL.line 1", "XX.mic 4"),
    ]
    assert (link.loom, link.note) == ("T1", "returns in the same jacket")
    assert link.lead is not None
    assert link.lead.length_m == 40.0


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ("", {"redundant": False, "loom": "", "ring": "", "bundle": "", "rate_hz": None, "connectors": None}),
        ("redundant; loom T1", {"redundant": True, "loom": "T1"}),
        ("ring R1", {"ring": "R1"}),
        ("bundle B1", {"bundle": "B1"}),
        ("rate 96 kHz", {"rate_hz": 96_000}),
        ("connectors 4; splices 1", {"connectors": 4, "splices": 1}),
        ("connectors 0; splices 0", {"connectors": 0, "splices": 0}),
        ('note "over the door"; label "Trunk A"', {"note": "over the door", "label": "Trunk A"}),
    ],
)
def test_what_a_link_says(facts: str, expected: dict[str, Any]) -> None:
    (link,) = clean(BOXES + f"link C1: SL.A -- XX.A via cat6 20 m {{ {facts} }}").links.values()
    assert {name: getattr(link, name) for name in expected} == expected


@pytest.mark.parametrize(
    ("line", "rule", "place", "message", "help"),
    [
        (
            "box QQ is nw61",
            "unknown-name",
            "nw61",
            "there is no model called `nw61`",
            "there is a model with a similar name: `nw16`",
        ),
        (
            "box QQ is lamp",
            "unknown-name",
            "lamp",
            "there is no model called `lamp`",
            "define it: `model NAME { kind ... }`",
        ),
        (
            "box QQ is nw16 in drum",
            "unknown-name",
            "drum",
            "there is no zone called `drum`",
            "there is a zone with a similar name: `drums`",
        ),
        (
            "link C1: SL.A -- XX.A via kat6 3 m",
            "unknown-name",
            "kat6",
            "there is no cable called `kat6`",
            "there is a cable with a similar name: `cat6`",
        ),
        (
            "link C1: SL.A -- XY.A",
            "unknown-name",
            "XY",
            "there is no box called `XY`",
            "define it: `box NAME is MODEL in ZONE`",
        ),
        (
            "link C1: SL.A -- XX.A { lomo T1 }",
            "unknown-name",
            "lomo",
            "a link has no fact `lomo`",
            "there is a fact with a similar name: `loom`",
        ),
        (
            "box QQ is nw16 { kind panel }",
            "unknown-name",
            "kind",
            "a box has no fact `kind`",
            "its facts are: address, converts, firmware, gives, label, latency, net, note, poe, power, rate, serial, "
            "weight",
        ),
    ],
)
def test_what_is_wrong_with_them(line: str, rule: str, place: str, message: str, help: str) -> None:
    assert said(BOXES + line) == [(rule, place, message, help)]


def test_an_unknown_model_is_missed_once_and_nothing_hangs_on_it() -> None:
    """The box, its cable, its plug and its patch are there; only the model is not."""
    text = """
        box QQ is nw61 in wing
        link C1: QQ.A -- SL.A via cat6 20 m
        source kick dynamic in wing to QQ 1
        patch QQ.mic 1 -> SL.line 1
        keep QQ.mic 2 for "a guest"
        clock QQ
    """
    rig = clean(HEAD + BOXES)
    assert "QQ" not in rig.incomplete
    assert faults(BOXES + text) == [("unknown-name", "nw61")]


@pytest.mark.parametrize(
    ("names", "ordered"),
    [
        (["C10", "C2", "C1"], ["C1", "C2", "C10"]),
        (["C1", "C01", "C001"], ["C001", "C01", "C1"]),  # alike but for noughts: still one order
        (["b", "a", "B"], ["B", "a", "b"]),
    ],
)
def test_names_sort_as_people_sort_them(names: list[str], ordered: list[str]) -> None:
    backwards = names[::-1]
    assert sorted(names, key=natural) == sorted(backwards, key=natural) == ordered
