"""Levels, hop by hop, and loudspeakers on an amplifier's output."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.finding import Finding, Level
from rigdsl.paths import Paths, in_parallel_ohm
from rigdsl.rig import Insert, Leg, Port, read
from rigdsl_power.amp_overload import amp_overload
from rigdsl_power.level_mismatch import level_mismatch
from tests.rules.said import findings, said

# *Sound Engineer's Pocket Book*, chapter 14: microphone -70 to -50 dBu, line -15 to +20 dBu.
MICROPHONE_DBU, LINE_DBU = (-70, -50), (-15, 20)

LOUDSPEAKER = "`{0}` takes {1}, and loudspeaker level comes from `AMP.out 1`"
LOUD = "`{0}` takes microphone level alone, and line level comes from `{1}`"
FAINT = "`{0}` takes loudspeaker level, and line level comes from `{1}`"
QUIET = "`{0}` takes line level alone, and microphone level comes from `{1}`"


def stage(*lines: str) -> str:
    """A desk with inputs of every sort, an amplifier, boxes that only pass on, and the lines given."""
    return "\n".join(
        (
            'rig "Stage" {}',
            "model desk {",
            "  kind console; channels ch 1-8; mixes mix 1-4",
            "  inputs both 1-8 { preamp }; inputs mic 1-8 { preamp; level mic }; inputs line 1-8",
            "  outputs out 1-4; pass mix -> out",
            "}",
            "model amp2 { kind amplifier; inputs in 1-2; outputs out 1-2; outputs link 1-2 { thru; level line }",
            "  pass in -> out }",
            "model top { kind loudspeaker; inputs in { impedance 8 ohm }; outputs on { thru } }",
            "model act { kind loudspeaker; inputs in { impedance 8 ohm }; power 400 W }",
            "model who { kind loudspeaker; inputs in }",
            "model ten { kind loudspeaker; inputs in { impedance 10 kohm } }",
            "model rec { kind computer; inputs play 1-2 { soft }; outputs out 1-2; pass play -> out }",
            "model hot { kind loudspeaker; inputs in { level line }; outputs on { level line; thru } }",
            "model sub4 { kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }",
            "model split2 {",
            "  kind splitter; inputs in 1-2; outputs a 1-2; outputs iso 1-2; pass in -> a; pass in -> iso { isolated }",
            "}",
            "model di1 { kind di; inputs in { level instrument, line }; outputs out { level mic }; pass in -> out }",
            "model di0 { kind di; inputs in; outputs out; pass in -> out }",
            "model rx { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line }",
            "model eq { kind outboard; inputs in; outputs out; pass in -> out }",
            *(f"box {name} is {model}" for name, model in BOXES.items()),
            *lines,
        )
    )


BOXES = {
    "DESK": "desk",
    "AMP": "amp2",
    "TOP": "top",
    "TOP2": "top",
    "HOT": "hot",
    "ACT": "act",
    "WHO": "who",
    "TEN": "ten",
    "REC": "rec",
    "HOT2": "hot",
    "DR": "sub4",
    "SP": "split2",
    "DI": "di1",
    "DIX": "di0",
    "RX": "rx",
    "EQ": "eq",
}


@pytest.mark.parametrize(
    ("lines", "level", "subject", "message"),
    [
        # Loudspeaker level: an error, wherever it comes to
        (["link AMP.out 1 -- DESK.both 1"], "error", "DESK.both 1", (LOUDSPEAKER, "microphone or line level")),
        (["link AMP.out 1 -- DESK.line 1"], "error", "DESK.line 1", (LOUDSPEAKER, "line level")),
        (["link AMP.out 1 -- HOT.in"], "error", "HOT.in", (LOUDSPEAKER, "line level")),
        (["link AMP.out 1 -- DI.in"], "error", "DI.in", (LOUDSPEAKER, "instrument or line level")),
        (
            ["link AMP.out 1 -- DR.panel 1", "link DR.tail 1 -- DESK.line 1"],
            "error",
            "DESK.line 1",
            (LOUDSPEAKER, "line level"),
        ),
        (
            ["link AMP.out 1 -- TOP.in", "link TOP.on -- HOT.in"],
            "error",
            "HOT.in",
            (LOUDSPEAKER, "line level"),
        ),  # thru
        (["link AMP.out 1 -- HOT.in", "link HOT.on -- HOT2.in"], "error", "HOT.in", (LOUDSPEAKER, "line level")),
        # Line level into an input for microphones alone
        (["link DESK.out 1 -- DESK.mic 1"], "warning", "DESK.mic 1", (LOUD, "DESK.out 1")),
        (["link RX.line 1 -- DESK.mic 1"], "warning", "DESK.mic 1", (LOUD, "RX.line 1")),
        (["source keys line to DESK.mic 1"], "warning", "DESK.mic 1", (LOUD, "keys")),
        (
            ["source keys line to SP 1", "link SP.iso 1 -- DESK.mic 1"],
            "warning",
            "DESK.mic 1",
            (LOUD, "keys"),
        ),
        (["source v wireless to RX 1", "link RX.line 1 -- DESK.mic 1"], "warning", "DESK.mic 1", (LOUD, "RX.line 1")),
        # Line level into a loudspeaker without an amplifier
        (["link DESK.out 1 -- TOP.in"], "warning", "TOP.in", (FAINT, "DESK.out 1")),
        (["source keys line to TOP"], "warning", "TOP.in", (FAINT, "keys")),
        # A microphone into an input for line alone
        (["source vox dynamic to DESK.line 1"], "warning", "DESK.line 1", (QUIET, "vox")),
        (["source vox dynamic to AMP 1"], "warning", "AMP.in 1", (QUIET, "vox")),
        (["source vox di to DR 2", "link DR.tail 2 -- DESK.line 1"], "warning", "DESK.line 1", (QUIET, "vox")),
        (["source b instrument to DI.in", "link DI.out -- DESK.line 1"], "warning", "DESK.line 1", (QUIET, "DI.out")),
        # Through the amplifier's own line-through: the second one gets line level
        (["source vox dynamic to AMP 1", "link AMP.link 1 -- HOT.in"], "warning", "AMP.in 1", (QUIET, "vox")),
    ],
)
def test_a_level_that_an_input_does_not_take(
    lines: list[str], level: str, subject: str, message: tuple[str, str]
) -> None:
    form, word = message
    assert said(level_mismatch, stage(*lines)) == [(level, subject, form.format(subject, word))]


@pytest.mark.parametrize(
    "lines",
    [
        ["source vox dynamic to DESK.both 1"],
        ["source vox dynamic to DESK.mic 1"],
        ["source keys line to DESK.both 1"],
        ["source keys line to DESK.mic 1 { pad 20 dB }"],
        ["source v wireless to RX 1 { pad 20 dB }", "link RX.line 1 -- DESK.mic 1"],
        ["source t playback to REC.play 1 { pad 20 dB }", "link REC.out 1 -- DESK.mic 1"],
        ["link DESK.out 1 -- ACT.in"],  # it draws power: an amplifier is built in
        ["link DESK.out 1 -- WHO.in"],  # it does not say enough to tell
        ["link DESK.out 1 -- TEN.in"],  # no loudspeaker is that high without an amplifier
        ["source vox dynamic to DESK.line 1 { level line }"],
        ["source vox wireless to DESK.line 1"],  # a receiver gives what it is set to
        ["source vox wireless to RX 1"],
        ["source gtr instrument to DESK.mic 1", "source bass instrument to DESK.line 1"],  # not this rule's to say
        ["source vox dynamic to SP 1", "link SP.a 1 -- DESK.mic 1", "link SP.iso 1 -- DESK.both 1"],
        ["source vox dynamic to DR 1"],  # nothing takes it in
        ["source bass instrument to DIX.in", "link DIX.out -- DESK.mic 1"],  # nobody says what that DI gives
        ["source keys line to DI.in", "link DI.out -- DESK.mic 1"],
        ["link DESK.out 1 -- AMP.in 1", "link AMP.out 1 -- TOP.in", "link TOP.on -- TOP2.in"],
        ["link DESK.out 1 -- HOT.in", "link HOT.on -- HOT2.in"],
        ["link DESK.out 1 -- AMP.in 1", "link AMP.link 1 -- AMP.in 2"],
        ["link DESK.out 1 -- EQ.in", "link EQ.out -- DESK.line 1"],
        ["link DESK.out 1 -- DR.panel 1", "link DR.tail 1 -- AMP.in 1"],
    ],
)
def test_a_level_that_fits(lines: list[str]) -> None:
    assert said(level_mismatch, stage(*lines)) == []


def test_the_classes_of_level_are_far_apart() -> None:
    """The rule's page says at least 35 dB."""
    assert LINE_DBU[0] - MICROPHONE_DBU[1] == 35
    assert "at least 35 dB" in " ".join(level_mismatch.doc.split())


