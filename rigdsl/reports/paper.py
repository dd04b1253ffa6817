"""A paper as Markdown or CSV: what a user wrote stays text in both."""

from __future__ import annotations

import csv
import io
import re

from rigdsl.papers import Table
from rigdsl.reports.look import clean
from rigdsl.rig import Rig

__all__ = ["paper_csv", "paper_md"]

# What Markdown would take for itself (CommonMark 0.31, "backslash escapes"), and `|`, which ends a field of a table.
MARKED = re.compile(r"([\\`*_<>\[\]|~#&])")
# What a spreadsheet takes for the start of a formula, the wide forms of some scripts too (OWASP, "CSV injection").
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def paper_md(title: str, rig: Rig, table: Table) -> str:
    """A heading, the facts of the rig, the table, its notes."""
    head = rig.head
    name = f"# {title}" + (f": {_words(head.title)}" if head.title else "")
    facts = [f"revision {head.revision}" if head.revision else "", head.date]
    parts = [name, ", ".join(_words(fact) for fact in facts if fact), _grid(table)]
    parts.append("\n".join(f"- {_words(note)}" for note in table.notes))
    return "\n\n".join(part for part in parts if part) + "\n"


def _grid(table: Table) -> str:
    lines = [table.columns, ("---",) * len(table.columns)]
    ruled = [f"| {' | '.join(map(_words, lines[0]))} |", f"|{'|'.join(lines[1])}|"]
    return "\n".join([*ruled, *(f"| {' | '.join(map(_words, row))} |" for row in table.rows)])


def _words(text: str) -> str:
    """Text that Markdown prints as it stands, on one line."""
    return MARKED.sub(r"\\\1", clean(" ".join(text.split())))


def paper_csv(table: Table) -> bytes:
    """The columns and rows as RFC 4180 has them, in UTF-8; the notes have no place in it.

    A field that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerows([[_cell(field) for field in row] for row in (table.columns, *table.rows)])
    return out.getvalue().encode("utf-8", "replace")


def _cell(text: str) -> str:
    return f"'{text}" if text.startswith(FORMULA) or text.lstrip().startswith(FORMULA) else text
