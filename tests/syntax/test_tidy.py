"""The one layout: what it looks like, and that it changes nothing else, wherever remarks and line ends stand."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.syntax import parse, tokens
from rigdsl.syntax import tidy as tidying
from rigdsl.syntax.forms import FORMS
from rigdsl.syntax.layout import Row, rows
from rigdsl.syntax.nodes import Broken
from rigdsl.syntax.tidy import Lines, Tidied, tidy
from rigdsl.text import Source
from tests.syntax.showing import GEAR, HALL, NIGHT, shown

ROOT = Path(__file__).parents[2]
FILES = sorted([*(ROOT / "examples").glob("**/*.rig"), *(ROOT / "rigdsl" / "library").glob("*.rig")])


def tidied(text: str, lines: Lines | None = None) -> Tidied:
    """A text set, with what must hold of every one: it may be used, and setting it again changes nothing."""
    done = tidy(Source("test.rig", text), lines)
    assert done.doubt == ""
    if lines is None:
        assert tidy(Source("test.rig", done.text)) == done
    return done


def set_anew(text: str) -> str:
    return tidied(text).text


# ---- what it looks like


@pytest.mark.parametrize(
    ("before", "after"),
    [
        # One space between words, none where they cling together.
        ("clock   DESK", "clock DESK"),
        ("\tclock\tDESK  ", "clock DESK"),
        ("zone drums  at( 0 ,4 )m", "zone drums at (0, 4) m"),
        ("zone foh at ( - 1.5,- 28 ) m", "zone foh at (-1.5, -28) m"),
        ('zone a"Drum riser"at (0,4)m', 'zone a "Drum riser" at (0, 4) m'),
        ("link C01 :SL . A--DESK .stage 1via cat6 75m", "link C01: SL.A -- DESK.stage 1 via cat6 75 m"),
        ("patch SL.mic 1 - 8->DESK.ch 1 -8", "patch SL.mic 1-8 -> DESK.ch 1-8"),
        ("power SL ,A1 from D1", "power SL, A1 from D1"),
        ("way foh--wing 65m", "way foh -- wing 65 m"),
        ("stock xlr 10m x 24", "stock xlr 10 m x 24"),
        ("control SL.mic 1-16  by DESK", "control SL.mic 1-16 by DESK"),
        # Nothing stands in columns.
        ("box A    is nw16   in wing\nbox LONG is desk32 in foh", "box A is nw16 in wing\nbox LONG is desk32 in foh"),
        # Numbers of sockets stand close, as everywhere; no list is counted anew, and none is sorted.
        ("keep SL.mic 1, 3 , 5 - 8", "keep SL.mic 1,3,5-8"),
        ("patch X.a 1,2,3, X.b 4 -> D.ch 3,1,2,4", "patch X.a 1,2,3, X.b 4 -> D.ch 3,1,2,4"),
        ("accept r on SL.mic 1, 3 because 'x'".replace("'", '"'), 'accept r on SL.mic 1,3 because "x"'),
        ("model m { pass a 1, 2-3 -> b 4 ,5,6 }", "model m { pass a 1,2-3 -> b 4,5,6 }"),
        # Quantities are no such list.
        ("protocol p { carries 40 at 48kHz,20 at 96kHz }", "protocol p { carries 40 at 48 kHz, 20 at 96 kHz }"),
        ("cable c { x 1 ,2 - 3kHz,4,5 dB/km }", "cable c { x 1, 2-3 kHz, 4, 5 dB/km }"),
        # A category is one word of a number and a letter, and only where it is the fact.
        ("cable c { category 6 a;x }", "cable c { category 6a; x }"),
        ("cable c {\ncategory 5e\n}", "cable c {\n  category 5e\n}"),
        ("stock category 10m x 2", "stock category 10 m x 2"),
        # A block on one line stays there.
        ("change D{rate 96kHz}", "change D { rate 96 kHz }"),
        ("cable c {}", "cable c { }"),
        ("cable c { a;b ;; c; }", "cable c { a; b; c }"),
        ("clock A;clock B ;", "clock A; clock B"),
        (";;clock A", "clock A"),
        # A block over several lines: two spaces for each level, `{` ends its line, `}` begins one.
        ("cable c {\na\n    b\n}", "cable c {\n  a\n  b\n}"),
        ("cable c { a\nb }", "cable c {\n  a\n  b\n}"),
        ("cable c { a; b;\nc; d }", "cable c {\n  a; b\n  c; d\n}"),
        ("cable c {\n}", "cable c {\n}"),
        (
            "model m {\nkind k\ninputs in 1-8 {\npreamp; phantom }\noutputs o { x }; pass in->o\n}",
            "model m {\n  kind k\n  inputs in 1-8 {\n    preamp; phantom\n  }\n  outputs o { x }; pass in -> o\n}",
        ),
        ("model m { inputs a {\nx } }; clock D", "model m {\n  inputs a {\n    x\n  }\n}; clock D"),
        # Remarks: two spaces behind a line; on a line of their own as deep as what stands there; their text is theirs.
        ("clock A # one", "clock A  # one"),
        ("clock A#one\t ", "clock A  #one"),
        ("clock A;  #  one   two", "clock A  #  one   two"),
        ("   # one\nclock A", "# one\nclock A"),
        (
            "cable c { # one\n# two\na # three\n      # four\n} # five",
            "C  # one\n  # two\n  a  # three\n  # four\n}  # five",
        ),
        ("cable c { # one\n}", "C  # one\n}"),
        ("cable c { a # one\nb } # two", "C\n  a  # one\n  b\n}  # two"),
        ("; # one", "# one"),
        # At most one blank line, none where a text or a block begins or ends.
        ("\n\nclock A\n\n\n \nclock B\n\n", "clock A\n\nclock B"),
        ("cable c {\n\n  a\n\n\n  b\n\n}\n\n# end\n\n", "cable c {\n  a\n\n  b\n}\n\n# end"),
        ("cable c {  # one\n\n  a\n\n  # two\n\n}", "C  # one\n  a\n\n  # two\n}"),
        ("clock A\n;\n;;\nclock B", "clock A\n\nclock B"),
    ],
)
def test_layout(before: str, after: str) -> None:
    assert set_anew(before) == re.sub("^C", "cable c {", after) + "\n"


@pytest.mark.parametrize("text", ["", "\n", " \t\n\n ", ";"])
def test_nothing_is_nothing(text: str) -> None:
    assert set_anew(text) == ""


@pytest.mark.parametrize("text", [HALL, GEAR, NIGHT], ids=["hall", "gear", "night"])
def test_a_rig_in_the_one_layout_stays_as_it_is(text: str) -> None:
    assert set_anew(text) == text.lstrip("\n")


@pytest.mark.parametrize("path", FILES, ids=[str(path.relative_to(ROOT)) for path in FILES])
def test_examples_and_standards_are_in_the_one_layout(path: Path) -> None:
    text = path.read_text("utf-8")
    assert set_anew(text) == text


# ---- what stays


def statements() -> Iterator[str]:
    """A statement of every form, with every clause: those of the table of nodes, of the help, of gear and a night."""
    table = (Path(__file__).parent / "statements.txt").read_text("utf-8").split("\n")
    yield from (line for line in table if line and not line.startswith(" "))
    yield from (form.example for form in FORMS.values())
    for text in (HALL, GEAR, NIGHT):
        yield from (statement.span.text for statement in parse(Source("test.rig", text)).statements)


STATEMENTS = sorted(set(statements()))
SPACES = st.sampled_from([" ", " ", "", "  ", "\t"])
REMARKS = st.sampled_from(["# why", "#", '# "x { ; }', "#\ttwo  words"])
BREAKS = st.one_of(
    st.sampled_from(["\n", ";", "\n\n\n", " ;\n", "\n;", "\n  \t\n"]), REMARKS.map(lambda remark: f" {remark}  \n")
)
GAPS = st.lists(BREAKS, max_size=3).map("".join)
BREAK = st.tuples(BREAKS, GAPS).map("".join)


def words(text: str) -> list[str]:
    return [token.text for token in tokens(Source("test.rig", text)) if token.kind not in ("BLANK", "COMMENT")]


def spread(text: str, space: Callable[[], str], gap: Callable[[], str], some: Callable[[], str]) -> str:
    """A text with blanks of any kind in every gap between its words, and line ends and remarks where they may be."""
    made = ""
    for word in words(re.sub(r"#.*", "", text)):
        if word in ("\n", ";"):
            made += some()
            continue
        if word == "}":
            made += gap()
        blank = space()
        apart = (
            words(made[-200:] + blank + word)[-1:] == [word]
            and words(made[-200:] + blank)[-1:] == words(made[-200:])[-1:]
        )
        made += (blank if apart else " ") + word
        if word == "{":
            made += gap()
    return made


@st.composite
def laid_out(draw: st.DrawFn) -> str:
    """Some statements, laid out in any way."""
    made = draw(GAPS)
    for statement in draw(st.lists(st.sampled_from(STATEMENTS), min_size=1, max_size=3)):
        made += spread(statement, lambda: draw(SPACES), lambda: draw(GAPS), lambda: draw(BREAK)) + draw(BREAK)
    return made


def meaning(text: str) -> list[str]:
    parsed = parse(Source("test.rig", text))
    return [
        f"broken: {statement.span.text}" if isinstance(statement, Broken) else shown(statement)
        for statement in parsed.statements
    ]


def remarks(text: str) -> list[tuple[str, str, str]]:
    """Each remark, with the word before it on its line, or else the next word below it."""
    found = [token for token in tokens(Source("test.rig", text)) if token.kind != "BLANK" and token.text != ";"]
    told = []
    for at, token in enumerate(found):
        if token.kind == "COMMENT":
            before = found[at - 1].text if at and found[at - 1].text != "\n" else ""
            below = next((other.text for other in found[at:] if other.kind not in ("COMMENT", "_SEP")), "")
            told.append((token.text.rstrip(" \t"), before, below))
    return told


def assert_in_layout(text: str) -> None:
    """What a person may hold against a text without knowing the grammar."""
    assert text == "" or (text.endswith("\n") and not text.endswith("\n\n") and text[0] not in " \n")
    assert "\n\n\n" not in text
    for line in text.split("\n"):
        assert line == line.rstrip(" \t")
        code = re.sub(r'"(?:[^"\\]|\\.)*"', '""', line)
        code = re.sub(r"#.*", "#", code)
        indent = len(code) - len(code.lstrip(" "))
        assert indent % 2 == 0
        assert "\t" not in code
        assert "  " not in re.sub(r"  #$", "", code[indent:])
        assert not re.search(r" [,:.)]|[.(] |;[^ ]|; *#?$|[^ ]\{|\{[^ ]|[^ ]\}", code[indent:])


@settings(max_examples=400)
@given(laid_out())
def test_words_remarks_and_meaning_stay_wherever_blanks_and_remarks_stand(text: str) -> None:
    assert parse(Source("test.rig", text)).findings == ()
    done = set_anew(text)
    assert [word for word in words(done) if word not in "\n;"] == [word for word in words(text) if word not in "\n;"]
    assert remarks(done) == remarks(text)
    assert meaning(done) == meaning(text)
    assert_in_layout(done)


@pytest.mark.parametrize("statement", [text for text in STATEMENTS if "\n" not in text and "#" not in text])
def test_a_line_has_one_layout(statement: str) -> None:
    chance = Random(statement)
    once = set_anew(statement)
    for _ in range(5):
        other = spread(
            statement, lambda: chance.choice(["", " ", "  ", "\t"]), lambda: chance.choice(["", ";"]), lambda: ";"
        )
        assert set_anew(other) == once


# ---- what cannot be read


@pytest.mark.parametrize(
    ("before", "after", "left"),
    [
        ("clock   A\nbox  B\nclock   C", "clock A\nbox  B\nclock C\n", 1),
        ("clock   A;  clock\nclock   B", "clock   A;  clock\nclock B\n", 1),
        ("foo   bar  \n\n\n\nlink X  via\n\n\nclock  D", "foo   bar  \n\nlink X  via\n\nclock D\n", 2),
        ("model m {\n   kind x\nclock  D", "model m {\n   kind x\nclock D\n", 1),
        ("cable c {\n   a  = 1\n\n\n   b\n}\nclock  D", "cable c {\n   a  = 1\n\n\n   b\n}\nclock D\n", 1),
        ("cable  c\n{\n a\n}\nclock  E", "cable  c\n{\n a\n}\nclock E\n", 1),
        ('zone a "x\n  y"  at\nclock  D', 'zone a "x\n  y"  at\nclock D\n', 1),
        ("clock  D }\n clock  E", "clock  D }\nclock E\n", 1),
        ("zone a at (1,\n    2) m\nclock  D", "zone a at (1,\n    2) m\nclock D\n", 1),
        ("oops  {\n# in it\n   }\n   # below\nclock  D", "oops  {\n# in it\n   }\n# below\nclock D\n", 1),
        ("x  =  1; cable c {\n a\n   }", "x  =  1; cable c {\n a\n   }\n", 1),
    ],
)
def test_what_cannot_be_read_stays_as_it_is(before: str, after: str, left: int) -> None:
    assert tidied(before) == Tidied(after, left)


BROKEN = [
    "box   B",
    "source  kick in  at",
    "x = 1",
    "link  X via",
    "model m  { inputs  }",
    "zone “a”  is",
    "clock A  B",
]


@given(st.lists(st.tuples(st.sampled_from(BROKEN), laid_out()), min_size=1, max_size=4))
def test_the_rest_is_set_as_if_it_stood_alone(parts: list[tuple[str, str]]) -> None:
    # Indented: in a file with a mistake, a word in column 1 that could open a statement ends the block it stands in.
    text = "".join(f"{broken}\n" + re.sub("(?m)^", " ", healthy) + "\n" for broken, healthy in parts)
    done = tidied(re.sub("(?m)^ +$", "", text))
    assert done.left == len(parts)
    expected = [line for broken, healthy in parts for line in (broken, *set_anew(healthy).split("\n"))]
    assert [line for line in done.text.split("\n") if line] == [line for line in expected if line]


BITS = """box SL is in zone link source kick dynamic to from via xlr patch model inputs pass x at 6 m 1-4 3.5 kHz dB/km
-- -> - , . : ( ) { } { } ; "label" " 10.0.4.11 2026-12-04 # = “ _ accept because category rig"""
SOUP = st.lists(st.sampled_from([*BITS.split(), "\n", "\n", " ", "\t"]), max_size=30)


