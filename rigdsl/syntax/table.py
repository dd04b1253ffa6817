"""Make the tables that the parser walks: `python -m rigdsl.syntax.table` writes `grammar/table.py`.

lark reads `grammar/rig.lark` and works out the LALR(1) tables, which takes a
tenth of a second: too long for every start. So its answer is written down as
plain Python, and lark itself is needed only here.
"""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lark import Lark, Token

__all__ = ["grammar", "table_text"]

HEAD = '''"""The parser's tables. Made from rig.lark by `python -m rigdsl.syntax.table`; not to be edited."""

# ruff: noqa

from __future__ import annotations
'''


class _Odd:
    """lark drops terminals that no rule uses; these two make every text a row of tokens."""

    always_accept = ("OPEN_QUOTE", "UNKNOWN")

    def process(self, stream: Iterator[Token]) -> Iterator[Token]:
        return stream


def grammar(**options: Any) -> Lark:
    """The grammar as lark sees it; raises lark's GrammarError on a conflict or a collision of terminals."""
    from lark import Lark

    text = files("rigdsl_grammar").joinpath("rig.lark").read_text("utf-8")
    return Lark(text, parser="lalr", lexer="basic", strict=True, postlex=_Odd(), **options)


def table_text() -> str:
    """The text of `grammar/table.py` as the grammar demands it."""
    made = grammar()
    words, patterns = _terminals(made)
    rules, states = _tables(made)
    parts = [
        HEAD,
        f"START, END = {states[0]}, {states[1]}",
        _literal("WORDS: dict[str, str]", "{", words, "}"),
        _literal("PATTERNS: tuple[tuple[str, str], ...]", "(", patterns, ")"),
        "# size, origin, action, shape: what is handed on, None for all;",
        "# a number is a child, -1 a gap, and what lies below it a child's children",
        _literal("RULES: tuple[tuple[int, str, str, tuple[int, ...] | None], ...]", "(", rules, ")"),
        "# by state and terminal or rule: the next state, or, below zero, the rule to apply (its complement)",
        _literal("ROWS: tuple[dict[str, int], ...]", "(", states[2], ")"),
    ]
    return "\n".join(parts)


def _literal(head: str, opening: str, lines: list[str], closing: str) -> str:
    return f"{head} = {opening}\n" + "".join(f"    {line},\n" for line in lines) + f"{closing}\n"


def _terminals(made: Lark) -> tuple[list[str], list[str]]:
    """The words of the language, and the other terminals in the order in which they are tried."""
    word = re.compile(made.get_terminal("WORD").pattern.to_regexp())
    words: list[str] = []
    patterns: list[str] = []
    for terminal in made.parser.lexer.lexer.terminals:
        if terminal.pattern.type == "str" and word.fullmatch(terminal.pattern.value):
            words.append(f'"{terminal.pattern.value}": "{terminal.name}"')
        else:
            patterns.append(f'("{terminal.name}", {terminal.pattern.to_regexp()!r})')
    return sorted(words), patterns


def _tables(made: Lark) -> tuple[list[str], tuple[int, int, list[str]]]:
    from lark.grammar import Rule
    from lark.lexer import TerminalDef

    data, memo = made.memo_serialize([TerminalDef, Rule])
    table = data["parser"]["parser"]
    numbers = {reference["@"]: number for number, reference in enumerate(data["rules"])}
    signs = table["tokens"]
    steps = {
        state: {signs[sign]: arg if kind == 0 else ~numbers[arg["@"]] for sign, (kind, arg) in row.items()}
        for state, row in table["states"].items()
    }
    order = _numbered(steps, table["start_states"]["start"])
    rows = []
    for state in order:
        row = {name: order[step] if step >= 0 else step for name, step in sorted(steps[state].items())}
        rows.append("{" + ", ".join(f'"{name}": {step}' for name, step in row.items()) + "}")
    rules = [_rule(memo[reference["@"]]) for reference in data["rules"]]
    return rules, (order[table["start_states"]["start"]], order[table["end_states"]["start"]], rows)


def _numbered(steps: dict[int, dict[str, int]], start: int) -> dict[int, int]:
    """The states in the order in which they are met from the start: lark's own order changes from run to run."""
    order = {start: 0}
    waiting = [start]
    for state in waiting:
        for _, step in sorted(steps[state].items()):
            if step >= 0 and step not in order:
                order[step] = len(order)
                waiting.append(step)
    return order


def _rule(rule: dict[str, Any]) -> str:
    origin = rule["origin"]["name"]
    if origin.startswith("_"):
        action = "+"
    elif rule["options"]["expand1"] and not rule["alias"]:
        action = "="
    else:
        action = rule["alias"] or origin
    expansion = rule["expansion"]
    shape = _shape(expansion, rule["options"]["keep_all_tokens"], rule["options"]["empty_indices"])
    return repr((len(expansion), origin, action, None if shape == tuple(range(len(expansion))) else shape))


def _shape(expansion: list[dict[str, Any]], keep_all: bool, gaps: list[bool]) -> tuple[int, ...]:
    """What a rule hands on, in lark's own way: no punctuation, `_rules` unfolded, a gap for what is absent."""
    shape: list[int] = []
    at = 0
    for gap in gaps or [False] * len(expansion):
        if gap:
            shape.append(-1)
            continue
        symbol = expansion[at]
        if symbol["__type__"] == "NonTerminal":
            shape.append(-2 - at if symbol["name"].startswith("_") else at)
        elif keep_all or not symbol["filter_out"]:
            shape.append(at)
        at += 1
    return tuple(shape)


if __name__ == "__main__":
    Path(str(files("rigdsl_grammar").joinpath("table.py"))).write_text(table_text(), "utf-8", newline="\n")
