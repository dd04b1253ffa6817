"""Findings for code-scanning services: one SARIF 2.1.0 log (OASIS) with one run.

All rules are declared, so that a rule that finds nothing any more closes what it found before; accepted and
known findings are among the results, marked as such.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from rigdsl.lint.order import worst_first
from rigdsl.packs import Refused
from rigdsl.reports.check_json import dumped
from rigdsl.reports.report import NOT_WHOLE, Checked, Item, Report
from rigdsl.reports.rule_list import Entry
from rigdsl.reports.sarif_results import results
from rigdsl.reports.sarif_rules import components, reference
from rigdsl.reports.spot import Where

__all__ = ["sarif"]

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
MOST_RESULTS = 25_000  # of one run: with more, a code-scanning service takes none


def sarif(report: Report, rules: Sequence[Entry], refused: Sequence[Refused], where: Where) -> bytes:
    """The log, in UTF-8. `rules` are all there are; `refused` the packs that were left out."""
    driver, extensions = components(report.version, report.packs, rules)
    references = reference(driver, extensions)
    told = _within_limits(report.told)
    notes = list(_notifications(report, refused, references))
    if len(told) < len(report.told):
        text = f"{len(report.told) - len(told)} more findings are left out: the worst {len(told)} are listed."
        notes.append({"level": "warning", "message": {"text": text}})
    done = not refused and report.whole
    run = {
        "tool": {"driver": driver, "extensions": extensions},
        "invocations": [{"executionSuccessful": done, "toolExecutionNotifications": notes}],
        "columnKind": "unicodeCodePoints",
        "defaultEncoding": "utf-8",
        "language": "en",
        "results": results(told, references, where),
    }
    return dumped({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]})


def _within_limits(told: Sequence[tuple[Checked, Item]]) -> Sequence[tuple[Checked, Item]]:
    if len(told) <= MOST_RESULTS:
        return told
    kept = {id(finding) for finding in worst_first(item.finding for _, item in told)[:MOST_RESULTS]}
    return [(checked, item) for checked, item in told if id(item.finding) in kept][:MOST_RESULTS]


def _notifications(
    report: Report, refused: Sequence[Refused], references: Mapping[str, Mapping[str, Any]]
) -> Iterator[dict[str, Any]]:
    """What kept the check from being whole: packs left out, rules that broke down, lines of `rig.toml`."""
    for pack in refused:
        text = f"The pack `{pack.name}` {pack.version} is left out: {pack.reason}."
        yield {"level": "error", "message": {"text": " ".join(text.split())}}
    for _, item in report.told:
        if item.finding.rule in NOT_WHOLE:
            about = references.get(item.finding.subject, {}).get("rule")
            about = {"id": item.finding.subject, **about} if about else None
            text = f"{item.finding.message[:1].upper()}{item.finding.message[1:]}; {item.finding.help}."
            yield {
                "level": "error",
                "message": {"text": text},
                **({"associatedRule": about} if about else {}),
            }
