"""Which boxes work with which desks, in Markdown: for a page that a buyer reads."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rigdsl.plan.match import Match
from rigdsl.reports.look import clean
from rigdsl.reports.pairs import LEGEND, Matches, mark, sections
from rigdsl.rig import Model

__all__ = ["match_markdown"]

# What CommonMark, or the tables of its common extension, takes for a mark of its own.
MARKS = re.compile(r"([\\`*_{}\[\]<>()#+\-.!|~&$:@^=])")


def match_markdown(found: Matches) -> bytes:
    """A table of desks and boxes, and the reasons as lists."""
    return ("\n".join(_lines(found)) + "\n").encode("utf-8", "replace")


def _lines(found: Matches) -> Iterator[str]:
    yield from ("# Which boxes work with which desks", "")
    boxes = {pair.box.name: pair.box for pair in found.pairs}
    rows: dict[str, list[Match]] = {}
    for pair in found.pairs:
        rows.setdefault(pair.desk.name, []).append(pair)
    yield _row(["", *map(_title, boxes.values())])
    yield _row(["---"] * (len(boxes) + 1))
    for row in rows.values():
        yield _row([_title(row[0].desk), *(_escaped(mark(pair)) for pair in row)])
    yield from ("", LEGEND)
    for heading, told in sections(found):
        yield from ("", f"## {heading}", "")
        for text, pairs in told:
            yield f"- {text}"
            yield from (f"  - {pair}" for pair in pairs)


def _row(cells: list[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _title(model: Model) -> str:
    """Its label and its name; a name has no mark in it."""
    return f"{_escaped(model.label)} (`{model.name}`)" if model.label else f"`{model.name}`"


def _escaped(text: str) -> str:
    """A label as plain text; a backslash before a mark makes it a character (CommonMark, backslash escapes)."""
    return MARKS.sub(r"\\\1", clean(text).replace("\t", " "))
