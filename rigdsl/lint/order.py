"""The two orders of findings: by place for files and programs, by weight for people."""

from __future__ import annotations

from collections.abc import Iterable

from rigdsl.finding import Finding, Level
from rigdsl.rig import natural

__all__ = ["in_file_order", "place_key", "worst_first"]


def place_key(finding: Finding) -> tuple[str, int, str, str, str]:
    """By file, place, rule, subject; the message breaks the last ties."""
    return finding.place.source.path, finding.place.start, finding.rule, finding.subject, finding.message


def in_file_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """As files, JSON and other programs have them."""
    return tuple(sorted(findings, key=place_key))


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """As a person reads them: errors, then warnings, then notes; in each, first the box that silences most,
    with all that is said about it together."""
    findings = tuple(findings)
    most: dict[tuple[Level | None, str], int] = {}
    for finding in findings:
        group = finding.level, finding.box
        most[group] = max(most.get(group, 0), len(finding.silent))

    def key(finding: Finding) -> tuple[object, ...]:
        group = finding.level, finding.box
        return -(finding.level or 0), -most[group], natural(finding.box), -len(finding.silent), place_key(finding)

    return tuple(sorted(findings, key=key))
