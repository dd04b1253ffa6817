"""`rigdsl export`: the resolved rig, by its schema, whatever the order of its lines."""

from __future__ import annotations

import json
import random
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.packs import discover
from rigdsl.reports.export import export
from rigdsl.rig import DictReader, load
from tests.cli.club import CLEAN
from tests.conftest import Run
from tests.export_schema import SCHEMA, made
from tests.reports.told import HOSTILE
from tests.rig.test_random import ENTRIES, MISTAKES, Files, project, statements

JUDGE = jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text("utf-8")))


def written(entry: str, files: Files) -> bytes:
    loaded = load(entry, DictReader(files), discover().libraries)
    return export(loaded.rig, loaded.sources)


def document(data: bytes | str) -> dict[str, Any]:
    value: dict[str, Any] = json.loads(data)
    JUDGE.validate(value)
    return value


def by_name(things: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {thing["name"]: thing for thing in things}


def test_the_schema_says_what_the_values_are() -> None:
    """After a change of the rig's values: `python -m tests.export_schema`."""
    jsonschema.Draft202012Validator.check_schema(JUDGE.schema)
    assert SCHEMA.read_text("utf-8") == made()


@pytest.mark.parametrize("entry", ENTRIES)
def test_the_examples(entry: str) -> None:
    value = document(written(entry, dict(project(entry))))
    assert value["boxes"]
    models = by_name(value["models"])
    cables = by_name(value["cables"])
    protocols = by_name(value["protocols"])
    assert {box["model"] for box in value["boxes"]} <= models.keys(), "what is named is there"
    leads = [thing["lead"] for kind in ("links", "sources", "outputs") for thing in value[kind] if thing["lead"]]
    assert {lead["cable"] for lead in leads} <= cables.keys()
    assert {
        name for model in models.values() for group in model["groups"] for name in group["protocols"]
    } <= protocols.keys()


RIG = """\
rig "Lantern Hall" { rate 96 kHz; slack 2 m }
protocol fernlink { carries 40 at 48 kHz, 20 at 96 kHz; over cat5e 100 m }
model nw4 { kind stage-box; weight 4 kg; inputs mic 1-4 { preamp }; digital A { protocol fernlink } }
model desk { kind console; channels ch 1-12; digital stage { protocol fernlink } }
zone wing at (1, 2, 0.5) m
zone foh
way foh -- wing 30 m
box SL10 is nw4 in wing { weight 5 kg }
box SL2 is nw4 in wing
box DESK is desk in foh
link C01: SL2.A -- DESK.stage via cat6 50 ft
source oh "Overheads" condenser in wing to SL2 3, SL2 1 via xlr
patch SL2.mic 3, SL2.mic 1 -> DESK.ch 11-12
keep SL10.mic 1-4 for "support act"
accept clock-leader on DESK because "one desk" until 2026-12-31
stock xlr 10 m x 20
"""


class TestOneRig:
    value = document(written("a.rig", {"a.rig": RIG}))

    def test_the_head(self) -> None:
        head = self.value["head"]
        assert (head["title"], head["rate_hz"], head["slack_m"]) == ("Lantern Hall", 96000, 2.0)

    def test_names_in_natural_order(self) -> None:
        assert [box["name"] for box in self.value["boxes"]] == ["DESK", "SL2", "SL10"]

    def test_a_box_has_its_own_facts_and_those_of_its_model(self) -> None:
        boxes = by_name(self.value["boxes"])
        assert (boxes["SL10"]["weight_kg"], boxes["SL2"]["weight_kg"], boxes["SL2"]["model"]) == (5.0, 4.0, "nw4")

    def test_units_in_the_keys(self) -> None:
        (way,) = self.value["ways"]
        assert (way["zones"], way["length_m"]) == (["foh", "wing"], 30.0)
        fernlink = by_name(self.value["protocols"])["fernlink"]
        assert (fernlink["channels_at_hz"], fernlink["reach_m"]) == ({"48000": 40, "96000": 20}, {"cat5e": 100.0})
        assert by_name(self.value["zones"])["wing"]["position_m"] == [1.0, 2.0, 0.5]
        (link,) = self.value["links"]
        assert link["joins"] == [["SL2.A", "DESK.stage"]]
        assert link["lead"] == {"cable": "cat6", "length_m": 15.24, "measured": False}  # 50 ft of 0.3048 m each

    def test_the_legs_of_a_source_keep_their_order(self) -> None:
        assert by_name(self.value["sources"])["oh"]["ports"] == ["SL2.mic 3", "SL2.mic 1"]

    def test_what_is_patched_is_sorted(self) -> None:
        (patch,) = self.value["patches"]
        assert patch["pairs"] == [["SL2.mic 1", "DESK.ch 12"], ["SL2.mic 3", "DESK.ch 11"]]

    def test_the_lines_about_sockets(self) -> None:
        assert self.value["keeps"] == [{"ports": [f"SL10.mic {n}" for n in (1, 2, 3, 4)], "what": "support act"}]
        assert self.value["stock"] == [{"cable": "xlr", "length_m": 10.0, "count": 20}]
        (accept,) = self.value["accepts"]
        assert (accept["rule"], accept["until"]) == ("clock-leader", "2026-12-31")

    def test_gear_of_libraries_only_where_it_is_used(self) -> None:
        assert {"cat6", "xlr"} == by_name(self.value["cables"]).keys()
        assert by_name(self.value["protocols"]).keys() == {"fernlink"}

    def test_no_places(self) -> None:
        assert "place" not in json.dumps(self.value)


def test_what_could_not_be_read_is_named() -> None:
    value = document(written("a.rig", {"a.rig": RIG + "box SR is nothing in wing\n"}))
    assert "SR" in value["incomplete"]
    assert by_name(value["boxes"]).keys() == {"DESK", "SL2", "SL10"}


@pytest.mark.parametrize("text", [text for text in HOSTILE if not set(text) & set('"\n\r\\')])
def test_any_label_at_all(text: str) -> None:
    value = document(written("a.rig", {"a.rig": f'rig "x" {{}}\nzone wing "{text}"\n'}))
    if value["zones"]:
        assert value["zones"][0]["label"] == text
    else:
        assert "wing" in value["incomplete"], "a text that the language refuses"


def shuffled(text: str, random_: random.Random) -> str:
    """The same statements in another order, with comments, empty lines and another layout."""
    found = statements(text)
    random_.shuffle(found)
    extra = ("", "\n", "# a word\n", "\n\n# more\n")
    return "".join(f"{random_.choice(extra)}{_laid_out(one, random_)}\n" for one in found)


def _laid_out(statement: str, random_: random.Random) -> str:
    room = " " * random_.randint(1, 9)
    end = random_.choice(("", "  # why", " "))
    return re.sub(r"^ +", room, statement, flags=re.MULTILINE) + end


@given(entry=st.sampled_from(ENTRIES), random_=st.randoms(use_true_random=False))
@settings(max_examples=30, deadline=None)
def test_order_comments_and_layout_change_nothing(entry: str, random_: random.Random) -> None:
    files = dict(project(entry))
    other = {path: shuffled(text, random_) for path, text in files.items()}
    assert written(entry, other) == written(entry, files)


@given(st.randoms(use_true_random=False))
@settings(max_examples=20, deadline=None)
def test_nor_in_a_rig_with_mistakes(random_: random.Random) -> None:
    # The first of two with one name counts; what follows ends a broken block.
    wrong = [line for line in MISTAKES.splitlines() if not line.startswith(("zone", "cable"))]
    lines = [*statements(dict(project(ENTRIES[0]))[ENTRIES[0]]), *wrong]
    plain = written("a.rig", {"a.rig": "\n".join(lines)})
    random_.shuffle(lines)
    assert written("a.rig", {"a.rig": "\n".join(lines)}) == plain
    assert document(plain)["incomplete"]


class TestCommand:
    def test_standard_output_is_the_document_alone(self, club: Path, run: Run) -> None:
        ran = run("export", "friday.rig")
        assert (ran.status, ran.err) == (0, "")
        assert document(ran.out)["head"]["title"] == "Lantern Hall"
        assert run("export", "-", stdin=CLEAN).out == ran.out

    def test_to_a_file(self, club: Path, run: Run) -> None:
        ran = run("export", "friday.rig", "--out", "made/friday.json")
        assert (ran.status, ran.out, ran.err) == (0, "", "")
        assert (club / "made" / "friday.json").read_text("utf-8") == run("export", "friday.rig").out

    def test_a_rig_with_faults_is_exported_and_they_are_said(self, club: Path, run: Run) -> None:
        (club / "friday.rig").write_text(CLEAN + "sorce hat\nkeep SR.mic 1\n")
        ran = run("export", "friday.rig")
        assert ran.status == 0
        assert document(ran.out)["sources"]
        assert ran.err == (
            "rigdsl: what could not be read is left out: 2 errors; `rigdsl check friday.rig` says how to mend them\n"
        )

    def test_no_such_file(self, club: Path, run: Run) -> None:
        ran = run("export", "firday.rig")
        assert (ran.status, ran.out) == (2, "")
