"""Sources and outputs: what their type says of them, what they say themselves, and their cables."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest

from rigdsl.rig import Leg, read
from tests.rig.said import clean, plugs, ports, said

GEAR = """
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8 }
model rx4 { kind receiver; inputs air 1-4 { wireless }; outputs line 1-4 }
model pc { kind computer; inputs track 1-8 { soft }; outputs play 1-8 { soft } }
zone drums at (0, 4) m; zone wing at (3, 0) m; zone store
box SL is nw16 in wing; box RX is rx4 in wing; box PC is pc in wing
"""

MIC = {"level": "mic", "impedance_ohm": 200.0, "balanced": True, "needs_phantom": False}
LINE = {"level": "line", "impedance_ohm": 100.0, "balanced": True, "needs_phantom": False}


@pytest.mark.parametrize(
    ("type_", "expected"),
    [
        # Figures of these types: common practice, no source; the language fixes them.
        ("dynamic", MIC),
        ("ribbon", MIC),
        ("condenser", MIC | {"needs_phantom": True, "current_a": 0.004}),
        ("di", MIC),
        ("active-di", MIC | {"needs_phantom": True}),
        ("wireless", MIC),
        ("talkback", MIC),
        ("line", LINE),
        ("playback", LINE),
        ("instrument", {"level": "instrument", "impedance_ohm": 10_000.0, "balanced": False, "needs_phantom": False}),
    ],
)
def test_what_a_type_of_source_says(type_: str, expected: dict[str, Any]) -> None:
    source = clean(f"source s {type_}").sources["s"]
    assert source.type == type_
    assert {name: getattr(source, name) for name in expected} == expected


@pytest.mark.parametrize("type_", ["wedge", "in-ear", "main", "fill", "sub", "record", "stream", "comms"])
def test_a_type_of_output(type_: str) -> None:
    output = clean(f'output o "Out" {type_} in drums\nzone drums').outputs["o"]
    assert (output.type, output.title, output.zone, output.ports) == (type_, "Out", "drums", ())


@pytest.mark.parametrize(
    ("type_", "facts", "expected"),
    [
        ("condenser", "phantom no", {"needs_phantom": False}),
        ("ribbon", "phantom", {"needs_phantom": True}),
        ("ribbon", "phantom yes", {"needs_phantom": True}),
        ("condenser", "current 8 mA", {"current_a": 0.008}),
        ("dynamic", "impedance 150 ohm", {"impedance_ohm": 150.0}),
        ("di", "level line", {"level": "line"}),
        ("line", "balanced no", {"balanced": False}),
        ("instrument", "balanced yes", {"balanced": True}),
        ("line", "pad 20 dB", {"pad_db": 20.0}),
        ("line", "mono", {"mono": True}),
        ("wireless", "freq 606.5 MHz", {"frequency_hz": 606_500_000.0}),
        ("dynamic", 'stand "tall boom"; mic "small one"', {"stand": "tall boom", "mic": "small one"}),
        ("dynamic", 'note "taped to the riser"; label "Kick"', {"note": "taped to the riser", "title": "Kick"}),
        ("dynamic", "", {"title": "s", "mono": False, "pad_db": 0.0, "partner": ""}),
    ],
)
def test_what_a_source_says_itself(type_: str, facts: str, expected: dict[str, Any]) -> None:
    source = clean(f"source s {type_} {{ {facts} }}").sources["s"]
    assert {name: getattr(source, name) for name in expected} == expected


@pytest.mark.parametrize(
    ("text", "partners"),
    [
        ("source vox-1 line { with vox-2 }; source vox-2 line", {"vox-1": "vox-2", "vox-2": "vox-1"}),
        ("source vox-1 line; source vox-2 line { with vox-1 }", {"vox-1": "vox-2", "vox-2": "vox-1"}),
        ("source vox-1 line { with vox-2 }; source vox-2 line { with vox-1 }", {"vox-1": "vox-2", "vox-2": "vox-1"}),
        ("source vox-1 line; source vox-2 line", {"vox-1": "", "vox-2": ""}),
    ],
)
def test_a_stereo_partner_of_an_output(text: str, partners: dict[str, str]) -> None:
    outputs = clean(text.replace("source", "output").replace("line", "in-ear")).outputs
    assert {name: output.partner for name, output in outputs.items()} == partners


def test_an_output_may_be_two_lines_that_are_no_pair() -> None:
    outputs = clean("output a in-ear { mono }\noutput b in-ear").outputs
    assert {name: output.mono for name, output in outputs.items()} == {"a": True, "b": False}


PAIRS = """
source a line { with b }; source b line; source c line; source d line { with c }
output x in-ear { with y }; output y in-ear; output z in-ear
"""


@pytest.mark.parametrize(
    ("change", "partners"),
    [
        ("", {"a": "b", "b": "a", "c": "d", "d": "c"}),
        # What a night says last counts, and is mirrored; what it leaves behind stands by itself.
        ("change a { with c }", {"a": "c", "b": "", "c": "a", "d": "c"}),
        ("change b { with a }", {"a": "b", "b": "a", "c": "d", "d": "c"}),
        ("change a { with c }\nchange a { with b }", {"a": "b", "b": "a", "c": "d", "d": "c"}),
    ],
)
def test_a_night_changes_partners(change: str, partners: dict[str, str]) -> None:
    rig = clean(f'rig "Tonight" {{}}\nuse "house.rig"\n{change}', house=PAIRS)
    assert {name: source.partner for name, source in rig.sources.items()} == partners


@pytest.mark.parametrize(
    ("change", "rule", "message"),
    [
        ("change a { with nobody }", "unknown-name", "there is no source called `nobody`"),
        ("change a { with x }", "unknown-name", "`x` is an output, and a source is needed here"),
        ("change x { with a }", "unknown-name", "`a` is a source, and an output is needed here"),
        ("change x { with x }", "repeated-name", "`x` is named as its own stereo partner"),
        ("change x { with nobody }", "unknown-name", "there is no output called `nobody`"),
    ],
)
def test_a_wrong_partner_is_told_where_the_night_names_it(change: str, rule: str, message: str) -> None:
    (found,) = read(f'rig "Tonight" {{}}\nuse "house.rig"\n{change}', house=PAIRS).findings
    assert (found.rule, found.message) == (rule, message)
    assert found.place.source.path != "house.rig"
    assert found.place.text == change.split()[-2]


LINES = ("source a line { with b }", "source b line", "source c line { with b }")


@pytest.mark.parametrize("words", list(permutations(LINES)))
def test_partners_do_not_hang_on_the_order_of_lines(words: tuple[str, ...]) -> None:
    sources = clean("\n".join(words)).sources
    assert {name: one.partner for name, one in sources.items()} == {"a": "b", "b": "a", "c": "b"}


@pytest.mark.parametrize(
    ("text", "partners"),
    [
        ("source vox-1 line { with vox-2 }; source vox-2 line", {"vox-1": "vox-2", "vox-2": "vox-1"}),
        ("source vox-1 line; source vox-2 line { with vox-1 }", {"vox-1": "vox-2", "vox-2": "vox-1"}),
    ],
)
def test_a_stereo_partner_is_said_on_either_side(text: str, partners: dict[str, str]) -> None:
    assert {name: source.partner for name, source in clean(text).sources.items()} == partners


@pytest.mark.parametrize(
    ("line", "cable", "length_m", "measured"),
    [
        ("source s dynamic in drums to SL 1 via jack 6 m", "jack", 6.0, False),
        ("output s wedge in drums from SL 1 via jack 20 ft", "jack", pytest.approx(6.096), False),
        # A cable without a length is measured; no cable at all is the `lead` of the head, measured.
        ("source s dynamic in drums to SL 1 via jack", "jack", 8.0, True),
        ("source s dynamic in drums to SL 1", "xlr", 8.0, True),
        ("output s wedge in drums from SL 1", "xlr", 8.0, True),
        ("source s dynamic in wing to SL 1", "xlr", 3.0, True),
        ("source s dynamic in store to SL 1", "xlr", None, True),
        ("source s dynamic to SL 1", "xlr", None, True),
        # Aimed at a box with the socket open: the cable is known, though.
        ("source s dynamic in drums to SL", "xlr", 8.0, True),
    ],
)
def test_the_cable(line: str, cable: str, length_m: float | None, measured: bool) -> None:
    rig = clean('rig "x" { lead xlr; slack 3 m }' + GEAR + line)
    lead = plugs(rig)[0].lead
    assert lead is not None
    assert (lead.cable.name, lead.length_m, lead.measured) == (cable, length_m, measured)


@pytest.mark.parametrize(
    "line",
    [
        "source s wireless in drums to RX 1",
        "source s playback in wing to PC 1-2",
        "output s record from PC 1",
        "source s dynamic in drums",
    ],
)
def test_no_cable_where_none_goes(line: str) -> None:
    """Over the air, inside a computer, and where nothing is plugged in."""
    rig = clean('rig "x" { lead xlr; slack 3 m }' + GEAR + line)
    assert plugs(rig)[0].lead is None


def test_two_sockets_are_stereo_left_then_right() -> None:
    rig = clean(GEAR + "source keys line in wing to SL 15,14\npatch keys -> SL.line 1-2")
    assert ports(rig.sources["keys"].ports) == ["SL.mic 15", "SL.mic 14"]
    assert [(left, str(right)) for left, right in rig.patches[0].pairs] == [
        (Leg("keys", 0), "SL.line 1"),
        (Leg("keys", 1), "SL.line 2"),
    ]


@pytest.mark.parametrize(
    ("line", "rule", "place", "message", "help"),
    [
        (
            "source s dynamyc",
            "unknown-name",
            "dynamyc",
            "there is no type of source called `dynamyc`",
            "there is a type of source with a similar name: `dynamic`",
        ),
        (
            "source s wedge",
            "unknown-name",
            "wedge",
            "there is no type of source called `wedge`",
            "there are: dynamic, condenser, ribbon, di, active-di, line, instrument, wireless, playback, talkback",
        ),
        (
            "output o wegde",
            "unknown-name",
            "wegde",
            "there is no type of output called `wegde`",
            "there is a type of output with a similar name: `wedge`",
        ),
        (
            "source s dynamic in drms",
            "unknown-name",
            "drms",
            "there is no zone called `drms`",
            "there is a zone with a similar name: `drums`",
        ),
        (
            "source s dynamic via xrl 6 m",
            "unknown-name",
            "xrl",
            "there is no cable called `xrl`",
            "there is a cable with a similar name: `xlr`",
        ),
        (
            "source s line { with t }",
            "unknown-name",
            "t",
            "there is no source called `t`",
            "define it: `source NAME TYPE in ZONE to BOX 1`",
        ),
        (
            "source s dynamic to Sl 1",
            "unknown-name",
            "Sl",
            "there is no box called `Sl`",
            "there is a box with a similar name: `SL`",
        ),
        (
            "source s dynamic to drums 1",
            "unknown-name",
            "drums",
            "`drums` is a zone, and sockets of a box are needed here",
            "write BOX.group and the socket",
        ),
        (
            "output o wedge { pad 20 dB }",
            "unknown-name",
            "pad",
            "an output has no fact `pad`",
            "its facts are: freq, impedance, label, mono, note, ramp, with",
        ),
        (
            "source s dynamic { balanced maybe }",
            "syntax-error",
            "balanced maybe",
            "`balanced maybe` does not say what `balanced` needs",
            "it reads: `balanced no`",
        ),
        (
            "source s dynamic { note 7 }",
            "syntax-error",
            "note 7",
            "`note 7` does not say what `note` needs",
            'it reads: `note "..."`',
        ),
    ],
)
def test_what_is_wrong_with_them(line: str, rule: str, place: str, message: str, help: str) -> None:
    assert said(GEAR + line) == [(rule, place, message, help)]
