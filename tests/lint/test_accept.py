"""`accept`: what it takes out, by subject or by sockets, until when, and what is said of lines that do nothing."""

from __future__ import annotations

import pytest

from rigdsl.finding import Finding, Level
from rigdsl.lint import Verdict

from .made import HALL, about, checked, made, sockets


def told(verdict: Verdict) -> list[str]:
    return [f"{item.level}: {item.subject}: {item.message} [{item.rule}]" for item in verdict.findings]


def taken(verdict: Verdict) -> list[str]:
    return [f"{item.finding.subject}: {item.finding.message} ({item.by.because})" for item in verdict.accepted]


NOISE = made("noise", about("SL"), about("SR", box="SR"))
SPARES = made("spares", sockets(1, 2, 3, 12))


@pytest.mark.parametrize(
    ("line", "left", "accepted"),
    [
        ('accept noise on SL because "known"', ["about SR"], ["SL: about SL (known)"]),
        ('accept noise on "SL" because "known"', ["about SR"], ["SL: about SL (known)"]),
        ('accept noise on SL, SR because "known"', [], ["SL: about SL (known)", "SR: about SR (known)"]),
    ],
)
def test_by_subject(line: str, left: list[str], accepted: list[str]) -> None:
    verdict = checked(HALL + line, NOISE)
    assert [item.message for item in verdict.findings] == left
    assert taken(verdict) == accepted


@pytest.mark.parametrize(
    ("written", "subject"),
    [
        ("C10+C2", "C2+C10"),
        ("C2+C10", "C2+C10"),
        ("SL.A -- DESK.stage 1", "DESK.stage 1 -- SL.A"),
        ("SL.A--DESK.stage 1", "DESK.stage 1 -- SL.A"),
        ("DESK.stage 1 -- SL.A", "DESK.stage 1 -- SL.A"),
        ("WP.rear 1 -- SL.A + C2", "C2+SL.A -- WP.rear 1"),
        ("C10+C2#2", "C2+C10#2"),
    ],
)
def test_by_a_run_or_an_unnamed_link_in_whatever_order(written: str, subject: str) -> None:
    verdict = checked(HALL + f'accept noise on "{written}" because "known"', made("noise", about(subject)))
    assert verdict.findings == ()
    assert taken(verdict) == [f"{subject}: about {subject} (known)"]


@pytest.mark.parametrize("written", ["C2+C1", "SL.A -- DESK.stage 2", "DESK.ch 1 -> SL.mic 1"])
def test_another_order_is_not_another_thing(written: str) -> None:
    subjects = ("C2+C10", "DESK.stage 1 -- SL.A", "SL.mic 1 -> DESK.ch 1")
    noise = made("noise", *(about(subject) for subject in subjects))
    verdict = checked(HALL + f'accept noise on "{written}" because "known"', noise)
    assert verdict.accepted == ()


@pytest.mark.parametrize(
    ("line", "left", "accepted"),
    [
        ('accept spares on SL.mic 12 because "faulty"', "about SL.mic 1-3", "SL.mic: about SL.mic 12 (faulty)"),
        ('accept spares on SL.mic 2 because "faulty"', "about SL.mic 1,3,12", "SL.mic: about SL.mic 2 (faulty)"),
        ('accept spares on SL.mic 1-16 because "faulty"', "", "SL.mic: about SL.mic 1-3,12 (faulty)"),
        ('accept spares on SL.mic because "faulty"', "", "SL.mic: about SL.mic 1-3,12 (faulty)"),
        ('accept spares on "SL.mic" because "faulty"', "", "SL.mic: about SL.mic 1-3,12 (faulty)"),
    ],
)
def test_by_sockets(line: str, left: str, accepted: str) -> None:
    verdict = checked(HALL + line, SPARES)
    assert [item.message for item in verdict.findings] == ([left] if left else [])
    assert taken(verdict) == [accepted]


def test_a_finding_goes_when_no_socket_is_left() -> None:
    lines = 'accept spares on SL.mic 1-2 because "one"\naccept spares on SL.mic 3,12 because "two"\n'
    verdict = checked(HALL + lines, SPARES)
    assert verdict.findings == ()
    assert taken(verdict) == ["SL.mic: about SL.mic 1-2 (one)", "SL.mic: about SL.mic 3,12 (two)"]


def test_the_sockets_beside_the_finding_shrink_with_its_words() -> None:
    verdict = checked(HALL + 'accept spares on SL.mic 1-3 because "faulty"', SPARES)
    assert [item.ports for item in verdict.findings] == [("SL.mic 12",)]


