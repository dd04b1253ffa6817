"""Known findings: written when asked for, counted apart, kept by rule and subject, and fewer by themselves."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.cli import project
from rigdsl.finding import Finding
from rigdsl.lint import lint
from rigdsl.lint.known import Known, remembered
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.rig import read
from tests.cli.club import CLEAN, GEAR, document
from tests.conftest import Run
from tests.lint.made import HALL, about, made

NAME = "known-findings.json"
TWO = CLEAN.replace(" to SL 1 via xlr 6 m", "").replace(" to SL 2 via xlr 6 m", "")  # two errors


@pytest.fixture
def club(folder: Path) -> Path:
    (folder / "gear.rig").write_text(GEAR)
    (folder / "friday.rig").write_text(TWO)
    return folder


def entries(club: Path) -> Any:
    return json.loads((club / NAME).read_text("utf-8"))["rigs"]


def subjects(club: Path) -> list[str]:
    return [one["subject"] for one in entries(club).get("friday.rig", ()) if one["rule"] == "unplugged-source"]


def test_written_and_counted_apart(club: Path, run: Run) -> None:
    assert run("check").status == 1
    ran = run("check", "--remember")
    assert ran.status == 0
    assert ran.out.startswith("nothing to mend in 1 rig; ")
    assert ran.err.endswith("known from now on: `known-findings.json`\n")
    assert subjects(club) == ["kick", "oh"]
    ran = run("check", "--fail-on", "note")
    assert ran.status == 0
    assert ran.out.startswith("nothing to mend in 1 rig; ")
    assert ran.out.endswith(" known\n")
    value = document(run("check", "--as", "json").out)
    assert value["findings"] == []
    assert value["counts"]["known"] == len(entries(club)["friday.rig"])
    listed = document(run("check", "--as", "json", "--known").out)["findings"]
    assert {one["known"] for one in listed} == {True}
    assert "  known from before\n" in run("check", "--known").out


def test_a_new_one_counts(club: Path, run: Run) -> None:
    run("check", "--remember")
    (club / "friday.rig").write_text(TWO + 'source hat "Hat" dynamic in wing\n')
    ran = run("check")
    assert ran.status == 1
    assert "`hat`" in ran.out
    assert "`kick`" not in ran.out


def test_it_shrinks(club: Path, run: Run) -> None:
    run("check", "--remember")
    before = len(entries(club)["friday.rig"])
    (club / "friday.rig").write_text(TWO.replace('"Kick in" dynamic in wing', '"Kick in" dynamic in wing to SL 1'))
    ran = run("check", "--keep-known")
    assert subjects(club) == ["kick", "oh"]
    ran = run("check")
    assert "gone: the list has" in ran.err
    assert subjects(club) == ["oh"]
    assert len(entries(club)["friday.rig"]) < before
    (club / "friday.rig").write_text(TWO)
    assert "`kick`" in run("check").out, "what is back is new"


def test_nothing_is_written_where_it_runs_for_nobody(club: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    run("check", "--remember")
    monkeypatch.setenv("CI", "true")
    (club / "friday.rig").write_text(CLEAN)
    ran = run("check")
    assert (ran.status, ran.err) == (0, "rigdsl: the list of known findings could be shorter by 3\n")
    assert subjects(club) == ["kick", "oh"]


def test_what_could_not_be_read_is_never_known(club: Path, run: Run) -> None:
    """A venue that is missing must not become a green build."""
    (club / "friday.rig").write_text((club / "friday.rig").read_text() + 'use "gone.rig"\nsourcee x "a\n')
    assert run("check", "--remember").status == 1
    assert run("check").status == 1
    known = club / "known-findings.json"
    assert not known.exists() or "file-missing" not in known.read_text()


def test_a_list_that_cannot_be_read_is_not_written_over(club: Path, run: Run) -> None:
    run("check", "--remember")
    conflict = "<<<<<<< HEAD\n" + (club / "known-findings.json").read_text()
    (club / "known-findings.json").write_text(conflict)
    ran = run("check", "--remember")
    assert ran.status == 2
    assert "stays as it is" in ran.err
    assert (club / "known-findings.json").read_text() == conflict


def test_a_rig_with_another_name_is_told(club: Path, run: Run) -> None:
    run("check", "--remember")
    (club / "friday.rig").rename(club / "saturday.rig")
    ran = run("check")
    assert ran.status == 1
    assert "names `friday.rig`, which is not there: write the rig's new name there" in ran.err


@pytest.mark.parametrize(
    "arguments",
    [["--remember", "--keep-known"], ["--why", "lost-source", "--as", "json"], ["--why", "x", "--remember"]],
)
def test_options_that_contradict_each_other(club: Path, run: Run, arguments: list[str]) -> None:
    ran = run("check", *arguments)
    assert (ran.status, ran.out) == (2, "")


@pytest.mark.parametrize("path", [[], ["."]])
def test_a_pattern_that_fits_no_rig_is_told_at_its_place(club: Path, run: Run, path: list[str]) -> None:
    (club / "rig.toml").write_text('rigs = ["zzz/*.rig"]\n')
    ran = run("check", *path)
    assert ran.status == 2
    assert "rig.toml:1:9: error: `zzz/*.rig` fits no rig of the project" in ran.out


def test_a_list_that_cannot_be_written_stays(club: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    run("check", "--remember")
    (club / "friday.rig").write_text(CLEAN)

    def refuse(path: Path, data: bytes) -> None:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(project, "write", refuse)
    ran = run("check")
    assert ran.status == 0
    assert ran.err == "rigdsl: `known-findings.json` cannot be written, and stays as it is: permission denied\n"


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text + "sorce hat\n",  # a line that cannot be read
        lambda text: text + "box X is nothing in wing\n",  # a name that nobody knows
        lambda text: text.replace('use "gear.rig"', 'use "gaer.rig"'),
    ],
)
def test_nothing_goes_where_the_rig_is_not_read_whole(club: Path, run: Run, change: Any) -> None:
    run("check", "--remember")
    before = entries(club)
    (club / "friday.rig").write_text(change(CLEAN))
    run("check")
    assert entries(club) == before


def test_nothing_goes_of_a_rule_that_is_off(club: Path, run: Run) -> None:
    run("check", "--remember")
    (club / "rig.toml").write_text('[rules.unplugged-source]\nlevel = "off"\n')
    run("check")
    assert subjects(club) == ["kick", "oh"]


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ('{\n  "rigs": {\n<<<<<<< ours\n', 3, "two versions of the list stand here side by side"),
        ('{\n  "rigs": {]\n', 2, "the list of known findings cannot be read from here on"),
        ("[]", 1, "this is no list of known findings"),
        ('{"rigs": {"friday.rig": [{"rule": "a"}]}}', 1, "number 1 of what is known of `friday.rig` is not a rule"),
    ],
)
def test_a_broken_list_is_told_and_left_alone(club: Path, run: Run, text: str, line: int, message: str) -> None:
    (club / NAME).write_text(text)
    ran = run("check", "--as", "json")
    assert ran.status == 2
    (wrong,) = [one for one in document(ran.out)["findings"] if one["rule"] == "wrong-config"]
    assert (wrong["file"], wrong["line"]) == (NAME, line)
    assert wrong["message"].startswith(message)
    assert (club / NAME).read_text() == text


def test_one_entry_a_line(club: Path, run: Run) -> None:
    run("check", "--remember")
    lines = (club / NAME).read_text().splitlines()
    assert sum('"rule"' in line for line in lines) == len(entries(club)["friday.rig"])


SOCKETS = """\
rig "Lantern Hall" { rate 48 kHz }
model nw8 { kind stage-box; inputs mic 1-8 { preamp }; digital A { protocol aes50 } }
model desk8 { kind console; channels ch 1-8; digital stage { protocol aes50 } }
zone wing
box SL is nw8 in wing
box DESK is desk8 in wing
link C01: SL.A -- DESK.stage via cat6 30 m
source kick dynamic in wing to SL 1 via xlr 6 m
patch SL.mic 1 -> DESK.ch 1
"""


def test_new_sockets_under_a_known_subject_are_new() -> None:
    rig = read(SOCKETS)
    known = Known("unused-port", "SL.mic", ("SL.mic 2", "SL.mic 3", "SL.mic 99"))
    verdict = lint(rig, Paths(rig), discover().rules, known=[known])
    (new,) = [one for one in verdict.findings if one.rule == "unused-port"]
    assert new.ports == tuple(f"SL.mic {number}" for number in range(4, 9))
    assert "4-8" in new.message
    assert [one.ports for one in verdict.known] == [("SL.mic 2", "SL.mic 3")]
    assert verdict.left == (Known("unused-port", "SL.mic", ("SL.mic 2", "SL.mic 3")),)
    assert remembered(verdict.findings, verdict.left)[-1].ports == tuple(f"SL.mic {n}" for n in range(2, 9))


LOST = ["source hat dynamic in wing", "source tom dynamic in wing to SL 2 via xlr 6 m"]
HEAD = SOCKETS.splitlines()[0]
STATEMENTS = SOCKETS.splitlines()[1:] + LOST


@given(st.permutations(STATEMENTS), st.lists(st.sampled_from(["", "# a word", "\n"]), min_size=12, max_size=12))
def test_moved_and_reformatted_lines_change_nothing(lines: list[str], between: list[str]) -> None:
    def verdict(text: str, known: tuple[Known, ...] = ()) -> Any:
        rig = read(text)
        return lint(rig, Paths(rig), [packed for packed in discover().rules if packed.rule.on], known=known)

    known = remembered(verdict("\n".join([HEAD, *STATEMENTS])).findings, ())
    assert {"unplugged-source", "lost-source"} <= {one.rule for one in known}
    spread = "\n".join(f"{gap}\n{line.replace(' in ', '   in ')}" for line, gap in zip(lines, between, strict=False))
    again = verdict(f"{HEAD}\n{spread}\n", known)
    assert again.findings == ()
    assert again.left == known


def test_what_another_finding_explains_for_now_is_not_gone() -> None:
    """A wrong port on the trunk hides that the kick is lost behind it; once mended, it would be back."""
    known = (Known("lost-source", "kick"),)
    worse = made("protocol-mismatch", about("C01", silent=("kick",)))
    lost = made("lost-source", about("kick"))
    rig = read(HALL)
    assert lint(rig, Paths(rig), [worse, lost], known=known).left == known
    assert lint(rig, Paths(rig), [worse, made("lost-source")], known=known).left == ()


def test_what_an_accept_line_takes_over_leaves_the_list() -> None:
    rig = read(HALL + 'accept noise on SL because "stands until the tour"\n')
    verdict = lint(rig, Paths(rig), [made("noise", about("SL"))], known=[Known("noise", "SL")])
    assert (verdict.findings, verdict.known, verdict.left) == ((), (), ())
    assert len(verdict.accepted) == 1


def test_a_rule_that_broke_down_is_never_known() -> None:
    def broken(rig: object) -> Finding:
        raise ZeroDivisionError("by nothing")

    rig = read(HALL)
    known = (Known("noise", "SL"), Known("rule-crashed", "noise"))
    verdict = lint(rig, Paths(rig), [made("noise", broken)], known=known)
    assert [one.rule for one in verdict.findings] == ["rule-crashed"]
    assert Known("noise", "SL") in verdict.left
    assert remembered(verdict.findings, ()) == ()
