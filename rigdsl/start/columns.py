"""Which column of a list is what: the row of headings, and the usual spellings of each."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["FIELDS", "Columns", "columns_of"]

LOOKED_AT = 40  # rows from the top, among which the headings must be

# What a heading may say, without case, blanks and punctuation. `input` may mean the channel or what goes into it.
SPELLINGS: dict[str, str] = {
    "channel": "ch chan channel channels chnl chno channelno channelnumber number num no nr inputno inputnumber "
    "inputch inputchannel deskch deskchannel fohch fohchannel line lineno kanal kanalnr canal voie",
    "name": "name source sources instrument instruments inst instr description desc label what signal inputname "
    "inputsource inputlist channelname sourcename instrumentname trackname quelle bezeichnung",
    "type": "type kind sourcetype inputtype mictype",
    "mic": "mic mics micdi dimic micordi microphone microphones micline micmodel micdiline "
    "microphonedi mikrofon mikro mikrodi micro microdi capture transducer",
    "stand": "stand stands micstand micstands standtype boom hardware stativ pied pieds",
    "phantom": "phantom phantompower 48 48v v48 p48 48volt phantom48 phantom48v pp speisung",
    "position": "position pos stage stageposition stageplace location where place zone area platz",
    "monitor": "monitor monitors mon monitormix mix wedge",
    "note": "note notes comment comments remark remarks info extra bemerkung bemerkungen notiz notizen remarque",
}
EITHER = frozenset({"input", "inputs", "in", "eingang"})
FIELDS = tuple(SPELLINGS)
KNOWN = {word: field for field, words in SPELLINGS.items() for word in words.split()}
# Of these one column is enough: the first counts.
ONCE = frozenset({"channel", "name", "type", "phantom"})


@dataclass(frozen=True)
class Columns:
    """The row of headings: its index, each heading as it is written, and what each column is; nothing: not known."""

    at: int
    titles: tuple[str, ...]
    fields: tuple[str, ...]

    @property
    def score(self) -> int:
        """How many columns are known."""
        return sum(map(bool, self.fields))


def columns_of(rows: Sequence[Sequence[str]]) -> Columns | None:
    """The row of headings: the first of those with most columns known, where one of them is what a row is about."""
    found: list[Columns] = []
    for at, row in enumerate(rows[:LOOKED_AT]):
        columns = Columns(at, tuple(row), _fields(row, rows[at + 1 :]))
        if "name" in columns.fields:
            found.append(columns)
    return max(found, key=lambda columns: columns.score, default=None)


def _fields(titles: Sequence[str], below: Sequence[Sequence[str]]) -> tuple[str, ...]:
    said = [_folded(title) for title in titles]
    fields = [KNOWN.get(word, "") for word in said]
    for at, word in enumerate(said):
        if titles[at].strip() == "#":
            fields[at] = "channel"
        elif word in EITHER:
            fields[at] = _either(at, fields, below)
    return tuple(field if field not in ONCE or field not in fields[:at] else "" for at, field in enumerate(fields))


def _either(at: int, fields: Sequence[str], below: Sequence[Sequence[str]]) -> str:
    """A column `input`: what no other column is, else what its fields look like."""
    if ("name" in fields) != ("channel" in fields):
        return "channel" if "name" in fields else "name"
    there = [row[at] for row in below if at < len(row) and row[at]]
    return "channel" if 2 * sum(text[:1].isdigit() for text in there) > len(there) else "name"


def _folded(title: str) -> str:
    """A heading without case, blanks, punctuation and accents."""
    apart = unicodedata.normalize("NFKD", title).casefold()
    return "".join(char for char in apart if char.isalnum())
