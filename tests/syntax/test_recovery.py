"""A mistake costs its own statement, or its own line of a block, and no more."""

from __future__ import annotations

import gc
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.syntax import Parsed, nodes, parse
from rigdsl.syntax.nodes import Broken
from rigdsl.text import Source
from tests.syntax.showing import GEAR, HALL, NIGHT, shown


def reading(text: str) -> tuple[list[str], list[int]]:
    """Each statement as its first two words (`-` for a broken one), and the line of each finding."""
    parsed = parse(Source("test.rig", text))
    kinds = []
    for statement in parsed.statements:
        if isinstance(statement, Broken):
            kinds.append("-" + "".join(f" {word.text}" for word in (statement.word, statement.name) if word))
        else:
            kinds.append(" ".join(statement.span.text.split()[:2]))
    return kinds, [finding.place.from_position.line for finding in parsed.findings]


@pytest.mark.parametrize(
    ("text", "statements", "lines"),
    [
        ("box A is b\nbox B\nbox C is d\n", ["box A", "- box B", "box C"], [2]),
        ("sorce k di\nclock D\nsource\nclock E", ["- sorce k", "clock D", "- source", "clock E"], [1, 3]),
        ("clock A; clock; clock B", ["clock A", "- clock", "clock B"], [1]),
        ("foo bar\nlink X via\npatch A\n", ["- foo", "- link X", "- patch"], [1, 2, 3]),
        ("box A is b { x = 1 }\nclock D", ["box A", "clock D"], [1]),
        ("cable c {\n  a = 1\n  b\n  c: 3\n}\nclock D", ["cable c", "clock D"], [2, 4]),
        ("cable c {\n  a,\n}", ["cable c"], [2]),
        ("cable c { a; b { c; d }; e }", ["cable c"], [1]),
        ("model m {\n  inputs a 1-8 { x = 1; preamp }\n  kind y\n}", ["model m"], [2]),
        ("model m {\n  inputs\n  weight = 3\n}\nclock D", ["- model m", "clock D"], [2, 3]),
        ("model m {\n  input a 1-8 { preamp }\n}", ["- model m"], [2]),
        ("link X {\n  A -- \n  note = 3\n}", ["- link X"], [2, 3]),
        ("model m {\n  kind x\nclock D\nclock E", ["model m", "clock D", "clock E"], [1]),
        ("model m {\n  inputs a {\n  kind x\n}\nclock D", ["model m", "clock D"], [1]),
        ("cable c {\n  a\n  b = 3\nclock D", ["cable c", "clock D"], [1]),
        ("clock D }\nclock E", ["clock D", "-", "clock E"], [1]),
        ("cable c { a } }\nclock E", ["cable c", "-", "clock E"], [1]),
        ("cable c\n{\n  a\n}\nclock E", ["cable c", "clock E"], [2]),
        ("cable c  # mine\n\n{ a }", ["cable c"], [3]),
        ("{\n a\n}\nclock E", ["-", "clock E"], [1]),
        ("cable c { a }\n{ b }\nclock E", ["cable c", "-", "clock E"], [2]),
        ('use "a\nclock E', ["- use", "clock E"], [1]),
        ("<<<<<<< mine\nclock D\n=======\nclock E\n>>>>>>> theirs", ["clock D", "- clock"], [1]),
        # A label or a position over a line end, and braces that a lost quote hides.
        ('zone a "x\ny"\nclock D', ["- zone a", "clock D"], [1]),
        ('zone a "x\n  y\n  z" at (1, 2) m {\n  public\n}\nclock D', ["- zone a", "clock D"], [1]),
        ('zone a "x\nzone b "y\nclock D', ["- zone a", "- zone b", "clock D"], [1, 2]),
        ("zone a at (1,\n  2) m\nclock D", ["- zone a", "clock D"], [1]),
        ("zone a at (1,\nclock D", ["- zone a", "clock D"], [1]),
        ('model m "x {\n  kind y\n  inputs a {\n    preamp\n  }\n}\nclock D', ["- model m", "clock D"], [1]),
        ('model m {\n  inputs a { note "x }\n  kind y\n}\nclock D', ["model m", "clock D"], [2]),
        # A `}` too early: the block is read without it where it can be no other; else the statement is lost.
        ("cable c {\n  a }\n  b\n  c 3\n}\nclock D", ["cable c", "clock D"], [2]),
        ("link X via y {\n  A 1 -- B 1 }\n  A 2 -- B 2\n}\nclock D", ["link X", "clock D"], [2]),
        ("model m {\n  inputs a {\n    b }\n    c\n  }\n  kind x\n}\nclock D", ["- model m", "clock D"], [5]),
        ("cable c { a }\n}\nclock D", ["cable c", "-", "clock D"], [2]),
        ("cable c { a }\nfoo\nclock D\n}", ["cable c", "- foo", "clock D", "-"], [2, 4]),
        # A block with its lines in column 1 has nothing wrong with it.
        ("cable c {\ncontrol fern\nlink x\n}\nclock D", ["cable c", "clock D"], []),
        # Also where something else is wrong: this `control` is no statement, that one is.
        ("cable c {\ncontrol fern\n}\nclock", ["cable c", "- clock"], [4]),
        ("cable c {\na\ncontrol A by B", ["cable c", "control A"], [1]),
    ],
)
def test_recovery(text: str, statements: list[str], lines: list[int]) -> None:
    assert reading(text) == (statements, lines)


