"""The run: stamps, crashes, repeats, one cause one finding, the two orders."""

from __future__ import annotations

import pytest

from rigdsl.finding import Finding, Level
from rigdsl.lint.order import worst_first
from rigdsl.lint.precedence import SILENCES
from rigdsl.lint.rule import Told
from rigdsl.packs import discover
from rigdsl.rig import Rig

from .made import HALL, about, checked, made, sockets


def broken(rig: Rig) -> Told:
    raise KeyError("SX")


def test_a_finding_gets_its_rule_and_its_level() -> None:
    verdict = checked(HALL, made("noise", about("SL"), about("SR", level=Level.NOTE), level=Level.ERROR))
    assert [(item.rule, item.level, item.subject) for item in verdict.findings] == [
        ("noise", Level.ERROR, "SL"),
        ("noise", Level.NOTE, "SR"),
    ]
    assert not verdict.crashed


def test_a_rule_that_breaks_down_is_named_and_the_others_go_on() -> None:
    verdict = checked(HALL, made("bad", about("SL"), broken, pack="moss"), made("noise", about("SR")))
    assert verdict.crashed
    crash, noise = verdict.findings
    assert noise.rule == "noise"
    assert (crash.rule, crash.level, crash.subject) == ("rule-crashed", Level.ERROR, "bad")
    assert crash.message == "the rule `bad` broke down: KeyError: 'SX'"
    assert crash.help == "tell the makers of the pack `moss` 1.0, with this rig"
    assert crash.place.text == '"Lantern Hall"'


def test_a_crash_is_told_the_same_way_in_every_run() -> None:
    def lost(rig: Rig) -> Told:
        raise ValueError(f"what is\n  {object()}")

    (crash,) = checked(HALL, made("bad", lost)).findings
    assert crash.message == "the rule `bad` broke down: ValueError: what is <object object>"


def test_words_that_break_down_when_told_again_are_a_crash_too() -> None:
    def fussy(rig: Rig) -> Told:
        whole = sockets(1, 2)(rig)
        return type(whole)(whole.ports, lambda ports: whole.tell(ports) if len(ports) == 2 else broken(rig))  # type: ignore[arg-type, return-value]

    verdict = checked(HALL + 'accept bad on SL.mic 1 because "known"', made("bad", fussy))
    assert verdict.crashed
    assert [item.rule for item in verdict.findings] == ["rule-crashed"]


def test_repeats_of_one_identity_are_numbered_in_the_order_of_the_file() -> None:
    verdict = checked(HALL, made("noise", about("X", box="SR"), about("X"), about("Y")))
    assert [(item.subject, item.box) for item in verdict.findings] == [("X", "SL"), ("Y", "SL"), ("X#2", "SR")]


def test_what_is_the_same_in_every_respect_is_said_once() -> None:
    assert len(checked(HALL, made("noise", about("X"), about("X"))).findings) == 1


def test_the_order_of_the_rules_changes_nothing() -> None:
    one, two = made("one", about("A"), about("B", box="SR")), made("two", about("A"), sockets(3, 1))
    assert [item.message for item in checked(HALL, one, two).findings] == [
        item.message for item in checked(HALL, two, one).findings
    ]


@pytest.mark.parametrize(
    ("first", "then", "left"),
    [
        (("protocol-mismatch", "C01"), ("lost-source", "kick"), ["protocol-mismatch"]),
        (("protocol-mismatch", "C01"), ("lost-source", "snare"), ["lost-source", "protocol-mismatch"]),
        (("lost-patch", "SL.mic 1 -> DESK.ch 1"), ("silent-output", "kick"), ["lost-patch"]),
        (("unplugged-source", "kick"), ("lost-source", "kick"), ["unplugged-source"]),
        (("unplugged-source", "kick"), ("lost-source", "snare"), ["lost-source", "unplugged-source"]),
        (("run-too-long", "C01"), ("run-near-limit", "C01"), ["run-too-long"]),
        (("run-too-long", "C01"), ("run-near-limit", "C02"), ["run-near-limit", "run-too-long"]),
        (("hi-z-run", "bass"), ("treble-loss", "bass"), ["hi-z-run"]),
    ],
)
def test_one_cause_one_finding(first: tuple[str, str], then: tuple[str, str], left: list[str]) -> None:
    rules = [made(name, about(subject, silent=("kick",))) for name, subject in (then, first)]
    assert sorted(item.rule for item in checked(HALL, *rules).findings) == left


