"""What all rules together say of a small rig: so one cause is seen to give one finding."""

from __future__ import annotations

from rigdsl.finding import Finding, Level
from rigdsl.lint import lint
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.rig import read

__all__ = ["told", "wrong"]

RULES = [packed for packed in discover().rules if packed.rule.on]


def wrong(text: str) -> list[Finding]:
    """Errors and warnings, in the order of the file; the rig must be one that reads without a fault."""
    rig = read(text)
    assert [finding.message for finding in rig.findings] == []
    verdict = lint(rig, Paths(rig), RULES)
    assert not verdict.crashed, verdict.findings
    return [finding for finding in verdict.findings if finding.level != Level.NOTE]


def told(text: str) -> list[str]:
    """The same in short: "error lost-patch SL.mic 1 -> DESK.ch 1"."""
    return [f"{item.level} {item.rule} {item.subject}" for item in wrong(text)]
