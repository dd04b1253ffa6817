"""The words round a drawing: its title, the legend of the patterns on it, the findings marked on it."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from rigdsl.draw.compared import LOOKS, PALE, bands_of, drawn_in, states_of
from rigdsl.draw.cuts import letters_used
from rigdsl.draw.markup import escaped, field, small, table
from rigdsl.draw.measure import text_width, wrapped
from rigdsl.draw.patterns import INK, LINE, PATTERNS, QUIET, SILENT, Pattern
from rigdsl.draw.shapes import CROSSINGS, State, View
from rigdsl.draw.sizes import ROW_HEIGHT, SMALL
from rigdsl.draw.tables import crossing_sign, marks_table, naming
from rigdsl.finding import Level

__all__ = ["notes_size", "notes_table", "patterns_of", "sample_id", "sign_id", "title_size", "title_table"]

TITLE = 16.0
SAMPLE = 34  # points, the length of a pattern's sample
SIGN_HEIGHT = 12.0  # points, of a sign's field
STRAND = 6  # points: between the strands of a sample it leaves 4, as the engine does
LIST_SAMPLE = 20  # points, the width of a finding's number
LISTED_WIDTH = 460.0
NOTES_GAP = 8.0
TITLE_LINE = 19.0  # the height of a line of the title
FIELD_HEIGHT = 16.0  # of the fields below it
FIELD_PAD = 8.0  # between a field's words and the rules beside them
LEGEND_ROWS = 4
ROUND_IT = 40.0  # points of a page's width that stay free beside them
WIDEST = 760.0  # points, of the words round a drawing
SHOWN = 20  # findings written out below a drawing; the rest is counted

Rows = list[tuple[str, str]]  # what stands left, as a table, and the words
Block = tuple[Rows, float]  # with the width of what stands left


def patterns_of(view: View) -> tuple[Pattern, ...]:
    """The patterns that a sheet uses, in the legend's order."""
    used = {edge.pattern for edge in view.edges}
    if any(edge.stops for edge in view.edges):
        used.add(SILENT)
    return tuple(pattern for pattern in PATTERNS if pattern in used)


def _limit(view: View) -> float:
    """How wide captions may be: no wider than the page, and on a large sheet no wider than one reads."""
    return min(view.page.room[0] - ROUND_IT, WIDEST) if view.page else WIDEST


def _fields(view: View) -> list[list[str]]:
    """The fields below the title, line by line; the last one says which sheet it is."""
    what, *facts = view.facts or ("",)
    revision = f"revision {view.revision}" if view.revision else ""
    said = [*filter(None, [what, revision, *facts]), f"sheet {view.sheet[0]} of {view.sheet[1]}"]
    room = _limit(view)
    lines: list[list[str]] = [[]]
    for fact in (piece for one in said for piece in wrapped(one, room - 2 * FIELD_PAD, SMALL)):
        if lines[-1] and _line_width([*lines[-1], fact]) > room:
            lines.append([])
        lines[-1].append(fact)
    return lines


def _field_width(fact: str) -> float:
    return ceil(text_width(fact, SMALL)) + 2 * FIELD_PAD


def _line_width(facts: list[str]) -> float:
    return sum(map(_field_width, facts))


def _title(view: View) -> tuple[tuple[str, ...], float]:
    """The lines of the title, and how wide the block is."""
    title = wrapped(view.title, _limit(view) - 2 * FIELD_PAD, TITLE, bold=True)
    widths = [ceil(text_width(line, TITLE, bold=True)) + 2 * FIELD_PAD for line in title]
    return title, float(max(*widths, *map(_line_width, _fields(view))))


def title_size(view: View) -> tuple[float, float]:
    """Width and height of the title block."""
    title, wide = _title(view)
    return wide + 8, TITLE_LINE * len(title) + 4 + FIELD_HEIGHT * len(_fields(view)) + 10


