"""Rigs that are spoilt by chance: whatever they have lost or got twice, no rule breaks down."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from random import Random

from rigdsl.lint import lint
from rigdsl.lint.pages import page
from rigdsl.lint.rule import PackedRule
from rigdsl.packs import Pack
from rigdsl.paths import Paths
from rigdsl.rig import DictReader, load
from rigdsl.testing.said import NAME, packs_of
from rigdsl.text import Source

__all__ = ["breakdowns", "broken_by"]


def breakdowns(pack: Pack, rigs: int = 200, seed: int = 1) -> list[str]:
    """What goes wrong when rigs that have lost lines, have them twice, or have words swapped are checked.

    They are made of the rigs of all pages, by a seed: the same ones in every run. Each line names the rig's number,
    and the text of the first rig that breaks anything stands at the end.
    """
    pages = [page(packed.rule) for packed in packs_of(pack).rules]
    texts = [text for shown in pages for text in (shown.breaks, shown.keeps) if text]
    own = {rule.name for rule in pack.rules}
    rules = [packed for packed in packs_of(pack).rules if packed.name in own]
    chance = Random(seed)
    faults: list[str] = []
    first = ""
    for number in range(1, rigs + 1):
        text = _spoilt(chance.choice(texts), chance.choice(texts), chance)
        found = broken_by(text, rules, packs_of(pack).libraries)
        faults += [f"rig {number}: {fault}" for fault in found]
        first = first or (text if found else "")
    return [*faults, first] if faults else []


def broken_by(text: str, rules: Sequence[PackedRule], libraries: Iterable[Source] = ()) -> list[str]:
    """What no rule may do on any rig: break down, say nothing of nothing, point outside the files."""
    rig = load(NAME, DictReader({NAME: text}), libraries).rig
    verdict = lint(rig, Paths(rig), rules)
    faults = []
    for finding in verdict.findings:
        if finding.rule == "rule-crashed":
            faults.append(finding.message)
        elif not finding.message or not finding.subject:
            faults.append(f"{finding.rule}: a finding without a message or a subject")
        elif not 0 <= finding.place.start <= finding.place.end <= len(finding.place.source.text):
            faults.append(f"{finding.rule}: a finding whose place is outside its file")
    names = {packed.name for packed in rules}
    counts = Counter((finding.rule, finding.subject) for finding in verdict.findings if finding.rule in names)
    faults += [f"{rule}: two findings of `{subject}`" for (rule, subject), number in counts.items() if number > 1]
    return faults


def _spoilt(one: str, other: str, chance: Random) -> str:
    """A rig with lines lost, lines of another rig among its own, or words swapped."""
    kind = chance.randrange(3)
    if kind == 0:
        lines = one.split("\n")
        lost = {chance.randrange(len(lines)) for _ in range(chance.randint(1, 4))}
        return "\n".join(line for at, line in enumerate(lines) if at not in lost)
    if kind == 1:
        lines = [*one.split("\n"), *other.split("\n")]
        return "\n".join(lines[at] for at in sorted(chance.choices(range(len(lines)), k=len(lines))))
    words = one.split(" ")
    for _ in range(chance.randint(1, 4)):
        here, there = chance.randrange(len(words)), chance.randrange(len(words))
        words[here], words[there] = words[there], words[here]
    return " ".join(words)
