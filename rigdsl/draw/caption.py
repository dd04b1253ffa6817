"""The words round a drawing: its title, the legend of the patterns on it, the findings marked on it."""

from __future__ import annotations

from rigdsl.draw.measure import text_width, wrapped
from rigdsl.draw.patterns import INK, PATTERNS, QUIET, SILENT, Pattern
from rigdsl.draw.shapes import View
from rigdsl.draw.tables import ROW_HEIGHT, escaped, marks_table
from rigdsl.finding import Level

__all__ = ["notes_size", "notes_table", "patterns_of", "title_size", "title_table"]

TITLE = 16.0
SMALL = 9.0
SAMPLE = 34  # points, the length of a pattern's sample
STRAND = 5  # points between the strands of a sample
LIST_SAMPLE = 20  # points, the width of a finding's number
LISTED_WIDTH = 460.0
NOTES_GAP = 8.0
SHOWN = 20  # findings written out below a drawing; the rest is counted

Rows = list[tuple[str, str]]  # what stands left, as a table, and the words


def patterns_of(view: View) -> tuple[Pattern, ...]:
    """The patterns that a sheet uses, in the legend's order."""
    used = {edge.pattern for edge in view.edges}
    if any(edge.stops for edge in view.edges):
        used.add(SILENT)
    return tuple(pattern for pattern in PATTERNS if pattern in used)


def _title_lines(view: View) -> tuple[list[str], list[str]]:
    return wrapped(view.title, 620, TITLE, bold=True), wrapped(" · ".join(view.facts), 620, SMALL)


def title_size(view: View) -> tuple[float, float]:
    """Width and height of the title block."""
    title, facts = _title_lines(view)
    widths = [text_width(line, TITLE, bold=True) for line in title] + [text_width(line, SMALL) for line in facts]
    return max(widths) + 8, 1.2 * (TITLE * len(title) + SMALL * len(facts)) + 8


def title_table(view: View) -> str:
    """The title block: the rig's name, then what the sheet is and of when."""
    title, facts = _title_lines(view)
    lines = [f'<FONT POINT-SIZE="{TITLE:g}"><B>{escaped(line) or "&#160;"}</B></FONT>' for line in title]
    lines += [f'<FONT POINT-SIZE="{SMALL:g}" COLOR="{QUIET}">{escaped(line) or "&#160;"}</FONT>' for line in facts]
    return _frameless("".join(f'<TR><TD ALIGN="LEFT" CELLPADDING="1">{line}</TD></TR>' for line in lines))


def _frameless(rows: str, size: str = "") -> str:
    return f'<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="0"{size}>{rows}</TABLE>'


def _sample(pattern: Pattern) -> str:
    """A pattern's line, drawn with the borders of narrow fields."""
    style = "" if pattern.style == "solid" else f' STYLE="{pattern.style}"'
    strand = f'WIDTH="{SAMPLE}" COLOR="{pattern.colour}"{style} BORDER="{max(round(pattern.weight), 1)}"'
    height = STRAND * max(pattern.strands - 1, 1)
    rows = f'<TR><TD HEIGHT="{STRAND}" {strand} SIDES="{"T" if pattern.strands == 1 else "TB"}"></TD></TR>'
    if pattern.strands == 3:
        rows += f'<TR><TD HEIGHT="{STRAND}" {strand} SIDES="B"></TD></TR>'
    return _frameless(rows, f' FIXEDSIZE="TRUE" WIDTH="{SAMPLE}" HEIGHT="{height}"')


def _legend_rows(view: View) -> Rows:
    rows = [(_sample(pattern), pattern.means) for pattern in patterns_of(view)]
    for level in sorted({mark.level for mark, _ in view.listed}, reverse=True):
        first = next(mark for mark, _ in view.listed if mark.level is level)
        rows.append((marks_table((first,)), f"{level}, by its number in the list"))
    return rows


def _listed_rows(view: View) -> Rows:
    """The findings' lines below a drawing, each with its number on its first line; notes are only counted."""
    told = [(mark, message) for mark, message in view.listed if mark.level is not Level.NOTE]
    rows: Rows = []
    for mark, message in told[:SHOWN]:
        lines = wrapped(f"{mark.level}: {message}", LISTED_WIDTH, SMALL)
        rows += [(marks_table((mark,)) if index == 0 else "", line) for index, line in enumerate(lines)]
    notes = len(view.listed) - len(told)
    for count, words in ((len(told) - SHOWN, "more marked here"), (notes, "notes marked here"), (view.elsewhere, "about nothing on this sheet")):
        if count > 0:
            rows.append(("", f"{count} {words}: see the list of `rigdsl check`"))
    return rows


def _block_size(rows: Rows, sample: float) -> tuple[float, float]:
    width = sample + 8 + max((text_width(words, SMALL) for _, words in rows), default=0.0)
    return width, len(rows) * ROW_HEIGHT


def _blocks(view: View) -> list[tuple[Rows, float]]:
    """The legend and the list, each with the width of its first column; the empty one is left out."""
    return [(rows, sample) for rows, sample in ((_legend_rows(view), SAMPLE), (_listed_rows(view), LIST_SAMPLE)) if rows]


def notes_size(view: View) -> tuple[float, float]:
    """Width and height of the legend with the findings beside it; nothing where there is neither."""
    sizes = [_block_size(rows, sample) for rows, sample in _blocks(view)]
    if not sizes:
        return 0.0, 0.0
    return sum(width + 2 * NOTES_GAP for width, _ in sizes), max(height for _, height in sizes) + 2 * NOTES_GAP


def _rows(rows: Rows, sample: float) -> str:
    return "".join(
        f'<TR><TD HEIGHT="{ROW_HEIGHT:g}" WIDTH="{sample:g}">{left}</TD><TD ALIGN="LEFT" CELLPADDING="2">'
        f'<FONT POINT-SIZE="{SMALL:g}" COLOR="{INK}">{escaped(words) or "&#160;"}</FONT></TD></TR>'
        for left, words in rows
    )


def notes_table(view: View) -> str:
    """The legend, and beside it the findings that are marked on this sheet; empty where there is neither."""
    blocks = []
    for rows, sample in _blocks(view):
        width, height = _block_size(rows, sample)
        size = f' FIXEDSIZE="TRUE" WIDTH="{width:.1f}" HEIGHT="{height:g}"'
        blocks.append(f'<TD VALIGN="TOP" CELLPADDING="{NOTES_GAP:g}">{_frameless(_rows(rows, sample), size)}</TD>')
    return _frameless(f"<TR>{''.join(blocks)}</TR>") if blocks else ""