@settings(max_examples=500)
@given(st.text() | SOUP.map("".join) | SOUP.map(" ".join))
def test_any_text_is_left_alone_or_says_the_same(text: str) -> None:
    done = tidy(Source("test.rig", text.replace("\r", "")))
    if done.doubt == "":
        assert tidy(Source("test.rig", done.text)) == done
        assert meaning(done.text) == meaning(text.replace("\r", ""))


@settings(max_examples=200)
@given(laid_out(), st.lists(st.tuples(st.integers(0), st.sampled_from(["{", "}", '"', "\n", "=", ";", "#", " x "]))))
def test_a_rig_with_mistakes(text: str, changes: list[tuple[int, str]]) -> None:
    for at, put in changes[:3]:
        at %= len(text) + 1
        text = text[:at] + put + text[at:]
    done = tidy(Source("test.rig", text))
    if done.doubt == "":
        assert tidy(Source("test.rig", done.text)) == done
        assert meaning(done.text) == meaning(text)


# ---- some lines only


@pytest.mark.parametrize(
    ("lines", "after"),
    [
        ((1, 1), "clock A\n\n\nclock   B\ncable  c { a\n b }\n\n"),
        ((2, 3), "clock   A\n\nclock   B\ncable  c { a\n b }\n\n"),
        ((4, 5), "clock   A\n\n\nclock B\ncable c {\n  a\n b }\n\n"),
        ((6, 7), "clock   A\n\n\nclock   B\ncable  c { a\n  b\n}\n"),
        ((1, 99), "clock A\n\nclock B\ncable c {\n  a\n  b\n}\n"),
    ],
)
def test_some_lines(lines: tuple[int, int], after: str) -> None:
    assert tidied("clock   A\n\n\nclock   B\ncable  c { a\n b }\n\n", Lines(*lines)).text == after


