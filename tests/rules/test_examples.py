"""Every rule's help page is true: its first rig breaks that rule and no other, its second breaks none."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from rigdsl.finding import Finding, Level
from rigdsl.lint import lint
from rigdsl.lint.options import chosen
from rigdsl.lint.pages import CONSEQUENCE, Page, page
from rigdsl.lint.rule import PackedRule
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.rig import read

PACKS = discover()
RULES = PACKS.rules

each_rule = pytest.mark.parametrize("packed", RULES, ids=[packed.name for packed in RULES])


def findings_of(text: str, packed: PackedRule, help_page: Page) -> tuple[Finding, ...]:
    """What all rules that are on, and this one, say about a rig."""
    rig = read(text)
    running = [other for other in RULES if other.rule.on or other.name == packed.name]
    options = {packed.name: chosen(packed.rule.options, help_page.options)}
    verdict = lint(rig, Paths(rig), running, options=options)
    assert not verdict.crashed, verdict.findings
    return verdict.findings


def disturbing(findings: tuple[Finding, ...], rule: str) -> list[str]:
    """Errors and warnings, and whatever this rule says, as text."""
    return [
        f"{finding.place.source.path}:{finding.place.from_position.line}: {finding.rule}: {finding.message}"
        for finding in findings
        if finding.level != Level.NOTE or finding.rule == rule
    ]


def test_no_pack_is_refused() -> None:
    assert PACKS.refused == ()
    assert {"control", "distance", "ports", "protocol"} <= {item.pack.name for item in PACKS.installed}


@each_rule
def test_the_page_has_what_a_page_needs(packed: PackedRule) -> None:
    read_page = page(packed.rule)
    assert read_page.summary.endswith(".")
    assert len(read_page.summary) <= 120
    assert read_page.sections.get(CONSEQUENCE), "what happens on the night"
    assert read_page.breaks.startswith("rig "), "a rig that breaks it"
    assert read_page.keeps.startswith("rig "), "a rig that keeps it"


@each_rule
def test_the_first_rig_breaks_this_rule_alone(packed: PackedRule) -> None:
    found = findings_of(page(packed.rule).breaks, packed, page(packed.rule))
    told = disturbing(found, packed.name)
    assert told
    assert [line for line in told if f": {packed.name}: " not in line] == []


@each_rule
def test_the_second_rig_keeps_it(packed: PackedRule) -> None:
    assert disturbing(findings_of(page(packed.rule).keeps, packed, page(packed.rule)), packed.name) == []


@each_rule
def test_its_findings_read_well(packed: PackedRule) -> None:
    """The house style: three fields, small letters, no full stop, and none of a programmer's words."""
    for finding in findings_of(page(packed.rule).breaks, packed, page(packed.rule)):
        if finding.rule != packed.name:
            continue
        assert finding.message
        assert finding.consequence, "what happens on the night"
        assert finding.help, "how to mend it"
        assert finding.subject
        for text in (finding.message, finding.consequence, finding.help, *(item.message for item in finding.related)):
            assert text == text.strip()
            assert not text.endswith("."), text
            assert not text[0].isupper(), text
            assert "None" not in text
            assert "?" not in text
            assert "  " not in text


def words() -> str:
    """All that is said of the rigs of every page, a line for each finding, in the order in which it is said."""
    lines = []
    for packed in RULES:
        help_page = page(packed.rule)
        for text in (help_page.breaks, help_page.keeps):
            for item in findings_of(text, packed, help_page):
                related = [(one.place.start, one.message) for one in item.related]
                said = (item.subject, item.message, item.consequence, item.help, related, item.ports, item.silent)
                lines.append(f"{packed.name}: {item.rule} {item.place.start} {said}")
    return "\n".join(lines)


def test_the_same_rigs_give_the_same_words_in_every_run() -> None:
    """The order of sets differs from run to run, by the seed of their hashes; what is said does not."""
    code = "import sys; from tests.rules.test_examples import words; sys.stdout.buffer.write(words().encode())"
    first, second = (
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=Path(__file__).parents[2],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout.decode()
        for seed in ("1", "2")
    )
    assert first.count("\n") >= len(RULES)
    assert first.splitlines() == second.splitlines()
