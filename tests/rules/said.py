"""What one rule says of a small rig."""

from __future__ import annotations

from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import Rule, Sockets
from rigdsl.paths import Paths
from rigdsl.rig import read

__all__ = ["Said", "findings", "said"]

# Level, subject, message: what a user reads first.
Said = tuple[str, str, str]


def findings(rule: Rule[Any], text: str, **options: object) -> list[Finding]:
    """The findings of a rule, by itself; the rig must be one that reads without a fault."""
    rig = read(text)
    assert [finding.message for finding in rig.findings] == []
    told = rule.check(rig, Paths(rig), rule.options(**options))
    return [one.tell(one.ports) if isinstance(one, Sockets) else one for one in told]


def said(rule: Rule[Any], text: str, **options: object) -> list[Said]:
    """The same, in short."""
    found = findings(rule, text, **options)
    return [(str(Level(one.level or rule.level)), one.subject, one.message) for one in found]
