"""The grammar against lark: no conflicts, tables as made from it, and our walk of them the same as lark's own."""

from __future__ import annotations

import subprocess
import sys
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lark import Lark, Tree, UnexpectedInput

from rigdsl.syntax import parse, tokens
from rigdsl.syntax.table import grammar, table_text
from rigdsl.syntax.walk import Stuck, accepts, actions, walk
from rigdsl.text import Source
from tests.syntax.showing import GEAR, HALL, NIGHT


@pytest.fixture(scope="module")
def lark() -> Lark:
    """Strict: lark refuses a conflict, and two terminals of one rank that match one text."""
    return grammar()


def test_tables_are_those_of_the_grammar() -> None:
    there = files("rigdsl_grammar").joinpath("table.py").read_text("utf-8")
    assert there == table_text(), "make them anew: python -m rigdsl.syntax.table"


class TreeBuilder:
    """Builds lark's trees, to compare."""

    def __getattr__(self, name: str) -> Any:
        rule = name.removeprefix("on_")
        return lambda parts, start, end: Tree(rule, [_plain(part) for part in parts])


def _plain(part: Any) -> Any:
    return part if part is None or isinstance(part, Tree) else part.text


@pytest.mark.parametrize("text", [HALL, GEAR, NIGHT, "", ";\n", "link X { A 1, 3, B.c 4, D -- E; a 1, x, 2 kHz }"])
def test_our_walk_builds_what_lark_builds(lark: Lark, text: str) -> None:
    assert walk(tokens(Source("test.rig", text)), actions(TreeBuilder())) == lark.parse(text)


BITS = """box SL is in zone link source kick dynamic to from via xlr patch model inputs pass x at 6 m 1-4 3.5 kHz dB/km
-- -> - , . : ( ) { } ; "label" " 10.0.4.11 2026-12-04 # = “ _ accept because
supply power insert through slot takes V"""
WORDS = st.sampled_from([*BITS.split(), "\n", " "])


@given(st.lists(WORDS, max_size=25).map(" ".join))
def test_lark_reads_just_what_we_read(text: str) -> None:
    try:
        tree = LARK.parse(text)
    except UnexpectedInput:
        tree = None
    assert (parse(Source("test.rig", text)).findings == ()) == (tree is not None)


LARK = grammar()


@settings(max_examples=300)
@given(st.text() | st.lists(WORDS, max_size=25).map("".join))
def test_lark_sees_the_same_tokens(text: str) -> None:
    theirs = [(token.type, str(token), token.start_pos, token.end_pos) for token in LARK.lex(text, dont_ignore=True)]
    assert [tuple(token) for token in tokens(Source("test.rig", text))] == theirs


@given(st.text() | st.lists(WORDS, max_size=25).map(" ".join))
def test_tokens_lose_nothing(text: str) -> None:
    found = tokens(Source("test.rig", text))
    assert "".join(token.text for token in found) == text
    assert all(text[token.start : token.end] == token.text for token in found)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("box", {"a name"}),
        ("source kick", {"STRING", "WORD"}),
        ("stock xlr 10", {"WORD", "RATIO"}),
        ("accept unused-port on y because", {"STRING"}),
        ("clock A", {"_SEP", "$END"}),
        ("keep A", {"_DOT", "_COMMA", "NUMBER", "_FOR", "_SEP", "$END"}),
    ],
)
def test_what_may_come_next(text: str, expected: set[str]) -> None:
    stuck = walk(tokens(Source("test.rig", f"{text} %")), actions(TreeBuilder()))
    assert isinstance(stuck, Stuck)
    found = accepts(stuck.states)
    assert ({"a name"} if {"WORD", "_BOX", "_IN", "_X", "_DATA"} <= found else found) == expected


def test_reading_a_file_does_not_import_lark() -> None:
    code = "import sys, rigdsl.syntax; print('lark' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True).stdout == "False\n"
