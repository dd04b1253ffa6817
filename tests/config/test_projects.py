"""What a project sets, as the commands have it: levels, options, which rigs, packs, and who says so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import rigdsl
from rigdsl.cli import reading
from tests.cli.club import CLEAN, GEAR, LOOSE, document, rules
from tests.conftest import Run

from .made import FESTIVAL, packs


@pytest.fixture
def club(folder: Path) -> Path:
    """A project of one rig with an error: the kick is plugged into nothing."""
    (folder / "gear.rig").write_text(GEAR)
    (folder / "friday.rig").write_text(LOOSE)
    return folder


@pytest.mark.parametrize(
    ("text", "level", "status"),
    [
        ("", "error", 1),
        ('[rules.unplugged-source]\nlevel = "note"', "note", 0),
        ('fail-on = "note"\n[rules.unplugged-source]\nlevel = "note"', "note", 1),
        ('fail-on = "never"', "error", 0),
        ('[[for]]\nrigs = ["f*.rig"]\nrules.unplugged-source.level = "warning"', "warning", 0),
        ('[[for]]\nrigs = ["*"]\nrules.unplugged-source.level = "off"\n'
         '[[for]]\nrigs = ["**"]\nrules.unplugged-source.level = "on"', "error", 1),
    ],
)  # fmt: skip
def test_levels(club: Path, run: Run, text: str, level: str, status: int) -> None:
    (club / "rig.toml").write_text(text)
    ran = run("check", "friday.rig", "--as", "json")
    found = [one["level"] for one in document(ran.out)["findings"] if one["rule"] == "unplugged-source"]
    assert (found, ran.status) == ([level], status)
    assert [str(one.level) for one in rigdsl.load("friday.rig").findings() if one.rule == "unplugged-source"] == [level]


def test_the_command_beats_the_file(club: Path, run: Run) -> None:
    (club / "rig.toml").write_text('fail-on = "never"')
    assert run("check").status == 0
    assert run("check", "--fail-on", "error").status == 1


def test_options(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(CLEAN)
    (club / "rig.toml").write_text("[rules.too-few-spares]\neach_box = 30\n")
    assert "too-few-spares" in rules(run("check", "--as", "json").out)


def test_each_rig_keeps_to_the_nearest_file(club: Path, run: Run) -> None:
    """Not to that of the current folder."""
    (club / "rig.toml").write_text('[rules.unplugged-source]\nlevel = "off"')
    (club / "guest").mkdir()
    (club / "guest" / "gear.rig").write_text(GEAR)
    (club / "guest" / "rig.toml").write_text("# its own\n")
    (club / "guest" / "gala.rig").write_text(LOOSE)
    out = document(run("check", "--as", "json").out)
    errors = [(one["file"], one["rule"]) for one in out["findings"] if one["level"] == "error"]
    assert errors == [("guest/gala.rig", "unplugged-source")]


def test_which_rigs(club: Path, run: Run) -> None:
    (club / "old.rig").write_text(LOOSE)
    (club / "rig.toml").write_text('rigs = ["fri*.rig"]')
    assert document(run("check", "--as", "json").out)["rigs"] == ["friday.rig"]
    assert document(run("check", "old.rig", "--as", "json").out)["rigs"] == ["old.rig"]


def test_a_pattern_that_fits_nothing(club: Path, run: Run) -> None:
    (club / "rig.toml").write_text('rigs = ["*.rig", "shows/*.rig"]\n')
    ran = run("check", "--as", "json", "--fail-on", "never")
    assert ran.status == 2
    (wrong,) = [one for one in document(ran.out)["findings"] if one["rule"] == "wrong-config"]
    assert (wrong["file"], wrong["line"], wrong["column"], wrong["subject"]) == ("rig.toml", 1, 18, "shows/*.rig")


def test_a_wrong_line_ends_with_2_and_the_rigs_are_checked(club: Path, run: Run) -> None:
    (club / "rig.toml").write_text("edtion = 1\n")
    ran = run("check", "--as", "json", "--fail-on", "never")
    assert ran.status == 2
    assert {"wrong-config", "unplugged-source"} <= set(rules(ran.out))
    drawn = run("trace", "friday.rig", "oh")
    assert drawn.err == "rigdsl: not all of `rig.toml` can be followed: `rigdsl check` says why\n"


def test_a_stranger_is_in_use_where_it_is_listed(club: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "discover", lambda **_: packs(FESTIVAL))
    ran = run("check", "--as", "json")
    assert not any(rule.startswith("festival/") for rule in rules(ran.out))
    assert ran.err.count("installed and not in use: `festival`") == 1
    (club / "friday.rig").write_text(LOOSE + 'accept festival/loud on SL because "not judged"\n')
    assert "unused-accept" not in rules(run("check", "--as", "json").out)
    (club / "rig.toml").write_text('[packs]\nfestival = ">=1.2"\n')
    ran = run("check", "--as", "json")
    assert {"festival/loud", "festival/late"} <= set(rules(ran.out))
    assert ran.err == ""
    (club / "rig.toml").write_text("[packs.festival]\nedition = 1\n")
    ran = run("check", "--as", "json")
    assert "festival/late" not in rules(ran.out)
    assert "1 newer rule is not in the edition" in ran.err
    assert [line.split()[0] for line in run("rules", "--newer").out.splitlines()] == ["festival/late"]


def test_a_newer_rule_may_be_asked_for_by_name(club: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "discover", lambda **_: packs(FESTIVAL))
    (club / "rig.toml").write_text('[packs.festival]\nedition = 1\n[rules."festival/late"]\nlevel = "on"\n')
    ran = run("check", "--as", "json")
    assert "festival/late" in rules(ran.out)
    assert ran.err == ""


def test_why(club: Path, run: Run) -> None:
    (club / "old.rig").write_text(LOOSE)
    (club / "rig.toml").write_text(
        '[rules.run-near-limit]\nshare = 0.85\n\n[[for]]\nrigs = ["old.rig"]\nrules.run-near-limit.level = "off"\n'
    )
    assert run("check", "--why", "run-near-limit", "--fail-on", "note").out == (
        "run-near-limit for friday.rig\n"
        "  level     note  the rule's own\n"
        "  share     0.85  rig.toml:2\n"
        "  stranded  1.2   the rule's own\n"
        "  fails at  note  --fail-on\n"
        "\n"
        "run-near-limit for old.rig\n"
        "  level     off   rig.toml:6, for `old.rig`\n"
        "  share     0.85  rig.toml:2\n"
        "  stranded  1.2   the rule's own\n"
        "  fails at  note  --fail-on\n"
    )
    ran = run("check", "--why", "run-near-limits")
    assert (ran.status, ran.out) == (2, "")
    assert "there is a rule with a similar name: `run-near-limit`" in ran.err


def test_lists_and_pages_say_what_holds_here(club: Path, run: Run) -> None:
    (club / "rig.toml").write_text('[rules.hi-z-run]\nlevel = "off"\nmost_m = 9\n')
    (line,) = [line for line in run("rules").out.splitlines() if line.startswith("hi-z-run")]
    assert "warning; here off (rig.toml:2)" in line
    page = run("explain", "hi-z-run").out
    assert re.search(r'^    \[rules.hi-z-run\]\n    level = "on"  # .*\n    most_m = 6.0$', page, re.MULTILINE)
    assert "in this project: most_m = 9 (rig.toml:3)" in page


def test_the_file_of_the_current_folder_is_not_read_for_rigs_elsewhere(
    club: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    (club / "guest").mkdir()
    (club / "guest" / "rig.toml").write_text("edtion = 1\n")
    monkeypatch.chdir(club / "guest")
    assert "wrong-config" not in rules(run("check", "../friday.rig", "--as", "json").out)
