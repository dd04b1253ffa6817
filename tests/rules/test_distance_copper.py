"""Copper behind a source: treble, instruments, unbalanced lines."""

from __future__ import annotations

import pytest

from rigdsl.paths import Paths
from rigdsl.rig import read
from rigdsl_distance.hi_z_run import hi_z_run
from rigdsl_distance.treble_loss import treble_loss
from rigdsl_distance.unbalanced_run import unbalanced_run
from tests.rules.said import findings, said


def stage(*lines: str) -> str:
    """A sub-box, a DI, a splitter and an analogue desk, and the lines given."""
    return "\n".join(
        (
            'rig "Stage" {}',
            "cable loom12 { medium analogue; lines 12; capacitance 110 pF/m }",
            "cable mic100 { medium analogue; capacitance 100 pF/m }",
            "model sub12 { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }",
            "model di4 {",
            "  kind di; inputs in 1-4 { level instrument, line }; outputs out 1-4; pass in -> out { active }",
            "}",
            "model split4 {",
            "  kind splitter; inputs in 1-4; outputs a 1-4; outputs b 1-4; pass in -> a; pass in -> b { isolated }",
            "}",
            "model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch }",
            "box DR is sub12",
            "box DI is di4",
            "box SP is split4",
            "box DESK is desk12",
            "box MON is desk12",
            *lines,
        )
    )


@pytest.mark.parametrize(
    ("impedance", "length_m", "lost"),
    [
        # R C against 20 kHz, E. Sengpiel's formula, 100 pF/m: 200 ohm lose 0.27 dB in 100 m
        ("200 ohm", 100, None),
        ("200 ohm", 200, None),  # 0.97 dB
        ("200 ohm", 205, "`vox` loses 1 dB at 20 kHz: 205 m of cable (20.5 nF) on 200 ohm"),
        ("600 ohm", 60, None),
        ("600 ohm", 100, "`vox` loses 2 dB at 20 kHz: 100 m of cable (10 nF) on 600 ohm"),
        ("50 kohm", 6, "`vox` loses 11.8 dB at 20 kHz: 6 m of cable (0.6 nF) on 50 kohm"),
    ],
)
def test_treble_is_lost_by_impedance_and_capacitance(impedance: str, length_m: int, lost: str | None) -> None:
    rig = stage(f"source vox dynamic to DESK 1 via mic100 {length_m} m {{ impedance {impedance} }}")
    assert [message for _, _, message in said(treble_loss, rig)] == ([lost] if lost else [])


def test_plug_sub_box_and_loom_add_up() -> None:
    rig = stage(
        "link X01: DR.tail 1-12 -- DESK.local 1-12 via loom12 100 m",
        "source vox dynamic to DR 3 via mic100 20 m { impedance 600 ohm }",
    )
    (finding,) = findings(treble_loss, rig)
    assert finding.message == "`vox` loses 2.9 dB at 20 kHz: 120 m of cable (13 nF) on 600 ohm"
    assert finding.help.startswith("up to 62 m of it loses less than 1 dB")
    assert [item.message for item in finding.related] == ["100 m of `loom12` more"]
    assert finding.ports == ("DR.panel 3",)


@pytest.mark.parametrize(("leg", "lost"), [("a", 1), ("b", 0)])
def test_a_transformer_ends_the_copper(leg: str, lost: int) -> None:
    """The direct leg of a splitter hangs on the microphone, the isolated one does not."""
    rig = stage(
        f"link X01: SP.{leg} 1 -- DESK.local 1 via mic100 150 m",
        "source vox dynamic to SP 1 via mic100 5 m { impedance 600 ohm }",
    )
    assert len(said(treble_loss, rig)) == lost


def test_what_nobody_knows_counts_as_nothing() -> None:
    rig = stage(
        "cable plain { medium analogue }",
        "source a dynamic to DESK 1 via plain 900 m",
        "source b dynamic to DESK 2 via mic100",
        "source c dynamic to DESK 3",
        "source d dynamic to DESK",
    )
    assert said(treble_loss, rig) == []


def test_treble_loss_by_option() -> None:
    rig = stage("source vox dynamic to DESK 1 via mic100 100 m")
    assert said(treble_loss, rig, most_db=0.2)[0][2] == (
        "`vox` loses 0.3 dB at 20 kHz: 100 m of cable (10 nF) on 200 ohm"
    )
    assert said(treble_loss, rig, most_db=0.2, at_khz=10.0) == []


GUITAR = "source gtr instrument to {} via mic100 {} m {{ {} }}"


@pytest.mark.parametrize(
    ("to", "length_m", "facts", "told"),
    [
        ("DI 1", 6, "", None),
        ("DI 1", 6.5, "", "`gtr` goes 6.5 m unbalanced at instrument level before a DI"),
        ("DI 1", 15, "balanced", None),
        ("DI 1", 15, "level line", None),  # that is the other rule's
        ("DESK 1", 15, "", "`gtr` goes 15 m unbalanced at instrument level before a DI"),
    ],
)
def test_an_instrument_wants_its_di_near(to: str, length_m: float, facts: str, told: str | None) -> None:
    found = said(
        hi_z_run, stage("link L01: DI.out 1 -- DESK.local 1 via mic100 90 m", GUITAR.format(to, length_m, facts))
    )
    assert found == ([("warning", "gtr", told)] if told else [])


def test_a_guitar_whose_impedance_nobody_wrote_is_judged_by_its_length_alone() -> None:
    assert said(treble_loss, stage(GUITAR.format("DI 1", 6, ""))) == []
    assert len(said(treble_loss, stage(GUITAR.format("DI 1", 6, "impedance 20 kohm")))) == 1


@pytest.mark.parametrize(
    ("source", "told"),
    [
        ("source keys line to DI 1-2 via mic100 6 m { balanced no }", None),
        (
            "source keys line to DI 1-2 via mic100 10 m { balanced no }",
            ("warning", "keys", "`keys` goes 10 m unbalanced at line level"),
        ),
        ("source keys line to DI 1-2 via mic100 10 m", None),
        ("source vox dynamic to DI 1 via mic100 10 m { balanced no }", None),
    ],
)
def test_an_unbalanced_line_hums(source: str, told: tuple[str, str, str] | None) -> None:
    assert said(unbalanced_run, stage(source)) == ([told] if told else [])


@pytest.mark.parametrize("fact", ["activeq", "isolatedq"])
def test_a_di_that_could_not_be_read_may_end_the_copper(fact: str) -> None:
    rig = read(
        stage(
            "link L01: DI.out 1-2 -- DESK.local 1-2 via mic100 90 m",
            "source keys line to DI 1 via mic100 3 m { balanced no }",
            GUITAR.format("DI 2", 3, "impedance 20 kohm"),
        ).replace("{ active }", f"{{ {fact} }}")
    )
    assert [finding.subject for finding in rig.findings] == [fact]
    for rule in (hi_z_run, unbalanced_run, treble_loss):
        assert list(rule.check(rig, Paths(rig), rule.options())) == []  # type: ignore[arg-type]


def test_how_long_is_an_option() -> None:
    rig = stage("source keys line to DI 1 via mic100 10 m { balanced no }", GUITAR.format("DI 2", 10, ""))
    assert said(unbalanced_run, rig, most_m=10.0) == []
    assert said(hi_z_run, rig, most_m=10.0) == []
