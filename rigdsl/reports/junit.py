"""Findings as JUnit XML: one test suite for each rig, one test case for each rule that ran.

A case for each rule, not for each finding: its name stays the same from run to run, so that a dashboard shows when a
rule began to fail and when it was mended. A case fails where, and only where, the exit status is 1 because of it;
milder and accepted findings stand in its output.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from xml.etree import ElementTree as Xml

from rigdsl.finding import Level
from rigdsl.packs import Refused
from rigdsl.reports.report import NOT_WHOLE, Checked, Item, Report
from rigdsl.reports.rule_list import Entry
from rigdsl.reports.sarif_rules import CORE
from rigdsl.reports.spot import Where

__all__ = ["junit"]

CRASHED = "rule-crashed"
# What XML 1.0 has no way to write at all.
UNWRITABLE = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def junit(
    report: Report, rules: Sequence[Entry], refused: Sequence[Refused], failing: Level | None, where: Where
) -> bytes:
    """The document, in UTF-8. Findings at `failing` or worse are failures (None: none is)."""
    core = {entry.name for entry in rules if entry.pack == CORE} - {CRASHED}
    suites = [_suite(checked, items, core, failing, where) for checked, items in report.by_file]
    if refused:
        suites.insert(0, _packs(refused))
    whole = Xml.Element("testsuites", {"name": "rigdsl"})
    for key in ("tests", "failures", "errors"):
        whole.set(key, str(sum(int(suite.get(key, "0")) for suite in suites)))
    whole.extend(suites)
    Xml.indent(whole)
    data: bytes = Xml.tostring(whole, encoding="utf-8", xml_declaration=True)
    return data + b"\n"


def _suite(checked: Checked, items: Iterable[Item], core: set[str], failing: Level | None, where: Where) -> Xml.Element:
    """The cases of one file, sorted by rule; a rule that broke down is an error of its own case."""
    by_case: dict[str, list[Item]] = {name: [] for name in core | checked.verdict.ran}
    for item in items:
        finding = item.finding
        by_case.setdefault(finding.subject if finding.rule == CRASHED else finding.rule, []).append(item)
    cases = [_case(name, of_it, failing) for name, of_it in sorted(by_case.items())]
    for case in cases:
        case.set("classname", _class(checked.path))
        case.set("file", _writable(where(checked.path) or checked.path))
    return _counted(checked.path, cases)


def _counted(name: str, cases: list[Xml.Element]) -> Xml.Element:
    counts = {
        "tests": len(cases),
        "failures": sum(case.find("failure") is not None for case in cases),
        "errors": sum(case.find("error") is not None for case in cases),
        "skipped": 0,
    }
    suite = Xml.Element("testsuite", {"name": _writable(name), **{key: str(count) for key, count in counts.items()}})
    suite.extend(cases)
    return suite


def _case(rule: str, items: Sequence[Item], failing: Level | None) -> Xml.Element:
    case = Xml.Element("testcase", {"name": _writable(rule)})
    crashed = [item for item in items if item.finding.rule in NOT_WHOLE]
    failed = [item for item in items if item not in crashed and _fails(item, failing)]
    for tag, those in (("error", crashed), ("failure", failed)):
        if those:
            worst = max(those, key=lambda item: item.level)  # the first of the worst
            more = f" (and {len(those) - 1} more)" if len(those) > 1 else ""
            words = {"message": _writable(worst.finding.message + more), "type": str(worst.level)}
            Xml.SubElement(case, tag, words).text = _writable("\n".join(map(_said, those)))
    others = [item for item in items if item not in crashed and item not in failed]
    if others:
        Xml.SubElement(case, "system-out").text = _writable("\n".join(map(_said, others)))
    return case


def _fails(item: Item, failing: Level | None) -> bool:
    return failing is not None and item.level >= failing and item.by is None and not item.known


def _packs(refused: Sequence[Refused]) -> Xml.Element:
    """A suite of its own for packs that were left out: what they look for was not looked for."""
    cases = []
    for pack in refused:
        case = Xml.Element("testcase", {"classname": "packs", "name": _writable(pack.name)})
        message = _writable(f"the pack `{pack.name}` {pack.version} is left out: {pack.reason}")
        Xml.SubElement(case, "error", {"message": message, "type": "error"}).text = message
        cases.append(case)
    return _counted("packs", cases)


def _said(item: Item) -> str:
    """A finding in the lines that the terminal has: the GNU form, the night, the way out, who accepted it."""
    finding = item.finding
    line, column = finding.place.from_position
    lines = [f"{finding.place.source.path}:{line}:{column}: {item.level}: {finding.message} [{finding.rule}]"]
    if finding.consequence:
        lines.append(f"  on the night: {finding.consequence}")
    if finding.help:
        lines.append(f"  to mend it: {finding.help}")
    if item.by is not None:
        until = f" (until {item.by.until})" if item.by.until else ""
        lines.append(f"  accepted: {item.by.because}{until}")
    elif item.known:
        lines.append("  known from before")
    return "\n".join(lines)


def _class(path: str) -> str:
    """The rig as a class name: dashboards make a tree of its parts, which they take apart at dots."""
    parts = [part for part in path.removesuffix(".rig").split("/") if part not in (".", "..")]
    return _writable(".".join(part.replace(".", "-") for part in parts))


def _writable(text: str) -> str:
    return UNWRITABLE.sub("?", text)
