"""The rows of one box of a drawing in both states, as one table, and where the lines of both end in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from rigdsl.both.rows import Both, Fields, Line, lines_of
from rigdsl.draw.compared import told
from rigdsl.draw.shapes import Cell, Node, Row
from rigdsl.draw.sizes import places

__all__ = ["WAS", "Joined", "joined"]

WAS = "--was"  # behind the name of a part that the drawing has in its old and in its new state
Token = tuple[str, int, int]  # a field of the merged table: of which state, the row that it begins in there, its column
AIR: Token = ("", 0, 0)


@dataclass(frozen=True)
class Joined:
    """The rows of both states, and for keys of the old one where its lines end now."""

    rows: tuple[Row, ...]
    keys: Mapping[str, str]


def joined(both: Both) -> Joined:
    """The merged table."""
    old, new = _fields(both.old), _fields(both.new)
    lines = list(lines_of(both, old, new))
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
    return next(row[column] for row in grid if row[column] != AIR)  # on its side of the box at least
