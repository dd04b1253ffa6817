"""The rows of one box of a drawing in both states, as one table.

A row of the new state stands where it stands; one of the old state that is no more stands below its old neighbour.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from rigdsl.draw.compared import signed, told
from rigdsl.draw.shapes import Cell, Node, Row, State
from rigdsl.draw.sizes import places

__all__ = ["WAS", "Both", "Joined", "interleaved", "joined", "one_line", "was"]

WAS = "--was"  # behind the name of a part that the drawing has in its old and in its new state
Name = TypeVar("Name", bound=Hashable)
Fields = Sequence[Mapping[int, tuple[int, Cell]]]  # by row and column: the row that a field begins in, and the field
Token = tuple[str, int, int]  # a field of the merged table: of which state, the row that it begins in there, its column
AIR: Token = ("", 0, 0)


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
class Joined:
    """The rows of both states, and for keys of the old one where its lines end now."""

    rows: tuple[Row, ...]
    keys: Mapping[str, str]


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


def joined(both: Both) -> Joined:
    """The merged table."""
    old, new = _fields(both.old), _fields(both.new)
    lines = list(_lines(both, old, new))
    columns = max((column for row in (*old, *new) for column in row), default=-1) + 1
    grid = _tokens(lines, old, new, columns)
    keys, given = _keys(both, lines, grid, old, new)
    begun: set[Token] = set()
    rows = []
    for at, line in enumerate(lines):
        cells = []
        for column in range(columns):
            token = grid[at][column]
            if at and token != AIR and grid[at - 1][column] == token:
                continue
            cell = _cell(token, line, old, new)
            key = given.get(token, f"{cell.key}{WAS}" if cell.key and token[0] == "old" else cell.key)
            high = 1
            while token != AIR and at + high < len(lines) and grid[at + high][column] == token:
                high += 1
            cells.append(replace(cell, key="" if token in begun else key, rows=high))
            begun.add(token)
        rows.append(_row(both, line, tuple(cells)))
    return Joined(tuple(rows), keys)


def _row(both: Both, line: Line, cells: tuple[Cell, ...]) -> Row:
    row = both.old.rows[line.old or 0] if line.new is None else both.new.rows[line.new]
    other = both.old.rows[line.old] if line.old is not None else row
    tip = other.tip if line.state == "removed" else row.tip
    things = tuple(dict.fromkeys((*row.things, *other.things)))
    return replace(row, cells=cells, tip=told(line.state, tip), things=things, state=line.state)


def _fields(node: Node) -> Fields:
    """The field at each place of a table; one that spans rows is at several."""
    grid: list[dict[int, tuple[int, Cell]]] = [{} for _ in node.rows]
    for at, placed in enumerate(places(node)):
        for column, cell in placed:
            for row in grid[at : at + cell.rows]:
                row[column] = (at, cell)
    return grid


# ---- which rows there are, and what is said in them


def _lines(both: Both, old: Fields, new: Fields) -> Iterator[Line]:
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


# ---- fields, and where lines end in them


def _tokens(lines: Sequence[Line], old: Fields, new: Fields, columns: int) -> list[list[Token]]:
    """The field at each place of the merged table. A new field that spans the rows round an old one spans it too."""
    grid: list[list[Token]] = []
    for at, line in enumerate(lines):
        row: list[Token] = []
        following = next((one.new for one in lines[at:] if one.new is not None), None)
        for column in range(columns):
            above = grid[at - 1][column] if at else AIR
            below = _token_at("new", new, following, column)
            if line.new is not None or (above == below != AIR):
                row.append(below)
            elif at and _goes_on(old, lines[at - 1].old, line.old, column):
                row.append(above)
            else:
                row.append(_token_at("old", old, line.old, column))
        grid.append(row)
    return grid


def _goes_on(old: Fields, before: int | None, now: int | None, column: int) -> bool:
    """A field that spanned both rows."""
    if before is None or now is None or column not in old[before] or column not in old[now]:
        return False
    (begins, cell), (other, _) = old[before][column], old[now][column]
    return begins == other and cell.rows > 1


def _token_at(state: str, fields: Fields, row: int | None, column: int) -> Token:
    """The field of a state at a place, where there is one."""
    return AIR if row is None or column not in fields[row] else (state, fields[row][column][0], column)


def _cell(token: Token, line: Line, old: Fields, new: Fields) -> Cell:
    """A field with its words in the merged table."""
    state, begins, column = token
    if not state:
        return Cell()
    cell = (new if state == "new" else old)[begins][column][1]
    if line.state == "removed" and line.new is not None and line.old is not None and column in old[line.old]:
        was_there = old[line.old][column][1]
        cell = replace(cell, text=was_there.text, tone=was_there.tone) if was_there.rows == 1 == cell.rows else cell
    if column not in line.words:
        return cell
    return replace(cell, text=line.words[column], tone="plain")


def _keys(
    both: Both, lines: Sequence[Line], grid: Sequence[Sequence[Token]], old: Fields, new: Fields
) -> tuple[dict[str, str], dict[Token, str]]:
    """Where lines of old end, by their keys; and the keys that fields are given for it."""
    keys: dict[str, str] = {}
    given: dict[Token, str] = {}
    at_old: dict[str, list[tuple[int, int]]] = {}
    for row, fields in enumerate(old):
        for column, (_, cell) in fields.items():
            if cell.key in both.wanted:
                at_old.setdefault(cell.key, []).append((row, column))
    for key, spots in at_old.items():
        token = _token(both, lines, grid, spots)
        own = new[token[1]][token[2]][1].key if token[0] == "new" else ""
        keys[key] = own or given.setdefault(token, f"{key}{WAS}")
    return keys, given


def _token(
    both: Both, lines: Sequence[Line], grid: Sequence[Sequence[Token]], spots: Sequence[tuple[int, int]]
) -> Token:
    """The field that stands for one of old: its own, else that of its row, else that of a row with the same socket."""
    rows = {row for row, _ in spots}
    column = spots[0][1]
    for at, line in enumerate(lines):
        if line.old in rows and grid[at][column][0] == "old":
            return grid[at][column]
    for at, line in enumerate(lines):
        if line.old in rows and grid[at][column] != AIR:
            return grid[at][column]
    things = {thing for row in rows for thing in both.old.rows[row].things}
    for at, line in enumerate(lines):
        if line.new is not None and things.intersection(both.new.rows[line.new].things) and grid[at][column] != AIR:
            return grid[at][column]
    raise LookupError(f"no row of `{both.new.id}` stands for {sorted(things)}")
