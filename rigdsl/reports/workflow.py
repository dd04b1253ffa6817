"""Findings as workflow commands: a CI service that reads the log shows each one beside its line.

The service takes ten of each level from one step and drops the rest without a word, so the worst stand first and one
line says how many more there are. What is accepted or known is left out.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence

from rigdsl.finding import Level
from rigdsl.lint.order import worst_first
from rigdsl.packs import Refused
from rigdsl.reports.report import Checked, Item, Report, counted
from rigdsl.reports.spot import Where, spot

__all__ = ["workflow"]

MOST = 10  # annotations of one level that the service takes from one step
COMMAND = {Level.ERROR: "error", Level.WARNING: "warning", Level.NOTE: "notice"}


def workflow(report: Report, refused: Sequence[Refused], where: Where) -> bytes:
    """A line for each annotation, in UTF-8; nothing where there is nothing to tell."""
    told = _worst_first(report)
    shown: dict[Level, list[str]] = {level: [] for level in COMMAND}
    shown[Level.ERROR] = [
        _command("error", f"the pack `{pack.name}` {pack.version} is left out: {pack.reason}", title="pack left out")
        for pack in refused[:MOST]
    ]
    left = dict.fromkeys(COMMAND, 0)
    room = dict.fromkeys(COMMAND, MOST)
    if _too_many(told, shown, room):
        room[Level.NOTE] -= 1  # the line about the rest is a notice too
    for checked, item in told:
        if len(shown[item.level]) < room[item.level]:
            shown[item.level].append(_annotation(checked, item, where))
        else:
            left[item.level] += 1
    lines = [*shown[Level.ERROR], *shown[Level.WARNING], *shown[Level.NOTE], *_rest(left)]
    return "".join(f"{line}\n" for line in lines).encode("utf-8", "replace")


def _worst_first(report: Report) -> list[tuple[Checked, Item]]:
    told = [(checked, item) for checked, item in report.told if item.by is None and not item.known]
    order = {id(finding): at for at, finding in enumerate(worst_first(item.finding for _, item in told))}
    return sorted(told, key=lambda one: order[id(one[1].finding)])


def _too_many(told: list[tuple[Checked, Item]], shown: dict[Level, list[str]], room: dict[Level, int]) -> bool:
    counts = {level: len(lines) for level, lines in shown.items()}
    for _, item in told:
        counts[item.level] += 1
    return any(counts[level] > room[level] for level in counts)


def _rest(left: dict[Level, int]) -> Iterator[str]:
    if any(left.values()):
        said = counted([(left[level], str(level)) for level in sorted(left, reverse=True)])
        more = "is one more" if sum(left.values()) == 1 else f"are {sum(left.values())} more"
        yield _command("notice", f"there {more}: {said}; `rigdsl check` lists them all", title="more findings")


def _annotation(checked: Checked, item: Item, where: Where) -> str:
    finding = item.finding
    at = spot(finding.place, checked.path, where)
    parts = [finding.message]
    if finding.consequence:
        parts.append(f"on the night: {finding.consequence}")
    if finding.help:
        parts.append(f"to mend it: {finding.help}")
    place: dict[str, str | int] = {
        "file": at.path,
        "line": at.line,
        "endLine": at.line,
        "col": at.column,
        "endColumn": at.end_column,
    }
    return _command(COMMAND[item.level], "\n".join(parts), **place, title=finding.rule)


def _command(name: str, message: str, **properties: str | int) -> str:
    said = ",".join(f"{key}={_property(str(value))}" for key, value in properties.items())
    return f"::{name} {said}::{_data(message)}"


def _data(text: str) -> str:
    """Text on one line: `%`, CR and LF as the service reads them back; what steers a terminal is taken out."""
    text = text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")
    return "".join(
        "?" if unicodedata.category(character) in ("Cc", "Cs", "Zl", "Zp") else character for character in text
    )


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