def test_nothing_is_said_beside_what_could_not_be_read() -> None:
    rig = read(stage("source vox dynamic to DESK.line 1").replace("inputs line 1-8", "inputs line 1-8 { lvl mic }"))
    assert [finding.subject for finding in rig.findings] == ["lvl"]
    assert list(level_mismatch.check(rig, Paths(rig), level_mismatch.options())) == []


def test_loudspeaker_level_comes_with_the_caution() -> None:
    (finding,) = findings(level_mismatch, stage("link L1: AMP.out 1 -- DESK.line 1"))
    assert finding.level is Level.ERROR
    assert "switch the amplifier off before anybody touches its cables" in finding.help
    assert finding.ports == ("DESK.line 1", "AMP.out 1")  # no adapter is offered for either


@pytest.mark.parametrize(
    ("lines", "help"),
    [
        (["source keys line to DESK.mic 1"], "put a pad or a DI between and write `pad 20 dB` in the block of `keys`"),
        (
            ["source v wireless to RX 1", "link RX.line 1 -- DESK.mic 1"],
            "put a pad or a DI between and write `pad 20 dB` in the block of `v`",
        ),
        (["link DESK.out 1 -- DESK.mic 1"], "put a pad or a DI between"),  # a mix: nobody's block
        (["insert DESK.ch 1 through PRE"], "insert outboard that takes line level, or put a pad between"),
    ],
)
def test_where_a_pad_is_written(lines: list[str], help: str) -> None:
    pre = "model pre { kind outboard; inputs in { level mic }; outputs out }\nbox PRE is pre"
    (finding,) = findings(level_mismatch, stage(pre, *lines))
    assert finding.help.endswith(help)


