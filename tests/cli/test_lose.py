"""`rigdsl lose`: what falls silent with what."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from tests.conftest import Run

SCHEMA = json.loads((Path(__file__).parents[2] / "grammar" / "lose.schema.json").read_text("utf-8"))

RIG = """\
rig "Lantern Hall" { rate 48 kHz; slack 2 m }
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; slots fixed; latency 0.06 ms }
model nw4 { kind stage-box; inputs mic 1-4 { preamp }; outputs line 1-2; digital A, B { protocol fernlink } }
model sub4 { kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }
model desk8 {
  kind console; channels ch 1-8; mixes mix 1-4; outputs out 1-2; digital stage 1-3 { protocol fernlink }
}
zone wing "Stage left wing" at (0, 0) m
zone foh at (30, 40) m
supply D1 "Stage left, 16 A" 230 V 16 A in wing
box SL "Stage left rack" is nw4 in wing
box SR is nw4 in wing
box DR is sub4 in wing
box DESK is desk8 in foh
power SL from D1
link C01: SL.A -- DESK.stage 1 via cat6 60 m { loom K1 }
link C02: SR.A -- DESK.stage 2 via cat6 60 m { redundant }
link C03: SR.B -- DESK.stage 3 via cat6 60 m { redundant }
link L01: DR.tail 1-2 -- SL.mic 1-2 via xlr 15 m
source kick "Kick in" dynamic in wing to DR 1 via xlr 6 m
source snare dynamic in wing to DR 2 via xlr 6 m
source vox dynamic in wing to SR 1 via xlr 6 m
source loose "Not plugged" dynamic in wing
output wedge "Wedge" wedge in wing from SL.line 1 via xlr 10 m
output pa main in foh from DESK.out 1 via xlr 10 m
patch SL.mic 1-2, SR.mic 1 -> DESK.ch 1-3
patch DESK.mix 1 -> wedge
patch DESK.mix 2 -> pa
"""


@pytest.fixture
def hall(folder: Path) -> Path:
    (folder / "friday.rig").write_text(RIG)
    return folder


def asked(run: Run, *names: str) -> Any:
    """The JSON document, held against its schema."""
    ran = run("lose", "friday.rig", *names, "--as", "json")
    assert (ran.status, ran.err) == (0, "")
    value = json.loads(ran.out)
    jsonschema.validate(value, SCHEMA)
    return value


@pytest.mark.parametrize(
    ("names", "lost", "sources", "outputs"),
    [
        (["C01"], ["C01"], ["kick", "snare"], ["wedge"]),
        (["SL"], ["SL"], ["kick", "snare"], ["wedge"]),
        (["D1"], ["D1"], ["kick", "snare"], ["wedge"]),
        (["loom K1"], ["loom K1"], ["kick", "snare"], ["wedge"]),
        (["loom", "K1"], ["loom K1"], ["kick", "snare"], ["wedge"]),
        (["C02"], ["C02"], [], []),
        (["C02", "C03"], ["C02", "C03"], ["vox"], []),
        (["vox", "L01", "vox"], ["vox", "L01"], ["kick", "snare", "vox"], []),
        (["pa"], ["pa"], [], ["pa"]),
        (["DESK"], ["DESK"], ["kick", "snare", "vox"], ["pa", "wedge"]),
        (["loose"], ["loose"], [], []),  # it is silent already
    ],
)
def test_what_goes_silent_in_json(
    hall: Path, run: Run, names: list[str], lost: list[str], sources: list[str], outputs: list[str]
) -> None:
    assert asked(run, *names) == {"lost": lost, "silent_sources": sources, "silent_outputs": outputs}


def test_the_ranking_in_json(hall: Path, run: Run) -> None:
    ranking = asked(run)["ranking"]
    assert [(one["name"], one["kind"]) for one in ranking] == [
        ("DESK", "box"),
        ("C01", "cable"),
        ("SL", "box"),
        ("DR", "box"),
        ("L01", "cable"),
        ("SR", "box"),
        ("C02", "cable"),
        ("C03", "cable"),
    ]
    assert ranking[0]["silent_sources"] == ["kick", "snare", "vox"]
    assert ranking[1]["silent_outputs"] == ["wedge"]
    assert [one["name"] for one in asked(run, "--top", "2")["ranking"]] == ["DESK", "C01"]


@pytest.mark.parametrize(
    ("name", "told"),
    [
        (
            "C0l",
            "there is no cable, box, source, output or supply called `C0l`; there is one with a similar name: `C03`",
        ),
        ("sl", "there is no cable, box, source, output or supply called `sl`; there is one with a similar name: `SL`"),
        ("loom K9", "there is no loom called `K9`; there is one with a similar name: `loom K1`"),
        (
            "zzz",
            "there is no cable, box, source, output or supply called `zzz`; a name is that of a cable, box, source,",
        ),
    ],
)
def test_an_unknown_name(hall: Path, run: Run, name: str, told: str) -> None:
    ran = run("lose", "friday.rig", "C01", name)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"rigdsl: {told}")
    assert ran.err.count("\n") == 1


def test_only_a_ranking_can_be_cut_short(hall: Path, run: Run) -> None:
    ran = run("lose", "friday.rig", "C01", "--top", "3")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == "rigdsl: `--top` is for the ranking of all cables and boxes, which takes no names\n"


def test_a_cable_without_an_id_goes_by_its_ends(folder: Path, run: Run) -> None:
    (folder / "friday.rig").write_text(RIG.replace("link C01: ", "link "))
    for name in ("DESK.stage 1 -- SL.A", "SL.A -- DESK.stage 1"):
        assert asked(run, name)["lost"] == ["DESK.stage 1 -- SL.A"]
        assert asked(run, name)["silent_outputs"] == ["wedge"]


def test_what_goes_silent_in_words(hall: Path, run: Run) -> None:
    ran = run("lose", "friday.rig", "SL", "C02", "C03")
    assert ran.out == (
        "3 sources, 1 output fall silent without SL, C02 and C03\n"
        "  sources that fall silent\n"
        '    Stage left wing: kick "Kick in", snare, vox\n'
        "  outputs that fall silent\n"
        '    Stage left wing: wedge "Wedge"\n'
        "  no source reaches DESK any more; it still feeds, with nothing: pa\n"
    )


def test_what_stands_in_words(hall: Path, run: Run) -> None:
    ran = run("lose", "friday.rig", "C03", "C02", "--as", "text")
    assert ran.out.startswith("1 source falls silent without C03 and C02\n")
    assert run("lose", "friday.rig", "C02").out == (
        "nothing falls silent without C02\n  still sounds another way: vox\n"
    )


def test_the_ranking_in_words(hall: Path, run: Run) -> None:
    assert run("lose", "friday.rig", "--top", "3").out == (
        "                          sources  outputs  what falls silent\n"
        "box DESK                        3        2  kick, snare, vox, pa, wedge\n"
        "cable C01                       2        1  kick, snare, wedge\n"
        'box SL "Stage left rack"        2        1  kick, snare, wedge\n'
        "\n"
        "3 more silence something\n"
        "2 cables alone silence nothing\n"
    )


def test_nothing_to_lose(folder: Path, run: Run) -> None:
    (folder / "bare.rig").write_text('rig "Bare" {}\n')
    assert run("lose", "bare.rig").out == "nothing falls silent with any one cable or box\n"
    value = json.loads(run("lose", "bare.rig", "--as", "json").out)
    assert value == {"ranking": []}


def test_what_could_not_be_read_is_said_aloud(folder: Path, run: Run) -> None:
    (folder / "torn.rig").write_text(RIG + "box X is nothing-like-it\n")
    ran = run("lose", "torn.rig", "C01")
    assert ran.status == 0
    assert ran.err == "rigdsl: some of the rig could not be read: `rigdsl check torn.rig` says what\n"
