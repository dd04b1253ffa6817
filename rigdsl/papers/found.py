"""The findings page: what is wrong with the rig, worst first, numbered as on the drawings."""

from __future__ import annotations

import posixpath

from rigdsl.finding import Finding, Level
from rigdsl.papers.lines import DEMO, held
from rigdsl.papers.table import Cell, Facts, Paper, Table

__all__ = ["FINDINGS"]

COLUMNS = ("no", "level", "rule", "what is wrong", "on the night", "what to do", "place")
NONE = "nothing was found: the rig holds together on paper; line-check it all the same"
ACCEPTED = "{} accepted in the rig, with reasons: rigdsl check --accepted lists them"


def _findings(facts: Facts) -> Table:
    rows = tuple(_row(number, finding, facts.path) for number, finding in enumerate(facts.findings, 1))
    accepted = ACCEPTED.format(facts.accepted), facts.accepted > 0
    return Table(COLUMNS, rows, held(((NONE, not rows), accepted, (DEMO, facts.rig.head.demo))))


def _row(number: int, finding: Finding, rig_path: str) -> tuple[Cell, ...]:
    line, _ = finding.place.from_position
    return (
        number,
        str(finding.level or Level.WARNING),
        finding.rule,
        finding.message,
        finding.consequence,
        finding.help,
        f"{_from(rig_path, finding.place.source.path)}:{line}",
    )


def _from(rig: str, file: str) -> str:
    """A file as it lies from the rig's own folder: the same wherever the paper is printed."""
    folder = posixpath.dirname(rig)
    return posixpath.relpath(file, folder or ".") if posixpath.isabs(file) == posixpath.isabs(rig) else file


FINDINGS = Paper("findings", "Findings", _findings, COLUMNS)
