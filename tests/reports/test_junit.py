"""JUnit XML: there is no official schema, so it is read by a reader of somebody else's and by lxml."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from junitparser import JUnitXml, TestCase, TestSuite
from lxml import etree

from rigdsl.finding import Level
from rigdsl.lint.accept import CORE
from rigdsl.packs import discover
from rigdsl.reports.junit import junit
from rigdsl.reports.report import Report
from rigdsl.text import Source, Span
from tests.cli.club import CLEAN, LOOSE
from tests.conftest import Run
from tests.reports.told import HOSTILE, REFUSED, RULES, accepted, finding, full, mark, report, same


def suites(made: Report, failing: Level | None = Level.ERROR, refused: bool = False) -> list[TestSuite]:
    return read_back(junit(made, RULES, (REFUSED,) if refused else (), failing, same))


def read_back(data: bytes) -> list[TestSuite]:
    """The suites, whose counts are right."""
    root = etree.fromstring(data)
    assert root.tag == "testsuites"
    for tag, count in (("testcase", "tests"), ("failure", "failures"), ("error", "errors")):
        for element in (root, *root.iter("testsuite")):
            assert int(element.get(count)) == len(list(element.iter(tag))), (element.tag, count)
    for case in root.iter("testcase"):
        assert case.get("name")
        assert case.get("classname")
        assert [child.tag for child in case] in ([], ["failure"], ["error"], ["system-out"], ["failure", "system-out"])
    return list(JUnitXml.fromstring(data))


def case(made: Report, rule: str, failing: Level | None = Level.ERROR) -> TestCase:
    (suite,) = suites(made, failing)
    (found,) = [one for one in suite if one.name == rule]
    return found


def test_every_rule_that_ran_is_a_case_that_passes() -> None:
    (suite,) = suites(report())
    on = {packed.name for packed in discover().rules if packed.rule.on}
    assert suite.name == "friday.rig"
    assert [one.name for one in suite] == sorted(on | CORE - {"rule-crashed"})
    assert all(one.is_passed for one in suite)
    assert {one.classname for one in suite} == {"friday"}


def test_findings_of_one_rule_are_one_failure() -> None:
    found = case(report(finding(), finding(mark("SR"), "more", help="so")), "unplugged-source")
    (failure,) = found.result
    assert failure.message == "much is wrong (and 1 more)"
    assert failure.text == (
        "friday.rig:4:5: error: much is wrong [unplugged-source]\n"
        "friday.rig:5:5: error: more [unplugged-source]\n"
        "  to mend it: so"
    )


@pytest.mark.parametrize(
    ("level", "failing", "fails"),
    [
        (Level.ERROR, Level.ERROR, True),
        (Level.WARNING, Level.ERROR, False),
        (Level.WARNING, Level.WARNING, True),
        (Level.NOTE, Level.NOTE, True),
        (Level.ERROR, None, False),
    ],
)
def test_a_case_fails_where_the_check_does(level: Level, failing: Level | None, fails: bool) -> None:
    found = case(report(finding(level=level)), "unplugged-source", failing)
    assert found.is_passed == (not fails)
    assert fails or f"{level}: much is wrong" in found.system_out


def test_an_accepted_one_is_told_and_passes() -> None:
    found = case(report(accepted=(accepted(finding(), "it is meant", "2026-12-31"),)), "unplugged-source")
    assert found.is_passed
    assert found.system_out.endswith("\n  accepted: it is meant (until 2026-12-31)")


def test_a_rule_that_broke_down_is_an_error_of_its_case() -> None:
    crash = finding(Span(Source("", ""), 0, 0), "it broke down", rule="rule-crashed", subject="run-too-long")
    found = case(report(crash), "run-too-long", failing=None)
    assert [(type(one).__name__, one.message) for one in found.result] == [("Error", "it broke down")]


def test_a_pack_that_was_left_out_has_a_suite() -> None:
    packs, rig = suites(report(), refused=True)
    assert (packs.name, packs.errors, rig.errors) == ("packs", 1, 0)


@pytest.mark.parametrize("text", HOSTILE)
def test_any_text_at_all(text: str) -> None:
    found = case(report(full(text)), "unplugged-source")
    # XML 1.0 (W3C), 2.2: what is no character; 2.11: a line end is read as one LF.
    kept = re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]", "?", text)
    (failure,) = found.result
    assert failure.message == kept
    assert f"error: {kept}".replace("\r\n", "\n") in failure.text.replace("\r\n", "\n")


def test_the_command(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(LOOSE)
    (club / "shows").mkdir()
    (club / "shows" / "1.night.rig").write_text(CLEAN.replace('"gear', '"../gear'))
    ran = run("check", "--as", "junit")
    assert (ran.status, ran.err) == (1, "")
    first, second = read_back(ran.out.encode())
    assert [(one.name, one.failures) for one in (first, second)] == [("friday.rig", 1), ("shows/1.night.rig", 0)]
    assert {one.classname for one in second} == {"shows.1-night"}
    assert run("check", "--as", "junit", "--fail-on", "never").status == 0
