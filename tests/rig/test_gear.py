"""Gear: what cables, protocols and models say, and what they are where they say nothing."""

from __future__ import annotations

from typing import Any

import pytest

from rigdsl.rig import Group, Model, Phantom
from tests.rig.said import clean


def fields(thing: object, expected: dict[str, Any]) -> dict[str, Any]:
    """Those fields of a thing that a case is about."""
    return {name: getattr(thing, name) for name in expected}


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ("", {"medium": "analogue", "lines": 1, "shielded": False, "stranded": False, "capacitance_f_per_m": None}),
        # What it says of itself tells the medium, if it does not.
        ("category 6", {"medium": "twisted-pair", "category": "6", "lines": 1}),
        ("category 5e", {"category": "5e"}),
        ("category 6a; shielded; stranded", {"category": "6a", "shielded": True, "stranded": True}),
        ("grade om3", {"medium": "fibre", "grade": "om3"}),
        ("conductor 2.5 mm2", {"medium": "loudspeaker", "conductor_m2": pytest.approx(2.5e-6)}),
        ("medium analogue; conductor 0.22 mm2", {"medium": "analogue"}),
        ("medium coax; impedance 75 ohm", {"medium": "coax", "impedance_ohm": 75.0}),
        ("lines 12; capacitance 110 pF/m", {"lines": 12, "capacitance_f_per_m": pytest.approx(110e-12)}),
        ("resistance 84 mohm/m", {"resistance_ohm_per_m": pytest.approx(0.084)}),
        ("loss 3.5 dB/km", {"loss_db_per_m": pytest.approx(0.0035)}),
        ("grade om3; loss 3.5 dB/km at 850 nm", {"loss_db_per_m": pytest.approx(0.0035)}),
        ("weight 55 g/m", {"weight_kg_per_m": pytest.approx(0.055)}),
        ("connector xlr-f, xlr-m", {"connectors": ("xlr-f", "xlr-m")}),
        ('note "on the big drum"', {"note": "on the big drum"}),
    ],
)
def test_a_cable(facts: str, expected: dict[str, Any]) -> None:
    cable = clean(f'cable reel "On a reel" {{ {facts} }}').cables["reel"]
    assert cable.label == "On a reel"
    assert fields(cable, expected) == expected


@pytest.mark.parametrize(
    ("facts", "rungs"),
    [
        # Better ones of a medium pass; each ladder is its own.
        ("category 5e", {"cat5", "cat5e"}),
        ("category 6a", {"cat5", "cat5e", "cat6", "cat6a"}),
        ("category 7", {"cat5", "cat5e", "cat6", "cat6a", "cat7"}),
        ("grade om1", {"om1"}),
        ("grade om4", {"om1", "om2", "om3", "om4"}),
        ("grade os2", {"os1", "os2"}),
        ("medium coax; impedance 75 ohm", {"coax75"}),
        ("medium coax; impedance 50 ohm", {"coax50"}),
        ("medium analogue; impedance 110 ohm", {"aes-pair"}),
        ("lines 12", set()),
    ],
)
def test_what_a_cable_serves_as(facts: str, rungs: set[str]) -> None:
    assert set(clean(f"cable c {{ {facts} }}").cables["c"].rungs) == rungs | {"c"}


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ("", {"slots": "routed", "topology": "point-to-point", "depth": 1, "one_way": False, "budget_db": None}),
        (", 20 at 96 kHz", {"capacity": {48_000: 40, 96_000: 20}}),
        ("; over cat5e 100 m, om3 300 m", {"reach": {"cat5e": 100.0, "om3": 300.0}}),
        ("; over cat5e 328 ft", {"reach": {"cat5e": pytest.approx(99.9744)}}),
        ("; slots fixed", {"slots": "fixed"}),
        ("; topology chain 4", {"topology": "chain", "depth": 4}),
        ("; topology network", {"topology": "network"}),
        ("; topology point-to-point", {"topology": "point-to-point"}),
        ("; latency 0.06 ms", {"latency_s": pytest.approx(6e-5), "latency_once": False}),
        ("; latency 1 ms per network", {"latency_s": 0.001, "latency_once": True}),
        ("; latency 0 ms", {"latency_s": 0.0}),
        ("; budget 2.6 dB", {"budget_db": 2.6}),
        ("; one-way; needs shielded", {"one_way": True, "needs_shielded": True}),
    ],
)
def test_a_protocol(facts: str, expected: dict[str, Any]) -> None:
    protocol = clean(f"protocol fernlink {{ carries 40 at 48 kHz{facts} }}").protocols["fernlink"]
    assert fields(protocol, expected) == expected