def title_table(view: View) -> str:
    """The title block: the rig's name, then in fields what the sheet is, of when, and which of how many."""
    title, wide = _title(view)
    name = '<BR ALIGN="LEFT"/>'.join(escaped(line) for line in title) + '<BR ALIGN="LEFT"/>'
    high = TITLE_LINE * len(title) + 4
    ruled = f' BORDER="1" COLOR="{QUIET}"'
    words = field(small(f"<B>{name}</B>", TITLE, INK), wide, high, steady=True, pad=FIELD_PAD / 2, align="left")
    rows = f"<TR>{words}</TR>"
    lines = _fields(view)
    for line in lines:
        cells = ""
        for at, fact in enumerate(line):
            own = _field_width(fact) + (wide - _line_width(line) if at == len(line) - 1 else 0.0)
            stands_out = (line is lines[0] and at == 0) or (line is lines[-1] and at == len(line) - 1)
            ink = INK if stands_out else QUIET
            side = f'{ruled} SIDES="{"T" if at == 0 else "TL"}"'
            cells += field(small(escaped(fact), SMALL, ink), own, FIELD_HEIGHT, steady=True, facts=side)
        rows += f"<TR>{field(table(f'<TR>{cells}</TR>', (wide, FIELD_HEIGHT)), wide, FIELD_HEIGHT, steady=True)}</TR>"
    framed = table(rows, (wide + 2, high + FIELD_HEIGHT * len(lines) + 2), facts=f' COLOR="{QUIET}"')
    return framed.replace('BORDER="0"', 'BORDER="1"', 1)


def sample_id(pattern: Pattern) -> str:
    """What a pattern's sample in the legend is called."""
    return f"sample--{pattern.name}"


def sign_id(state: State) -> str:
    """What the sample of a sign in the legend is called."""
    return f"sign--{state}"


def _sign(state: State) -> str:
    """A sign in a field as boxes and rows with it have: its ground and its frame."""
    look = LOOKS[state]
    style = f' STYLE="{look.frame}"' if look.frame else ""
    words = field(small(f"<B>{look.sign}</B>", SMALL, INK), SAMPLE - 12, SIGN_HEIGHT, steady=True)
    facts = f' COLOR="{INK}"{style} BGCOLOR="{look.ground}"{naming(sign_id(state))}'
    return table(f"<TR>{words}</TR>", (SAMPLE - 10, SIGN_HEIGHT + 2), facts=facts).replace(
        'BORDER="0"', 'BORDER="1"', 1
    )


def _sample(pattern: Pattern) -> str:
    """A pattern's line, drawn with the borders of a narrow field: of one strand at half of its height."""
    style = "" if pattern.style == "solid" else f' STYLE="{pattern.style}"'
    facts = f' COLOR="{pattern.colour}"{style} BORDER="{max(round(pattern.weight), 1)}"'
    facts += f' SIDES="{"B" if pattern.strands == 1 else "TB"}"{naming(sample_id(pattern))}'
    line = field("", SAMPLE, STRAND, steady=True, facts=facts)
    under = field("", SAMPLE, STRAND, steady=True)
    if pattern.strands == 2:
        return table(f"<TR>{line}</TR>", (SAMPLE, STRAND))
    return table(f"<TR>{line}</TR><TR>{under}</TR>", (SAMPLE, 2 * STRAND))


def _legend_rows(view: View) -> Rows:
    rows = [(_sign(state), LOOKS[state].means) for state in states_of(view)]
    bands = [LOOKS[state].band for state in bands_of(view)]
    rows += [(_sample(replace(LINE, name=band.name)), band.means) for band in bands]
    if rows:
        rows.append((small("pale", SMALL, PALE), "as it was"))
    rows += [(_sample(drawn_in(pattern, _lightest(view, pattern))), pattern.means) for pattern in patterns_of(view)]
    crossed = {crossing for node in view.nodes for crossing in node.crosses}
    rows += [
        (crossing_sign(way, state="changed" if view.compared else ""), f"{words} in this box")
        for way, words in CROSSINGS.items()
        if way in crossed
    ]
    for level in sorted({mark.level for mark, _ in view.listed}, reverse=True):
        first = next(mark for mark, _ in view.listed if mark.level is level)
        rows.append((marks_table((first,)), f"{level}, by its number in the list"))
    letter = next(letters_used(view.nodes), "")
    if letter:
        rows.append((small(f"{letter}:", SMALL, INK), "the line goes on where the same letter stands"))
    return rows


