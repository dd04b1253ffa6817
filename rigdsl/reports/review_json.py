"""What a change means, for programs: one JSON document, by `grammar/compare.schema.json`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.reports.check_json import dumped
from rigdsl.review import Review

__all__ = ["review_json"]


def review_json(found: Review) -> bytes:
    """The document, in UTF-8."""
    return dumped(
        {
            "changes": [
                {
                    "kind": change.kind,
                    "what": change.what,
                    "name": change.name,
                    "fields": {name: list(values) for name, values in change.fields.items()},
                    "effects": list(change.effects),
                }
                for change in found.changes
            ],
            "effects": list(found.more),
            "findings": {"new": list(map(_finding, found.new)), "gone": list(map(_finding, found.gone))},
            "totals": {total.name: [total.was, total.now] for total in found.totals},
        }
    )


def _finding(finding: Finding) -> Mapping[str, Any]:
    return {
        "rule": finding.rule,
        "level": str(finding.level or Level.WARNING),
        "subject": finding.subject,
        "message": finding.message,
        "consequence": finding.consequence,
        "help": finding.help,
    }