@given(laid_out(), st.integers(1, 12), st.integers(0, 6))
def test_the_other_lines_stay_and_all_lines_are_all(text: str, first: int, more: int) -> None:
    done = tidied(text, Lines(first, first + more)).text
    before, after = text.split("\n"), done.split("\n")
    assert after[: first - 1] == before[: first - 1]
    behind = before[first + more :]
    assert after[len(after) - len(behind) :] == behind or first + more >= len(before) - 1
    assert tidied(text, Lines(1, text.count("\n") + 1)).text == set_anew(text)


# ---- when it is not to be trusted


def _drop_remark(found: list[Row]) -> list[Row]:
    return [row._replace(lines=tuple(line.split("  #")[0] for line in row.lines)) for row in found]


def _change_word(found: list[Row]) -> list[Row]:
    return [row._replace(lines=tuple(line.replace("DESK", "DUSK") for line in row.lines)) for row in found]


def _swap(found: list[Row]) -> list[Row]:
    return [found[1], found[0], *found[2:]]


def _move_remark(found: list[Row]) -> list[Row]:
    return [row._replace(lines=tuple(line.replace("  #", "\n#") for line in row.lines)) for row in found]


def _grow(found: list[Row]) -> list[Row]:
    return [row._replace(lines=tuple(f"{line} " for line in row.lines)) for row in found]


@pytest.mark.parametrize(
    ("spoil", "doubt"),
    [
        (_drop_remark, tidying.OTHER),
        (_change_word, tidying.OTHER),
        (_swap, tidying.OTHER),
        (_move_remark, tidying.OTHER),
        (_grow, tidying.UNSTABLE),
    ],
)
def test_a_layout_that_goes_wrong_is_seen(
    spoil: Callable[[list[Row]], list[Row]], doubt: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls = iter([spoil, list])
    monkeypatch.setattr(tidying, "rows", lambda *given: next(calls)(rows(*given)))
    assert tidy(Source("test.rig", "clock   DESK # the one\nclock   B # the other\n")).doubt == doubt


def test_a_word_in_column_1_that_makes_a_file_a_rig_stays_there() -> None:
    """`rig` at the margin is a head that cannot be read, for all that look: in a block it would be none."""
    text = "cable c {\nrig x\n}\n"
    assert tidy(Source("test.rig", text)).doubt == tidying.OTHER
