"""Which rows a box of a drawing of two states has, and what is said in them.

A row of the new state stands where it stands; one of the old state that is no more stands below its old neighbour.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from rigdsl.draw.compared import signed
from rigdsl.draw.shapes import Cell, Node, State

__all__ = ["Both", "Fields", "Line", "interleaved", "lines_of", "one_line", "was"]

Name = TypeVar("Name", bound=Hashable)
Fields = Sequence[Mapping[int, tuple[int, Cell]]]  # by row and column: the row that a field begins in, and the field


@dataclass(frozen=True)
class Both:
    """One node in both states, a name for each row of both, and what is known besides.

    `said` has for things that are otherwise how; `titles` the new words of old ones; `wanted` are the keys of the old
    node that lines of old still end in. `sockets` are those where other words are another thing that is plugged in.
    """

    old: Node
    new: Node
    old_names: Sequence[Hashable]
    new_names: Sequence[Hashable]
    said: Mapping[str, tuple[str, ...]]
    titles: Mapping[str, str]
    wanted: Collection[str]
    sockets: Collection[str]


@dataclass(frozen=True)
class Line:
    """A row to be: by its index in the new state, or in the old one where it has none there; its words by column."""

    new: int | None
    old: int | None
    state: State
    words: Mapping[int, str] = field(default_factory=dict)


def interleaved(old: Sequence[Name], new: Sequence[Name]) -> list[Name]:
    """The new order; what is only in the old one stands behind the one that it stood behind."""
    made, here = list(new), set(new)
    for at, name in enumerate(old):
        if name not in here:
            made.insert(made.index(old[at - 1]) + 1 if at else 0, name)
            here.add(name)
    return made


def was(old: str, new: str) -> str:
    """What of the old words is no more: `was xlr 3 m`."""
    now = new.split("\n")
    gone = [line for line in old.split("\n") if line and line not in now]
    return f"was {', '.join(gone)}" if gone else ""


def one_line(said: str) -> str:
    """How a thing is otherwise, where there is no room for two lines."""
    return said.replace("\n", ", ")


def lines_of(both: Both, old: Fields, new: Fields) -> Iterator[Line]:
    """The rows of both states in their order; `old` and `new` are the fields of both tables."""
    ours = {name: at for at, name in enumerate(both.old_names)}
    theirs = {name: at for at, name in enumerate(both.new_names)}
    known = {thing for row in both.new.rows for thing in row.things}
    for name in interleaved(both.old_names, both.new_names):
        before, now = ours.get(name), theirs.get(name)
        if before is not None and now is not None:
            yield from _compared(both, before, now, _words(old, before), _words(new, now))
        elif now is not None:
            words = _words(new, now)
            yield Line(now, None, *_with_sign("added" if words else "same", words, _more(both, now)))
        elif before is not None:
            words = _words(old, before)
            keys = {cell.key for _, cell in old[before].values()} & set(both.wanted)
            if words or (keys and not known.intersection(both.old.rows[before].things)):
                yield Line(None, before, *_with_sign("removed", words))


def _words(fields: Fields, at: int) -> dict[int, str]:
    """What a row tells, by column: neither numbers and what explains, nor that nothing is there."""
    return {
        column: cell.text
        for column, (begins, cell) in sorted(fields[at].items())
        if begins == at and cell.rows == 1 and cell.text and cell.tone in ("plain", "strong")
    }


def _compared(both: Both, before: int, now: int, ours: dict[int, str], theirs: dict[int, str]) -> Iterator[Line]:
    """A row that is in both states: one row, or two where another thing is plugged in now."""
    more = _more(both, now)
    if not ours and not theirs:
        yield Line(now, before, "same")
        return
    main = min((*ours, *theirs))
    if ours == theirs and not more:
        yield Line(now, before, "same", theirs)
    elif main not in theirs:
        yield Line(now, before, *_with_sign("removed", ours))
    elif main not in ours:
        yield Line(now, before, *_with_sign("added", theirs, more))
    elif both.new.rows[now].things[0] in both.sockets and _retitled(both, ours[main]) != theirs[main]:
        yield Line(now, before, *_with_sign("added", theirs, more))
        yield Line(None, before, *_with_sign("removed", ours))
    else:
        columns = sorted({*ours, *theirs})
        differ = {at: was(ours.get(at, ""), theirs.get(at, "")) for at in columns}
        gone = {at: differ[at] for at in columns if differ[at] not in more.split("\n")}
        words = {at: "\n".join(filter(None, [theirs.get(at, ""), gone.get(at, "")])) for at in columns}
        yield Line(now, before, *_with_sign("changed", words, more))


def _with_sign(state: State, words: Mapping[int, str], more: str = "") -> tuple[State, dict[int, str]]:
    main = min(words, default=-1)
    said = {at: signed(state, text) if at == main else text for at, text in words.items()}
    if more and said:
        said[main] = f"{said[main]}\n{more}"
    return state, said


def _more(both: Both, now: int) -> str:
    """How the thing of a row is otherwise, in a block of sources or outputs."""
    things = both.new.rows[now].things
    alone = len(things) == 1 and both.new.kind in ("sources", "outputs")
    return "\n".join(both.said.get(things[0], ())) if alone else ""


def _retitled(both: Both, words: str) -> str:
    """Old words with what things are called now."""
    return both.titles.get(words) or ", ".join(both.titles.get(part, part) for part in words.split(", "))
