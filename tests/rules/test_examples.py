"""Every rule's help page is true: its first rig breaks that rule and no other, its second breaks none."""

from __future__ import annotations

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


@each_rule
def test_the_same_rig_gives_the_same_words(packed: PackedRule) -> None:
    help_page = page(packed.rule)

    def words() -> list[tuple[object, ...]]:
        found = findings_of(help_page.breaks, packed, help_page)
        return [(item.rule, item.subject, item.message, item.consequence, item.help, item.ports) for item in found]

    assert words() == words()
