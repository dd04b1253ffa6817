"""`rigdsl check`: which files it reads, what it prints, how it ends."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from rigdsl.cli import reading
from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.packs import Installed, Pack, Packs, Refused, discover
from rigdsl.paths import Paths
from rigdsl.reports.text import NO_RIG
from rigdsl.rig import Rig
from tests.conftest import Run

SCHEMA = json.loads((Path(__file__).parents[2] / "grammar" / "check.schema.json").read_text("utf-8"))

GEAR = """\
model nw4 "4x2 stage box" {
  kind stage-box; inputs mic 1-4 { preamp; phantom 48 V 10 mA }; outputs line 1-2; digital A { protocol aes50 }
}
model desk8 "8-channel desk" { kind console; channels ch 1-8; mixes mix 1-2; digital stage { protocol aes50 } }
"""
CLEAN = """\
rig "Lantern Hall" { rate 48 kHz }
use "gear.rig"
zone wing "Stage left wing"
box SL "Stage left rack" is nw4 in wing
box DESK "Desk" is desk8 in wing
link C01: SL.A -- DESK.stage via cat6 30 m
source kick "Kick in" dynamic in wing to SL 1 via xlr 6 m
source oh "Overhead" condenser in wing to SL 2 via xlr 6 m
output wedge "Wedge" wedge in wing from SL.line 1 via xlr 6 m
patch SL.mic 1-2 -> DESK.ch 1-2
patch DESK.mix 1 -> wedge
keep SL.mic 3-4 for "support act"
keep SL.line 2 for "support act"
"""
LOOSE = CLEAN.replace(" to SL 1 via xlr 6 m", "")  # the kick is plugged into nothing


@pytest.fixture
def club(folder: Path) -> Path:
    """A project of one rig and its gear."""
    (folder / "gear.rig").write_text(GEAR)
    (folder / "friday.rig").write_text(CLEAN)
    return folder


def document(out: str) -> Any:
    """The JSON document, held against its schema."""
    value = json.loads(out)
    jsonschema.validate(value, SCHEMA)
    return value


def worst(out: str) -> str:
    """The level of the worst finding."""
    levels = {finding["level"] for finding in document(out)["findings"]}
    return next((level for level in ("error", "warning", "note") if level in levels), "nothing")


def rules(out: str) -> list[str]:
    return [finding["rule"] for finding in document(out)["findings"]]


def test_a_clean_rig(club: Path, run: Run) -> None:
    ran = run("check", "friday.rig")
    assert (ran.status, ran.out, ran.err) == (0, "nothing to mend in 1 rig\n", "")


def test_an_error_is_status_1(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(LOOSE)
    ran = run("check", "friday.rig")
    assert ran.status == 1
    assert ran.out.startswith("friday.rig:7:8: error: ")
    assert "[unplugged-source]\n" in ran.out
    assert '  7 | source kick "Kick in" dynamic in wing\n    |        ^^^^\n' in ran.out
    assert ran.out.splitlines()[-1].startswith("1 error")


@pytest.mark.parametrize(
    ("level", "fail_on", "status"),
    [
        ("error", "error", 1),
        ("error", "never", 0),
        ("warning", "error", 0),
        ("warning", "warning", 1),
        ("warning", "note", 1),
        ("note", "warning", 0),
        ("note", "note", 1),
        ("nothing", "note", 0),
    ],
)
def test_the_failing_level(club: Path, run: Run, level: str, fail_on: str, status: int) -> None:
    texts = {
        "error": LOOSE,
        "warning": CLEAN + 'accept port-taken on SL.mic 1 because "gone long ago"\n',
        "note": CLEAN.replace('keep SL.mic 3-4 for "support act"\n', ""),
        "nothing": CLEAN,
    }
    (club / "friday.rig").write_text(texts[level])
    ran = run("check", "friday.rig", "--fail-on", fail_on, "--as", "json")
    assert worst(ran.out) == level
    assert ran.status == status


def test_a_text_that_cannot_be_read_is_a_finding(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(CLEAN + "sorce hat dynamic\n")
    ran = run("check", "friday.rig", "--as", "json")
    assert ran.status == 1
    assert rules(ran.out) == ["syntax-error"]


def test_a_broken_head_does_not_hide_the_rig(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(LOOSE.replace('rig "Lantern Hall"', "rig Lantern"))
    found = rules(run("check", "--as", "json").out)
    assert "syntax-error" in found
    assert "unplugged-source" in found


class TestJson:
    def test_the_document(self, club: Path, run: Run) -> None:
        (club / "friday.rig").write_text(LOOSE)
        value = document(run("check", "friday.rig", "--as", "json").out)
        assert value["tool"]["name"] == "rigdsl"
        assert {"control", "distance", "ports", "protocol"} <= {pack["name"] for pack in value["tool"]["packs"]}
        assert value["rigs"] == ["friday.rig"]
        (finding,) = [finding for finding in value["findings"] if finding["level"] == "error"]
        assert finding["rule"] == "unplugged-source"
        assert finding["subject"] == "kick"
        assert finding["file"] == "friday.rig"
        assert (finding["line"], finding["column"], finding["end_line"], finding["end_column"]) == (7, 8, 7, 12)
        assert (finding["accepted"], finding["known"]) == (None, False)
        assert value["counts"]["error"] == 1

    def test_sorted_by_place_rule_and_subject(self, club: Path, run: Run) -> None:
        (club / "friday.rig").write_text(LOOSE + 'source hat "Hat" dynamic in wing\nlink C9: SL.B -- DESK.stage\n')
        found = document(run("check", "friday.rig", "--as", "json").out)["findings"]
        keys = [(one["file"], one["line"], one["column"], one["rule"], one["subject"]) for one in found]
        assert len(keys) > 2
        assert keys == sorted(keys)

    def test_standard_output_is_the_document_alone(self, club: Path, run: Run) -> None:
        ran = run("check", "friday.rig", "--as", "json")
        assert ran.out == json.dumps(json.loads(ran.out), indent=2, ensure_ascii=False) + "\n"
        assert ran.err == ""

    def test_columns_count_characters(self, club: Path, run: Run) -> None:
        (club / "friday.rig").write_text(CLEAN + 'zone a "🎤é日本"; zone wing "again"\n', "utf-8")
        (finding,) = document(run("check", "friday.rig", "--as", "json").out)["findings"]
        assert finding["rule"] == "repeated-name"
        assert (finding["column"], finding["end_column"]) == (21, 25)


class TestAccepted:
    TEXT = LOOSE + 'accept unplugged-source on kick because "the drummer brings a box" until 2026-12-31\n'

    def check(self, club: Path, run: Run, *more: str, day: str = "1796083200") -> Any:  # 2026-12-01
        (club / "friday.rig").write_text(self.TEXT)
        os.environ["SOURCE_DATE_EPOCH"] = day
        try:
            return run("check", "friday.rig", *more)
        finally:
            del os.environ["SOURCE_DATE_EPOCH"]

    def test_counted_always_and_listed_when_asked_for(self, club: Path, run: Run) -> None:
        plain = document(self.check(club, run, "--as", "json").out)
        assert plain["counts"]["accepted"] == 1
        assert all(finding["accepted"] is None for finding in plain["findings"])
        listed = document(self.check(club, run, "--as", "json", "--accepted").out)
        (finding,) = [finding for finding in listed["findings"] if finding["accepted"]]
        assert finding["accepted"] == {"because": "the drummer brings a box", "until": "2026-12-31"}
        assert finding["rule"] == "unplugged-source"

    def test_an_accepted_error_does_not_fail(self, club: Path, run: Run) -> None:
        assert self.check(club, run).status == 0

    def test_in_text(self, club: Path, run: Run) -> None:
        out = self.check(club, run, "--accepted").out
        assert "[unplugged-source]\n" in out
        assert "the drummer brings a box (until 2026-12-31)\n" in out
        assert out.endswith("1 accepted\n")

    def test_its_day_passes(self, club: Path, run: Run) -> None:
        ran = self.check(club, run, "--as", "json", day="1798761600")  # 2027-01-01
        assert ran.status == 1
        assert "unplugged-source" in rules(ran.out)
        assert rules(ran.out)[-1] == "expired-accept"


class TestWhichFiles:
    def test_standard_input(self, club: Path, run: Run) -> None:
        ran = run("check", "-", "--as", "json", stdin=LOOSE)
        assert ran.status == 1
        value = document(ran.out)
        assert value["rigs"] == ["-"]
        assert value["findings"][0]["file"] == "-"

    def test_the_project_is_found_from_below(self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
        (club / "shows" / "may").mkdir(parents=True)
        (club / "shows" / "may" / "gala.rig").write_text(CLEAN.replace("gear.rig", "../../gear.rig"))
        monkeypatch.chdir(club / "shows")
        value = document(run("check", "--as", "json").out)
        assert value["rigs"] == ["../friday.rig", "may/gala.rig"]

    def test_a_folder(self, club: Path, run: Run) -> None:
        (club / "shows").mkdir()
        (club / "shows" / "gala.rig").write_text(CLEAN.replace("gear.rig", "../gear.rig"))
        assert document(run("check", "shows", "--as", "json").out)["rigs"] == ["shows/gala.rig"]

    def test_a_library_is_not_a_rig(self, club: Path, run: Run) -> None:
        (club / "venue.rig").write_text('zone wing "Wing"\nbox SL is some-box in wing\n')
        value = document(run("check", "--as", "json").out)
        assert value["rigs"] == ["friday.rig"]
        assert value["findings"] == []

    def test_a_library_that_nobody_uses_is_read_all_the_same(self, club: Path, run: Run) -> None:
        (club / "spare.rig").write_text("cable x { weight 3 V }\nmodle y { }\n")
        assert sorted(rules(run("check", "--as", "json").out)) == ["syntax-error", "wrong-unit"]

    def test_what_two_rigs_share_is_told_once(self, club: Path, run: Run) -> None:
        (club / "gear.rig").write_text(GEAR + "cable x { weight 3 V }\n")
        (club / "gala.rig").write_text(CLEAN)
        value = document(run("check", "--as", "json").out)
        assert value["rigs"] == ["friday.rig", "gala.rig"]
        assert [(finding["file"], finding["rule"]) for finding in value["findings"]] == [("gear.rig", "wrong-unit")]

    def test_what_two_rigs_do_differently_to_one_house_is_told_of_both(self, club: Path, run: Run) -> None:
        """The place is the house's cable in both; what goes over it is not."""
        protocol = "protocol tiny { carries 1 at 48 kHz }\n"
        gear = protocol + GEAR.replace("protocol aes50", "protocol tiny")
        (club / "gear.rig").write_text(gear, "utf-8")
        house = CLEAN.partition("source kick")[0]
        (club / "house.rig").write_text(house, "utf-8")
        for name, count in (("friday", 2), ("saturday", 3)):
            plugs = "".join(f"source s{n} dynamic in wing to SL {n} via xlr 6 m\n" for n in range(1, count + 1))
            patch = f"patch SL.mic 1-{count} -> DESK.ch 1-{count}\n"
            (club / f"{name}.rig").write_text(f'rig "{name}" {{ }}\nuse "house.rig"\n{plugs}{patch}', "utf-8")
        said = run("check", "friday.rig", "saturday.rig").out
        assert [count for count in (2, 3) if f"{count} channels go" in said] == [2, 3]

    def test_a_text_without_a_head_is_said_to_be_none(self, club: Path, run: Run) -> None:
        ran = run("check", "gear.rig")
        assert (ran.status, ran.out) == (0, f"{NO_RIG}\n")
        assert NO_RIG.startswith("no rig was checked: nothing here has a `rig` head; to make a rig of it write")
        assert ran.err.startswith("rigdsl: without a `rig` head a file is only complete inside a rig that uses it")
        assert json.loads(run("check", "gear.rig", "--as", "json").out)["rigs"] == []

    def test_what_is_wrong_in_a_text_without_a_head_is_told(self, club: Path, run: Run) -> None:
        (club / "spare.rig").write_text("cable x { weight 3 V }\n")
        ran = run("check", "spare.rig")
        assert ran.status == 1
        assert "[wrong-unit]" in ran.out
        assert ran.out.endswith(f"\n1 error; {NO_RIG}\n")

    def test_many_rigs_show_how_far_it_is_on_a_terminal(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        for number in range(9):
            (club / f"night-{number}.rig").write_text(CLEAN)
        assert run("check").err == ""
        monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
        ran = run("check")
        assert "checking" in ran.err
        assert "100%" in ran.err
        assert ran.out == "nothing to mend in 10 rigs\n"

    def test_hidden_folders_and_virtual_environments_are_left_alone(self, club: Path, run: Run) -> None:
        for name in (".git", "env", "node_modules"):
            (club / name).mkdir()
            (club / name / "x.rig").write_text(LOOSE)
        (club / "env" / "pyvenv.cfg").write_text("")
        assert document(run("check", ".", "--as", "json").out)["rigs"] == ["friday.rig"]

    def test_one_file_is_read_once(self, club: Path, run: Run) -> None:
        paths = ("friday.rig", "./friday.rig", str(club / "friday.rig"), ".")
        assert document(run("check", *paths, "--as", "json").out)["rigs"] == ["friday.rig"]

    def test_paths_are_said_from_the_current_folder(self, club: Path, run: Run) -> None:
        (club / "friday.rig").write_text(LOOSE)
        ran = run("check", str(club / "friday.rig"))
        assert ran.out.startswith("friday.rig:7:8: ")
        assert str(club) not in ran.out


def crash(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """It breaks down."""
    raise ZeroDivisionError("by nothing")
    yield


class TestPacks:
    def test_a_rule_that_breaks_down_is_told_and_ends_with_2(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        bad = Installed(Pack("bad", rules=(rule("bad/crash", Level.ERROR, NoOptions)(crash),)), "1.2")
        packs = discover()
        monkeypatch.setattr(reading, "discover", lambda: Packs((*packs.installed, bad)))
        (club / "friday.rig").write_text(LOOSE)
        ran = run("check", "friday.rig", "--as", "json", "--fail-on", "never")
        assert ran.status == 2
        assert {"rule-crashed", "unplugged-source"} <= set(rules(ran.out)), "the other rules go on"

    def test_a_pack_that_cannot_be_used_is_named_and_ends_with_2(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        refused = Refused("bad", "1.2", "it is made for packs of edition 7")
        monkeypatch.setattr(reading, "discover", lambda: Packs(discover().installed, (refused,)))
        ran = run("check", "friday.rig")
        assert ran.status == 2
        assert ran.out == "nothing to mend in 1 rig\n"
        assert ran.err == "rigdsl: the pack `bad` 1.2 is left out: it is made for packs of edition 7\n"


class TestTrouble:
    """What is no finding: one line on standard error, and status 2."""

    @pytest.mark.parametrize(
        ("arguments", "said"),
        [
            (
                ["check", "firday.rig"],
                "there is no file `firday.rig`; there is a file with a similar name: `friday.rig`",
            ),
            (["check", "--as", "xml"], "`--as` takes `text`, `json`"),
            (
                ["check", "--fail", "note"],
                "there is no option `--fail`; there is an option with a similar name: `--fail-on`",
            ),
            (["chekc"], "there is no command `chekc`; there is a command with a similar name: `check`"),
            (
                ["explain", "protocol-mismach"],
                "there is no rule called `protocol-mismach`; there is a rule with a similar name: `protocol-mismatch`",
            ),
            (["explain"], "RULE is missing: rigdsl explain [OPTIONS] RULE"),
            (["trace", "friday.rig"], "NAME is missing: rigdsl trace [OPTIONS] RIG NAME"),
            (
                ["trace", "nothing.rig", "kick"],
                "there is no file `nothing.rig`",
            ),
        ],
    )
    def test_a_call_that_cannot_work(self, club: Path, run: Run, arguments: list[str], said: str) -> None:
        ran = run(*arguments)
        assert (ran.status, ran.out, ran.err) == (2, "", f"rigdsl: {said}\n")

    def test_no_rig_at_all(self, folder: Path, run: Run) -> None:
        ran = run("check")
        assert ran.status == 2
        assert ran.err.startswith("rigdsl: there is no rig here")

    def test_a_file_that_is_no_text_is_a_finding(self, club: Path, run: Run) -> None:
        (club / "noise.rig").write_bytes(b"\0\1\2")
        ran = run("check", "noise.rig", "--as", "json")
        assert ran.status == 1
        assert rules(ran.out) == ["unreadable-file"]

    def test_the_reader_of_a_pipe_may_leave(self, club: Path) -> None:
        (club / "friday.rig").write_text(CLEAN + "sorce hat\n" * 2000)
        program = f"{sys.executable} -m rigdsl check friday.rig | head -n 1"
        done = subprocess.run(
            ["bash", "-c", f"set -o pipefail; {program}"], capture_output=True, text=True, check=False
        )
        assert done.stderr == ""


@pytest.mark.parametrize(
    ("settings", "coloured"),
    [
        ({}, False),
        ({"FORCE_COLOR": "1"}, True),
        ({"FORCE_COLOR": "0"}, False),
        ({"FORCE_COLOR": "1", "NO_COLOR": "1"}, False),
        ({"FORCE_COLOR": "1", "NO_COLOR": ""}, True),
        ({"FORCE_COLOR": "1", "TERM": "dumb"}, True),
    ],
)
def test_colour(
    club: Path, run: Run, monkeypatch: pytest.MonkeyPatch, settings: dict[str, str], coloured: bool
) -> None:
    for name, value in settings.items():
        monkeypatch.setenv(name, value)
    assert ("\x1b[" in run("check", "friday.rig").out) == coloured


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
def test_any_console_gets_through(club: Path, encoding: str) -> None:
    (club / "friday.rig").write_text(LOOSE.replace("Kick in", "Küche 日本 🎤"), "utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "rigdsl", "check", "friday.rig"],
        env={**os.environ, "PYTHONIOENCODING": encoding},
        capture_output=True,
        check=False,
    )
    assert done.returncode == 1
    assert done.stderr == b""
    assert "1 error" in done.stdout.decode(encoding)


def test_the_same_bytes_whatever_the_hash_seed(club: Path) -> None:
    (club / "friday.rig").write_text(LOOSE + "source hat dynamic in wing\nbox X is nw5\n")

    def out(seed: str, form: str) -> bytes:
        return subprocess.run(
            [sys.executable, "-m", "rigdsl", "check", "--as", form],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=False,
        ).stdout

    for form in ("text", "json"):
        assert out("1", form) == out("2", form)
