"""Which findings came and which went, by rule and subject: a finding whose line was touched is still the same."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence

from rigdsl.finding import Finding, Level
from rigdsl.review.renamed_rig import GEAR
from rigdsl.review.renames import Renames

__all__ = ["come_and_gone", "only_here"]

Key = tuple[str, str]  # rule and subject
Words = tuple[str, str, str]
NAME = re.compile(r"`([^`\s.]+)")  # a name in a message, or the box of a socket


def come_and_gone(
    old: Sequence[Finding], new: Sequence[Finding], names: Renames
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """Those that are new and those that are no more; a subject may only be called otherwise now.

    An error that says something else now, such as how much does not get through a trunk, is among both.
    """
    fresh = _fresh(names)
    before, now = Counter(_key(one, fresh) for one in old), Counter(_key(one, {}) for one in new)
    was, is_now = {_words(one, fresh) for one in old}, {_words(one, {}) for one in new}
    come = _others(new, {}, was) | {id(one) for one in _taken(new, now - before, {})}
    gone = _others(old, fresh, is_now) | {id(one) for one in _taken(old, before - now, fresh)}
    return tuple(one for one in new if id(one) in come), tuple(one for one in old if id(one) in gone)


def only_here(new: Sequence[Finding], olds: Iterable[tuple[Sequence[Finding], Renames]]) -> tuple[Finding, ...]:
    """Those that none of the other states has, or errors that none of them has in these words.

    Each state comes with what has got another name since.
    """
    most: Counter[Key] = Counter()
    told: set[Words] = set()
    for old, names in olds:
        most |= Counter(_key(one, _fresh(names)) for one in old)
        told |= {_words(one, _fresh(names)) for one in old}
    come = {id(one) for one in _taken(new, Counter(_key(one, {}) for one in new) - most, {})}
    come |= _others(new, {}, told)
    return tuple(one for one in new if id(one) in come)


def _others(findings: Sequence[Finding], fresh: Mapping[str, str], told: Collection[Words]) -> set[int]:
    """Errors that are not told in these words."""
    return {id(one) for one in findings if one.level == Level.ERROR and _words(one, fresh) not in told}


def _fresh(names: Renames) -> Mapping[str, str]:
    return {was: now for (what, was), now in names.items() if what not in GEAR}


def _key(finding: Finding, fresh: Mapping[str, str]) -> Key:
    head, sign, rest = finding.subject.partition(".")
    return finding.rule, f"{fresh.get(head, head)}{sign}{rest}"


def _words(finding: Finding, fresh: Mapping[str, str]) -> Words:
    """The identity and the message, with the new names in it."""
    return (*_key(finding, fresh), NAME.sub(lambda name: f"`{_renamed(name[1], fresh)}", finding.message))


def _renamed(name: str, fresh: Mapping[str, str]) -> str:
    return fresh.get(name, name)


def _taken(findings: Sequence[Finding], wanted: Counter[Key], fresh: Mapping[str, str]) -> tuple[Finding, ...]:
    """So many of each, in their order."""
    left, found = wanted.copy(), []
    for finding in findings:
        key = _key(finding, fresh)
        if left[key]:
            left[key] -= 1
            found.append(finding)
    return tuple(found)
