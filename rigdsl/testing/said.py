"""What is said of a rig in a test: by all rules, or by one of them alone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.lint import Verdict, lint
from rigdsl.lint.options import chosen
from rigdsl.lint.rule import PackedRule, Rule, Sockets
from rigdsl.packs import Installed, Pack, Packs, discover, pack_faults
from rigdsl.paths import Paths
from rigdsl.rig import DictReader, Rig, load
from rigdsl.text import Source

__all__ = ["NAME", "alone", "findings", "packs_of", "rules_on", "short", "verdict_of", "wrong"]

NAME = "test.rig"


def findings(
    text: str, pack: Pack | None = None, options: Mapping[str, Mapping[str, Any]] | None = None
) -> list[Finding]:
    """All that rigdsl's rules and the pack's say of a rig, in the order of the file: those rules that are on.

    `options` are by the name of the rule, as `rig.toml` has them; a rule that has an entry is run though it be off.
    """
    return list(verdict_of(_read(text, pack), rules_on(pack, options or {}), options or {}).findings)


def wrong(text: str, pack: Pack | None = None, options: Mapping[str, Mapping[str, Any]] | None = None) -> list[Finding]:
    """The errors and warnings among them; AssertionError where the rig cannot be read without a fault."""
    _clean(_read(text, pack))
    return [finding for finding in findings(text, pack, options) if finding.level != Level.NOTE]


def alone(
    rule: Rule[Any], text: str, options: Mapping[str, Any] | None = None, libraries: Iterable[Source] = ()
) -> list[Finding]:
    """What one rule says by itself; AssertionError where the rig cannot be read without a fault."""
    rig = _clean(load(NAME, DictReader({NAME: text}), libraries).rig)
    told = rule.check(rig, Paths(rig), chosen(rule.options, options or {}))
    return [one.tell(one.ports) if isinstance(one, Sockets) else one for one in told]


def _read(text: str, pack: Pack | None) -> Rig:
    return load(NAME, DictReader({NAME: text}), packs_of(pack).libraries).rig


def _clean(rig: Rig) -> Rig:
    faults = [finding.message for finding in rig.findings]
    assert faults == [], faults
    return rig


@cache
def _installed() -> Packs:
    return discover()


def packs_of(pack: Pack | None) -> Packs:
    """rigdsl's own packs, and this one beside them; ValueError where it cannot be used."""
    ours = _installed()
    if pack is None or any(item.pack == pack for item in ours.installed):
        return ours
    faults = pack_faults(pack, pack.name if isinstance(pack, Pack) else repr(pack), ours.installed)
    if faults:
        raise ValueError("; ".join(faults))
    return Packs((*ours.installed, Installed(pack, "", named=True)))


def rules_on(pack: Pack | None, asked: Iterable[str]) -> list[PackedRule]:
    """The rules that are on, and those asked for."""
    names = frozenset(asked)
    return [packed for packed in packs_of(pack).rules if packed.rule.on or packed.name in names]


def verdict_of(rig: Rig, rules: Sequence[PackedRule], options: Mapping[str, Mapping[str, Any]]) -> Verdict:
    """What rules say of a rig; AssertionError where one of them breaks down."""
    values = {packed.name: chosen(packed.rule.options, options.get(packed.name, {})) for packed in rules}
    verdict = lint(rig, Paths(rig), rules, options=values)
    assert not verdict.crashed, [finding.message for finding in verdict.findings if finding.rule == "rule-crashed"]
    return verdict


def short(finding: Finding) -> str:
    """A finding in one line."""
    return f"line {finding.place.from_position.line}: {finding.rule} {finding.subject}: {finding.message}"
