"""The rules of resilience, rule by situation."""

from __future__ import annotations

import pytest

from rigdsl_resilience.shared_fate import shared_fate
from rigdsl_resilience.single_point import single_point
from tests.rules.said import findings, said
from tests.rules.whole import told, wrong

GEAR = """
rig "Pairs" { rate 48 kHz }
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
protocol brooknet { carries 64 at 48 kHz; over cat5e 100 m, om3 300 m; topology network }
model nw4 { kind stage-box; inputs mic 1-4 { preamp }; outputs line 1-2; digital A, B { protocol fernlink; redundant } }
model plain4 { kind stage-box; inputs mic 1-4 { preamp }; digital A, B { protocol fernlink; chain } }
model nb4 {
  kind stage-box
  inputs mic 1-4 { preamp }
  digital pri { protocol brooknet; net primary }
  digital sec { protocol brooknet; net secondary }
}
model twin4 { kind stage-box; inputs mic 1-4 { preamp }; digital net 1-2 { protocol brooknet; redundant } }
model desk8 {
  kind console
  channels ch 1-8; mixes mix 1-4
  inputs local 1-2 { preamp }; outputs out 1-2
  digital stage 1-4 { protocol fernlink }
  digital pri { protocol brooknet; net primary }
  digital sec { protocol brooknet; net secondary }
}
model hub8 { kind switch; digital port 1-8 }
model wall4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
zone wing; zone foh
supply D1 230 V 16 A in wing
supply D2 230 V 16 A in wing
box DESK is desk8 in foh
"""
SIDES = "box SWA is hub8 in wing {{ net primary }}; box SWB is hub8 in wing {{ net secondary }}\n"
NETS = SIDES + (
    "box SL is nb4 in wing\n"
    "link A1: SL.pri -- SWA.port 1 via cat6 3 m {a1}\nlink B1: SL.sec -- SWB.port 1 via cat6 3 m {b1}\n"
    "link A2: DESK.pri -- SWA.port 8 via cat6 60 m {a2}\nlink B2: DESK.sec -- SWB.port 8 via cat6 60 m {b2}\n"
    "source kick dynamic in wing to SL 1 via xlr 6 m\npatch SL.mic 1 -> DESK.ch 1\n"
)
DIRECT = (
    "box SL is {box} in wing\n"
    "link C01: SL.A -- DESK.stage 1 via cat6 60 m {first}\nlink C02: SL.B -- DESK.stage 2 via cat6 70 m {second}\n"
    "source kick dynamic in wing to SL 1 via xlr 6 m\npatch SL.mic 1 -> DESK.ch 1\n"
)
PANELS = (
    "box SL is nw4 in wing; box WP is wall4 in wing; box WQ is wall4 in foh\n"
    "link C01: SL.A -- WP.front 1 via cat6 6 m; link C02: WP.rear 1 -- DESK.stage 1 via cat6 60 m\n"
    "link C03: SL.B -- {panel}.front 2 via cat6 6 m; link C04: {panel}.rear 2 -- DESK.stage 2 via cat6 60 m\n"
)
ONE_SWITCH = (
    "box SL is twin4 in wing; box H is hub8 in wing; box G is hub8 in wing\n"
    "link A1: SL.net 1 -- H.port 1 via cat6 3 m; link B1: SL.net 2 -- {second} via cat6 3 m\n"
    "link A2: H.port 8 -- DESK.pri via cat6 60 m; link T: H.port 7 -- G.port 7 via cat6 3 m\n"
)
TRUNKS = SIDES + (
    "box SWC is hub8 in foh; box SWD is hub8 in foh\n"
    "link F1: SWA.port 8 -- SWC.port 8 via om3 150 m {first}\n"
    "link F2: SWB.port 8 -- SWD.port 8 via om3 150 m {second}\n"
)


