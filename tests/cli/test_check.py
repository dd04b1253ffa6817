"""`rigdsl check`: what it prints, how it ends."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from rigdsl.cli import reading
from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.packs import Installed, Pack, Packs, Refused, discover
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from tests.cli.club import CLEAN, LOOSE, document, rules, worst
from tests.conftest import Run


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


def crash(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """It breaks down."""
    raise ZeroDivisionError("by nothing")
    yield


class TestPacks:
    def test_a_rule_that_breaks_down_is_told_and_ends_with_2(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        bad = Installed(Pack("bad", rules=(rule("bad/crash", Level.ERROR, NoOptions)(crash),)), "1.2", named=True)
        packs = discover()
        monkeypatch.setattr(reading, "discover", lambda **_: Packs((*packs.installed, bad)))
        (club / "friday.rig").write_text(LOOSE)
        ran = run("check", "friday.rig", "--as", "json", "--fail-on", "never")
        assert ran.status == 2
        assert {"rule-crashed", "unplugged-source"} <= set(rules(ran.out)), "the other rules go on"

    def test_a_pack_that_cannot_be_used_is_named_and_ends_with_2(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        refused = Refused("bad", "1.2", "it is made for packs of edition 7")
        monkeypatch.setattr(reading, "discover", lambda **_: Packs(discover().installed, (refused,)))
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
            (["check", "--as", "xml"], "`--as` takes `text`, `json`, `sarif`, `github`, `junit`"),
            (
                ["check", "--fail", "note"],
                "there is no option `--fail`; there is an option with a similar name: `--fail-on`",
            ),
            (["chekc"], "there is no command `chekc`; there is a command with a similar name: `check`"),
            (
                ["explain", "protocol-mismach"],
                "there is no rule called `protocol-mismach`; there is a rule with a similar name: `protocol-mismatch`",
            ),
            (["explain"], "no rule is named: name one, or `--all`"),
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


# Names that differ in noughts only, and one name for two things in two files: no order may hang on chance.
ALIKE = """\
rig "Alike" {}
use "one.rig"
use "two.rig"
without drums
protocol tiny { carries 8 at 48 kHz; over cat5e 20 m }
model box4 { kind stage-box; inputs mic 1-4; digital A { protocol tiny } }
model desk4 { kind console; channels ch 1-8; digital stage 1-2 { protocol tiny } }
model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
zone wing
box S1 is box4 in wing; box S01 is box4 in wing; box P is panel4 in wing
box D1 is desk4 in wing; box D01 is desk4 in wing
link C1: S1.A -- P.rear 1 via cat6 30 m
link C01: P.front 1 -- D1.stage 1 via cat6 30 m
link C2: S01.A -- D1.stage 2 via cat6 3 m
link C02: D01.stage 1 -- P.rear 2 via cat6 3 m
source a dynamic in wing to S1 1; source a1 dynamic in wing to S01 1; source a01 dynamic in wing to S01 2
patch a, a1, a01 -> D1.ch 1-3
"""


def test_no_order_hangs_on_chance(folder: Path) -> None:
    (folder / "friday.rig").write_text(ALIKE)
    (folder / "one.rig").write_text("zone drums\nzone riser\n")
    (folder / "two.rig").write_text("model keeper { kind panel }\nbox drums is keeper in riser\n")
    outs = {
        subprocess.run(
            [sys.executable, "-m", "rigdsl", "check", "friday.rig", "--as", "json"],
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
            capture_output=True,
            check=False,
        ).stdout
        for seed in range(6)
    }
    assert len(outs) == 1
