"""What one rule says of a small rig, in short."""

from __future__ import annotations

from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import Rule
from rigdsl.testing import alone

__all__ = ["Said", "findings", "said"]

# Level, subject, message: what a user reads first.
Said = tuple[str, str, str]


def findings(rule: Rule[Any], text: str, **options: object) -> list[Finding]:
    """The findings of a rule, by itself, its options written as arguments."""
    return alone(rule, text, options)


def said(rule: Rule[Any], text: str, **options: object) -> list[Said]:
    """The same, in short."""
    found = findings(rule, text, **options)
    return [(str(Level(one.level or rule.level)), one.subject, one.message) for one in found]
