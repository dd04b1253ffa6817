"""`rigdsl match`: which files it reads, which pairs it tells, and in which form."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from tests.conftest import Run

SCHEMA = json.loads((Path(__file__).parents[2] / "grammar" / "match.schema.json").read_text("utf-8"))

STAGE = """\
protocol plover { carries 40 at 48 kHz, 20 at 96 kHz; over cat5e 100 m, om3 300 m }
model nw16 "16 in | 8 out" {
  kind stage-box; inputs mic 1-16 { preamp; gain remote }; digital A { protocol plover; control lark }
}
model nw8 { kind stage-box; inputs mic 1-8 { preamp; gain remote }; digital A { protocol plover; control lark } }
"""
DESKS = """\
model good { kind console; channels ch 1-32; digital stage { protocol plover; control lark } }
model other { kind console; channels ch 1-32; digital stage { protocol plover; control thrush } }
model wire "*Old* desk" { kind console; channels ch 1-12; inputs local 1-12; pass local -> ch }
model face { kind surface; data net { control lark } }
"""
RIG = """\
rig "Friday" { rate 48 kHz }
use "gear/desks.rig"
box DESK is good
"""


@pytest.fixture
def house(folder: Path) -> Path:
    (folder / "gear").mkdir()
    (folder / "gear" / "stage.rig").write_text(STAGE)
    (folder / "gear" / "desks.rig").write_text(DESKS)
    (folder / "friday.rig").write_text(RIG)
    return folder


def pairs(run: Run, *arguments: str, stdin: str = "") -> list[Any]:
    """The pairs of the JSON document, held against its schema."""
    ran = run("match", *arguments, "--as", "json", stdin=stdin)
    assert (ran.status, ran.err) == (0, "")
    value = json.loads(ran.out)
    jsonschema.validate(value, SCHEMA)
    return list(value["pairs"])


def named(found: list[Any]) -> list[str]:
    return [f"{one['desk']} {one['box']}" for one in found]


@pytest.mark.usefixtures("house")
@pytest.mark.parametrize(
    "paths", [(), ("gear",), (".",), ("gear/stage.rig", "gear/desks.rig"), ("gear/stage.rig", "friday.rig")]
)
def test_files_folders_or_the_project(run: Run, paths: tuple[str, ...]) -> None:
    """Gear in one file, protocols in another: together they are the gear; a rig brings the gear that it uses."""
    assert named(pairs(run, *paths)) == [
        "good nw8",
        "good nw16",
        "other nw8",
        "other nw16",
        "wire nw8",
        "wire nw16",
    ]


def test_standard_input(run: Run, folder: Path) -> None:
    assert named(pairs(run, "-", stdin=STAGE + DESKS))[0] == "good nw8"


@pytest.mark.usefixtures("house")
def test_the_json_form(run: Run) -> None:
    good, other = pairs(run, "--box", "nw16", "--desk", "good", "--desk", "other")
    assert good == {
        "desk": "good",
        "box": "nw16",
        "audio": True,
        "control": True,
        "protocols": ["plover"],
        "channels_each_way": 40,
        "rates": [48000, 96000],
        "reach_m": {"cat5e": 100, "om3": 300},
        "because": [],
    }
    assert (other["audio"], other["control"]) == (True, False)
    assert other["because"] == [
        "both speak `plover`, but the box answers to dialect `lark` and the desk speaks `thrush`: "
        "sound arrives, gain and phantom stay at the box"
    ]


@pytest.mark.usefixtures("house")
@pytest.mark.parametrize("rate", ["96 kHz", "96kHz", "96", "96000", "96000 Hz"])
def test_at_one_rate(run: Run, rate: str) -> None:
    (found,) = pairs(run, "--box", "nw16", "--desk", "good", "--rate", rate)
    assert (found["rates"], found["channels_each_way"]) == ([96000], 20)


@pytest.mark.usefixtures("house")
def test_the_table_and_each_reason_once(run: Run) -> None:
    ran = run("match")
    assert ran.out.split("\n\n")[0].splitlines() == [
        "       nw8           nw16",
        "good   + works       + works",
        "other  ~ sound only  ~ sound only",
        "wire   - no sound    - no sound",
    ]
    reason = "the box answers to dialect `lark` and the desk speaks `thrush`"
    assert ran.out.count(reason) == 1
    lines = ran.out.splitlines()
    at = next(number for number, line in enumerate(lines) if reason in line)
    assert lines[at + 1].strip() == "`other` with every box"
    assert "  `plover`: 40 channels each way at 48 kHz, 20 at 96 kHz; cat5e 100 m, om3 300 m" in lines
    assert "      `good`, `other` with every box" in lines
    assert "`face` is a surface and no desk" in ran.out


@pytest.mark.usefixtures("house")
def test_a_table_too_wide_is_a_list(run: Run) -> None:
    boxes = "\n".join(f"model a-long-name-{n} {{ kind stage-box; digital A {{ protocol aes50 }} }}" for n in range(40))
    desks = "\n".join(f"model desk-{n} {{ kind console; digital A {{ protocol aes50 }} }}" for n in range(40))
    ran = run("match", "-", stdin=f"{boxes}\n{desks}")
    lines = ran.out.splitlines()
    assert lines[0].split() == ["desk-0", "a-long-name-0", "-", "no", "sound"]
    assert len(ran.out.split("\n\n")[0].splitlines()) == 1600


@pytest.mark.usefixtures("house")
def test_a_page_in_markdown_has_labels_escaped(run: Run) -> None:
    ran = run("match", "--as", "md")
    assert ran.out.splitlines()[2:5] == [
        "|  | `nw8` | 16 in \\| 8 out (`nw16`) |",
        "| --- | --- | --- |",
        "| `good` | \\+ works | \\+ works |",
    ]
    assert "| \\*Old\\* desk (`wire`) | \\- no sound | \\- no sound |" in ran.out.splitlines()


@pytest.mark.usefixtures("house")
@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--desk", "god"), "there is no desk called `god`; there is a desk with a similar name: `good`"),
        (("--desk", "zzz"), "there is no desk called `zzz`; there are `good`, `other`, `wire`"),
        (("--box", "nw61"), "there is no stage box called `nw61`; there is a stage box with a similar name: `nw16`"),
        (("--desk", "nw16"), "`nw16` is no desk: its kind is stage-box"),
        (
            ("--desk", "face"),
            "`face` is a surface and no desk: it carries no sound, and steers an engine; no engine here speaks `lark`",
        ),
        (("--rate", "fast"), "`--rate` takes a rate such as `96 kHz`, and `fast` is none"),
        (("gear/stage.rig",), "there is no desk in these files: no model of kind console, engine or computer"),
        (("gear/desks.rig",), "there is no stage box in these files: no model of kind stage-box"),
        (("nowhere.rig",), "there is no file `nowhere.rig`"),
    ],
)
def test_what_it_cannot_do(run: Run, arguments: tuple[str, ...], says: str) -> None:
    ran = run("match", *arguments)
    assert (ran.status, ran.out, ran.err) == (2, "", f"rigdsl: {says}\n")


def test_gear_that_cannot_be_read_is_said_aloud(run: Run, folder: Path) -> None:
    (folder / "a.rig").write_text(STAGE + DESKS)
    (folder / "b.rig").write_text(
        "model good { kind console }\nmodel odd { kind console; digital A { protocol gull } }\n"
    )
    ran = run("match")
    assert ran.status == 0
    assert ran.err.splitlines() == [
        "rigdsl: there are two models called `good`: only the first one counts",
        "rigdsl: some of the gear could not be read: `rigdsl check` says what",
    ]
