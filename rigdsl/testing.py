"""What a pack's own tests need, with plain pytest: its pages are true, its cases hold, no rig breaks it down.

    from rigdsl import testing
    from rigdsl_road_rules import pack

    def test_the_pages_are_true():
        assert testing.page_faults(pack) == []

    def test_a_case():
        assert testing.case_faults("tests/cases/cable-colour.rig", pack) == []

    def test_no_rig_breaks_it_down():
        assert testing.breakdowns(pack) == []

Every one gives what is wrong as lines of text: nothing where all is well. The same input gives the same lines.

A case is a rig file in which every line that a rule is to find something in ends in a remark, with the name of the
rule and the subject of the finding, which may be left out:

    link C01: SL.A -- DESK.stage via cat6 30 m   #! road-rules/cable-colour C01

Errors and warnings of any rule, and all that the pack's own rules say, must be expected so. Several remarks may stand
behind one line. A case may `use` files beside it.
"""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from random import Random
from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.lint import Verdict, lint
from rigdsl.lint.options import chosen
from rigdsl.lint.pages import BREAKS, CONSEQUENCE, KEEPS, Page, page
from rigdsl.lint.rule import PackedRule, Rule, Sockets
from rigdsl.packs import Installed, Pack, Packs, discover, pack_faults
from rigdsl.paths import Paths
from rigdsl.rig import DictReader, DiskReader, Rig, load, project_root, typed
from rigdsl.text import Source

__all__ = [
    "alone",
    "breakdowns",
    "broken_by",
    "case_faults",
    "findings",
    "page_faults",
    "page_findings",
    "wording_faults",
    "wrong",
]

NAME = "test.rig"
MARK = re.compile(r"(?P<rule>[a-z0-9/-]+)(?:\s+(?P<subject>.*))?")
LONGEST_SUMMARY = 120

# ---- What is said of a rig


def findings(
    text: str, pack: Pack | None = None, options: Mapping[str, Mapping[str, Any]] | None = None
) -> list[Finding]:
    """All that rigdsl's rules and the pack's say of a rig, in the order of the file: those rules that are on.

    `options` are by the name of the rule, as `rig.toml` has them; a rule that has an entry is run though it be off.
    """
    return list(_verdict(_read(text, pack), _run(pack, options or {}), options or {}).findings)


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
    return load(NAME, DictReader({NAME: text}), _packs(pack).libraries).rig


def _clean(rig: Rig) -> Rig:
    faults = [finding.message for finding in rig.findings]
    assert faults == [], faults
    return rig


@cache
def _installed() -> Packs:
    return discover()


def _packs(pack: Pack | None) -> Packs:
    """rigdsl's own packs, and this one beside them; ValueError where it cannot be used."""
    ours = _installed()
    if pack is None or any(item.pack == pack for item in ours.installed):
        return ours
    faults = pack_faults(pack, pack.name if isinstance(pack, Pack) else repr(pack), ours.installed)
    if faults:
        raise ValueError("; ".join(faults))
    return Packs((*ours.installed, Installed(pack, "", named=True)))


def _run(pack: Pack | None, asked: Iterable[str]) -> list[PackedRule]:
    """The rules that are on, and those asked for."""
    names = frozenset(asked)
    return [packed for packed in _packs(pack).rules if packed.rule.on or packed.name in names]


def _verdict(rig: Rig, rules: Sequence[PackedRule], options: Mapping[str, Mapping[str, Any]]) -> Verdict:
    """What rules say of a rig; AssertionError where one of them breaks down."""
    values = {packed.name: chosen(packed.rule.options, options.get(packed.name, {})) for packed in rules}
    verdict = lint(rig, Paths(rig), rules, options=values)
    assert not verdict.crashed, [finding.message for finding in verdict.findings if finding.rule == "rule-crashed"]
    return verdict


# ---- Pages


def page_faults(pack: Pack, rule: str = "") -> list[str]:
    """What is wrong with the help pages of a pack's rules, or of one of them.

    A page has a summary of one line, what happens on the night, a rig that breaks this rule and no other, and a rig
    that keeps all of them. What the rule says of the first reads as all findings do.
    """
    try:
        _packs(pack)
    except ValueError as error:
        return [str(error)]
    rules = [one for one in pack.rules if rule in ("", one.name)]
    if not rules:
        return [f"the pack has no rule `{rule}`" if rule else "the pack has no rules"]
    return [f"{one.name}: {fault}" for one in rules for fault in _page_faults(pack, one)]


def page_findings(pack: Pack, rule: Rule[Any], text: str) -> list[Finding]:
    """What is said of a rig of a rule's page, with the options that the page shows."""
    return findings(text, pack, {rule.name: page(rule).options})


def _page_faults(pack: Pack, rule: Rule[Any]) -> Iterator[str]:
    shown = page(rule)
    yield from _missing(shown)
    if not shown.breaks or not shown.keeps:
        return
    broken = page_findings(pack, rule, shown.breaks)
    if all(finding.rule != rule.name for finding in broken):
        yield f"the rig under `{BREAKS}` does not break it"
    for finding in broken:
        if finding.rule == rule.name:
            yield from wording_faults(finding)
        elif finding.level != Level.NOTE:
            yield f"the rig under `{BREAKS}` breaks another rule too: {_short(finding)}"
    for finding in page_findings(pack, rule, shown.keeps):
        if finding.level != Level.NOTE or finding.rule == rule.name:
            yield f"the rig under `{KEEPS}` breaks a rule: {_short(finding)}"


