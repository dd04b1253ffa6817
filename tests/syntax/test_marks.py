"""A file in which a merge is not settled: one finding for each clash, and the first text is read."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.syntax import parse
from rigdsl.syntax.marks import clashes, first_text
from rigdsl.syntax.nodes import Broken
from rigdsl.syntax.tidy import tidy
from rigdsl.text import Source
from tests.syntax.showing import HALL, shown

MESSAGE = "the merge is not settled here: both texts still stand in the file"


def read(text: str) -> tuple[list[str], list[tuple[int, ...]]]:
    """Each statement as it stands (a lost one with its name behind a `-`), and the lines of each clash."""
    parsed = parse(Source("test.rig", text))
    kinds = []
    for one in parsed.statements:
        if isinstance(one, Broken):
            kinds.append("-" + "".join(f" {word.text}" for word in (one.word, one.name) if word))
        else:
            kinds.append(one.span.text)
    places = [(finding.place, *(other.place for other in finding.related)) for finding in parsed.findings]
    return kinds, [tuple(place.from_position.line for place in some) for some in places]


@pytest.mark.parametrize(
    ("text", "statements", "lines"),
    [
        (
            "<<<<<<< ours\nclock A\n=======\nclock B\n>>>>>>> theirs\nclock C\n",
            ["clock A", "- clock", "clock C"],
            [(1, 3, 5)],
        ),
        (
            "clock A\n<<<<<<< ours\nzone b\n||||||| base\nzone c\n=======\nzone d\n>>>>>>> theirs",
            ["clock A", "zone b", "- zone d"],
            [(2, 6, 8)],
        ),
        # Nothing on one side; two of them; inside a block; longer marks; a merge inside the base of another one.
        ("<<<<<<<\n=======\nzone b\n>>>>>>>\n", ["- zone b"], [(1, 2, 4)]),
        ("<<<<<<<\nzone b\n=======\n>>>>>>>\n", ["zone b"], [(1, 3, 4)]),
        (
            "<<<<<<< a\nzone b\n=======\n>>>>>>> b\n<<<<<<< a\nzone c\n=======\n>>>>>>> b\n",
            ["zone b", "zone c"],
            [(1, 3, 4), (5, 7, 8)],
        ),
        ("<<<<<<<<< a\nzone b\n=========\n=======\n>>>>>>> x\n>>>>>>>>> b\n", ["zone b"], [(1, 3, 6)]),
        (
            "<<<<<<< a\nzone b\n|||||||\n<<<<<<<<<\nzone x\n=========\nzone y\n>>>>>>>>>\n=======\nzone c\n>>>>>>> b\n",
            ["zone b", "- zone c"],
            [(1, 9, 11)],
        ),
        # The one that is open is given up where another one begins.
        ("<<<<<<< a\n<<<<<<< a\nzone b\n=======\n>>>>>>> b\nclock D", ["-", "zone b", "clock D"], [(1,), (2, 4, 5)]),
    ],
)
def test_the_first_text_is_read_and_the_other_is_lost(
    text: str, statements: list[str], lines: list[tuple[int, ...]]
) -> None:
    assert read(text) == (statements, lines)


def test_a_fact_inside_a_block() -> None:
    text = "cable c {\n<<<<<<< ours\n  weight 4 kg\n=======\n  weight 5 kg\n>>>>>>> theirs\n  medium fibre\n}\n"
    parsed = parse(Source("test.rig", text))
    assert [shown(one) for one in parsed.statements] == ["Cable name=c facts=[weight(4 kg) medium(fibre)]"]
    assert [one.message for one in parsed.findings] == [MESSAGE]


@pytest.mark.parametrize(
    "text",
    [
        "=======\nclock A\n",
        "<<<<<<< a\nclock A\n",
        "<<<<<<< a\n>>>>>>> b\n",
        "=======\n<<<<<<< a\n>>>>>>> b\n",
        "<<<<<<\na\n======\nb\n>>>>>>\n",
        " <<<<<<< a\n =======\n >>>>>>> b\n",
        "<<<<<<<a\n=======\n>>>>>>> b\n",
        "# <<<<<<< a\n# =======\n# >>>>>>> b\n",
    ],
)
def test_marks_that_do_not_go_together_are_none(text: str) -> None:
    assert clashes(text) == []
    assert MESSAGE not in [one.message for one in parse(Source("test.rig", text)).findings]


def test_what_it_says() -> None:
    text = "<<<<<<< ours\nsource bass di to SL 2\n=======\nsource bass di to SL 3\n>>>>>>> theirs\n"
    (one,) = parse(Source("test.rig", text)).findings
    assert (one.rule, one.subject, one.message) == ("syntax-error", "source bass", MESSAGE)
    assert one.place.text == "<<<<<<< ours"
    assert [other.place.text for other in one.related] == ["=======", ">>>>>>> theirs"]
    assert one.consequence == "paper and plug may differ: only the first text is read"
    assert one.help == "keep what holds, take out the lines of marks, then `git add` the file"


def test_other_mistakes_keep_their_places() -> None:
    text = "<<<<<<< ours\nzone a\n=======\nzone b\n>>>>>>> theirs\nbox B\n"
    first, second = parse(Source("test.rig", text)).findings
    assert (first.message, second.place.from_position) == (MESSAGE, (6, 6))


def test_past_200_there_is_one_that_says_so() -> None:
    parsed = parse(Source("test.rig", "<<<<<<<\nclock A\n=======\n>>>>>>>\n" * 1000))
    assert (len(parsed.findings), len(parsed.statements)) == (201, 1000)
    assert parsed.findings[-1].message == "there is more behind this that cannot be read"


LINES = HALL.splitlines(keepends=True)
# Where a statement may stand: nothing is open there.
MARGINS = [at for at, line in enumerate(LINES) if line.startswith(("box", "source", "patch", "zone", "keep"))]


@given(st.lists(st.sampled_from(MARGINS), min_size=1, unique=True), st.sampled_from(["", "clock B\n", "}\n", "<<<\n"]))
def test_what_is_settled_by_the_first_text_is_the_file_without_the_marks(at: list[int], theirs: str) -> None:
    marked = "".join(
        f"<<<<<<< ours\n{line}=======\n{theirs}>>>>>>> theirs\n" if number in at else line
        for number, line in enumerate(LINES)
    )
    parsed = parse(Source("test.rig", marked))
    good = [one for one in parsed.statements if not isinstance(one, Broken)]
    plain = parse(Source("test.rig", HALL)).statements
    assert [shown(one) for one in good] == [shown(one) for one in plain]
    assert [one.span.text for one in good] == [one.span.text for one in plain]
    assert [one.message for one in parsed.findings] == [MESSAGE] * len(at)
    assert len(first_text(marked, clashes(marked))) == len(marked)


def test_tidy_leaves_it_alone() -> None:
    text = "zone   a\n<<<<<<< ours\n=======\nclock    B\n>>>>>>> theirs\n"
    done = tidy(Source("test.rig", text))
    assert (done.text, done.doubt) == (text, "the merge is not settled in it")
    assert tidy(Source("test.rig", "zone   a  # <<<<<<<\n")).text == "zone a  # <<<<<<<\n"