def test_a_level_at_an_insert_is_shown_at_its_line() -> None:
    pre = "model pre { kind outboard; inputs in { level mic }; outputs out }\nbox PRE is pre"
    text = stage(pre, "insert DESK.ch 1 through PRE")
    (finding,) = findings(level_mismatch, text)
    start = finding.place.start
    assert text[:start].splitlines()[-1].startswith("insert") or text[start:].startswith("insert")
    assert [one.message for one in finding.related] == [
        "`DESK.ch 1` gives that level by this line",
        "`PRE.in` takes what it takes by this line",
    ]


def test_signals_say_where_they_come_from() -> None:
    rig = read(stage("source vox dynamic to SP 1", "link SP.a 1 -- DESK.mic 3", "link SP.iso 1 -- DESK.both 3"))
    signals = Paths(rig).signals
    assert {str(port): [(one.origin, one.levels) for one in found] for port, found in signals.items()} == {
        "DESK.mic 3": [(Leg("vox", 0), ("mic",))],
        "DESK.both 3": [(Leg("vox", 0), ("mic",))],
    }
    (signal,) = signals[Port("DESK", "mic", 3)]
    assert [hop.by for hop in signal.hops] == ["pass", "link"]


def test_an_insert_sends_at_line_level() -> None:
    rig = read(stage())
    at, place = Port("DESK", "ch", 1), rig.boxes["DESK"].place
    into_mic = Insert("EQ", at, Port("DESK", "mic", 1), Port("DESK", "out", 1), None, place)
    into_eq = Insert("EQ", at, Port("EQ", "in", 0), Port("EQ", "out", 0), None, place)

    def told(insert: Insert) -> list[str]:
        fitted = replace(rig, inserts=(insert,))
        found = level_mismatch.check(fitted, Paths(fitted), level_mismatch.options())
        return [one.message for one in found if isinstance(one, Finding)]

    assert told(into_mic) == [LOUD.format("DESK.mic 1", "DESK.ch 1")]
    assert told(into_eq) == []


