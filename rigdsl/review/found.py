"""Which findings came and which went, by rule and subject: a finding whose line was touched is still the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from rigdsl.finding import Finding
from rigdsl.review.renames import Renames

__all__ = ["come_and_gone", "only_here"]

Key = tuple[str, str]  # rule and subject


def come_and_gone(
    old: Sequence[Finding], new: Sequence[Finding], names: Renames
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """Those that are new and those that are no more; a subject may only be called otherwise now."""
    fresh = _fresh(names)
    before, now = Counter(_key(one, fresh) for one in old), Counter(_key(one, {}) for one in new)
    return _taken(new, now - before, {}), _taken(old, before - now, fresh)


def only_here(new: Sequence[Finding], olds: Iterable[tuple[Sequence[Finding], Renames]]) -> tuple[Finding, ...]:
    """Those that none of the other states has, each with what has got another name since."""
    most: Counter[Key] = Counter()
    for old, names in olds:
        most |= Counter(_key(one, _fresh(names)) for one in old)
    return _taken(new, Counter(_key(one, {}) for one in new) - most, {})


def _fresh(names: Renames) -> Mapping[str, str]:
    return {was: now for (_, was), now in names.items()}


def _key(finding: Finding, fresh: Mapping[str, str]) -> Key:
    head, sign, rest = finding.subject.partition(".")
    return finding.rule, f"{fresh.get(head, head)}{sign}{rest}"


def _taken(findings: Sequence[Finding], wanted: Counter[Key], fresh: Mapping[str, str]) -> tuple[Finding, ...]:
    """So many of each, in their order."""
    left, found = wanted.copy(), []
    for finding in findings:
        key = _key(finding, fresh)
        if left[key]:
            left[key] -= 1
            found.append(finding)
    return tuple(found)
