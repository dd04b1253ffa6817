"""Findings for people: worst first, what silences most first, grouped by box, notes last and in one line each.

Each finding begins in the form of the GNU coding standards ("Formatting Error Messages"):
`file:line:column: level: message [rule]`, which editors and other programs read.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from rigdsl.finding import Finding, Level
from rigdsl.lint.order import worst_first
from rigdsl.reports.excerpt import excerpt
from rigdsl.reports.look import Look
from rigdsl.reports.report import Checked, Item, Report, counted
from rigdsl.text import Span

__all__ = ["ELSEWHERE", "NO_RIG", "at", "text", "whole"]

ELSEWHERE = "at no box"  # the heading of what belongs to none
NO_RIG = 'no rig was checked: nothing here has a `rig` head; to make a rig of it write `rig "TITLE" { }` at the top'
PLACES = 8  # so many other places are shown of one finding


def text(report: Report, look: Look, accepted: bool = False, known: bool = False) -> str:
    """The whole report; with `accepted` and `known` it also lists the findings that are."""
    listed = set(map(id, report.listed(accepted, known)))
    some = ((checked, [item for item in items if id(item) in listed]) for checked, items in report.by_file)
    told = [(checked, items) for checked, items in some if items]
    lines: list[str] = []
    for checked, items in told:
        if len(told) > 1:
            lines += [look.paint(f"{look.text(checked.path)}:", "bold"), ""]
        lines += _file(checked, items, look)
    return "\n".join([*lines, _closing(report, look), ""])


def at(place: Span) -> str:
    """`file:line:column`."""
    position = place.from_position
    return f"{place.source.path}:{position.line}:{position.column}"


def _file(checked: Checked, items: Sequence[Item], look: Look) -> Iterator[str]:
    open_ = worst_first(item.finding for item in items if item.is_open)
    serious = [finding for finding in open_ if finding.level != Level.NOTE]
    notes = [finding for finding in open_ if finding.level == Level.NOTE]
    several = len({finding.box for finding in serious}) > 1
    for box, group in groupby(serious, key=lambda finding: finding.box):
        if several:
            yield from (look.paint(f"-- {_called(checked, box, look)} --", "bold"), "")
        for finding in group:
            yield from whole(finding, look)
    if notes:
        yield from (_head(finding, look) for finding in notes)
        yield ""
    if any(not item.is_open for item in items):
        yield from (line for item in items if not item.is_open for line in _apart(item, look))
        yield ""


def _called(checked: Checked, name: str, look: Look) -> str:
    box = checked.rig.boxes.get(name)
    if box is None:
        return ELSEWHERE
    return look.text(f"{name}, {box.label}" if box.label else name)


def _head(finding: Finding, look: Look) -> str:
    level = look.level(finding.level or Level.ERROR)
    where = look.paint(look.text(at(finding.place)), "bold")
    return f"{where}: {level}: {look.text(finding.message)} [{look.text(finding.rule)}]"


def whole(finding: Finding, look: Look) -> Iterator[str]:
    """A finding with its line, the other places, what happens on the night, and how to mend it."""
    yield _head(finding, look)
    line, marks = excerpt(finding.place, look)
    number = str(finding.place.from_position.line)
    if line:
        bar = " " * len(number) + " |"
        yield f"  {look.paint(f'{number} |', 'dim')} {line}"
        yield f"  {look.paint(bar, 'dim')} {look.level(finding.level or Level.ERROR, marks)}"
    for other in finding.related[:PLACES]:
        yield from look.hanging("", f"{at(other.place)}: {other.message}")
    if len(finding.related) > PLACES:
        yield f"  and {counted([(len(finding.related) - PLACES, 'more place')])}"
    if finding.consequence:
        yield from look.hanging("on the night: ", finding.consequence)
    if finding.help:
        yield from look.hanging("to mend it: ", finding.help)
    yield ""


def _apart(item: Item, look: Look) -> Iterator[str]:
    """A finding that is accepted or known: one line, and why it does not count."""
    yield _head(item.finding, look)
    if item.known:
        yield from look.hanging("", "known from before")
    if item.by is not None:
        until = f" (until {item.by.until})" if item.by.until else ""
        yield from look.hanging(f"accepted in {at(item.by.place)}: ", f"{item.by.because}{until}")


def _closing(report: Report, look: Look) -> str:
    counts = report.counts
    found = counted([(counts[level], level) for level in ("error", "warning", "note")])
    if not report.rigs:
        return look.paint(f"{found}; {NO_RIG}" if found else NO_RIG, "bold")
    rigs = counted([(len(report.rigs), "rig")])
    apart = "".join(f"; {counts[name]} {name}" for name in ("accepted", "known") if counts[name])
    return look.paint(f"{found or 'nothing to mend'} in {rigs}{apart}", "bold")