@pytest.mark.parametrize(
    ("rate_hz", "channels"),
    [(48_000, 40), (44_100, 40), (96_000, 20), (88_200, 20), (192_000, None), (32_000, None)],
)
def test_a_protocol_carries(rate_hz: int, channels: int | None) -> None:
    """44.1 and 88.2 kHz use the rows of 48 and 96 kHz."""
    protocol = clean("protocol p { carries 40 at 48 kHz, 20 at 96 kHz }").protocols["p"]
    assert protocol.channels_at(rate_hz) == channels


def test_a_row_of_its_own_beats_the_neighbours() -> None:
    assert clean("protocol p { carries 40 at 48 kHz, 32 at 44.1 kHz }").protocols["p"].channels_at(44_100) == 32


def model(lines: str, kind: str = "stage-box") -> Model:
    return clean(f'model m "A model" {{ kind {kind}; {lines} }}').models["m"]


def group(line: str, kind: str = "stage-box") -> Group:
    return next(iter(model(line, kind).groups.values()))


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        # An input with a preamp: microphone and line, gain at the box. Without: line.
        ("inputs mic 1-16 { preamp }", {"count": 16, "levels": ("mic", "line"), "gain": ("local",), "preamp": True}),
        ("inputs return 1-4", {"count": 4, "levels": ("line",), "gain": (), "preamp": False, "phantom": None}),
        ("inputs mic { preamp; level mic }", {"count": 1, "levels": ("mic",)}),
        ("inputs jack { level instrument }", {"levels": ("instrument",)}),
        ("outputs line 1-8", {"levels": ("line",)}),
        ("inputs mic { preamp; gain remote }", {"gain": ("remote",), "remote_gain": True}),
        ("inputs mic { preamp; gain local, remote }", {"gain": ("local", "remote"), "remote_gain": True}),
        # Phantom without figures is 48 V and 10 mA (IEC 61938: P48).
        ("inputs mic { preamp; phantom }", {"phantom": Phantom(48.0, 0.010)}),
        ("inputs mic { preamp; phantom 48 V 10 mA }", {"phantom": Phantom(48.0, 0.010)}),
        ("inputs mic { preamp; phantom 48 V }", {"phantom": Phantom(48.0, 0.010)}),
        ("inputs mic { preamp; phantom 24 V 7 mA }", {"phantom": Phantom(24.0, 0.007)}),
        ("inputs mic { preamp; phantom; bank 8 }", {"bank": 8}),
        ("inputs mic { preamp }", {"bank": 1, "phantom": None}),
        # No connector: not judged. Several: any of them.
        ("inputs mic", {"connectors": ()}),
        ("inputs mic { connector xlr-f, jack }", {"connectors": ("xlr-f", "jack")}),
        ("digital A { protocol aes50; control fern }", {"protocols": ("aes50",), "dialects": ("fern",), "chain": ""}),
        ("digital A { protocol aes50, aes67; control fern, moss }", {"protocols": ("aes50", "aes67")}),
        ("digital A { chain }", {"chain": "both"}),
        ("digital A { chain near }", {"chain": "near"}),
        ("digital A { chain far }", {"chain": "far"}),
        ("digital A { sends }", {"direction": "sends"}),
        ("digital A { takes }", {"direction": "takes"}),
        ("digital A { redundant; net secondary }", {"redundant": True, "net": "secondary"}),
        ("digital A { mirror }", {"mirror": True}),
        ("digital A { rate 96 kHz; converts rate }", {"rate_hz": 96_000, "converts_rate": True}),
        ("digital A { wireless }", {"wireless": True, "pluggable": True}),
        ("inputs track 1-64 { soft }", {"soft": True, "pluggable": False}),
        ("data ctl { connector rj45 }", {"role": "data", "count": 1, "connectors": ("rj45",)}),
        ("inputs in { impedance 8 ohm; level loudspeaker }", {"impedance_ohm": 8.0, "levels": ("loudspeaker",)}),
        ("inputs in { latency 0.4 ms }", {"latency_s": pytest.approx(0.0004)}),
        ("inputs air { freq 606.5 MHz; wireless }", {"frequency_hz": 606_500_000.0}),
    ],
)
def test_a_group(line: str, expected: dict[str, Any]) -> None:
    assert fields(group(line), expected) == expected


@pytest.mark.parametrize(
    ("kind", "line", "levels"),
    [
        ("amplifier", "outputs out 1-2", ("loudspeaker",)),
        ("amplifier", "inputs in 1-2", ("line",)),
        ("loudspeaker", "inputs in", ("loudspeaker",)),
        ("loudspeaker", "inputs in { level line }", ("line",)),
        ("console", "outputs out 1-2", ("line",)),
    ],
)
def test_the_level_of_a_group_goes_by_the_kind(kind: str, line: str, levels: tuple[str, ...]) -> None:
    assert group(line, kind).levels == levels


