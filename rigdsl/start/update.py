"""A newer list on top of the file of a band's sources: what its rows have changed is changed, all else stays."""

from __future__ import annotations

import re
from collections import defaultdict, deque
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from rigdsl.start.edits import Change, applied, line_end, line_start
from rigdsl.start.kept import Entry, Kept, Stretch, kept
from rigdsl.start.listed import ABOVE, NO_SOURCE, Item, Row
from rigdsl.start.match import matched, pairs
from rigdsl.start.merge import Merged, merged
from rigdsl.start.names import names_of
from rigdsl.start.write import entry as entry_text
from rigdsl.start.write import gone_line

__all__ = ["Updated", "updated"]

ASIDE = re.compile(rf"^(?:{re.escape(ABOVE)}|{re.escape(NO_SOURCE)}).*$", re.MULTILINE)


@dataclass(frozen=True)
class Updated:
    """The text of the file now, how many sources are new, changed and so on, and what a person must know."""

    text: str
    new: int = 0
    changed: int = 0
    gone: int = 0
    unchanged: int = 0
    told: tuple[str, ...] = ()


def updated(path: str, text: str, rows: Sequence[Row], taken: Collection[str] = ()) -> Updated:
    """The file after a list has been read; `taken` are names that a source may not have.

    Raises ValueError where not all of the file can be read: what could not be found in it would be written twice.
    """
    there = kept(path, _ended(text))
    if not there.whole:
        raise ValueError(f"`{path}` cannot be read whole")
    items = [row for row in rows if isinstance(row, Item)]
    found = matched(items, there.entries)
    named = _named(items, found, there, taken)
    partners = pairs(zip(named, items, strict=True))
    merges = list(_merges(there, items, found, partners))
    lost = _lost(there, found)
    changes = [change for one in merges for change in one.changes]
    changes += _added(there, rows, found, named, partners)
    changes += [change for entry in lost for change in _gone(there, entry)]
    told = [line for one in merges for line in one.told]
    told += [f"`{entry.name}` is not in the list any more: it is marked, not taken out" for entry in lost]
    changed = sum(bool(one.changes) for one in merges)
    made = applied(there.text, changes) if changes else text
    return Updated(made, len(items) - len(merges), changed, len(lost), len(merges) - changed, tuple(told))


def _merges(
    there: Kept, items: Sequence[Item], found: Sequence[Entry | None], partners: Mapping[str, str]
) -> Iterator[Merged]:
    """What becomes of each source that the list had before."""
    before = pairs((one.name, one.row) for one in there.entries if one.cells and not one.gone)
    for item, entry in zip(items, found, strict=True):
        if entry is not None:
            yield merged(there, entry, item, before.get(entry.name, ""), partners.get(entry.name, ""))


def _lost(there: Kept, found: Sequence[Entry | None]) -> list[Entry]:
    """The sources that the list had before, and has no more."""
    still = {entry.name for entry in found if entry}
    return [one for one in there.entries if one.name not in still and one.cells and one.plug and not one.gone]


def _ended(text: str) -> str:
    """A text whose last line is a whole one."""
    return text if text.endswith("\n") or not text else f"{text}\n"


def _named(items: Sequence[Item], found: Sequence[Entry | None], there: Kept, taken: Collection[str]) -> list[str]:
    """A name for each row: that of its source, else a new one."""
    new = [
        (item.label, f"in-{item.channels[0] if item.channels else at}")
        for at, (item, entry) in enumerate(zip(items, found, strict=True), 1)
        if entry is None
    ]
    made = iter(names_of(new, [*taken, *(entry.name for entry in there.entries)]))
    return [entry.name if entry else next(made) for entry in found]


def _gone(there: Kept, entry: Entry) -> Iterator[Change]:
    """A remark over a source that the list has no more; the channel that it had is free."""
    assert entry.plug is not None
    at = line_start(there.text, entry.listed[0] if entry.listed else entry.plug.span.start)
    yield Change(at, at, gone_line(entry.name))
    for patch in entry.patches:
        start = patch.span.start
        alone = not there.text[line_start(there.text, start) : start].strip()
        rest = there.text[patch.span.end : line_end(there.text, start)].lstrip()
        if alone and (not rest or rest.startswith("#")):
            yield Change(start, start, f"# gone {entry.name}: ")


def _added(
    there: Kept, rows: Sequence[Row], found: Sequence[Entry | None], named: Sequence[str], partners: Mapping[str, str]
) -> Iterator[Change]:
    """New sources and new remarks, each behind the row before it; remarks of rows that are gone are taken out."""
    old = _asides(there.text)
    at = _first(there)
    each = iter(zip(found, named, strict=True))
    for row in rows:
        if isinstance(row, Item):
            entry, name = next(each)
            if entry is None:
                yield Change(at, at, entry_text(row, name, partners.get(name, ""), there.desk))
            else:
                at = _behind(there.text, entry)
        elif old[row.remark]:
            at = old[row.remark].popleft()[1]
        else:
            yield Change(at, at, f"\n{row.remark}\n")
    for places in old.values():
        yield from (Change(_with_blank(there.text, start), end, "") for start, end in places)


def _asides(text: str) -> dict[str, deque[Stretch]]:
    """The remarks that keep rows without a source, and their lines."""
    found: dict[str, deque[Stretch]] = defaultdict(deque)
    for line in ASIDE.finditer(text):
        found[line[0].strip()].append((line.start(), line_end(text, line.end())))
    return found


def _first(there: Kept) -> int:
    """Before the first source of the list, else at the end."""
    starts = [stretch[0] for entry in there.entries for stretch in (entry.listed, entry.gone) if stretch]
    return _with_blank(there.text, line_start(there.text, min(starts))) if starts else len(there.text)


def _with_blank(text: str, start: int) -> int:
    """The start of a line, or of the empty line before it."""
    return start - 1 if text[max(0, start - 2) : start] == "\n\n" else start


def _behind(text: str, entry: Entry) -> int:
    """Behind the last line of a source: its own, or that of its patch where it follows."""
    if entry.plug is None:
        return line_end(text, entry.listed[1]) if entry.listed else len(text)
    end = line_end(text, entry.plug.span.end)
    for patch in entry.patches:
        if line_start(text, patch.span.start) == end:
            end = line_end(text, patch.span.end)
    if entry.gone_patch and entry.gone_patch[0] == end:
        end = entry.gone_patch[1]
    return end
