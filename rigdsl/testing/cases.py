"""Cases: rigs whose lines say in a remark what is to be found there."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.packs import Pack
from rigdsl.rig import DiskReader, load, project_root, typed
from rigdsl.syntax import tokens
from rigdsl.testing.said import packs_of, rules_on, short, verdict_of
from rigdsl.text import Source, Span

__all__ = ["case_faults"]

MARK = re.compile(r"(?P<rule>[a-z0-9/-]+)(?:\s+(?P<subject>.*))?")


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
    loaded = load(shown, DiskReader(project_root(shown)), packs_of(pack).libraries)
    expected = [one for source in loaded.sources if source.path == shown for one in _expected(source)]
    rules = rules_on(pack, {*(options or {}), *(one.rule for one in expected)})
    said = verdict_of(loaded.rig, rules, options or {}).findings
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
            faults.append((finding.place.from_position.line, f"{where}{short(finding)}: this was not expected"))
    return [words for _, words in sorted(faults)]


def _expected(source: Source) -> Iterator[_Expected]:
    """The remarks of a case; a `#!` inside a label is none."""
    for token in tokens(source):
        if token.kind != "COMMENT":
            continue
        line = Span(source, token.start, token.end).from_position.line
        for remark in token.text.split("#!")[1:]:
            found = MARK.fullmatch(remark.strip())
            if found is None:
                raise ValueError(f"line {line}: after `#!` stands the name of a rule, and a subject: `{remark}`")
            yield _Expected(line, found["rule"], (found["subject"] or "").strip())
