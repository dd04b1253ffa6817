"""What the rows of a list ask for: sources with their channels and facts, and rows that are none."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count, groupby

from rigdsl.rig.amounts import clipped
from rigdsl.start.columns import FIELDS, Columns, columns_of
from rigdsl.start.guess import NOTHING_SAID, Guess, guessed
from rigdsl.start.names import folded
from rigdsl.start.quoted import Cells, quoted, written_cells
from rigdsl.start.sheet import Line, ListError, Sheet

__all__ = ["ABOVE", "NO_SOURCE", "Aside", "BandList", "Item", "Row", "band_list", "item_of"]

ABOVE = "# above the headings of the list: "
NO_SOURCE = "# listed without a source: "
LAST_CHANNEL = 99_999
MOST_LINES = 64  # of one source

# What people write for yes and no, and in a field that has nothing to say.
ANSWERS = {
    "yes": "yes y x true on 1 48 48v +48 +48v p48 p phantom ja j oui si sì ✓ ✔ ☑ ☒ ● •",
    "no": "no n false off 0 none not nein non nee ☐ ✗ ✘",
    "blank": "- -- – — . / n/a na",
    "spare": "spare empty free unused reserve reserved nc tba tbc tbd",
}
YES, NO, BLANK, SPARE = (frozenset(words.split()) for words in ANSWERS.values())
NUMBERS = re.compile(
    r"(?:input|in|channel|chan|ch|no|nr)?[ .:#]*([0-9]+(?:\.0+)?(?:(?: *[-–/+&,] *| and )[0-9]+)*)", re.IGNORECASE
)


@dataclass(frozen=True)
class Item:
    """A source that a row asks for. `facts` are those of its block; `unclear` the fields that say nothing we know."""

    cells: Cells
    label: str
    channels: tuple[int, ...]
    guess: Guess
    facts: tuple[tuple[str, str], ...]
    unclear: Cells = ()


@dataclass(frozen=True)
class Aside:
    """A row without a source: the remark that keeps it."""

    remark: str


Row = Item | Aside


@dataclass(frozen=True)
class BandList:
    """The rows of a list in their order, and what a person must know of it, a line each."""

    rows: tuple[Row, ...]
    told: tuple[str, ...]

    @property
    def items(self) -> tuple[Item, ...]:
        """The rows that are sources."""
        return tuple(row for row in self.rows if isinstance(row, Item))


def band_list(sheet: Sheet) -> BandList:
    """What a list asks for. Raises ListError where no row of headings can be found."""
    columns = columns_of([line.cells for line in sheet.rows])
    if columns is None:
        raise ListError("no row of headings is in it: one column must be headed `name`, `source` or `instrument`")
    told = [*sheet.told, *_unknown(columns, sheet.rows[columns.at + 1 :])]
    numbered = any("channel" in dict(_cells(line, columns)) for line in sheet.rows[columns.at + 1 :])
    if not numbered:
        told.append("it has no channels: the order of the rows counts")
    rows: list[Row] = [_above(line) for line in sheet.rows[: columns.at]]
    number = count(1)
    for line in sheet.rows[columns.at + 1 :]:
        cells = _cells(line, columns)
        if reason := _no_source(cells, columns, numbered):
            told.append(f"row {line.number} {reason}: it is kept as a remark")
            rows.append(Aside(NO_SOURCE + written_cells(cells, FIELDS)))
        else:
            item = item_of(cells if numbered else (("channel", str(next(number))), *cells))
            told += [
                f"row {line.number}: {_what(cell)} is not understood, and kept as a remark" for cell in item.unclear
            ]
            rows.append(item)
    return BandList(tuple(rows), (*told, *_twice(rows)))


def _above(line: Line) -> Aside:
    """A row above the headings: a title, a date, a name to call."""
    return Aside(ABOVE + "; ".join(quoted(cell) for cell in line.cells if cell))


def _unknown(columns: Columns, lines: Sequence[Line]) -> list[str]:
    """The columns that nobody knows, and those without a heading that have something in them."""
    kept = "it is kept in the remarks"
    pairs = zip(columns.titles, columns.fields, strict=True)
    told = [
        f"the column {quoted(clipped(title))} is not known: {kept}" for title, field in pairs if title and not field
    ]
    titled = {at for at, title in enumerate(columns.titles) if title}
    bare = {at for line in lines for at, cell in enumerate(line.cells) if cell and at not in titled}
    return told + [f"column {at + 1} has no heading: {kept}" for at in sorted(bare)]


def _cells(line: Line, columns: Columns) -> Cells:
    """What the row says, column by column; one that has no heading says so."""
    known = [field or title for title, field in zip(columns.titles, columns.fields, strict=True)]
    beyond = [""] * (len(line.cells) - len(known))
    return tuple((what, text) for what, text in zip([*known, *beyond], line.cells, strict=False) if text)


def _no_source(cells: Cells, columns: Columns, numbered: bool) -> str:
    """Why a row is no source."""
    label = dict(reversed(cells)).get("name", "")
    if not label:
        return "has no name"
    if tuple(text for _, text in cells) == tuple(title for title in columns.titles if title):
        return "is the headings once more"
    if numbered and len(cells) == 1:
        return "has a name and nothing else, as a heading has"
    return "is spare" if folded(label) in SPARE | BLANK else ""


def _what(cell: tuple[str, str]) -> str:
    return f"{cell[0]} {quoted(clipped(cell[1]))}"


def _twice(rows: Sequence[Row]) -> list[str]:
    """Channels that the list gives to several."""
    given = sorted((channel, row.label) for row in rows if isinstance(row, Item) for channel in row.channels)
    found = [(channel, [label for _, label in same]) for channel, same in groupby(given, key=lambda pair: pair[0])]
    return [
        f"channel {channel} is in the list more than once: {', '.join(quoted(clipped(label)) for label in labels)}"
        for channel, labels in found
        if len(labels) > 1
    ]


def item_of(cells: Cells) -> Item:
    """The source of a row, from its fields alone."""
    said = dict(reversed(cells))
    channel, wanted = said.get("channel", ""), said.get("phantom", "")
    channels, phantom = _channels(channel), _yes_or_no(wanted)
    mic = "; ".join(_texts(cells, "mic"))
    guess = guessed(said.get("name", ""), mic, said.get("type", ""), phantom)
    unclear = [("channel", channel)] if channel and not channels else []
    unclear += [("phantom", wanted)] if wanted and phantom is None else []
    if said.get("type") and guessed("", "", said["type"], None).because == NOTHING_SAID:
        unclear.append(("type", said["type"]))
    return Item(cells, said.get("name", ""), channels, guess, _facts(cells, mic, guess, phantom), tuple(unclear))


def _facts(cells: Cells, mic: str, guess: Guess, phantom: bool | None) -> tuple[tuple[str, str], ...]:
    """The facts of the source's block, by name: a text, or the word behind it."""
    facts = []
    needs = guess.type in ("condenser", "active-di")
    if phantom is not None and phantom != needs:
        facts.append(("phantom", "" if phantom else "no"))
    notes = [*_texts(cells, "note")]
    notes += [f"{field}: {text}" for field in ("position", "monitor") for text in _texts(cells, field)]
    texts = (("stand", "; ".join(_texts(cells, "stand"))), ("mic", mic), ("note", "; ".join(notes)))
    return (*facts, *((name, text) for name, text in texts if text))


def _texts(cells: Cells, field: str) -> list[str]:
    """What a row says in the columns of one kind; a dash is as good as nothing."""
    return [text for what, text in cells if what == field and folded(text) not in BLANK]


def _yes_or_no(text: str) -> bool | None:
    word = folded(text).replace(" ", "").removesuffix(".0")
    if word in YES:
        return True
    return False if word in NO | BLANK else None


def _channels(text: str) -> tuple[int, ...]:
    """The channels of a field: `7`, `Ch 7`, `7.0`, `7-8`, `7/8`; none where it is no such thing."""
    found = NUMBERS.fullmatch(text.strip())
    if found is None:
        return ()
    numbers = [int(float(part)) for part in re.findall(r"[0-9]+(?:\.0+)?", found[1]) if len(part) < 12]
    if re.search(r"[0-9] *[-–] *[0-9]", found[1]):
        if len(numbers) != 2 or not 0 < numbers[1] - numbers[0] < MOST_LINES:
            return ()
        numbers = list(range(numbers[0], numbers[1] + 1))
    fits = len(numbers) == len(set(numbers)) and all(0 < number <= LAST_CHANNEL for number in numbers)
    return tuple(numbers) if fits and len(numbers) <= MOST_LINES else ()
