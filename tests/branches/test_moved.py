"""What two people move, change, remark upon and name, wherever it stands: nothing of it is there twice."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.branches import by_lines, meaning, merged
from rigdsl.text import Source
from tests.branches.made import git_merge

LINES = (
    'source kick "Kick" dynamic to SL.mic 1\n',
    'source bass "Bass" di to SL.mic 2\n',
    'source vox "Lead vocal" dynamic to SL.mic 3\n',
    "patch kick -> DESK.ch 1\n",
    "patch bass -> DESK.ch 2\n",
    "patch vox -> DESK.ch 3\n",
    'keep SL.mic 4-8 for "the support"\n',
    "stock xlr 10 m x 12\n",
)
BASE = "".join(LINES)
LINE = st.sampled_from(LINES)
UNNAMED = st.sampled_from(LINES[3:7])
PLACE = st.integers(0, len(LINES) - 1)


def moved(line: str, place: int, to: str) -> str:
    """The base with one line at another place, and as `to`."""
    rest = [one for one in LINES if one != line]
    return "".join([*rest[:place], to, *rest[place:]])


def changed(line: str, number: int) -> str:
    return re.sub(r"[0-9]+(?=\n)|[0-9](?= for)", str(number), line)


@given(UNNAMED, PLACE, PLACE, st.tuples(st.integers(20, 60), st.integers(20, 60)))
@settings(max_examples=80)
def test_one_line_that_both_move_and_change_is_one(line: str, here: int, there: int, numbers: tuple[int, int]) -> None:
    mine, other = changed(line, numbers[0]), changed(line, numbers[1])
    ours, theirs = moved(line, here, mine), moved(line, there, other)
    done, lines = merged(BASE, ours, theirs), git_merge(BASE, ours, theirs)
    assert done is not None
    assert bool(done.clashes) == (mine != other)
    assert done.text().count(mine) == 1
    assert not done.clashes or lines is None or not by_lines(done, lines, ours, theirs)


@given(UNNAMED, PLACE, st.integers(20, 60), st.booleans())
@settings(max_examples=40)
def test_what_one_takes_out_and_the_other_moves_and_changes(line: str, place: int, number: int, turned: bool) -> None:
    sides = BASE.replace(line, ""), moved(line, place, changed(line, number))
    done = merged(BASE, *(reversed(sides) if turned else sides))
    assert done is not None
    assert [one.base for one in done.clashes] == [line]


@given(LINE, PLACE, LINE, PLACE, st.booleans())
@settings(max_examples=80)
def test_a_new_remark_stands_above_what_it_was_written_for(
    line: str, place: int, also: str, then: int, turned: bool
) -> None:
    """However the other side moves that, and adds something."""
    remark, new = "# this one is loud\n", 'source new "New" di\n'
    mended = moved(line, place, line).splitlines(keepends=True)
    mended.insert(then, new)
    sides = BASE.replace(also, remark + also), "".join(mended)
    done = merged(BASE, *(reversed(sides) if turned else sides))
    assert done is not None
    assert done.clashes == ()
    assert remark + also in done.text()
    assert sorted(done.text().splitlines(keepends=True)) == sorted([*LINES, remark, new])


WAYS = st.lists(st.sampled_from(("source n", "source m", "source o", "output n")), min_size=1, max_size=3, unique=True)


@given(WAYS, PLACE, WAYS, PLACE, st.booleans(), st.booleans())
@settings(max_examples=120)
def test_a_new_name_is_there_once(
    mine: list[str], here: int, other: list[str], there: int, share: bool, both: bool
) -> None:
    """On lines of their own, or on one line; alone, or behind something that was there."""

    def side(names: list[str], place: int, on_one_line: bool) -> str:
        said = [f'{name} "{name}" di' for name in names]
        text = ("; " if on_one_line else "\n").join(said)
        if place % 2:
            return BASE.replace(LINES[place], LINES[place].rstrip() + "; " + text + "\n")
        return BASE.replace(LINES[place], text + "\n" + LINES[place])

    ours, theirs = side(mine, here, share), side(other, there, both)
    done, lines = merged(BASE, ours, theirs), git_merge(BASE, ours, theirs)
    assert done is not None
    assert set(mine) & set(other) or here == there or not done.clashes
    taken = done.text() if not done.clashes else lines if lines and by_lines(done, lines, ours, theirs) else ""
    for name in {*mine, *other} if taken else ():
        assert taken.count(f"{name} ") == 1


FACTS = {"weight": "weight {} kg", "power": "power {} W", "latency": "latency {} ms"}
SAID = st.lists(st.sampled_from(sorted(FACTS)), min_size=1, max_size=3, unique=True)


@pytest.mark.parametrize(
    "base", ["model m {\n  kind console\n  rate 48 kHz\n}\n", "model m { kind console; rate 48 kHz }\n"]
)
@given(SAID, st.integers(0, 1), SAID, st.integers(0, 1), st.booleans(), st.booleans())
@settings(max_examples=60)
def test_a_new_fact_is_there_once(
    base: str, mine: list[str], here: int, other: list[str], there: int, share: bool, both: bool
) -> None:
    def side(names: list[str], number: int, place: int, on_one_line: bool) -> str:
        lines = "\n" in base.rstrip()
        text = ("; " if on_one_line or not lines else "\n  ").join(FACTS[name].format(number) for name in names)
        end = "\n  " if lines else "; "
        return base.replace("kind", text + end + "kind") if place else base.replace("kHz", "kHz" + end + text)

    done = merged(base, side(mine, 3, here, share), side(other, 4, there, both))
    assert done is not None
    assert bool(done.clashes) == bool(set(mine) & set(other))
    if not done.clashes:
        said = meaning(Source("", done.text())) or ""
        assert [said.count(f"model m: {name}") for name in sorted({*mine, *other})] == [1] * len({*mine, *other})
