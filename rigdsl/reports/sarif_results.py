"""Findings as results of SARIF 2.1.0 (OASIS)."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Mapping, Sequence
from hashlib import sha256
from typing import Any
from urllib.parse import quote

from rigdsl.finding import Edit, Finding, Fix, Level
from rigdsl.reports.report import Checked, Item
from rigdsl.reports.spot import Spot, Where, spot

__all__ = ["results"]

MOST_PLACES = 100  # related places of one result that a code-scanning service keeps
MOST_LINKS = 8  # of them in the text of the message
RANK = {Level.ERROR: 70.0, Level.WARNING: 40.0, Level.NOTE: 10.0}
MOST_SILENT = 29  # so that no warning ranks above an error, however much it silences


def results(
    told: Sequence[tuple[Checked, Item]], rules: Mapping[str, Mapping[str, Any]], where: Where
) -> list[dict[str, Any]]:
    """A result for each finding, in the order given; `rules` says how each rule is referred to."""
    parts = Counter((checked.path, item.finding.rule, item.finding.subject) for checked, item in told)
    seen: Counter[str] = Counter()
    made = []
    for checked, item in told:
        alone = parts[checked.path, item.finding.rule, item.finding.subject] == 1
        identity = _identity(item.finding, where(checked.path) or checked.path, "" if alone else _part(item))
        seen[identity] += 1
        fingerprints = {
            "primaryLocationLineHash": f"{identity[:16]}:{seen[identity]}",
            "rigdsl/v1": f"{identity}:{seen[identity]}",
        }
        result = _result(checked.path, item, where)
        made.append(
            {"ruleId": item.finding.rule, **rules.get(item.finding.rule, {}), **result}
            | {"partialFingerprints": fingerprints}
        )
    return made


def _identity(finding: Finding, rig: str, part: str) -> str:
    """What a finding is known by, wherever its lines move: the rule, the subject, the rig, and which part it is."""
    said = (finding.rule, finding.subject, rig, *([part] if part else []))
    return sha256("\0".join(said).encode("utf-8", "replace")).hexdigest()


def _part(item: Item) -> str:
    """Of a finding that is told in parts: the open one is the finding itself, the others say why they do not count."""
    if item.by is not None:
        return f"accepted {item.by.subject}"
    return "known" if item.known else ""


def _result(rig: str, item: Item, where: Where) -> dict[str, Any]:
    finding = item.finding
    related = [(where(other.place.source.path), other) for other in finding.related]
    places = [(spot(other.place, rig, where), other.message) for path, other in related if path][:MOST_PLACES]
    facts = {"subject": finding.subject, "ports": list(finding.ports), "silent": list(finding.silent)}
    return {
        "level": str(item.level),
        "message": {"text": _message(finding, [text for _, text in places])},
        "locations": [{**_location(spot(finding.place, rig, where)), **_logical(finding)}],
        "relatedLocations": [
            {"id": number, **_location(at), "message": {"text": _plain(text) or "here"}}
            for number, (at, text) in enumerate(places, 1)
        ],
        "rank": RANK[item.level] + min(len(finding.silent), MOST_SILENT),
        "suppressions": _suppressions(item, rig, where),
        "fixes": [made for fix in finding.fixes if (made := _fix(fix, where))],
        "properties": {name: value for name, value in facts.items() if value},
    }


def _message(finding: Finding, links: Sequence[str]) -> str:
    """Sentences: what is wrong (all that some views show), what follows, how to mend it, the other places."""
    parts = [finding.message]
    if finding.consequence:
        parts.append(f"on the night: {finding.consequence}")
    if finding.help:
        parts.append(f"to mend it: {finding.help}")
    sentences = [_sentence(_plain(part)) for part in parts]
    if links:
        listed = ", ".join(f"[{_link(text) or 'here'}]({number})" for number, text in enumerate(links[:MOST_LINKS], 1))
        more = f" and {len(links) - MOST_LINKS} more" if len(links) > MOST_LINKS else ""
        sentences.append(f"See {listed}{more}.")
    return " ".join(sentences)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?", "!")) else ".")


def _plain(text: str) -> str:
    """Words of a user's that are no placeholder (3.11.5: braces are doubled) and no link (3.11.6)."""
    return _braces(" ".join(text.split())).replace("](", "\\](")


def _link(text: str) -> str:
    """The text of a link: brackets and backslashes are escaped in it (3.11.6)."""
    text = _braces(" ".join(text.split())).replace("\\", "\\\\")
    return text.replace("[", "\\[").replace("]", "\\]")


def _braces(text: str) -> str:
    return text.replace("{", "{{").replace("}", "}}")


def _location(at: Spot) -> dict[str, Any]:
    region = {"startLine": at.line, "startColumn": at.column, "endLine": at.line, "endColumn": at.end_column}
    return {"physicalLocation": {"artifactLocation": {"uri": _uri(at.path)}, "region": region}}


def _uri(path: str) -> str:
    """A path as a relative reference (RFC 3986)."""
    return quote(os.fsencode(path), safe="/")


def _logical(finding: Finding) -> dict[str, Any]:
    """What it is about and the box it is shown under, by name."""
    named = [{"name": finding.box, "fullyQualifiedName": finding.box, "kind": "box"}] if finding.box else []
    if finding.subject:
        named.insert(0, {"name": finding.subject, "fullyQualifiedName": finding.subject, "kind": "subject"})
    return {"logicalLocations": named} if named else {}


def _suppressions(item: Item, rig: str, where: Where) -> list[dict[str, Any]]:
    """Why a finding does not count: an `accept` line of the rig, or the list of known findings."""
    if item.by is not None:
        until = f" (until {item.by.until})" if item.by.until else ""
        place = _location(spot(item.by.place, rig, where))
        because = f"{item.by.because}{until}" or "accepted"
        return [{"kind": "inSource", "status": "accepted", "justification": because, "location": place}]
    if item.known:
        return [{"kind": "external", "status": "accepted", "justification": "known from before"}]
    return []


def _fix(fix: Fix, where: Where) -> dict[str, Any] | None:
    """The edits file by file; None where one of them is in no file of the user's."""
    by_file: dict[str, list[Edit]] = {}
    for edit in fix.edits:
        by_file.setdefault(where(edit.place.source.path), []).append(edit)
    if "" in by_file or not by_file:
        return None
    changes = [
        {"artifactLocation": {"uri": _uri(path)}, "replacements": [_replacement(edit) for edit in edits]}
        for path, edits in sorted(by_file.items())
    ]
    return {"description": {"text": _plain(fix.title) or "mend it"}, "artifactChanges": changes}


def _replacement(edit: Edit) -> dict[str, Any]:
    start, end = edit.place.from_position, edit.place.to_position
    region = {"startLine": start.line, "startColumn": start.column, "endLine": end.line, "endColumn": end.column}
    return {"deletedRegion": region, "insertedContent": {"text": edit.text}}
