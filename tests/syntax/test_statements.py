"""Every form of every statement, and what it says."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from rigdsl.syntax import nodes as n
from rigdsl.syntax import parse
from rigdsl.text import Source
from rigdsl_grammar.table import WORDS
from tests.syntax.showing import GEAR, HALL, NIGHT, read

CASES = Path(__file__).with_name("statements.txt").read_text("utf-8").splitlines()


@pytest.mark.parametrize(("text", "says"), list(zip(CASES[::2], CASES[1::2], strict=True)))
def test_statement(text: str, says: str) -> None:
    assert read(text) == says.strip()


@pytest.mark.parametrize("text", CASES[::2])
def test_span_is_the_whole_statement_and_nothing_else(text: str) -> None:
    (statement,) = parse(Source("test.rig", f"\n ;{text}  # and a comment\n\n")).statements
    assert statement.span.text == text


# Every place where a name may stand.
NAMES = """\
zone NAME "label" at (0, 0) m { NAME }
way NAME -- NAME 65 m
box NAME is NAME in NAME { NAME NAME 3 NAME }
box NAME is NAME in NAME.NAME 1 { NAME }
link NAME: NAME.NAME 1 -- NAME.NAME via NAME 5 m { NAME; NAME NAME, NAME }
link NAME.NAME, NAME 1 -- NAME, NAME
link NAME via NAME { NAME.NAME 1-2, NAME -- NAME.NAME 1-3; NAME -- NAME; NAME "x", NAME }
source NAME "label" dynamic in NAME to NAME.NAME 1, NAME via NAME 6 m
output NAME wedge in NAME from NAME.NAME via NAME
patch NAME -> NAME.NAME 1
patch NAME.NAME, NAME, 3 -> NAME
insert NAME.NAME 3, NAME through NAME.NAME 1, NAME via NAME 2 m { NAME }
clock NAME
control NAME.NAME, NAME by NAME
keep NAME.NAME 1, NAME
accept NAME on NAME because "why"
accept unused-port on NAME.NAME 3, NAME because "why"
stock NAME 10 m x 24
supply NAME "label" 230 V 16 A in NAME { NAME NAME }
power NAME, NAME from NAME
cable NAME { NAME NAME }
protocol NAME "label" { NAME NAME, NAME 3 }
model NAME { inputs NAME 1-8 { NAME }; digital NAME, NAME; pass NAME -> NAME 1-2; bridge NAME -- NAME; kind NAME }
model NAME { slot NAME 1-2 takes NAME, NAME }
without NAME, NAME
unpatch NAME.NAME 1-4, NAME
replug NAME to NAME.NAME 3 via NAME 4 m
replug NAME from NAME
change NAME { NAME NAME }
"""


@pytest.mark.parametrize("word", sorted(WORDS))
def test_no_word_of_the_language_is_reserved(word: str) -> None:
    usual = read(NAMES.replace("NAME", "QQ")).replace(word, "?")
    assert read(NAMES.replace("NAME", word)).replace(word, "?") == usual.replace("QQ", "?")


MODEL_WORDS = {"inputs", "outputs", "channels", "mixes", "digital", "data", "pass", "bridge", "slot"}


@pytest.mark.parametrize("word", sorted(set(WORDS) - MODEL_WORDS))
def test_a_fact_of_a_model_begins_with_any_word_that_opens_no_group(word: str) -> None:
    assert read(f"model m {{ {word} rj45 }}") == f"Model name=m facts=[{word}(rj45)]"


@pytest.mark.parametrize("name", ["kick", "oh-l", "K2", "a_b", "kück", "Überm-Steg", "кик", "鼓", "a-1", "mm²"])
def test_names(name: str) -> None:
    assert read(f"clock {name}") == f"Clock box={name}"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("link A--B", "Link joins=[[A]--[B]]"),
        ("link C:A.x 1--B.y 2", "Link name=C joins=[[A.x/1]--[B.y/2]]"),
        ("patch A->B", "Patch left=[A] right=[B]"),
        ("patch oh-l->DESK.ch 1", "Patch left=[oh-l] right=[DESK.ch/1]"),
        ("cable c{a;b\n;;c 1,2;}", "Cable name=c facts=[a() b() c(1, 2)]"),
        ("\tclock\tD # the desk", "Clock box=D"),
        ('use "#;{.rig"', 'Use path="#;{.rig"'),
        ("", ""),
        (" ;; # nothing\n", ""),
        ("clock A;clock B", "Clock box=A\nClock box=B"),
        ("cable c { x 60m }", "Cable name=c facts=[x(60 m)]"),
        ("cable c { x 1-12, 3 - 4 kHz }", "Cable name=c facts=[x(1-12, 3-4 kHz)]"),
    ],
)
def test_spacing(text: str, says: str) -> None:
    assert read(text) == says


def test_label_without_quotes_and_escapes() -> None:
    (use,) = parse(Source("test.rig", r'use "a\"b\\c\d"')).statements
    assert isinstance(use, n.Use)
    assert use.path.text == r'a"b\c\d'
    assert use.path.span.text == r'"a\"b\\c\d"'


def test_a_number_and_a_word_that_touch_show_it_in_their_places() -> None:
    (cable,) = parse(Source("test.rig", "cable c { category 5e }")).statements
    assert isinstance(cable, n.Cable)
    number, letter = cable.facts[0].clauses[0]
    assert isinstance(number, n.Word)
    assert isinstance(letter, n.Word)
    assert (number.kind, number.text, letter.kind, letter.text) == ("number", "5", "word", "e")
    assert number.end == letter.start


def test_kinds_of_words() -> None:
    text = 'cable c { f word 1.5 dB/km "x" 2026-12-04 10.0.4.11 1-2 }'
    (cable,) = parse(Source("test.rig", text)).statements
    assert isinstance(cable, n.Cable)
    (clause,) = cable.facts[0].clauses
    kinds = [atom.kind for atom in clause if isinstance(atom, n.Word)]
    assert kinds == ["word", "number", "ratio", "string", "date", "address"]
    assert isinstance(clause[-1], n.Range)


def test_spans_of_parts() -> None:
    text = "link X { A.b 1-2, 4, C -- D.e 1-4 ; loom T1 }\nway a -- b 60 m\nzone z at (0, -1) m"
    link, way, zone = parse(Source("test.rig", text)).statements
    assert isinstance(link, n.Link)
    assert isinstance(way, n.Way)
    assert isinstance(zone, n.Zone)
    assert zone.position is not None
    (join,) = link.joins
    assert join.span.text == "A.b 1-2, 4, C -- D.e 1-4"
    assert [end.span.text for end in join.left + join.right] == ["A.b 1-2, 4", "C", "D.e 1-4"]
    assert join.left[0].ranges[0].span.text == "1-2"
    assert link.facts[0].span.text == "loom T1"
    assert way.length.span.text == "60 m"
    assert zone.position.span.text == "at (0, -1) m"


def test_a_whole_rig() -> None:
    parsed = parse(Source("hall.rig", HALL))
    assert parsed.findings == ()
    kinds = [type(statement).__name__ for statement in parsed.statements]
    assert {kind: kinds.count(kind) for kind in dict.fromkeys(kinds)} == {
        "RigHead": 1,
        "Use": 1,
        "Zone": 4,
        "Way": 1,
        "Box": 4,
        "Link": 3,
        "Plug": 5,
        "Patch": 4,
        "Clock": 1,
        "Control": 1,
        "Keep": 1,
        "Accept": 1,
        "Stock": 1,
        "Supply": 1,
        "Power": 1,
        "Insert": 1,
    }
    assert all(before.span.end < after.span.start for before, after in pairwise(parsed.statements))


@pytest.mark.parametrize("text", [GEAR, NIGHT])
def test_gear_and_a_night_are_read_whole(text: str) -> None:
    parsed = parse(Source("test.rig", text))
    assert parsed.findings == ()
    assert not any(isinstance(statement, n.Broken) for statement in parsed.statements)


def test_same_text_same_nodes() -> None:
    source = Source("hall.rig", HALL)
    assert parse(source) == parse(source)
