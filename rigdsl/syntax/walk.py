"""The parser proper: walks lark's LALR(1) tables, building nodes as it goes.

It is lark's own algorithm, without its tokens and its counting of lines and columns: nearly
twice as fast as lark with the same builder, and lark need not be imported to read a file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from rigdsl.syntax.tokens import SILENT, Token
from rigdsl_grammar.table import END, ROWS, RULES, START

__all__ = ["Action", "Actions", "Stuck", "accepts", "actions", "walk"]

# What a rule becomes, from what its parts became and the offsets of its start and end.
Action = Callable[[list[Any], int, int], Any]
Actions = list[tuple[int, str, "tuple[int, ...] | None", "Action | None"]]


@dataclass(frozen=True, slots=True)
class Stuck:
    """Where no way leads on: the token that fits nowhere (none at the end of the text), and the way to it."""

    token: Token | None
    states: tuple[int, ...]


def actions(builder: object) -> Actions:
    """The rules with a builder's methods; `+` hands on all children, `=` the only one, without a method."""
    return [(size, origin, shape, _method(builder, action)) for size, origin, action, shape in RULES]


def _method(builder: object, action: str) -> Action | None:
    if action == "+":
        return None
    if action == "=":
        return _only
    method: Action = getattr(builder, f"on_{action}")
    return method


def _only(parts: list[Any], start: int, end: int) -> Any:
    return parts[0]


def walk(tokens: Iterable[Token], rules: Actions) -> Any:
    """What the tokens are as a whole, or where they are Stuck."""
    rows = ROWS
    states = [START]
    starts: list[int] = []
    values: list[Any] = []
    row = rows[START]
    end = 0
    for token in tokens:
        kind = token[0]
        if kind in SILENT:
            continue
        while True:
            step = row.get(kind)
            if step is None:
                return Stuck(token, tuple(states))
            if step >= 0:
                break
            row = rows[_reduce(rules[~step], states, starts, values, token[2], end)]
        states.append(step)
        starts.append(token[2])
        values.append(token)
        row = rows[step]
        end = token[3]
    while states[-1] != END:
        step = row.get("$END")
        if step is None:
            return Stuck(None, tuple(states))
        row = rows[_reduce(rules[~step], states, starts, values, end, end)]
    return values[0]


def _reduce(
    rule: tuple[int, str, tuple[int, ...] | None, Action | None],
    states: list[int],
    starts: list[int],
    values: list[Any],
    here: int,
    end: int,
) -> int:
    """Put one thing in the place of a rule's parts; answers the state that this leads to."""
    size, origin, shape, action = rule
    if size == 1:
        states.pop()
        parts = [values.pop()]
        start = starts[-1]
    elif size:
        del states[-size:]
        parts = values[-size:]
        del values[-size:]
        start = starts[-size]
        del starts[1 - size :]
    else:
        parts = []
        start = here
        starts.append(here)
    if shape is not None:
        parts = _pick(parts, shape)
    values.append(parts if action is None else action(parts, start, end))
    state = ROWS[states[-1]][origin]
    states.append(state)
    return state


def _pick(parts: list[Any], shape: tuple[int, ...]) -> list[Any]:
    """The parts that matter: see the table. A list that grows from the left is grown in place."""
    picked: list[Any] | None = None
    for at in shape:
        if at < -1:
            if picked is None:
                picked = parts[-2 - at]
            else:
                picked += parts[-2 - at]
        else:
            if picked is None:
                picked = []
            picked.append(None if at == -1 else parts[at])
    return [] if picked is None else picked


def accepts(states: tuple[int, ...]) -> frozenset[str]:
    """The terminals that lead on from here, as they truly do; the end of the text is `$END`."""
    return frozenset(name for name in ROWS[states[-1]] if not name[0].islower() and _leads_on(name, list(states)))


def _leads_on(name: str, states: list[int]) -> bool:
    while True:
        step = ROWS[states[-1]].get(name)
        if step is None:
            return False
        if step >= 0:
            return True
        size, origin, _, _ = RULES[~step]
        if size:
            del states[-size:]
        states.append(ROWS[states[-1]][origin])
        if name == "$END" and states[-1] == END:
            return True
