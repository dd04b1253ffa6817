"""Workflow commands, read back by the rules of the service that takes them.

`::name key=value,key=value::message`; `%25 %0D %0A` everywhere, `%3A %2C` in values too (the unescaping of GitHub's
runner, from memory); ten of a level from one step (its documentation of problem matchers).
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from rigdsl.finding import Level
from rigdsl.reports.report import Report
from rigdsl.reports.workflow import workflow
from rigdsl.text import Span
from tests.cli.club import LOOSE
from tests.conftest import Run
from tests.reports.told import FILE, HOSTILE, REFUSED, accepted, finding, full, mark, report, same

COMMAND = re.compile(r"::(error|warning|notice) ([^:]*)::(.*)")
Read = tuple[str, dict[str, str], str]


def read_back(data: bytes) -> list[Read]:
    """What the service makes of a log."""
    found = []
    for line in data.decode("utf-8").split("\n")[:-1]:
        parts = COMMAND.fullmatch(line)
        assert parts, line
        pairs = (pair.split("=", 1) for pair in parts[2].split(","))
        found.append((parts[1], {key: _unescaped(value, more=True) for key, value in pairs}, _unescaped(parts[3])))
    return found


def _unescaped(text: str, more: bool = False) -> str:
    for code, character in (
        ("%0D", "\r"),
        ("%0A", "\n"),
        *((("%3A", ":"), ("%2C", ",")) if more else ()),
        ("%25", "%"),
    ):
        text = text.replace(code, character)
    return text


def told(made: Report, refused: bool = False) -> list[Read]:
    return read_back(workflow(made, (REFUSED,) if refused else (), same))


def test_one_finding() -> None:
    one = finding(consequence="nobody hears it", help="plug it in")
    assert told(report(one)) == [
        (
            "error",
            {"file": "friday.rig", "line": "4", "endLine": "4", "col": "5", "endColumn": "7", "title": one.rule},
            "much is wrong\non the night: nobody hears it\nto mend it: plug it in",
        )
    ]


def test_nothing_to_tell() -> None:
    assert workflow(report(), (), same) == b""


@pytest.mark.parametrize("text", HOSTILE)
def test_any_text_at_all(text: str) -> None:
    ((_, place, said),) = told(report(full(text)))
    assert place["file"] == "friday.rig"
    kept = "".join("?" if (ord(c) < 32 and c not in "\r\n") or 0x7F <= ord(c) < 0xA0 else c for c in text)
    assert said == f"{kept}\non the night: {kept}\nto mend it: {kept}"


def test_names_of_files_and_rules_are_escaped() -> None:
    data = workflow(report(finding()), (), lambda path: "a,b: 100%.rig")
    assert b"file=a%2Cb%3A 100%25.rig,line=" in data
    assert read_back(data)[0][1]["file"] == "a,b: 100%.rig"


def test_over_several_lines_the_first_one() -> None:
    ((_, place, _),) = told(report(finding(Span(FILE, 0, len(FILE.text)))))
    assert (place["line"], place["endLine"], place["endColumn"]) == ("1", "1", "35")


def test_accepted_ones_are_left_out() -> None:
    assert told(report(accepted=(accepted(finding()),))) == []


def test_a_pack_that_was_left_out_is_an_error() -> None:
    ((level, _, said),) = told(report(), refused=True)
    assert (level, said) == ("error", "the pack `bad` 1.2 is left out: it is made for packs of edition 7")


class TestMany:
    def many(self, errors: int, warnings: int, notes: int) -> Report:
        counts = ((Level.ERROR, errors), (Level.WARNING, warnings), (Level.NOTE, notes))
        return report(
            *(finding(message=f"{level} {n}", level=level) for level, count in counts for n in range(100, 100 + count))
        )

    @pytest.mark.parametrize(
        ("made", "shown", "rest"),
        [
            ((10, 10, 10), {"error": 10, "warning": 10, "notice": 10}, ""),
            ((11, 0, 0), {"error": 10, "notice": 1}, "there is one more: 1 error; "),
            (
                (25, 12, 30),
                {"error": 10, "warning": 10, "notice": 10},
                "there are 38 more: 15 errors, 2 warnings, 21 notes; ",
            ),
            ((0, 0, 11), {"notice": 10}, "there are 2 more: 2 notes; "),
        ],
    )
    def test_ten_of_a_level_and_how_many_more(
        self, made: tuple[int, int, int], shown: dict[str, int], rest: str
    ) -> None:
        found = told(self.many(*made))
        assert Counter(level for level, _, _ in found) == shown
        assert [said for _, place, said in found if "file" not in place] == (
            [f"{rest}`rigdsl check` lists them all"] if rest else []
        )

    def test_worst_first(self) -> None:
        quiet = finding(message="silences one", silent=("kick",))
        loud = finding(mark("SR"), "silences two", silent=("snare", "hat"))
        note = finding(mark("rig"), "a note", level=Level.NOTE)
        assert [said for _, _, said in told(report(note, quiet, loud))] == ["silences two", "silences one", "a note"]


def test_the_command(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(LOOSE)
    ran = run("check", "--as", "github")
    assert (ran.status, ran.err) == (1, "")
    assert [place["title"] for level, place, _ in read_back(ran.out.encode()) if level == "error"] == [
        "unplugged-source"
    ]
