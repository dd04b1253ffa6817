"""Phantom on the night: who gets none, whom it must not reach, who gives it, and whether it is enough."""

from __future__ import annotations

from typing import Any

import pytest

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import Rule
from rigdsl.paths import Paths
from rigdsl.rig import read
from rigdsl_power import pack
from rigdsl_power.phantom_blocked import phantom_blocked
from rigdsl_power.phantom_into_output import phantom_into_output
from rigdsl_power.phantom_missing import phantom_missing
from rigdsl_power.phantom_on_ribbon import phantom_on_ribbon
from rigdsl_power.phantom_overload import phantom_overload
from rigdsl_power.phantom_shared import phantom_shared
from tests.rules.said import findings
from tests.rules.whole import told

RULES = tuple(rule for rule in pack.rules if rule.name.startswith("phantom-"))
GEAR = """\
model split4 {
  kind splitter; inputs in 1-4; outputs a 1-4; outputs b 1-4; outputs iso 1-4
  pass in -> a; pass in -> b; pass in -> iso { isolated }
}
model drive4 { kind splitter; inputs in 1-4; outputs out 1-4; pass in -> out { active } }
model sub4 { kind sub-box; inputs in 1-4; outputs out 1-4; pass in -> out }
model y { kind panel; inputs l; inputs r; outputs out; pass l -> out; pass r -> out }
model desk {
  kind console; channels ch 1-24; inputs mic 1-16 { preamp; phantom; bank 8 }; inputs lo 1-4 { preamp }
  inputs aux 1-4; inputs lone { preamp; phantom 12 V 4 mA }
  pass mic -> ch 1-16; pass lo -> ch 17-20; pass aux -> ch 21-24
}
model each { kind console; channels ch 1-8; inputs mic 1-8 { preamp; phantom 48 V 10 mA }; pass mic -> ch }
model rx { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line { active } }
model di { kind di; inputs in { level line }; outputs out { level mic }; pass in -> out }
model pc { kind computer; channels t 1-2; outputs line 1-2 }
box D is desk
box S is split4
box M is each
"""


def night(*lines: str) -> str:
    return "\n".join(['rig "Night" {}', GEAR, *lines])


def every(text: str) -> list[str]:
    """What the phantom rules say, each by itself, in short: level, rule, subject."""
    return [
        f"{Level(one.level or rule.level)} {rule.name} {one.subject}" for rule in RULES for one in findings(rule, text)
    ]


def only(rule: Rule[Any], *lines: str) -> Finding:
    (finding,) = findings(rule, night(*lines))
    return finding


