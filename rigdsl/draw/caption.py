"""The words round a drawing: its title, the legend of the patterns on it, the findings marked on it."""

from __future__ import annotations

from rigdsl.draw.markup import escaped, field, small, table
from rigdsl.draw.measure import text_width, wrapped
from rigdsl.draw.patterns import INK, PATTERNS, QUIET, SILENT, Pattern
from rigdsl.draw.shapes import View
from rigdsl.draw.sizes import ROW_HEIGHT, SMALL
from rigdsl.draw.tables import marks_table
from rigdsl.finding import Level

__all__ = ["notes_size", "notes_table", "patterns_of", "title_size", "title_table"]

TITLE = 16.0
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


def _title_lines(view: View) -> tuple[tuple[str, ...], tuple[str, ...]]:
    what, *facts = view.facts or ("",)
    revision = f"revision {view.revision}" if view.revision else ""
    said = filter(None, [what, revision, *facts, f"sheet {view.sheet[0]} of {view.sheet[1]}"])
    return wrapped(view.title, 620, TITLE, bold=True), wrapped(" · ".join(said), 620, SMALL)


def title_size(view: View) -> tuple[float, float]:
    """Width and height of the title block."""
    title, facts = _title_lines(view)
    widths = [text_width(line, TITLE, bold=True) for line in title] + [text_width(line, SMALL) for line in facts]
    return max(widths) + 8, 1.2 * (TITLE * len(title) + SMALL * len(facts)) + 8


def title_table(view: View) -> str:
    """The title block: the rig's name, then what the sheet is and of when."""
    title, facts = _title_lines(view)
    lines = [small(f"<B>{escaped(line)}</B>", TITLE, INK) for line in title]
    lines += [small(escaped(line), SMALL, QUIET) for line in facts]
    wide = title_size(view)[0]
    return table("".join(f"<TR>{field(line, wide, pad=1, align='left')}</TR>" for line in lines))


def _sample(pattern: Pattern) -> str:
    """A pattern's line, drawn with the borders of a narrow field."""
    style = "" if pattern.style == "solid" else f' STYLE="{pattern.style}"'
    sides = "T" if pattern.strands == 1 else "TB"
    facts = f' COLOR="{pattern.colour}"{style} BORDER="{max(round(pattern.weight), 1)}" SIDES="{sides}"'
    return table(f"<TR>{field('', SAMPLE, STRAND, steady=True, facts=facts)}</TR>", (SAMPLE, STRAND))


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
    counts = (
        (len(told) - SHOWN, "more marked here"),
        (notes, "marked here as notes"),
        (view.elsewhere, "not marked here"),
    )
    rows += [("", f"{count} {words}: see the list of `rigdsl check`") for count, words in counts if count > 0]
    return rows


def _block_size(rows: Rows, sample: float) -> tuple[float, float]:
    width = sample + 8 + max((text_width(words, SMALL) for _, words in rows), default=0.0)
    return width, len(rows) * ROW_HEIGHT


def _blocks(view: View) -> list[tuple[Rows, float]]:
    """The legend and the list, each with the width of its first column; the empty one is left out."""
    both: list[tuple[Rows, float]] = [(_legend_rows(view), SAMPLE), (_listed_rows(view), LIST_SAMPLE)]
    return [block for block in both if block[0]]


def notes_size(view: View) -> tuple[float, float]:
    """Width and height of the legend with the findings beside it; nothing where there is neither."""
    sizes = [_block_size(rows, sample) for rows, sample in _blocks(view)]
    if not sizes:
        return 0.0, 0.0
    return sum(width + 2 * NOTES_GAP for width, _ in sizes), max(height for _, height in sizes) + 2 * NOTES_GAP


def _row(left: str, words: str, sample: float, width: float) -> str:
    said = field(small(escaped(words), SMALL, INK), width - sample, ROW_HEIGHT, steady=True, pad=2, align="left")
    return f"<TR>{field(left, sample, ROW_HEIGHT, steady=True)}{said}</TR>"


def notes_table(view: View) -> str:
    """The legend, and beside it the findings that are marked on this sheet; empty where there is neither."""
    blocks = ""
    highest = notes_size(view)[1] - 2 * NOTES_GAP
    for rows, sample in _blocks(view):
        width, height = _block_size(rows, sample)
        lines = "".join(_row(left, words, sample, width) for left, words in rows)
        if highest > height:
            filler = field("", width, highest - height, steady=True, facts=' COLSPAN="2"')
            lines += f"<TR>{filler}</TR>"
        blocks += field(table(lines, (width, highest)), width, pad=NOTES_GAP)
    return table(f"<TR>{blocks}</TR>") if blocks else ""