def nets(**blocks: str) -> str:
    return NETS.format(**({"a1": "", "b1": "", "a2": "", "b2": ""} | blocks))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(DIRECT.format(box="nw4", first="", second=""), [], id="two cables, two ways"),
        pytest.param(DIRECT.format(box="nw4", first="{ loom T1 }", second="{ loom T1 }"), ["C01+C02"], id="one loom"),
        pytest.param(DIRECT.format(box="nw4", first="{ loom T1 }", second="{ loom T2 }"), [], id="two looms"),
        pytest.param(DIRECT.format(box="nw4", first="{ loom T1 }", second=""), [], id="one of them in a loom"),
        pytest.param(
            DIRECT.format(box="plain4", first="{ loom T1 }", second="{ loom T1 }"), [], id="nobody calls it a pair"
        ),
        pytest.param(
            DIRECT.format(box="plain4", first="{ redundant; loom T1 }", second="{ redundant; loom T1 }"),
            ["C01+C02"],
            id="a pair by its links",
        ),
        pytest.param(
            "box SL is nw4 in wing\nlink C01: SL.A, SL.B -- DESK.stage 1-2 via cat6 60 m\n", [], id="two cables, one id"
        ),
        pytest.param(
            "cable duo { medium twisted-pair; category 6; lines 2 }\nbox SL is nw4 in wing\n"
            "link C01: SL.A, SL.B -- DESK.stage 1-2 via duo 60 m\n",
            ["C01"],
            id="one cable of two lines",
        ),
        pytest.param(
            "box SL is nw4 in wing; box SR is nw4 in wing\n"
            "link C01: SL.A -- DESK.stage 1 via cat6 60 m { loom T1 }\n"
            "link C02: SL.B -- SR.A via cat6 60 m { loom T1 }\n",
            [],
            id="one box behind the other",
        ),
        pytest.param(PANELS.format(panel="WP"), [], id="one wall panel"),
        pytest.param(nets(), [], id="two networks"),
        pytest.param(nets(a1="{ loom T1 }", b1="{ loom T1 }"), ["A1+B1"], id="the box's lines in one loom"),
        pytest.param(nets(a1="{ loom T1 }", b2="{ loom T1 }"), [], id="no two halves of one pair"),
        pytest.param(nets() + "power SWA, SWB from D1\n", ["A1+B1"], id="switches on one supply"),
        pytest.param(nets() + "power SWA from D1; power SWB from D2\n", [], id="switches on two supplies"),
        pytest.param(nets() + "power SWA, SWB from D1; power SWB from D2\n", [], id="one of them on two supplies"),
        pytest.param(nets() + "power SWA, SWB from D1; power SWA, SWB from D2\n", [], id="both on the same two"),
        pytest.param(nets() + "power SWA, SL from D1; power SWB, DESK from D2\n", [], id="the box's own supply"),
        pytest.param(ONE_SWITCH.format(second="H.port 2"), ["A1+B1"], id="one switch"),
        pytest.param(ONE_SWITCH.format(second="G.port 2"), [], id="two switches"),
        pytest.param(TRUNKS.format(first="{ loom K1 }", second="{ loom K1 }"), ["F1+F2"], id="trunks in one loom"),
        pytest.param(TRUNKS.format(first="{ loom K1 }", second="{ loom K2 }"), [], id="trunks in two looms"),
    ],
)
def test_shared_fate(text: str, expected: list[str]) -> None:
    assert [subject for _, subject, _ in said(shared_fate, GEAR + text)] == expected


@pytest.mark.parametrize(("panel", "expected"), [("WP", ["C01+C02+C03+C04"]), ("WQ", [])])
def test_panels_count_where_the_option_says_so(panel: str, expected: list[str]) -> None:
    text = GEAR + PANELS.format(panel=panel)
    assert [subject for _, subject, _ in said(shared_fate, text, panels=True)] == expected


def test_a_shared_fate_is_told_once_with_all_that_is_shared_and_who_would_fall_silent() -> None:
    text = nets(a1="{ loom T1 }", b1="{ loom T1 }") + "power SWA, SWB from D1\n"
    (first,) = findings(shared_fate, GEAR + text)
    assert first.message == (
        "both halves of a redundant pair run in one loom, `T1` and over `SWA` and `SWB`,"
        " which are both on the supply `D1`; so does 1 more pair"
    )
    assert first.consequence == "what takes one half takes the other with it: 1 source would fall silent, `kick`"
    assert first.help == (
        "pull the second one another way, and have one of the two switches on another supply, by a licensed person"
    )


