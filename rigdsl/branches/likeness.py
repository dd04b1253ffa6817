"""Which lines that are gone and which that came are one line, changed: of one kind, the likest first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from typing import Any, NamedTuple

from rigdsl.branches.naming import words
from rigdsl.branches.parts import BLANK, Part
from rigdsl.syntax import nodes

__all__ = ["MOST_PAIRS", "TooMuchError", "likest", "moved"]

MOST_PAIRS = 250_000  # that are held against each other at once
ALIKE_ENOUGH = 0.5  # for what does not stand at its old place
MOST_SOCKETS = 512  # of one row that are told apart
MOST_DIGITS = 9

Numbers = Sequence[int]
Socket = tuple[str, ...]


class TooMuchError(Exception):
    """Two texts have so little in common that what became of what is anybody's guess."""


def likest(base: Sequence[Part], side: Sequence[Part], gone: Numbers, new: Numbers) -> dict[int, int]:
    """What is gone and what came in its place."""
    return _one_each((-rank, old, one) for rank, old, one, _ in _pairs(base, side, gone, new))


def moved(base: Sequence[Part], side: Sequence[Part], gone: Numbers, new: Numbers) -> dict[int, int]:
    """What is gone and what came, wherever it stands: lines that share a socket or their label.

    Remarks, and lines that go to no socket, must have half of their words in common.
    """
    return _one_each((-rank, old, one) for rank, old, one, near in _pairs(base, side, gone, new) if near)


class Traits(NamedTuple):
    """What a line is known again by: its words; its sockets and its label; of a patch, what it feeds."""

    words: Counter[str]
    about: frozenset[Socket]
    fed: frozenset[Socket]


def _pairs(
    base: Sequence[Part], side: Sequence[Part], gone: Numbers, new: Numbers
) -> Iterator[tuple[float, int, int, bool]]:
    """Lines of one kind: how alike they are, their numbers, and whether that is enough away from the old place."""
    if len(gone) * len(new) > MOST_PAIRS:
        raise TooMuchError
    before = {old: _traits(base[old]) for old in gone}
    after = {one: _traits(side[one]) for one in new}
    for old, one in product(gone, new):
        if base[old].key[0] == side[one].key[0] and base[old].key != BLANK:
            was, now = before[old], after[one]
            alike = _alike(was.words, now.words)
            near = bool(was.about & now.about) if was.about and now.about else alike >= ALIKE_ENOUGH
            yield alike + bool(was.fed & now.fed), old, one, near


def _one_each(pairs: Iterable[tuple[float, int, int]]) -> dict[int, int]:
    at: dict[int, int] = {}
    taken: set[int] = set()
    for _, old, one in sorted(pairs):
        if old not in at and one not in taken:
            at[old] = one
            taken.add(one)
    return at


def _bag(part: Part) -> Counter[str]:
    if part.is_gap:
        return Counter(word for word in part.text.split() if any(map(str.isalnum, word)))
    return Counter(words(part.text))


def _alike(one: Counter[str], other: Counter[str]) -> float:
    """How alike two bags of words are, from 0 to 1."""
    return 2 * (one & other).total() / max(1, one.total() + other.total())


def _traits(part: Part) -> Traits:
    fed = frozenset(
        socket for node in part.nodes if isinstance(node, nodes.Patch) for end in node.right for socket in _sockets(end)
    )
    return Traits(_bag(part), frozenset(about for node in part.nodes for about in _about(node)), fed)


def _about(node: Any) -> Iterator[Socket]:
    """The label of a statement, and the sockets it goes to, one by one."""
    if "label" in node._fields and node.label is not None:
        yield "label", node.label.text
    for name in ("ends", "left", "right", "at", "through"):
        found = getattr(node, name) if name in node._fields else ()
        for end in found if isinstance(found, tuple) else ():
            if isinstance(end, nodes.End):
                yield from _sockets(end)
    for join in node.joins if "joins" in node._fields else ():
        yield from _about(join)


def _sockets(end: nodes.End) -> Iterator[Socket]:
    thing = (end.name.text, end.group.text if end.group else "")
    if not end.ranges:
        yield thing
    for row in end.ranges:
        texts = row.first.text, (row.last or row.first).text
        first, last = (int(text) if len(text) <= MOST_DIGITS else 0 for text in texts)
        for number in range(first, min(last, first + MOST_SOCKETS) + 1):
            yield (*thing, str(number))