OH = "source oh condenser to {}"
S_ISO = "link L1: S.iso 1-4 -- D.mic 1-4"
S_A = "link L1: S.a 1-4 -- D.mic 1-4"


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        # ---- fed
        pytest.param([OH.format("D.mic 1")], [], id="straight in"),
        pytest.param([S_A, OH.format("S.in 1")], [], id="direct leg"),
        pytest.param(["box T is sub4", "link L1: T.out 1 -- D.mic 1", OH.format("T.in 1")], [], id="sub-box"),
        pytest.param(
            [S_ISO, "link L2: S.a 1-4 -- M.mic 1-4", OH.format("S.in 1")], [], id="one direct leg among isolated ones"
        ),
        pytest.param(["source oh condenser to D.lo 1 { phantom no }"], [], id="its own battery"),
        pytest.param(["source v dynamic to D.lo 1"], [], id="a dynamic needs none"),
        # ---- missing
        pytest.param([OH.format("D.lo 1")], ["error phantom-missing oh"], id="a preamp without"),
        pytest.param([OH.format("D.aux 1")], ["error phantom-missing oh"], id="a line input"),
        pytest.param(["source b active-di to D.lo 1"], ["error phantom-missing b"], id="active DI"),
        pytest.param(["source r ribbon to D.lo 1 { phantom }"], ["error phantom-missing r"], id="active ribbon"),
        pytest.param([OH.format("D.lo 1-2")], ["error phantom-missing oh"], id="both lines, one finding"),
        pytest.param([OH.format("D.mic 1, D.lo 1")], ["error phantom-missing oh"], id="one line of two"),
        pytest.param(
            ["link L1: S.a 1-4 -- D.lo 1-4", OH.format("S.in 1")], ["error phantom-missing oh"], id="split, none has it"
        ),
        # ---- blocked
        pytest.param([S_ISO, OH.format("S.in 1")], ["error phantom-blocked oh"], id="isolated leg only"),
        pytest.param(
            ["box A is drive4", "link L1: A.out 1 -- D.mic 1", OH.format("A.in 1")],
            ["error phantom-blocked oh"],
            id="active split without phantom",
        ),
        pytest.param(
            [S_ISO, "link L2: S.a 1-4 -- D.lo 1-4", OH.format("S.in 1")],
            ["error phantom-blocked oh"],
            id="the direct leg goes to none",
        ),
        # ---- quiet: other rules speak, or it needs none
        pytest.param([OH.format("D")], [], id="no socket yet"),
        pytest.param(["source oh condenser"], [], id="plugged into nothing"),
        pytest.param([OH.format("S.in 1")], [], id="a split with loose legs"),
        pytest.param(["box R is rx", "source h condenser to R.air 1"], [], id="a handheld on the air"),
        pytest.param(["source p playback to D.lo 1 { phantom }"], [], id="playback never"),
        # ---- ribbon
        pytest.param(["source r ribbon to D.mic 2"], [], id="ribbon, nothing on"),
        pytest.param(
            [OH.format("D.mic 1"), "source r ribbon to D.mic 2"],
            ["warning phantom-on-ribbon r"],
            id="ribbon in the bank",
        ),
        pytest.param([OH.format("D.mic 1"), "source r ribbon to D.mic 9"], [], id="ribbon in the other bank"),
        pytest.param([OH.format("M.mic 1"), "source r ribbon to M.mic 2"], [], id="a switch each"),
        pytest.param(
            [OH.format("D.mic 1"), "source r ribbon to D.mic 2 { phantom }"], [], id="active ribbon in the bank"
        ),
        pytest.param(
            [
                "box Y is y",
                "link L1: Y.out -- M.mic 1",
                "source oh condenser to Y.l",
                "source r ribbon to Y.r",
            ],
            ["error phantom-on-ribbon r"],
            id="ribbon on the same wire",
        ),
        pytest.param([OH.format("M.mic 1"), "source r ribbon to M.mic 1"], [], id="two plugs in one socket"),
        pytest.param(
            ["link L1: S.iso 1-4 -- D.mic 5-8", OH.format("D.mic 1"), "source r ribbon to S.in 1"],
            [],
            id="ribbon behind a transformer",
        ),
        # ---- outputs
        pytest.param(
            [OH.format("D.mic 1"), "source k line to D.mic 2"], ["warning phantom-into-output k"], id="keys in the bank"
        ),
        pytest.param(
            [OH.format("D.mic 1"), "source v wireless to D.mic 2"],
            ["warning phantom-into-output v"],
            id="a receiver that is no box",
        ),
        pytest.param(
            [OH.format("D.mic 1"), "box R is rx", "link L1: R.line 1-2 -- D.mic 2-3", "source v wireless to R.air 1"],
            ["warning phantom-into-output R"],
            id="a receiver, both outputs, one finding",
        ),
        pytest.param(
            [OH.format("D.mic 1"), "box P is pc", "link L1: P.line 1 -- D.mic 2"],
            ["warning phantom-into-output P"],
            id="a computer",
        ),
        pytest.param(
            [OH.format("D.mic 1"), "box X is di", "link L1: X.out -- D.mic 2", "source k line to X.in"], [], id="a DI"
        ),
        pytest.param([OH.format("D.mic 1"), "source b di to D.mic 2"], [], id="a DI that is no box"),
        pytest.param([OH.format("D.mic 1"), "source k line to D.mic 9"], [], id="keys in the other bank"),
        pytest.param(["source k line to D.mic 2"], [], id="keys, nothing on"),
        pytest.param([OH.format("M.mic 1"), "source k line to M.mic 2"], [], id="keys, a switch each"),
        pytest.param(
            ["box Y is y", "link L1: Y.out -- M.mic 1", "source oh condenser to Y.l", "source k line to Y.r"],
            ["warning phantom-into-output k"],
            id="keys on the same wire",
        ),
        pytest.param(
            [OH.format("D.mic 1"), "link L1: S.iso 1 -- D.mic 2", "box A is drive4", "link L2: A.out 1 -- D.mic 3"],
            [],
            id="outputs of splitters",
        ),
        # ---- shared
        pytest.param(
            [S_A, "link L2: S.b 1-4 -- M.mic 1-4", OH.format("S.in 1")], ["warning phantom-shared oh"], id="two desks"
        ),
        pytest.param(
            [S_A, "link L2: S.b 1-4 -- M.mic 1-4", OH.format("S.in 1"), "control D.mic 1 by D"],
            ["note phantom-shared oh"],
            id="one owner",
        ),
        pytest.param(
            [S_A, "link L2: S.b 1-4 -- M.mic 1-4", OH.format("S.in 1"), "control D.mic 1 by D", "control M.mic 1 by M"],
            ["warning phantom-shared oh"],
            id="two owners",
        ),
        pytest.param(
            [S_A, "link L2: S.b 1-4 -- D.mic 5-8", OH.format("S.in 1")], ["note phantom-shared oh"], id="one desk twice"
        ),
        pytest.param(
            [S_A, "link L2: S.b 1-4 -- M.mic 1-4", "source v dynamic to S.in 1"], [], id="a dynamic is not shared"
        ),
        # ---- overload
        pytest.param(["source c condenser to D.mic 1 { current 10 mA }"], [], id="10 mA of 10 mA"),
        pytest.param(
            ["source c condenser to D.mic 1 { current 10.5 mA }"], ["warning phantom-overload c"], id="10.5 mA of 10"
        ),
        pytest.param(["source c condenser to D.lone"], [], id="4 mA of 4 mA"),
        pytest.param(["source c condenser to D.lone { current 5 mA }"], ["warning phantom-overload c"], id="5 mA of 4"),
        pytest.param(["source d dynamic to D.mic 1 { current 30 mA }"], [], id="it needs none"),
    ],
)
def test_rule_and_situation(lines: list[str], expected: list[str]) -> None:
    assert every(night(*lines)) == expected