def test_groups_of_one_line_know_each_other() -> None:
    groups = model("digital A, B { protocol aes50; redundant }; digital C { protocol aes50 }").groups
    assert [groups[name].line for name in "ABC"] == [1, 1, 2]
    assert groups["A"].redundant
    assert groups["B"].redundant


def test_one_line_may_declare_groups_of_several_sizes() -> None:
    groups = model("inputs mic 1-16, talk, line 1-4 { preamp }").groups
    assert [(name, one.count, one.preamp) for name, one in groups.items()] == [
        ("mic", 16, True),
        ("talk", 1, True),
        ("line", 4, True),
    ]


def test_what_a_model_says() -> None:
    made = model("weight 4.2 kg; power 35 W; latency 0.4 ms; rate 96 kHz; net primary; converts rate")
    expected = {
        "name": "m",
        "label": "A model",
        "kind": "stage-box",
        "weight_kg": 4.2,
        "power_w": 35.0,
        "latency_s": pytest.approx(0.0004),
        "rate_hz": 96_000,
        "net": "primary",
        "converts_rate": True,
    }
    assert fields(made, expected) == expected


BOTH = "inputs in 1-8; outputs out 1-8; inputs main 1-2; outputs thru 1-16; "


@pytest.mark.parametrize(
    ("kind", "line", "left", "right"),
    [
        ("sub-box", "pass in -> out", ("in", 1, 8), ("out", 1, 8)),
        ("sub-box", "pass in 1-4 -> out 5-8", ("in", 1, 4), ("out", 5, 4)),
        ("sub-box", "pass main 1-2 -> thru 15-16", ("main", 1, 2), ("thru", 15, 2)),
        ("sub-box", "pass in 3 -> out 1", ("in", 3, 1), ("out", 1, 1)),
        ("sub-box", "pass main -> out 1-2", ("main", 1, 2), ("out", 1, 2)),
    ],
)
def test_a_pass(kind: str, line: str, left: tuple[str, int, int], right: tuple[str, int, int]) -> None:
    (made,) = model(BOTH + line, kind).passes
    assert (made.left, made.left_first, made.count) == left
    assert (made.right, made.right_first, made.count) == right
    assert not made.two_way


def test_a_pass_both_ways() -> None:
    (made,) = model("digital rear 1-4; digital front 1-4; pass rear -- front", "panel").passes
    assert made.two_way
    assert made.passive


@pytest.mark.parametrize(
    ("kind", "facts", "active", "isolated"),
    [
        # Active is the default in these.
        ("amplifier", "", True, False),
        ("receiver", "", True, False),
        ("monitor-sender", "", True, False),
        ("console", "", True, False),
        ("engine", "", True, False),
        ("processor", "", True, False),
        ("outboard", "", True, False),
        ("computer", "", True, False),
        # ... and wire in these.
        ("sub-box", "", False, False),
        ("panel", "", False, False),
        ("splitter", "", False, False),
        ("loudspeaker", "", False, False),
        # What is said, counts.
        ("di", "{ active }", True, False),
        ("di", "{ isolated }", False, True),
        ("splitter", "{ isolated }", False, True),
        ("splitter", "{ active }", True, False),
        ("processor", "{ isolated }", False, True),
    ],
)
def test_what_a_pass_is_made_of(kind: str, facts: str, active: bool, isolated: bool) -> None:
    (made,) = model(f"inputs in 1-2; outputs out 1-2; pass in -> out {facts}", kind).passes
    assert (made.active, made.isolated, made.passive) == (active, isolated, not active and not isolated)


@pytest.mark.parametrize(
    ("facts", "channels", "converts"),
    [("", None, False), ("{ channels 16 }", 16, False), ("{ channels 16; converts rate }", 16, True)],
)
def test_a_bridge(facts: str, channels: int | None, converts: bool) -> None:
    lines = f"digital L {{ protocol aes50 }}; digital M {{ protocol aes10-coax }}; bridge L -> M {facts}"
    (made,) = model(lines, "bridge").bridges
    assert (made.left, made.right, made.channels, made.converts_rate) == ("L", "M", channels, converts)


def test_words_of_the_language_are_not_reserved() -> None:
    rig = clean("""
        zone stock; zone at
        cable via { lines 2 }
        protocol to { carries 8 at 48 kHz }
        model box { kind panel; inputs in 1-2; outputs from 1-2; digital patch { protocol to }; pass in -> from }
        box x is box in stock
        box link is box in at
        link source: x.from 1-2 -- link.in 1-2 via via 3 m
        source output dynamic in at to x.in 1
    """)
    assert [str(port) for port in rig.sources["output"].ports] == ["x.in 1"]
    assert rig.links["source"].lead is not None
    assert rig.links["source"].lead.cable.lines == 2
