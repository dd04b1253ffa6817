"""Which boxes work with which desks, for a terminal: a table of marks, then reasons, each told once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from rigdsl.reports.look import Look
from rigdsl.reports.pairs import LEGEND, Matches, sections

__all__ = ["match_text"]

WIDE = 120  # of a table where nothing says how wide the paper is
GAP = "  "
COLOURS = {"+": ("bold",), "~": ("yellow",), "-": ("dim",)}


def match_text(found: Matches, look: Look) -> str:
    """The table, what its marks mean, and the reasons under their headings."""
    lines = [*_table(found, look), "", *look.hanging("", LEGEND, ""), ""]
    for heading, told in sections(found):
        lines.append(look.paint(heading, "bold"))
        for text, pairs in told:
            lines += look.hanging("", text)
            for pair in pairs:
                lines += look.hanging("", pair, "      ")
        lines.append("")
    return "\n".join(lines)


def _table(found: Matches, look: Look) -> Iterator[str]:
    """Desks down and boxes across, or the other way about, whichever has room; else a line for each pair."""
    cells = found.cells
    turned = {(box, desk): text for (desk, box), text in cells.items()}
    room = look.columns or WIDE
    for rows, columns, marks in ((found.desks, found.boxes, cells), (found.boxes, found.desks, turned)):
        wide = _widths(rows, columns, marks)
        if sum(wide) + len(GAP) * (len(wide) - 1) <= room:
            yield _line(["", *columns], wide, look)
            for row in rows:
                yield _line([row, *(marks[row, column] for column in columns)], wide, look)
            return
    wide = [max(map(len, names)) for names in (found.desks, found.boxes)]
    for (desk, box), text in cells.items():
        yield _line([desk, box, text], [*wide, 0], look)


def _widths(rows: Sequence[str], columns: Sequence[str], marks: Mapping[tuple[str, str], str]) -> list[int]:
    first = max(len(row) for row in rows)
    return [first, *(max(len(column), *(len(marks[row, column]) for row in rows)) for column in columns)]


def _line(cells: Sequence[str], wide: Sequence[int], look: Look) -> str:
    shown = [
        look.paint(look.text(cell.ljust(room)), *COLOURS.get(cell[:2].rstrip(), ()))
        for cell, room in zip(cells, wide, strict=True)
    ]
    return GAP.join(shown).rstrip()