def test_errors_can_be_accepted_and_so_can_findings_of_no_pack() -> None:
    bad = HALL + "box SX is nothing in wing\n"
    assert [item.rule for item in checked(bad).findings] == ["unknown-name"]
    assert told(checked(bad + 'accept unknown-name on "nothing" because "comes tomorrow"')) == []


def test_a_repeat_is_accepted_by_its_number() -> None:
    twice = made("noise", about("SL"), about("SL", box="SR"))
    assert [item.subject for item in checked(HALL, twice).findings] == ["SL", "SL#2"]
    verdict = checked(HALL + 'accept noise on "SL#2" because "known"', twice)
    assert [item.subject for item in verdict.findings] == ["SL"]
    assert [item.finding.subject for item in verdict.accepted] == ["SL#2"]


def test_an_unused_line_is_a_warning() -> None:
    (finding,) = checked(HALL + 'accept noise on SR because "known"', made("noise", about("SL"))).findings[-1:]
    assert (finding.rule, finding.level) == ("unused-accept", Level.WARNING)
    assert finding.subject == "noise SR"
    assert finding.message == "`noise` finds nothing on `SR` that this line could accept"


def test_a_rule_that_did_not_run_leaves_its_lines_unjudged() -> None:
    assert checked(HALL + 'accept noise on SL because "known"', names=("noise",)).findings == ()


def test_a_rule_that_broke_down_leaves_its_lines_unjudged() -> None:
    def broken(rig: object) -> Finding:
        raise ZeroDivisionError("division by zero")

    verdict = checked(HALL + 'accept noise on SL because "known"', made("noise", broken))
    assert [item.rule for item in verdict.findings] == ["rule-crashed"]


def test_nothing_is_said_about_what_could_not_be_read() -> None:
    text = 'rig "Hall" {}\nzone wing\nbox SL is nothing in wing\naccept noise on SL because "known"\n'
    assert [item.rule for item in checked(text, made("noise")).findings] == ["unknown-name"]


def test_a_subject_that_nobody_knows_is_told_once() -> None:
    assert [item.rule for item in checked(HALL + 'accept noise on SX because "known"', made("noise")).findings] == [
        "unknown-name"
    ]


@pytest.mark.parametrize(
    ("today", "counts_again"), [("", False), ("2026-12-30", False), ("2026-12-31", False), ("2027-01-01", True)]
)
def test_the_last_day_counts(today: str, counts_again: bool) -> None:
    line = 'accept noise on SL because "known" until 2026-12-31'
    verdict = checked(HALL + line, made("noise", about("SL")), today=today)
    assert bool(verdict.findings) is counts_again
    assert bool(verdict.accepted) is not counts_again


def test_the_day_after_the_finding_is_back_and_the_line_is_named() -> None:
    line = 'accept noise on SL because "known" until 2026-12-31'
    verdict = checked(HALL + line, made("noise", about("SL")), today="2027-01-01")
    assert verdict.accepted == ()
    assert told(verdict) == [
        "warning: SL: about SL [noise]",
        "warning: noise SL: `noise` on `SL` was accepted until 2026-12-31, and that day is past [expired-accept]",
    ]


def test_a_line_past_its_day_that_does_nothing_is_unused() -> None:
    line = 'accept noise on SL because "known" until 2026-12-31'
    assert [item.rule for item in checked(HALL + line, made("noise"), today="2027-01-01").findings] == ["unused-accept"]


@pytest.mark.parametrize(
    ("rule", "message", "way_out"),
    [
        ("nois", "there is no rule called `nois`", "there is a rule with a similar name: `noise`"),
        ("zzzzz", "there is no rule called `zzzzz`", "`rigdsl rules` prints the names of all rules"),
        (
            "fest/quiet",
            "`fest/quiet` is a rule of a pack that is not in use here",
            "install the pack `fest` and list it under `[packs]` in rig.toml, or take the line out",
        ),
        (
            "mosses/quiet",
            "`mosses/quiet` is a rule of a pack that is not in use here",
            "there is a pack with a similar name: `moss`",
        ),
        ("moss/quite", "there is no rule called `moss/quite`", "there is a rule with a similar name: `moss/quiet`"),
    ],
)
def test_a_rule_that_nobody_knows(rule: str, message: str, way_out: str) -> None:
    line = f'accept {rule} on SL because "known"'
    (finding,) = checked(HALL + line, made("noise"), made("moss/quiet")).findings
    assert (finding.rule, finding.level, finding.subject) == ("unknown-name", Level.ERROR, rule)
    assert (finding.message, finding.help) == (message, way_out)