# ---- Loudspeakers in parallel


def chain(least_ohm: str, *impedances: float, by: str = "thru") -> str:
    """An amplifier that drives so little, and loudspeakers of these impedances one behind the other."""
    models = (
        f"model top{i} {{ kind loudspeaker; inputs in {{ impedance {ohm:g} ohm }}; outputs on"
        + (" { thru } }" if by == "thru" else "; pass in -> on }")
        for i, ohm in enumerate(impedances)
    )
    boxes = (f"box T{i} is top{i}" for i in range(len(impedances)))
    links = (f"link L{i}: T{i - 1}.on -- T{i}.in via ls4 5 m" for i in range(1, len(impedances)))
    return "\n".join(
        (
            'rig "Parallel" {}',
            f"model amp1 {{ kind amplifier; inputs in; outputs out {{ {least_ohm} }}; pass in -> out }}",
            *models,
            "box AMP is amp1",
            *boxes,
            "link L0: AMP.out -- T0.in via ls4 5 m",
            *links,
        )
    )


@pytest.mark.parametrize("by", ["thru", "pass"])
@pytest.mark.parametrize(
    ("least", "impedances", "told"),
    [
        ("least 4 ohm", (8, 8), None),
        ("least 4 ohm", (8, 8, 8), "3 loudspeakers in parallel are 2.67 ohm: `T0`, `T1`, `T2`"),
        ("least 4 ohm", (16, 16, 16, 16), None),
        ("least 2 ohm", (8, 8, 8), None),
        ("least 8 ohm", (4,), "its loudspeaker is 4 ohm: `T0`"),
        ("least 2.7 ohm", (8, 8, 8), "3 loudspeakers in parallel are 2.67 ohm: `T0`, `T1`, `T2`"),
        ("", (2, 2), None),  # nobody says what the amplifier drives
    ],
)
def test_loudspeakers_in_parallel(by: str, least: str, impedances: tuple[float, ...], told: str | None) -> None:
    """Ohm's law; every impedance as a resistance."""
    found = said(amp_overload, chain(least, *impedances, by=by))
    start = f"`AMP.out` drives {least.removeprefix('least ')} or more, and "
    assert found == ([("error", "AMP.out", start + told)] if told else [])


def test_outputs_and_stars_count_too() -> None:
    text = chain("least 4 ohm", 8) + "\n" + "output w wedge from AMP.out via ls4 3 m { impedance 4 ohm }"
    (finding,) = findings(amp_overload, text)
    assert "are 2.67 ohm: `w`, `T0`" in finding.message
    assert finding.help.startswith("give `T0` another output; switch the amplifier off")


def test_what_has_no_impedance_counts_as_nothing() -> None:
    assert said(amp_overload, chain("least 4 ohm", 8, 8).replace("{ impedance 8 ohm }", "")) == []


@given(st.lists(st.integers(2, 32), min_size=1, max_size=12))
def test_parallel_against_exact_fractions(impedances: list[int]) -> None:
    exact = 1 / sum(Fraction(1, ohm) for ohm in impedances)
    assert in_parallel_ohm(impedances) == pytest.approx(float(exact))


@given(st.lists(st.sampled_from([2, 4, 8, 16]), min_size=1, max_size=5), st.sampled_from([2, 4, 8]))
def test_the_rule_speaks_just_where_the_load_is_too_small(impedances: list[int], least: int) -> None:
    exact = 1 / sum(Fraction(1, ohm) for ohm in impedances)
    assert bool(said(amp_overload, chain(f"least {least} ohm", *impedances))) == (exact < least)
