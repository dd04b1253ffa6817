"""What a change means, for programs: one JSON document, by `grammar/compare.schema.json`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.reports.check_json import dumped
from rigdsl.review import Change, Review

__all__ = ["change_record", "finding_record", "review_json", "reviews_json"]


def review_json(found: Review) -> bytes:
    """The document of one rig, in UTF-8."""
    return dumped(_record(found))


def reviews_json(found: Sequence[tuple[str, Review]]) -> bytes:
    """The document of several rigs by their files, in UTF-8."""
    return dumped({"rigs": [{"rig": rig, **_record(one)} for rig, one in found]})


def _record(found: Review) -> dict[str, Any]:
    return {
        "changes": [change_record(change) for change in found.changes],
        "effects": list(found.more),
        "findings": {"new": list(map(finding_record, found.new)), "gone": list(map(finding_record, found.gone))},
        "totals": {total.name: [total.was, total.now] for total in found.totals},
    }


def change_record(change: Change) -> dict[str, Any]:
    """A change with its effects."""
    return {
        "kind": change.kind,
        "what": change.what,
        "name": change.name,
        "fields": {name: list(values) for name, values in change.fields.items()},
        "effects": list(change.effects),
    }


def finding_record(finding: Finding) -> Mapping[str, Any]:
    """A finding as two states of a rig have it in common: without a place."""
    return {
        "rule": finding.rule,
        "level": str(finding.level or Level.WARNING),
        "subject": finding.subject,
        "message": finding.message,
        "consequence": finding.consequence,
        "help": finding.help,
    }
