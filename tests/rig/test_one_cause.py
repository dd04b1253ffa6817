"""One cause, one finding: whatever is broken in a rig is told once, and nothing else is told because of it."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from rigdsl.finding import Finding, Level
from rigdsl.lint import lint
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.rig import read
from tests.rig.lantern import GEAR, SHOW

TEXT = SHOW + GEAR
RULES = [packed for packed in discover().rules if packed.rule.on]
TODAY = "2026-11-25"

# Without these a model has one socket where it had many: it reads, and all that is said of the others is wrong.
FEWER_SOCKETS = ("mic 1-16", "line 1-8", "ch 1-32", "in 1-2", "out 1-2")


def words_of(line: str) -> list[tuple[str, int, int]]:
    """The words of a line and where they stand; a label is one."""
    return [(one.group(), one.start(), one.end()) for one in re.finditer(r'"[^"]*"|[^\s;{}]+', line)]


def checked(text: str) -> tuple[list[Finding], list[Finding]]:
    """What reading finds, and what the rules find besides that is worse than a note."""
    rig = read(text)
    verdict = lint(rig, Paths(rig), RULES, today=TODAY)
    assert not verdict.crashed
    core = {finding.rule for finding in rig.findings}
    return list(rig.findings), [one for one in verdict.findings if one.level == Level.ERROR and one.rule not in core]


LINES = [line for line in TEXT.splitlines() if line and line != "}"]


def told_once(text: str, what: str) -> list[str]:
    """What is told of a broken text beyond its one cause."""
    core, besides = checked(text)
    extra = [f"{one.rule}: {one.message}" for one in (*core[1:], *(besides if core else ()))]
    return [f"{what}: {one}" for one in extra]


def test_nothing_is_wrong_with_it_as_it_is() -> None:
    assert checked(TEXT) == ([], [])


@pytest.mark.parametrize("line", LINES)
def test_a_word_less(line: str) -> None:
    """Each word of a line taken away, one at a time."""
    wrong: list[str] = []
    for word, start, end in words_of(line):
        if any(line[:end].endswith(sockets) for sockets in FEWER_SOCKETS) and line.startswith(("  ", "model")):
            continue
        wrong += told_once(TEXT.replace(line, line[:start] + line[end:], 1), word)
    assert wrong == []


@pytest.mark.parametrize("line", [line for line in LINES if not line.startswith(" ")])
def test_a_word_less_of_a_statement_is_told_where_it_is_missing(line: str) -> None:
    """Where anything is told at all, it is in that line, or where the thing that it no longer defines is used."""
    for word, start, end in words_of(line):
        if any(line[:end].endswith(sockets) for sockets in FEWER_SOCKETS) and line.startswith("model"):
            continue
        text = TEXT.replace(line, line[:start] + line[end:], 1)
        for finding in read(text).findings:
            here = finding.place.from_position.line == TEXT[: TEXT.index(line)].count("\n") + 1
            assert here or word in finding.message, (word, finding.message)


@pytest.mark.parametrize(
    ("what", "spoil"),
    [
        ("a letter twice", lambda word: word[:-1] + word[-1] * 2),
        ("two letters changed", lambda word: word[1] + word[0] + word[2:]),
    ],
)
@pytest.mark.parametrize("line", [line for line in LINES if not line.startswith((" ", "link"))])
def test_a_word_misspelt(line: str, what: str, spoil: Callable[[str], str]) -> None:
    wrong: list[str] = []
    for word, start, end in words_of(line):
        if re.fullmatch(r"[a-z][a-z-]+", word):
            wrong += told_once(TEXT.replace(line, line[:start] + spoil(word) + line[end:], 1), f"{what}, {word}")
    assert wrong == []


@pytest.mark.parametrize(
    ("line", "missed"),
    [
        # A definition that is not there at all is missed once, however often it is used.
        ("zone drums", "there is no zone called `drums`"),
        ("box SL", "there is no box called `SL`"),
        ("box DESK", "there is no box called `DESK`"),
        ("cable cat6s", "there is no cable called `cat6s`"),
        ("source keys", "there is no source or box called `keys`"),
        ("output wdg1", "there is no output or box called `wdg1`"),
    ],
)
def test_a_line_less(line: str, missed: str) -> None:
    whole = next(one for one in LINES if one.startswith(line))
    core, besides = checked(TEXT.replace(whole, "", 1))
    assert [finding.message for finding in core] == [missed]
    assert besides == []


# What the lantern has none of: a wall panel, a splitter, a radio receiver, two boxes of one model, a clock to lead.
MORE = """
model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
model split8 { kind splitter; inputs in 1-8; outputs iso 1-8; pass in -> iso { isolated } }
model rx4 { kind receiver; inputs air 1-4 { wireless }; outputs line 1-4; pass air -> line }
box P is panel4 in wing
box S8 is split8 in wing
box RX is rx4 in wing
box SR is nw16 in wing
link L1: P.front 1 -- DESK.stage 2 via cat6s 75 m
link L2: SR.A -- P.rear 1 via cat6s 3 m
link L3: S8.iso 1 -- SR.mic 1 via xlr 3 m
link L4: RX.line 1-2 -- SR.mic 2-3 via xlr 3 m
source a dynamic in wing to S8 1 via xlr 3 m
source v wireless in wing to RX 1
source w wireless in wing to RX 2
patch SR.mic 1-3 -> DESK.ch 20-22
"""


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("control fern; chain", "controll fern; chain"),
        ("fern; chain;", "fern; chian;"),
        ("control fern }", "controll fern }"),
        ("kind console", "kindq console"),
        ("pass panel ->", "pass pannel ->"),
        ("over cat5e 100 m", "over cat5x 100 m"),
        ("pass rear --", "pass raer --"),
        ("digital rear", "digital rearq"),
        ("{ isolated }", "{ isolatedq }"),
        ("pass air ->", "pass aiir ->"),
        # An unknown type: any group may be meant.
        ("v wireless", "v wirless"),
        # One end of a cable, a plug, a patch that nobody knows.
        ("link C01: SL.A -- DESK", "link C01: SL.A -- DXSK"),
        ("link C01: SL.A", "link C01: SX.A"),
        ("link L3: S8", "link L3: SX"),
        ("link L3: S8.iso 1 -- SR", "link L3: S8.iso 1 -- SX"),
        ("a dynamic in wing to S8", "a dynamic in wing to SX"),
        ("patch SR.mic", "patch SX.mic"),
        ("clock DESK", "clock DSK"),
        # Two boxes of one model miss the group that it does not have.
        ("  outputs line 1-8 {", "  outputs lin 1-8 {"),
        ("  digital A, B {", "  digital AA, B {"),
        # A box that is not there has the width that the words say of its plugs.
        ("box RX is rx4 in wing", ""),
    ],
)
def test_one_typo_in_a_larger_rig(old: str, new: str) -> None:
    text = TEXT + MORE
    assert checked(text) == ([], [])
    assert old in text
    core, besides = checked(text.replace(old, new, 1))
    assert [f"{one.rule}: {one.message}" for one in core[1:]] == []
    assert core
    assert [f"{one.rule}: {one.message}" for one in besides] == []


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        # How many lines a plug has is known from its own words, whatever becomes of its box.
        ("output e in-ear from TX.air 1-2\noutput f in-ear from TX.air 3-4\npatch DESK.mix 5-8 -> e, f", ["TX"]),
        # One name that is not there, missed as one thing and as another.
        ("change TX { rate 48 kHz }\nlink L9: TX.a -- SL.B via cat6s 3 m", ["TX"]),
        # A partner that could not be read is no unknown one.
        ("source k line { with k-2 }\nsource k-2 line viaq xlr", ["source k-2"]),
        # What a misspelt first word was to define is known by what follows.
        ("boks TX is nw16 in wing\nlink L9: TX.A -- SL.B via cat6s 3 m", ["boks TX"]),
    ],
)
def test_what_hangs_on_a_missing_thing_is_not_told(lines: str, told: list[str]) -> None:
    assert [finding.subject for finding in read(TEXT + lines).findings] == told


def test_a_plug_without_a_socket_marks_itself_and_the_box_that_it_names() -> None:
    rig = read(TEXT + "source k dynamic in wing to SL.mc 16 via xlr 3 m")
    assert {"k", "SL"} <= rig.incomplete
    assert rig.left_out == {"source"}
    assert "DESK" not in rig.incomplete


# ---- what is in doubt, and what is not


@pytest.mark.parametrize(
    ("old", "new", "doubted"),
    [
        # A fact that much hangs on leaves its thing in doubt ...
        ("kind stage-box", "kind stage-bix", {"SL"}),
        ("phantom 48 V 10 mA; gain", "phantom 48 kg 10 mA; gain", {"SL"}),
        ("{ protocol fernlink; control fern; chain;", "{ protocol fernlnk; control fern; chain;", {"SL"}),
        ("carries 40 at", "carries at", {"SL", "DESK", "DC"}),
        ("dynamic in drums", "dynamyc in drums", {"kick"}),
        ("is nw16 in wing", "is nw16 in wing { rate 96 kg }", {"SL"}),
        # ... and one that nothing hangs on does not.
        ("weight 4.2 kg; power 35 W", "weight 4.2 m; power 35 W", set()),
        ("power 35 W", "power 35", set()),
        ("weight 55 g/m", "weight 55 g", set()),
        ('stand "tall boom"', "stand tall", set()),
        ("stock xlr 10 m", "stock xlr 10 kg", set()),
    ],
)
def test_what_is_in_doubt(old: str, new: str, doubted: set[str]) -> None:
    rig = read(TEXT.replace(old, new, 1))
    assert len(rig.findings) == 1
    things = {*rig.boxes, *rig.links, *rig.sources, *rig.outputs}
    assert rig.incomplete & things == doubted


def test_a_second_cause_is_told_beside_the_first() -> None:
    """What is sure is judged as ever: the weight of a box says nothing of the sockets of another."""
    text = (
        TEXT.replace("weight 4.2 kg", "weight 4.2 m").replace("to SL 13", "to SL 17").replace("clock DESK", "clock DSK")
    )
    assert [finding.rule for finding in read(text).findings] == ["no-such-port", "unknown-name", "wrong-unit"]