@pytest.mark.parametrize(
    ("first", "then", "both"),
    [
        (("SL.A", "DESK.stage 1"), ("SL.A", "DESK.stage 1"), False),
        (("SL.A", "DESK.stage 1"), ("DESK.stage 1", "SL.A"), False),
        (("SL.A", "DESK.stage 1"), ("SL.B", "SR.A"), True),
        (("SL.A", "DESK.stage 1"), ("SL.A", "DESK.stage 1", "SR.A", "DESK.stage 2"), True),  # two lines of one cable
        (("SL.A", "DESK.stage 1"), (), True),
        ((), (), True),  # what is about no socket is not about the same one
    ],
)
def test_a_chain_that_is_broken_off_explains_what_is_at_its_sockets(
    first: tuple[str, ...], then: tuple[str, ...], both: bool
) -> None:
    rules = made("run-too-long", about("C01", ports=then)), made("chain-too-deep", about("SL", ports=first))
    assert ["run-too-long" in (item.rule for item in checked(HALL, *rules).findings)] == [both]


def test_what_a_loudspeaker_without_a_cable_silences_is_told_with_it() -> None:
    rules = made("silent-output", about("U"), about("w")), made("unplugged-output", about("T", silent=("T", "U")))
    assert [(item.rule, item.subject) for item in checked(HALL, *rules).findings] == [
        ("silent-output", "w"),
        ("unplugged-output", "T"),
    ]


def test_what_is_silenced_leaves_no_number_behind() -> None:
    rules = made("lost-source", about("kick"), about("kick", box="SR")), made("unplugged-source", about("kick"))
    assert [item.subject for item in checked(HALL, *rules).findings] == ["kick"]


def test_people_read_first_what_silences_most_box_by_box_and_notes_last() -> None:
    found = checked(
        HALL,
        made("a", about("note", level=Level.NOTE, silent=("a", "b", "c"))),
        made("b", about("small", box="SL", silent=("a",))),
        made("c", about("none", box="SR")),
        made("d", about("big", box="SR", silent=("a", "b"))),
        made("e", about("grave", box="SL", level=Level.ERROR)),
    )
    assert [item.subject for item in worst_first(found.findings)] == ["grave", "big", "none", "small", "note"]


def test_programs_read_by_place_rule_and_subject() -> None:
    found = checked(HALL, made("b", about("y"), about("x")), made("a", about("z", box="SR"), about("z")))
    assert [(item.box, item.rule, item.subject) for item in found.findings] == [
        ("SL", "a", "z"),
        ("SL", "b", "x"),
        ("SL", "b", "y"),
        ("SR", "a", "z#2"),
    ]


def test_the_findings_of_reading_are_among_them() -> None:
    assert [item.rule for item in checked(HALL + "zone wing\n").findings] == ["repeated-name"]


def test_the_table_of_silences_names_rules_that_exist_or_will() -> None:
    later = {"shared-fate"}
    known = {packed.name for packed in discover().rules} | later
    assert {name for silence in SILENCES for name in (*silence.first, *silence.then)} <= known


def test_a_finding_is_a_plain_value() -> None:
    found = checked(HALL, made("noise", sockets(1, 2))).findings
    assert isinstance(found[0], Finding)
    assert found[0].ports == ("SL.mic 1", "SL.mic 2")