def test_missing_says_which_input_and_offers_each_free_one_once() -> None:
    one, other = findings(phantom_missing, night(OH.format("D.lo 1"), "source hat condenser to D.lo 2"))
    assert one.message == "`oh` needs phantom power, and `D.lo 1` gives none"
    assert one.consequence == "its channel stays silent"
    assert one.help.startswith("`D.mic 1` is free and has phantom; where it has a battery")
    assert other.help.startswith("`D.mic 2` is free and has phantom")
    assert (one.silent, one.ports, one.box) == (("oh",), ("D.lo 1",), "D")


def test_missing_for_both_lines_of_a_pair() -> None:
    finding = only(phantom_missing, OH.format("D.lo 1-2"))
    assert finding.message == "`oh` needs phantom power, and `D.lo 1-2` give none"
    assert finding.help.startswith("`D.mic 1-2` are free and have phantom")


@pytest.mark.parametrize(
    ("lines", "message", "help"),
    [
        (
            [S_ISO, OH.format("S.in 2")],
            "phantom of `D.mic 2` does not reach `oh`: `S.in 2` to `S.iso 2` is isolated (a transformer)",
            "take a preamp with phantom from the direct leg `S.a 2`; where",
        ),
        (
            [S_ISO, "link L2: S.a 1-4 -- D.lo 1-4", "link L3: S.b 1-4 -- D.aux 1-4", OH.format("S.in 1")],
            "phantom of `D.mic 1` does not reach `oh`: `S.in 1` to `S.iso 1` is isolated (a transformer)",
            "the direct leg `S.a 1` goes to an input without phantom: change the two legs round; where",
        ),
        (
            ["box A is drive4", "link L1: A.out 1 -- D.mic 1", OH.format("A.in 1")],
            "phantom of `D.mic 1` does not reach `oh`: `A.in 1` to `A.out 1` is active and has no phantom of its own",
            "put a preamp with phantom, or a supply, before `A`; where",
        ),
    ],
)
def test_blocked_says_by_what_and_the_way_round(lines: list[str], message: str, help: str) -> None:
    finding = only(phantom_blocked, *lines)
    assert finding.message == message
    assert finding.help.startswith(help)
    assert [item.message for item in finding.related] == ["this is what stops it", "`D` has phantom"]


def test_a_ribbon_comes_with_its_caution_and_a_quiet_socket() -> None:
    first, second = findings(
        phantom_on_ribbon,
        night(OH.format("D.mic 1"), "source r ribbon to D.mic 2", "source q ribbon to D.mic 3"),
    )
    assert first.message == (
        "the ribbon `r` comes to `D.mic 2`, and phantom of `D.mic 1-8` is switched together: it is on for `oh`"
    )
    assert first.consequence == "phantom can destroy a ribbon"
    assert first.help == (
        "plug it into `D.mic 9`, which is free and stays without, or put a transformer between; "
        "ask its maker, mute, and check the lines before phantom is switched on"
    )
    assert second.help.startswith("plug it into `D.mic 10`, which is free")


