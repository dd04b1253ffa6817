"""Which row of a newer list is which source of the file, and which two rows are the sides of a pair."""

from __future__ import annotations

import re
from collections import defaultdict, deque
from collections.abc import Callable, Hashable, Iterable, Sequence

from rigdsl.start.kept import Entry
from rigdsl.start.listed import Item
from rigdsl.start.names import folded

__all__ = ["matched", "pairs"]

SIDE = re.compile(r"(.*?)[\s\-–_/(.\[]+(l|left|r|right)[)\].]*", re.IGNORECASE | re.DOTALL)


def matched(items: Sequence[Item], entries: Sequence[Entry]) -> list[Entry | None]:
    """For each row its source: by label (of several alike the one on the same channel first), then by channel."""
    found: dict[int, Entry] = {}
    taken: set[str] = set()
    for of_item, of_entry in PASSES:
        waiting: dict[Hashable, deque[Entry]] = defaultdict(deque)
        for entry in entries:
            for key in of_entry(entry) if entry.name not in taken else ():
                waiting[key].append(entry)
        for at, item in enumerate(items):
            row = waiting.get(of_item(item)) if at not in found else None
            while row and at not in found:
                if (entry := row.popleft()).name not in taken:
                    found[at] = entry
                    taken.add(entry.name)
    return [found.get(at) for at in range(len(items))]


def _labels(entry: Entry) -> set[str]:
    """What a source is called: in the list that was read last, in the file, and in the rig's own names."""
    listed = entry.row.label
    return {folded(text) for text in (listed, entry.label, entry.name) if text}


def _on_channel(entry: Entry) -> Iterable[Hashable]:
    channels = entry.row.channels
    return [(label, channels) for label in _labels(entry)]


def _channels(entry: Entry) -> Iterable[Hashable]:
    """Where a source was wanted; one that the list had no more is known by its label alone."""
    channels = entry.row.channels
    return [channels] if channels and not entry.gone else []


Pass = tuple[Callable[[Item], Hashable], Callable[[Entry], Iterable[Hashable]]]
PASSES: tuple[Pass, ...] = (
    (lambda item: (folded(item.label), item.channels), _on_channel),
    (lambda item: folded(item.label), _labels),
    (lambda item: item.channels, _channels),
)


def pairs(named: Iterable[tuple[str, Item]]) -> dict[str, str]:
    """The partner of each left side, by name: "Keys L" and "Keys R", one of each."""
    sides: dict[tuple[str, str], list[str]] = defaultdict(list)
    for name, item in named:
        if found := SIDE.fullmatch(item.label):
            sides[folded(found[1]), found[2][0].casefold()].append(name)
    found_pairs = {}
    for (stem, side), names in sides.items():
        others = sides.get((stem, "r"), [])
        if side == "l" and len(names) == len(others) == 1:
            found_pairs[names[0]] = others[0]
    return found_pairs