def _lightest(view: View, pattern: Pattern) -> State:
    """A pattern's sample is dark as soon as one line of it is."""
    states = {edge.state for edge in view.edges if edge.pattern == pattern}
    return next((state for state in LOOKS if state in states), "same") if view.compared else ""


def _listed_rows(view: View) -> Rows:
    """The findings' lines below a drawing, each with its number on its first line; notes are only counted."""
    told = [(mark, message) for mark, message in view.listed if mark.level is not Level.NOTE]
    rows: Rows = []
    shown = 0
    for mark, message in told[:SHOWN]:
        lines = wrapped(f"{mark.level}: {message}", min(LISTED_WIDTH, _limit(view) - LIST_SAMPLE - 20), SMALL)
        if len(rows) + len(lines) > _most_listed(view):
            break
        rows += [(marks_table((mark,)) if index == 0 else "", line) for index, line in enumerate(lines)]
        shown += 1
    notes = len(view.listed) - len(told)
    counts = (
        (len(told) - shown, "more marked here" if shown else "marked here"),
        (notes, "marked here as notes"),
        (view.elsewhere, "not marked here"),
    )
    rows += [("", f"{count} {words}: see the list of `rigdsl check`") for count, words in counts if count > 0]
    return rows


def _most_listed(view: View) -> int:
    """How many lines of findings a sheet has room for: a sixth of a page, off paper all that are written out."""
    return int(view.page.room[1] / 6 / ROW_HEIGHT) if view.page and view.page.framed else 3 * SHOWN


def _block_size(rows: Rows, sample: float) -> tuple[float, float]:
    width = sample + 8 + max((text_width(words, SMALL) for _, words in rows), default=0.0)
    return width, len(rows) * ROW_HEIGHT


def _bands(view: View) -> list[list[Block]]:
    """The legend in short columns and the list, beside each other as far as there is room, then below."""
    legend, listed = _legend_rows(view), _listed_rows(view)
    blocks = [(legend[at : at + LEGEND_ROWS], float(SAMPLE)) for at in range(0, len(legend), LEGEND_ROWS)]
    blocks += [(listed, float(LIST_SAMPLE))] if listed else []
    bands: list[list[Block]] = []
    for block in blocks:
        if bands and _band_size([*bands[-1], block])[0] <= _limit(view):
            bands[-1].append(block)
        else:
            bands.append([block])
    return bands


def _band_size(band: list[Block]) -> tuple[float, float]:
    sizes = [_block_size(rows, sample) for rows, sample in band]
    return sum(width + 2 * NOTES_GAP for width, _ in sizes), max(height for _, height in sizes) + 2 * NOTES_GAP


def notes_size(view: View) -> tuple[float, float]:
    """Width and height of the legend with the findings beside it; nothing where there is neither."""
    sizes = [_band_size(band) for band in _bands(view)]
    return max((width for width, _ in sizes), default=0.0), sum(height for _, height in sizes)


def _row(left: str, words: str, sample: float, width: float) -> str:
    said = field(small(escaped(words), SMALL, INK), width - sample, ROW_HEIGHT, steady=True, pad=2, align="left")
    return f"<TR>{field(left, sample, ROW_HEIGHT, steady=True)}{said}</TR>"


def _band(band: list[Block], widest: float) -> str:
    blocks = ""
    wide, high = _band_size(band)
    highest = high - 2 * NOTES_GAP
    for rows, sample in band:
        width, height = _block_size(rows, sample)
        lines = "".join(_row(left, words, sample, width) for left, words in rows)
        if highest > height:
            filler = field("", width, highest - height, steady=True, facts=' COLSPAN="2"')
            lines += f"<TR>{filler}</TR>"
        blocks += field(table(lines, (width, highest)), width, pad=NOTES_GAP)
    if widest > wide:
        blocks += field("", widest - wide, high, steady=True)
    return table(f"<TR>{blocks}</TR>")


def notes_table(view: View) -> str:
    """The legend, and beside it the findings that are marked on this sheet; empty where there is neither."""
    bands = _bands(view)
    widest = notes_size(view)[0]
    if len(bands) < 2:
        return _band(bands[0], widest) if bands else ""
    return table("".join(f"<TR>{field(_band(band, widest), widest)}</TR>" for band in bands))