def _missing(shown: Page) -> Iterator[str]:
    if not shown.summary.endswith("."):
        yield f"the first line is no sentence with a full stop: {shown.summary!r}"
    if len(shown.summary) > LONGEST_SUMMARY:
        yield f"the first line has {len(shown.summary)} letters, and {LONGEST_SUMMARY} are the most"
    if not shown.sections.get(CONSEQUENCE):
        yield f"there is no text under `## {CONSEQUENCE}`"
    for heading, text in ((BREAKS, shown.breaks), (KEEPS, shown.keeps)):
        if not text.startswith("rig "):
            yield f"there is no rig in a block of code under `## {heading}` (it begins with its head: `rig`)"


def _short(finding: Finding) -> str:
    return f"line {finding.place.from_position.line}: {finding.rule} {finding.subject}: {finding.message}"


def wording_faults(finding: Finding) -> list[str]:
    """Where a finding does not read as all of them do: three texts with small first letters and without full stops.

    None of them asks a question or has a word that only a program knows.
    """
    fields = {"message": finding.message, "consequence": finding.consequence, "help": finding.help}
    faults = [f"a finding has no `{name}`" for name, text in {"subject": finding.subject, **fields}.items() if not text]
    for text in (*fields.values(), *(one.message for one in finding.related)):
        faults += [f"{fault}: {text!r}" for fault in _wording(text)]
    return faults


def _wording(text: str) -> Iterator[str]:
    if text[:1].isupper():
        yield "a finding begins with a capital letter"
    if text.endswith("."):
        yield "a finding ends in a full stop"
    if "?" in text:
        yield "a finding asks a question"
    if re.search(r"\bNone\b", text):
        yield "a finding says None"
    if text != " ".join(text.split(" ")).strip() or "  " in text or "\n" in text:
        yield "a finding has spaces at an end, two in a row, or a line break"


# ---- Cases


@dataclass(frozen=True)
class _Expected:
    """One remark of a case."""

    line: int
    rule: str
    subject: str

    def fits(self, finding: Finding) -> bool:
        """Whether a finding is the one that is meant."""
        same = (self.line, self.rule) == (finding.place.from_position.line, finding.rule)
        return same and self.subject in ("", finding.subject)


def case_faults(
    path: str | os.PathLike[str], pack: Pack | None = None, options: Mapping[str, Mapping[str, Any]] | None = None
) -> list[str]:
    """Where a case does not hold: what it expects and nobody says, what is said and not expected.

    `path` is a rig file with remarks; see the head of this module. A rule that is off is run where a remark names it.
    """
    shown = typed(os.fspath(path))
    loaded = load(shown, DiskReader(project_root(shown)), _packs(pack).libraries)
    text = next((source.text for source in loaded.sources if source.path == shown), "")
    expected = list(_expected(text))
    rules = _run(pack, {*(options or {}), *(one.rule for one in expected)})
    said = _verdict(loaded.rig, rules, options or {}).findings
    own = {rule.name for rule in pack.rules} if pack else set()
    here = [finding for finding in said if finding.place.source.path == shown]
    faults = [
        (one.line, f"line {one.line}: `{one.rule}` says nothing{f' of `{one.subject}`' if one.subject else ''}")
        for one in expected
        if not any(one.fits(finding) for finding in here)
    ]
    for finding in said:
        told = finding.level != Level.NOTE or finding.rule in own
        meant = finding in here and any(one.fits(finding) for one in expected)
        if told and not meant:
            where = "" if finding in here else f"{finding.place.source.path}, "
            faults.append((finding.place.from_position.line, f"{where}{_short(finding)}: this was not expected"))
    return [words for _, words in sorted(faults)]


def _expected(text: str) -> Iterator[_Expected]:
    for number, line in enumerate(text.splitlines(), 1):
        for remark in line.split("#!")[1:]:
            found = MARK.fullmatch(remark.strip())
            if found is None:
                raise ValueError(f"line {number}: after `#!` stands the name of a rule, and a subject: `{remark}`")
            yield _Expected(number, found["rule"], (found["subject"] or "").strip())


# ---- Any rig at all


def breakdowns(pack: Pack, rigs: int = 200, seed: int = 1) -> list[str]:
    """What goes wrong when rigs that have lost lines, have them twice, or have words swapped are checked.

    They are made of the rigs of all pages, by a seed: the same ones in every run. Each line names the rig's number,
    and the text of the first rig that breaks anything stands at the end.
    """
    pages = [page(packed.rule) for packed in _packs(pack).rules]
    texts = [text for shown in pages for text in (shown.breaks, shown.keeps) if text]
    own = {rule.name for rule in pack.rules}
    rules = [packed for packed in _packs(pack).rules if packed.name in own]
    chance = Random(seed)
    faults: list[str] = []
    first = ""
    for number in range(1, rigs + 1):
        text = _spoilt(chance.choice(texts), chance.choice(texts), chance)
        found = broken_by(text, rules, _packs(pack).libraries)
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
