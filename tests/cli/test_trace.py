"""`rigdsl trace`: a signal followed hop by hop."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from rigdsl.reports.trace import copper_run_m
from rigdsl.show import load
from tests.conftest import Run

SCHEMA = json.loads((Path(__file__).parents[2] / "grammar" / "trace.schema.json").read_text("utf-8"))

RIG = """\
rig "Lantern Hall" { rate 48 kHz; slack 2 m }
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m, om3 300 m; slots fixed; latency 0.06 ms }
model nw4 {
  kind stage-box; inputs mic 1-4 { preamp; phantom 48 V 10 mA; latency 0.4 ms }; outputs line 1-2 { latency 0.5 ms }
  digital A { protocol fernlink }
}
model sub4 { kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }
model wall { kind panel; digital rear; digital front; pass rear -- front }
model split2 { kind splitter; inputs in 1-2; outputs iso 1-2; pass in -> iso { isolated } }
model desk8 { kind console; channels ch 1-8; mixes mix 1-4; digital stage 1-2 { protocol fernlink } }
zone wing at (0, 0) m
zone foh at (30, 40) m
box SL is nw4 in wing
box DR is sub4 in wing
box SP is split2 in wing
box WP is wall in wing
box DESK is desk8 in foh
link C01: SL.A -- WP.front via cat6 10 m
link C02: WP.rear -- DESK.stage 1 via cat6 60 m
link L01: DR.tail 1-2 -- SL.mic 1-2 via xlr 15 m
link L02: SP.iso 1 -- SL.mic 3 via xlr 20 m
source kick "Kick in" dynamic in wing to DR 1 via xlr 6 m
source pair "Overheads" condenser in wing to DR 2, SP 1 via xlr 8 m
source far "On a cable of unknown length" dynamic in wing to SL 4 via xlr
source loose "Not plugged" dynamic in wing
output wedge "Wedge" wedge in wing from SL.line 1 via xlr 10 m
output mute "Not fed" wedge in wing from SL.line 2 via xlr 10 m
patch SL.mic 1-2, SL.mic 3, SL.mic 4 -> DESK.ch 1-4
patch DESK.mix 1 -> wedge
"""


@pytest.fixture
def hall(folder: Path) -> Path:
    (folder / "friday.rig").write_text(RIG)
    return folder


def traced(run: Run, *name: str) -> Any:
    """The JSON document, held against its schema."""
    ran = run("trace", "friday.rig", *name, "--as", "json")
    assert ran.status == 0, ran.err
    value = json.loads(ran.out)
    jsonschema.validate(value, SCHEMA)
    return value


def test_a_source_in_json(hall: Path, run: Run) -> None:
    value = traced(run, "kick")
    assert (value["subject"], value["kind"]) == ("kick", "source")
    (path,) = value["paths"]
    hops = path.pop("hops")
    assert path == {
        "from": "kick",
        "to": "DESK.ch 1",
        "complete": True,
        "stops_because": None,
        "length_m": 91.0,
        "copper_run_m": 70.0,  # C01 and C02 through the wall panel
        "latency_ms": 0.46,
        "channels": ["DESK.ch 1"],
    }
    rows = [tuple(hop.values()) for hop in hops]
    assert rows == [
        ("kick", "DR.panel 1", "plug", "xlr", 6.0, None, 0.0),
        ("DR.panel 1", "DR.tail 1", "pass", None, None, None, 0.0),
        ("DR.tail 1", "SL.mic 1", "L01", "xlr", 15.0, None, 0.0),
        ("SL.mic 1", "SL.A", "preamp", None, None, None, 0.4),
        ("SL.A", "WP.front", "C01", "cat6", 10.0, "fernlink", 0.06),
        ("WP.front", "WP.rear", "pass", None, None, None, 0.0),
        ("WP.rear", "DESK.stage 1", "C02", "cat6", 60.0, "fernlink", 0.0),
        ("DESK.stage 1", "DESK.ch 1", "patch", None, None, None, 0.0),
    ]


@pytest.mark.parametrize(
    ("name", "kind", "subject", "ends"),
    [
        ("pair", "source", "pair", [("pair", "DESK.ch 2"), ("pair", "DESK.ch 3")]),
        ("wedge", "output", "wedge", [("DESK.mix 1", "wedge")]),
        ("C02", "cable", "C02", None),
        ("L02", "cable", "L02", [("pair", "DESK.ch 3")]),
        ("DESK.ch 1", "channel", "DESK.ch 1", [("kick", "DESK.ch 1")]),
        ("DESK.mix  1", "mix", "DESK.mix 1", [("DESK.mix 1", "wedge")]),
        ("DR.tail 1", "socket", "DR.tail 1", [("kick", "DESK.ch 1")]),
        ("SL.A 1", "socket", "SL.A", None),
        ("SP", "box", "SP", [("pair", "DESK.ch 3")]),
        ("DR 1", "socket", "DR.panel 1", [("kick", "DESK.ch 1")]),  # `panel` and `tail` are one wire
        ("SL 4", "socket", "SL.mic 4", [("far", "DESK.ch 4")]),  # no other group has four
        ("WP 1", "socket", "WP.rear", None),
    ],
)
def test_what_can_be_asked_for(
    hall: Path, run: Run, name: str, kind: str, subject: str, ends: list[tuple[str, str]] | None
) -> None:
    value = traced(run, *name.split(" "))
    assert (value["kind"], value["subject"]) == (kind, subject)
    found = [(path["from"], path["to"]) for path in value["paths"]]
    if ends is None:
        assert len(found) >= 4  # all that the trunk carries
    else:
        assert found == ends


def test_a_path_that_stops_says_why_and_is_no_failure(hall: Path, run: Run) -> None:
    (path,) = traced(run, "loose")["paths"]
    assert (path["complete"], path["stops_because"]) == (False, "`loose` is plugged into nothing")
    (path,) = traced(run, "mute")["paths"]
    assert (path["complete"], path["stops_because"]) == (False, "nothing is patched to `SL.line 2`")


@pytest.mark.parametrize(
    ("name", "copper"),
    [
        ("kick", [70.0]),
        ("wedge", [70.0]),
        ("pair", [70.0, 70.0]),
        ("far", [70.0]),  # a plug in the zone of its socket is as long as the slack
        ("loose", [None]),
    ],
)
def test_the_longest_copper_run(hall: Path, name: str, copper: list[float | None]) -> None:
    show = load("friday.rig")
    assert [copper_run_m(path, show.rig) for path in show.trace(name)] == copper


@pytest.mark.parametrize(
    ("changes", "copper"),
    [
        ({"cat6 10 m": "om3 10 m", "cat6 60 m": "om3 60 m"}, 21.0),  # the plug and the loom, through the sub-box
        ({"cat6 10 m": "om3 10 m", "cat6 60 m": "om3 60 m", "> tail": "> tail { isolated }"}, 15.0),
        ({"cat6 10 m": "om3 10 m", "cat6 60 m": "om3 60 m", "> tail": "> tail { active }"}, 15.0),
        ({"cat6 10 m": "cat6 2 m"}, 62.0),
    ],
)
def test_copper_ends_at_fibre_transformers_and_electronics(hall: Path, changes: dict[str, str], copper: float) -> None:
    text = RIG
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    (hall / "friday.rig").write_text(text)
    show = load("friday.rig")
    assert [copper_run_m(path, show.rig) for path in show.trace("kick")] == [copper]


def test_in_text(hall: Path, run: Run) -> None:
    assert run("trace", "friday.rig", "kick").out == (
        'kick "Kick in" arrives at DESK.ch 1\n'
        "  plug, xlr, 6 m                      DR.panel 1\n"
        "  through DR                          DR.tail 1\n"
        "  L01, xlr, 15 m                      SL.mic 1\n"
        "  preamp of SL, 0.4 ms                SL.A\n"
        "  C01, cat6, 10 m, fernlink, 0.06 ms  WP.front\n"
        "  through WP                          WP.rear\n"
        "  C02, cat6, 60 m, fernlink           DESK.stage 1\n"
        "  patch                               DESK.ch 1\n"
        "  4 cables, 91 m, longest copper run 70 m, 0.46 ms\n"
    )


def test_a_cable_with_many_signals_begins_with_all_of_them_in_short(hall: Path, run: Run) -> None:
    """By socket; neighbours on both sides are one line; a whole path each comes after."""
    out = run("trace", "friday.rig", "C02").out
    assert out.startswith(
        "5 signals go over C02\n"
        "  DESK.mix 1    ->  SL.line 1    wedge\n"
        "  DR.panel 1-2  ->  DESK.ch 1-2  kick, pair\n"
        "  SL.mic 4      ->  DESK.ch 4    far\n"
        "  SP.in 1       ->  DESK.ch 3    pair\n"
        "\n"
        'far "On a cable of unknown length" arrives at DESK.ch 4\n'
    )
    assert out.count(" arrives at ") == 5


def test_a_box_where_some_signals_stop(hall: Path, run: Run) -> None:
    (hall / "friday.rig").write_text(RIG.replace("patch DESK.mix 1 -> wedge\n", ""))
    out = run("trace", "friday.rig", "SL").out
    assert out.startswith("6 signals go through SL, 2 of them stop\n")
    assert "  SL.line 1-2   stops at  SL.line 1-2  wedge, mute\n" in out


def test_a_cable_with_one_signal_has_no_summary(hall: Path, run: Run) -> None:
    assert run("trace", "friday.rig", "L02").out.startswith('pair "Overheads", socket 2 of 2 arrives at DESK.ch 3\n')


RADIO = """\
rig "Lantern Hall" { rate 48 kHz; lead xlr }
model rx1 { kind receiver; inputs air { wireless }; outputs line; pass air -> line }
model desk8 { kind console; channels ch 1-8; inputs local 1-8 { preamp } }
zone foh
box RX is rx1 in foh
box DESK is desk8 in foh
link L1: RX.line -- DESK.local 1 via xlr 3 m
source vox "Lead vocal" wireless in foh to RX
patch DESK.local 1 -> DESK.ch 1
"""


def test_what_comes_by_radio_has_no_plug(folder: Path, run: Run) -> None:
    (folder / "friday.rig").write_text(RADIO)
    assert "\n  by radio " in run("trace", "friday.rig", "vox").out
    assert traced(run, "vox")["paths"][0]["hops"][0]["by"] == "plug"


def test_a_stop_in_text(hall: Path, run: Run) -> None:
    out = run("trace", "friday.rig", "mute").out
    assert out.splitlines()[:2] == ["SL.line 2 stops at mute", "  because nothing is patched to `SL.line 2`"]


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("kcik", "there is no source, output, cable or box called `kcik`; there is one with a similar name: `kick`"),
        ("SL.mic", "`SL.mic` goes from 1 to 4: say one of them, as in `SL.mic 1`"),
        ("SL.mic 1-4", "`SL.mic 1-4` is more than one socket; name one of them: `SL.mic 1`"),
        ("SL.mic 2, 4", "`SL.mic 2, 4` is more than one socket; name one of them: `SL.mic 2`"),
        ("DR 1-2", "`DR 1-2` is more than one socket; name one of them: `DR.panel 1`"),
        ("SL 2", "`SL 2` may be several sockets; name one of them: `SL.mic 2`, `SL.line 2`"),
        ("DR 5", "`DR` has no socket 5; it has `panel 1-4`, `tail 1-4`"),
        ("DRR 1", "there is no source, output, cable or box called `DRR`; there is one with a similar name: `DR`"),
        ("SL.mic 5", "`SL.mic` goes from 1 to 4: say one of them, as in `SL.mic 1`"),
        ("SL.mik 1", "`SL` has no `mik`; it has `mic 1-4`, `line 1-2`, `A`"),
        ("SLL.mic 1", "there is no source, output, cable or box called `SLL`; there is one with a similar name: `SL`"),
    ],
)
def test_an_unknown_name(hall: Path, run: Run, name: str, said: str) -> None:
    ran = run("trace", "friday.rig", name)
    assert (ran.status, ran.out, ran.err) == (2, "", f"rigdsl: {said}\n")


def test_standard_input(folder: Path, run: Run) -> None:
    assert run("trace", "-", "kick", stdin=RIG).out.startswith('kick "Kick in" arrives at DESK.ch 1\n')


def test_an_insert_goes_there_and_back_over_one_cable(folder: Path, run: Run) -> None:
    rig = (
        'rig "Insert" { rate 48 kHz }\n'
        "model desk8 { kind console; channels ch 1-8; inputs mic 1-8 { preamp }; pass mic -> ch }\n"
        "model comp2 { kind outboard; inputs in 1-2; outputs out 1-2; pass in -> out }\n"
        "box D is desk8; box CP is comp2\n"
        "source vox dynamic to D.mic 1 via xlr 5 m\ninsert D.ch 1 through CP 1 via jack 2 m\n"
    )
    out = run("trace", "-", "vox", stdin=rig).out
    assert out.splitlines()[-1].startswith("  2 cables, 9 m, longest copper run 5 m")
