"""Whether the help pages of a pack's rules are true, and read as all do."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.lint.pages import BREAKS, CONSEQUENCE, KEEPS, Page, page
from rigdsl.lint.rule import Rule
from rigdsl.packs import Pack
from rigdsl.testing.said import findings, packs_of, short

__all__ = ["page_faults", "page_findings", "wording_faults"]

LONGEST_SUMMARY = 120


def page_faults(pack: Pack, rule: str = "") -> list[str]:
    """What is wrong with the help pages of a pack's rules, or of one of them.

    A page has a summary of one line, what happens on the night, a rig that breaks this rule and no other, and a rig
    that keeps all of them. What the rule says of the first reads as all findings do.
    """
    try:
        packs_of(pack)
    except ValueError as error:
        return [str(error)]
    rules = [one for one in pack.rules if rule in ("", one.name)]
    if not rules:
        return [f"the pack has no rule `{rule}`" if rule else "the pack has no rules"]
    return [f"{one.name}: {fault}" for one in rules for fault in _page_faults(pack, one)]


def page_findings(pack: Pack, rule: Rule[Any], text: str) -> list[Finding]:
    """What is said of a rig of a rule's page, with the options that the page shows."""
    return findings(text, pack, {rule.name: page(rule).options})


def _page_faults(pack: Pack, rule: Rule[Any]) -> Iterator[str]:
    shown = page(rule)
    yield from _missing(shown)
    if not shown.breaks or not shown.keeps:
        return
    broken = page_findings(pack, rule, shown.breaks)
    if all(finding.rule != rule.name for finding in broken):
        yield f"the rig under `{BREAKS}` does not break it"
    for finding in broken:
        if finding.rule == rule.name:
            yield from wording_faults(finding)
        elif finding.level != Level.NOTE:
            yield f"the rig under `{BREAKS}` breaks another rule too: {short(finding)}"
    for finding in page_findings(pack, rule, shown.keeps):
        if finding.level != Level.NOTE or finding.rule == rule.name:
            yield f"the rig under `{KEEPS}` breaks a rule: {short(finding)}"


def _missing(shown: Page) -> Iterator[str]:
    if not shown.summary.endswith("."):
        yield f"the first line is no sentence with a full stop: {shown.summary!r}"
    if len(shown.summary) > LONGEST_SUMMARY:
        yield f"the first line has {len(shown.summary)} letters, and {LONGEST_SUMMARY} are the most"
    if not shown.sections.get(CONSEQUENCE):
        yield f"there is no text under `## {CONSEQUENCE}`"
    for heading, text in ((BREAKS, shown.breaks), (KEEPS, shown.keeps)):
        if not text.startswith("rig "):
            yield f"there is no rig in a block of code under `## {heading}` (it begins with its head: `rig`)"


def wording_faults(finding: Finding) -> list[str]:
    """Where a finding does not read as all of them do: three texts with small first letters and without full stops.

    None of them asks a question or has a word that only a program knows.
    """
    fields = {"message": finding.message, "consequence": finding.consequence, "help": finding.help}
    faults = [f"a finding has no `{name}`" for name, text in {"subject": finding.subject, **fields}.items() if not text]
    for text in (*fields.values(), *(one.message for one in finding.related)):
        faults += [f"{fault}: {text!r}" for fault in _wording(text)]
    return faults


def _wording(text: str) -> Iterator[str]:
    if text[:1].isupper():
        yield "a finding begins with a capital letter"
    if text.endswith("."):
        yield "a finding ends in a full stop"
    if "?" in text:
        yield "a finding asks a question"
    if re.search(r"\bNone\b", text):
        yield "a finding says None"
    if text != " ".join(text.split(" ")).strip() or "  " in text or "\n" in text:
        yield "a finding has spaces at an end, two in a row, or a line break"
