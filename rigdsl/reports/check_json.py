"""Findings for programs: one JSON document, whose schema is `grammar/check.schema.json`."""

from __future__ import annotations

import json
from typing import Any

from rigdsl.finding import Fix
from rigdsl.reports.report import Item, Report
from rigdsl.text import Span

__all__ = ["check_json", "dumped"]


def check_json(report: Report, accepted: bool = False, known: bool = False) -> bytes:
    """The document, in UTF-8; accepted and known findings are counted always and listed where asked for."""
    return dumped(
        {
            "tool": {
                "name": "rigdsl",
                "version": report.version,
                "packs": [{"name": name, "version": version} for name, version in report.packs],
            },
            "rigs": list(report.rigs),
            "findings": [_finding(item) for item in report.listed(accepted, known)],
            "counts": report.counts,
        }
    )


def dumped(value: object) -> bytes:
    """A JSON document as bytes: two spaces a level, a line end at the end."""
    return (json.dumps(value, indent=2, ensure_ascii=False) + "\n").encode("utf-8", "replace")


def _finding(item: Item) -> dict[str, Any]:
    finding = item.finding
    return {
        "rule": finding.rule,
        "level": str(item.level),
        "subject": finding.subject,
        "ports": list(finding.ports),
        "message": finding.message,
        "consequence": finding.consequence,
        "help": finding.help,
        **_from(finding.place),
        **_to(finding.place),
        "related": [{**_from(other.place), "message": other.message} for other in finding.related],
        "fixes": [_fix(fix) for fix in finding.fixes],
        "accepted": {"because": item.by.because, "until": item.by.until or None} if item.by else None,
        "known": item.known,
    }


def _fix(fix: Fix) -> dict[str, Any]:
    edits = [{**_from(edit.place), **_to(edit.place), "text": edit.text} for edit in fix.edits]
    return {"title": fix.title, "safe": fix.safe, "edits": edits}


def _from(place: Span) -> dict[str, Any]:
    """Where a place begins; columns count characters from 1."""
    position = place.from_position
    return {"file": place.source.path, "line": position.line, "column": position.column}


def _to(place: Span) -> dict[str, Any]:
    """Where it ends: the place behind its last character."""
    position = place.to_position
    return {"end_line": position.line, "end_column": position.column}