def test_sources_and_outputs_are_counted_apart() -> None:
    text = DIRECT.format(box="nw4", first="{ loom T1 }", second="{ loom T1 }") + (
        "source snare dynamic in wing to SL 2 via xlr 6 m\npatch SL.mic 2 -> DESK.ch 2\n"
        "output ears in-ear in wing from SL.line 1 via xlr 6 m\npatch DESK.mix 1 -> ears\n"
    )
    (finding,) = findings(shared_fate, GEAR + text)
    assert finding.consequence.endswith(": 2 sources and 1 output would fall silent, `kick`, `snare`, `ears`")


MANY = SIDES.format() + "".join(
    f"box S{n} is nb4 in wing\n"
    f"link A{n}: S{n}.pri -- SWA.port {n} via cat6 3 m\nlink B{n}: S{n}.sec -- SWB.port {n} via cat6 3 m\n"
    for n in range(1, 7)
)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            MANY + "power SWA, SWB from D1\n",
            [("A1+B1", "over `SWA` and `SWB`, which are both on the supply `D1`; so do 5 more pairs")],
        ),
        (
            MANY.replace("port 3 via cat6 3 m", "port 3 via cat6 3 m { loom T1 }") + "power SWA, SWB from D1\n",
            [
                ("A1+B1", "over `SWA` and `SWB`, which are both on the supply `D1`; so do 5 more pairs"),
                ("A3+B3", "in one loom, `T1`"),
            ],
        ),
        (
            "box H is hub8 in wing\n"
            + "".join(
                f"box S{n} is twin4 in wing\nlink C{n}: S{n}.net 1-2 -- H.port {2 * n - 1}-{2 * n} via cat6 3 m\n"
                for n in (1, 2, 3)
            ),
            [("C1", "through one switch, `H`; so do 2 more pairs")],
        ),
    ],
)
def test_one_switch_or_supply_is_told_once_for_all_its_pairs(text: str, expected: list[tuple[str, str]]) -> None:
    found = [(subject, message) for _, subject, message in said(shared_fate, GEAR + text)]
    assert found == [(subject, f"both halves of a redundant pair run {message}") for subject, message in expected]


def test_a_half_in_the_wrong_network_is_said_once() -> None:
    """The network is to be put right first: that parts the halves too."""
    crossed = nets().replace("SL.sec -- SWB.port 1", "SL.sec -- SWA.port 2")
    assert [subject for _, subject, _ in said(shared_fate, GEAR + crossed)] == ["A1+B1"]
    assert [line for line in told(GEAR + crossed) if "shared" in line or "crossed" in line] == [
        "error network-crossed B1"
    ]


STAGE = (
    "box SL is plain4 in wing\nlink C01: SL.A -- DESK.stage 1 via cat6 60 m\n{more}\n"
    "source a dynamic in wing to SL 1 via xlr 6 m\nsource b dynamic in wing to SL 2 via xlr 6 m\n"
    "source c dynamic in foh to DESK.local 1 via xlr 6 m\n"
    "patch SL.mic 1-2 -> DESK.ch 1-2\npatch DESK.local 1 -> DESK.ch 3\n"
)


@pytest.mark.parametrize(
    ("more", "sources", "expected"),
    [
        ("", 1, ["DESK", "C01", "SL"]),
        ("", 2, ["DESK"]),
        ("", 3, []),
        ("link C02: SL.B -- DESK.stage 2 via cat6 60 m", 1, ["DESK", "SL"]),
    ],
)
def test_single_point(more: str, sources: int, expected: list[str]) -> None:
    told_of = said(single_point, GEAR + STAGE.format(more=more), sources=sources)
    assert [subject for _, subject, _ in told_of] == expected
    assert {level for level, _, _ in told_of} <= {"note"}


def test_single_point_names_who_would_fall_silent_and_is_off_unless_asked_for() -> None:
    _, cable, _ = findings(single_point, GEAR + STAGE.format(more=""), sources=1)
    assert cable.message == "2 sources hang on `C01` alone"
    assert cable.consequence == "if it fails, these fall silent: `a`, `b`"
    assert [finding.rule for finding in wrong(GEAR + STAGE.format(more=""))] == []
    assert not single_point.on