def test_a_ribbon_in_a_group_that_is_one_bank_has_nowhere_else_to_go() -> None:
    small = "model small { kind console; channels ch 1-8; inputs mic 1-8 { preamp; phantom; bank 8 }; pass mic -> ch }"
    text = night(small, "box K is small", OH.format("K.mic 1"), "source r ribbon to K.mic 2")
    (finding,) = findings(phantom_on_ribbon, text)
    assert finding.help.startswith("no free input of these stays without: put a transformer between; ask its maker")


def test_the_words_of_an_output_that_phantom_reaches() -> None:
    finding = only(
        phantom_into_output,
        OH.format("D.mic 1"),
        "box R is rx",
        "link L1: R.line 1-2 -- D.mic 2-3",
        "source v wireless",
    )
    assert finding.message == (
        "phantom of `D.mic 1-8`, switched together, is on for `oh` and reaches the outputs `R.line 1-2`"
    )
    assert finding.ports == ("R.line 1", "R.line 2")
    finding = only(phantom_into_output, OH.format("D.mic 1"), "source k line to D.mic 2")
    assert finding.message == (
        "phantom of `D.mic 1-8`, switched together, is on for `oh` and reaches the output of `k`"
    )


def test_shared_offers_the_line_that_names_an_owner() -> None:
    finding = only(phantom_shared, S_A, "link L2: S.b 1-4 -- M.mic 1-4", OH.format("S.in 1"))
    assert finding.message == "`oh` can get phantom from `D.mic 1`, `M.mic 1` at once: all on direct legs"
    assert "`control D.mic 1 by D`" in finding.help


@pytest.mark.parametrize(
    ("socket", "current", "consequence"),
    [
        # 48 V - 12 mA x 3.4 kohm, and 12 V - 5 mA x 1.65 kohm: worked out with the resistors of IEC 61938
        ("D.mic 1", "12 mA", "its feed resistors leave 7.2 V at most: it distorts, or comes and goes"),
        ("D.mic 1", "20 mA", "its feed resistors leave no voltage at all: it distorts, or comes and goes"),
        ("D.lone", "5 mA", "its feed resistors leave 3.8 V at most: it distorts, or comes and goes"),
    ],
)
def test_overload_says_what_is_left(socket: str, current: str, consequence: str) -> None:
    finding = only(phantom_overload, f"source c condenser to {socket} {{ current {current} }}")
    assert finding.consequence == consequence


def test_overload_counts_the_preamp_whose_owner_is_named() -> None:
    lines = ["link L1: S.a 1 -- D.lone", "link L2: S.b 1 -- M.mic 1", "source c condenser to S.in 1 { current 8 mA }"]
    assert findings(phantom_overload, night(*lines)) == []
    assert only(phantom_overload, *lines, "control D.lone by D").message == (
        "`c` draws 8 mA, and `D.lone` gives 4 mA at 12 V"
    )


# ---- one cause, one finding


def test_a_source_that_is_lost_is_told_as_lost() -> None:
    text = night(
        "model box8 { kind stage-box; inputs mic 1-8 { preamp }; digital A { protocol aes50 } }",
        "box B is box8",
        "source oh condenser to B 1",
    )
    assert told(text) == ["error lost-source oh"]


@pytest.mark.parametrize(
    ("source", "expected"),
    [("condenser", ["error phantom-missing oh"]), ("dynamic", ["warning level-mismatch D.aux 1"])],
)
def test_a_microphone_in_a_line_input_is_told_once(source: str, expected: list[str]) -> None:
    """Without phantom nobody hears that it is too quiet as well."""
    assert told(night(f"source oh {source} to D.aux 1")) == expected


def broken(*lines: str) -> list[str]:
    """What the phantom rules say of a rig that does not read wholly."""
    rig = read(night(*lines))
    assert rig.findings
    return [rule.name for rule in RULES for _ in rule.check(rig, Paths(rig), rule.options())]


@pytest.mark.parametrize(
    "lines",
    [
        pytest.param(
            [OH.format("S.in 1"), "link L1: S.a 1-4 -- D.lo 1-4", "link L2: S.b 1-4 -- DD.mic 1-4"], id="cable"
        ),
        pytest.param(["source oh condensr to D.lo 1"], id="type"),
        pytest.param(
            [
                "model odd { kind console; channels ch 1-2; inputs i 1-2 { preamp; phanton }; pass i -> ch }",
                "box O is odd",
                "source oh condenser to O.i 1",
            ],
            id="model",
        ),
        pytest.param(
            [S_A, "link L2: S.b 1-4 -- M.mic 1-4", OH.format("S.in 1"), "control D.mic 1 by DD"], id="control"
        ),
    ],
)
def test_what_could_not_be_read_is_not_judged(lines: list[str]) -> None:
    assert broken(*lines) == []