def test_the_facts_beside_a_broken_one_are_kept() -> None:
    text = "cable c {\n  medium fibre\n  grade = om3\n  loss 3 dB/km\n}"
    (cable,) = parse(Source("test.rig", text)).statements
    assert shown(cable) == "Cable name=c facts=[medium(fibre) loss(3 dB/km)]"
    assert cable.span.text == text


def test_a_statement_with_too_many_broken_lines_is_given_up() -> None:
    parsed = parse(Source("test.rig", "cable c {\n" + "a = 1\n" * 50 + "}\nclock D"))
    assert [type(statement) for statement in parsed.statements] == [Broken, nodes.Clock]
    assert len(parsed.findings) == 8


@pytest.mark.parametrize("number", range(1, 6))
def test_each_mistake_is_one_finding_and_the_rest_is_read(number: int) -> None:
    lines = HALL.splitlines()
    good = parse(Source("test.rig", HALL)).statements
    singles = [at for at, line in enumerate(lines) if line.startswith(("box", "source", "patch", "zone", "keep"))]
    hurt = singles[:: len(singles) // number][:number]
    for at in hurt:
        lines[at] = lines[at].replace(" ", " = ", 1)
    parsed = parse(Source("test.rig", "\n".join(lines)))
    assert [finding.place.from_position.line - 1 for finding in parsed.findings] == hurt
    assert sum(isinstance(statement, Broken) for statement in parsed.statements) == len(hurt)
    assert len(parsed.statements) == len(good)


def assert_sound(parsed: Parsed) -> None:
    """What holds for any text: places in the file, a finding for whatever is broken."""
    size = len(parsed.source.text)
    for finding in parsed.findings:
        assert 0 <= finding.place.start <= finding.place.end <= size
        assert finding.message
        assert finding.help
    for statement in parsed.statements:
        assert 0 <= statement.span.start <= statement.span.end <= size
    assert bool(parsed.findings) >= any(isinstance(statement, Broken) for statement in parsed.statements)


@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    assert_sound(parse(Source("test.rig", text)))


BITS = st.sampled_from([*'{}();:,.-="#\n\t \0é“–1x', "--", "->", "box ", "model ", "in ", "\ninputs ", " 6 m"])


CHANGES = st.tuples(st.integers(0, 4000), st.integers(0, 4), BITS)


@settings(max_examples=300)
@given(st.sampled_from([HALL, GEAR, NIGHT]), st.lists(CHANGES, max_size=4))
def test_any_rig_with_mistakes(text: str, changes: list[tuple[int, int, str]]) -> None:
    for at, gone, new in changes:
        start = at % len(text)
        text = text[:start] + new + text[start + gone :]
    assert_sound(parse(Source("test.rig", text)))


def test_past_200_findings_there_is_one_that_says_so() -> None:
    parsed = parse(Source("test.rig", "box A\n" * 1000 + "clock D\n"))
    assert len(parsed.findings) == 201
    assert parsed.findings[-1].message == "there is more behind this that cannot be read"
    assert isinstance(parsed.statements[-1], nodes.Clock)


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("source kick dynamic on drums\n" * 20_000, 5),
        ("sorce kick dynamic in drums\n" * 20_000, 8),
        ("{" * 10_000, 2),
        ("box A is b {" * 10_000, 2),
        ("box A is b " + "{" * 10_000 + "}" * 10_000, 2),
        ("}" * 10_000, 2),
        ("a b c d " * 125_000, 4),
        ("a-" * 500_000, 4),
        ('"' * 1_000_001, 4),
        ("%&$!" * 250_000, 4),
        ("patch " + "a 1, " * 50_000 + "b = c", 6),
        ("model m {\n" + "  x = 3\n" * 20_000 + "}", 5),
        ("cable c { a }\n" + "b\n" * 20_000 + "}", 5),
        ("cable c { a }\nb\n}\n" * 10_000, 5),
        ('zone a "x\n' * 20_000, 5),
        ('a "x {\n' * 20_000, 5),
        ("zone a at (1,\n" * 20_000, 5),
        ("<<<<<<< a\nzone a\n=======\nzone b\n>>>>>>> b\n" * 20_000, 5),
        ("<<<<<<< a\n=======\n" * 20_000, 5),
    ],
)
def test_hostile_text_ends_soon(text: str, seconds: float) -> None:
    start = time.perf_counter()
    parsed = parse(Source("test.rig", text))
    assert parsed.findings
    assert time.perf_counter() - start < seconds


def test_the_collector_is_left_as_it_was() -> None:
    assert gc.isenabled()
    parse(Source("test.rig", "clock D"))
    assert gc.isenabled()
    gc.disable()
    try:
        parse(Source("test.rig", "clock"))
        assert not gc.isenabled()
    finally:
        gc.enable()
