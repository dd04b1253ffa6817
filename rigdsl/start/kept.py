"""What stands in the file of a band's sources now: each source, its patch, and the remark that keeps its row."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from rigdsl.start.listed import Item, item_of
from rigdsl.start.quoted import Cells, read_cells
from rigdsl.syntax import nodes, parse
from rigdsl.text import Source, Span

__all__ = ["DESK", "Entry", "Kept", "Stretch", "kept", "numbers"]

DESK = "DESK.ch"  # of a new project
LISTED = re.compile(r"^[ \t]*# listed ([^\s:]+): (.*)$", re.MULTILINE)
GONE = re.compile(r"^[ \t]*# gone ([^\s:]+): not in the list any more *\n?", re.MULTILINE)
GONE_PATCH = re.compile(r"^[ \t]*# gone ([^\s:]+): patch .*\n?", re.MULTILINE)
UNCLEAR = re.compile(r"(?:\n[ \t]*# not understood: [^\n]*)*")
Stretch = tuple[int, int]


@dataclass(frozen=True)
class Entry:
    """A source of the file. `cells` is its row as it was read last, `listed` the place of the remark that says so.

    Without a `plug` somebody has taken the source out. `gone` and `gone_patch` are remarks of an earlier list.
    """

    name: str
    cells: Cells = ()
    listed: Stretch | None = None
    plug: nodes.Plug | None = None
    patches: tuple[nodes.Patch, ...] = ()
    gone: Stretch | None = None
    gone_patch: Stretch | None = None

    @cached_property
    def row(self) -> Item:
        """What its row asked for."""
        return item_of(self.cells)

    @property
    def label(self) -> str:
        """Its label now."""
        return self.plug.label.text if self.plug and self.plug.label else ""


@dataclass(frozen=True)
class Kept:
    """The sources of a file in its order, and the desk that they are patched to; `whole` where all could be read."""

    text: str
    entries: tuple[Entry, ...]
    desk: str
    whole: bool


def kept(path: str, text: str) -> Kept:
    """What stands in a file."""
    source = Source(path, text)
    parsed = parse(source)
    plugs = [one for one in parsed.statements if isinstance(one, nodes.Plug) and one.word == "source"]
    patches: dict[str, list[nodes.Patch]] = {}
    for one in parsed.statements:
        if isinstance(one, nodes.Patch) and _is_single(one):
            patches.setdefault(one.left[0].name.text, []).append(one)
    gone = {found[1]: found.span() for found in GONE.finditer(text)}
    gone_patches = {found[1]: found.span() for found in GONE_PATCH.finditer(text)}
    entries = tuple(
        Entry(
            name,
            cells,
            place,
            plug,
            tuple(patches.get(name, ())),
            gone.get(name) or gone.get(said),
            gone_patches.get(name) or gone_patches.get(said),
        )
        for name, said, cells, place, plug in _joined(source, plugs)
    )
    return Kept(text, entries, _desk(patches), not parsed.findings)


def _is_single(patch: nodes.Patch) -> bool:
    """Whether it patches one source by its name to one row of channels: what is written so can be kept up."""
    (left, *more), (right, *others) = patch.left, patch.right
    return not (more or others or left.group or left.ranges) and right.group is not None and bool(right.ranges)


Joined = tuple[str, str, Cells, Stretch | None, nodes.Plug | None]


def _joined(source: Source, plugs: list[nodes.Plug]) -> Iterator[Joined]:
    """Each source with its remark: by the name in it, else the remark right above a source that was renamed."""
    remarks = list(LISTED.finditer(source.text))
    by_name = {plug.name.text: plug for plug in plugs}
    own = {found[1] for found in remarks}
    above = {plug.span.from_position.line: plug for plug in plugs if plug.name.text not in own}
    done: set[str] = set()
    for found in remarks:
        end = (UNCLEAR.match(source.text, found.end()) or found).end()
        plug = by_name.get(found[1]) or above.get(source.position(end).line + 1)
        name = plug.name.text if plug else found[1]
        if name not in done:
            done.add(name)
            yield name, found[1], read_cells(found[2].rstrip()), (found.start(), end), plug
    for plug in plugs:
        if plug.name.text not in done:
            yield plug.name.text, plug.name.text, (), None, plug


def _desk(patches: dict[str, list[nodes.Patch]]) -> str:
    """Where most sources go."""
    rights = [one.right[0] for found in patches.values() for one in found]
    counted = Counter(f"{right.name.text}.{right.group.text}" for right in rights if right.group)
    return counted.most_common(1)[0][0] if counted else DESK


def numbers(end: nodes.End) -> tuple[tuple[int, ...], Span | None]:
    """The numbers of sockets as they stand there, and their place."""
    found: list[int] = []
    for one in end.ranges:
        first, last = one.first.text[:6], (one.last or one.first).text[:6]
        found += range(int(first), min(int(last), int(first) + 999) + 1)
    place = end.ranges[0].span.to(end.ranges[-1].span) if end.ranges else None
    return tuple(found), place
