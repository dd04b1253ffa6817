"""Texts in quotes, as a rig and its remarks have them: written, and read back as they were."""

from __future__ import annotations

import re
from collections.abc import Iterable

__all__ = ["Cells", "quoted", "read_cells", "unquoted", "written_cells"]

# What a row says, in the order of its columns: what the column is (or its heading), and the text.
Cells = tuple[tuple[str, str], ...]

TEXT = r'"((?:[^"\\]|\\.)*)"'
CELL = re.compile(rf"(?:([a-z]+) |{TEXT} ){TEXT}(?:; |$)")


def quoted(text: str) -> str:
    """A text as a label stands in a rig."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def unquoted(inner: str) -> str:
    """What stands between quotes, as it was."""
    return re.sub(r'\\(["\\])', r"\1", inner)


def written_cells(cells: Iterable[tuple[str, str]], fields: Iterable[str]) -> str:
    """A row as a remark: `channel "1"; name "Kick"; "Colour" "red"`; a heading that is no field stands in quotes."""
    known = frozenset(fields)
    return "; ".join(f"{what if what in known else quoted(what)} {quoted(text)}" for what, text in cells)


def read_cells(text: str) -> Cells:
    """The row of a remark; nothing where somebody has changed it so that it is none."""
    cells: list[tuple[str, str]] = []
    at = 0
    while at < len(text):
        found = CELL.match(text, at)
        if found is None:
            return ()
        field, heading, value = found.groups()
        cells.append((field or unquoted(heading or ""), unquoted(value)))
        at = found.end()
    return tuple(cells)
