"""Where outputs come from: backwards from the wedge, told in the direction of the sound."""

from __future__ import annotations

import pytest

from tests.paths.small import lines, paths, port, told

DIGITAL = """\
box SL is nw16 in wing
box DESK is desk32 in foh
link C01: SL.A -- DESK.stage 1 via cat6s 75 m
"""
OUT = ["patch: DESK.stage 1", "C01 cat6s 75 m fernlink 0.06 ms: SL.A"]


@pytest.mark.parametrize(
    ("rig", "name", "expected"),
    [
        pytest.param(
            DIGITAL + "output wdg1 wedge in front from SL.line 1 via xlr 10 m\npatch DESK.mix 3 -> SL.line 1",
            "wdg1",
            [["DESK.mix 3", *OUT, "convert 0.3 ms: SL.line 1", "plug xlr 10 m: wdg1"]],
            id="from a mix",
        ),
        pytest.param(
            DIGITAL + "output wdg1 wedge in front from SL.line 1 via xlr 10 m\npatch DESK.mix 3 -> wdg1",
            "wdg1",
            [["DESK.mix 3", *OUT, "convert 0.3 ms: SL.line 1", "plug xlr 10 m: wdg1"]],
            id="by name",
        ),
        pytest.param(
            DIGITAL
            + """\
box MC is multi in front
link X1 via loom12 20 m {
  MC.tail 1-12 -- SL.mic 1-12
  SL.line 1-4 -- MC.return 1-4
}
output wdg1 wedge in front from MC.jack 2 via xlr 5 m
patch DESK.mix 3 -> wdg1""",
            "wdg1",
            [
                [
                    "DESK.mix 3",
                    *OUT,
                    "convert 0.3 ms: SL.line 2",
                    "X1 loom12 20 m: MC.return 2",
                    "pass: MC.jack 2",
                    "plug xlr 5 m: wdg1",
                ]
            ],
            id="by name, over the returns of a multicore",
        ),
        pytest.param(
            """\
box DESK is desk12 in foh; box MC is multi in front
link X1 via loom12 40 m {
  MC.tail 1-12 -- DESK.local 1-12
  DESK.local-out 1-4 -- MC.return 1-4
}
output wdg1 wedge in front from MC.jack 2 via xlr 5 m""",
            "wdg1",
            [
                [
                    "DESK.mix 2",
                    "pass: DESK.local-out 2",
                    "X1 loom12 40 m: MC.return 2",
                    "pass: MC.jack 2",
                    "plug xlr 5 m: wdg1",
                ]
            ],
            id="an analogue desk is hard-wired to its outputs",
        ),
        pytest.param(
            DIGITAL + "output mains main in front from SL.line 1-2 via xlr 10 m\npatch DESK.matrix 1-2 -> mains",
            "mains",
            [
                ["DESK.matrix 1", *OUT, "convert 0.3 ms: SL.line 1", "plug xlr 10 m: mains"],
                ["DESK.matrix 2", *OUT, "convert 0.3 ms: SL.line 2", "plug xlr 10 m: mains"],
            ],
            id="stereo: one path for each side",
        ),
        pytest.param(
            DIGITAL
            + """\
source cue playback in wing to SL 1 via xlr 6 m
output hot wedge in front from SL.line 2 via xlr 9 m
patch cue -> hot""",
            "hot",
            [["cue", "plug xlr 6 m: SL.mic 1", "patch 0.7 ms: SL.line 2", "plug xlr 9 m: hot"]],
            id="straight from a source",
        ),
        pytest.param(
            DIGITAL + "output tape record in wing from SL.line 1 via xlr 2 m\npatch DESK.ch 9 -> tape",
            "tape",
            [["DESK.ch 9", *OUT, "convert 0.3 ms: SL.line 1", "plug xlr 2 m: tape"]],
            id="from a channel's direct out",
        ),
        pytest.param(
            DIGITAL
            + """\
box TX is tx2 in wing
link R1: SL.line 5-6 -- TX.line 1-2 via xlr 1 m
output ears in-ear in front from TX.air 1-2
patch DESK.mix 5-6 -> ears""",
            "ears",
            [
                [
                    "DESK.mix 5",
                    *OUT,
                    "convert 0.3 ms: SL.line 5",
                    "R1 xlr 1 m: TX.line 1",
                    "pass 1 ms: TX.air 1",
                    "plug: ears",
                ],
                [
                    "DESK.mix 6",
                    *OUT,
                    "convert 0.3 ms: SL.line 6",
                    "R1 xlr 1 m: TX.line 2",
                    "pass 1 ms: TX.air 2",
                    "plug: ears",
                ],
            ],
            id="by radio",
        ),
        pytest.param(
            DIGITAL
            + """\
box AMP is amp2 in wing; box T1 is top8 in wing; box T2 is top8 in wing
link R1: SL.line 1 -- AMP.in 1 via xlr 2 m
link LS1: AMP.out 1 -- T1.in via ls4 10 m
link LS2: T1.link -- T2.in via ls4 2 m
patch DESK.mix 1 -> SL.line 1""",
            "T2",
            [
                [
                    "DESK.mix 1",
                    *OUT,
                    "convert 0.3 ms: SL.line 1",
                    "R1 xlr 2 m: AMP.in 1",
                    "pass 0.1 ms: AMP.out 1",
                    "LS1 ls4 10 m: T1.in",
                    "pass: T1.link",
                    "LS2 ls4 2 m: T2.in",
                ]
            ],
            id="a loudspeaker is an output too, also behind another",
        ),
        pytest.param(
            """\
box DESK is desk12 in foh; box P is proc in foh; box AMP is amp2 in wing; box T1 is top8 in wing
link L1: DESK.local-out 1-2 -- P.in 1-2 via xlr 2 m
link L2: P.out 5 -- AMP.in 1 via xlr 40 m
link LS1: AMP.out 1 -- T1.in via ls4 10 m
source cd playback in foh to P.in 4 via xlr 1 m""",
            "T1",
            [
                [
                    "DESK.mix 1",
                    "pass: DESK.local-out 1",
                    "L1 xlr 2 m: P.in 1",
                    "mix 1.7 ms: P.out 5",
                    "L2 xlr 40 m: AMP.in 1",
                    "pass 0.1 ms: AMP.out 1",
                    "LS1 ls4 10 m: T1.in",
                ],
                [
                    "DESK.mix 2",
                    "pass: DESK.local-out 2",
                    "L1 xlr 2 m: P.in 2",
                    "mix 1.7 ms: P.out 5",
                    "L2 xlr 40 m: AMP.in 1",
                    "pass 0.1 ms: AMP.out 1",
                    "LS1 ls4 10 m: T1.in",
                ],
                [
                    "cd",
                    "plug xlr 1 m: P.in 4",
                    "mix 1.7 ms: P.out 5",
                    "L2 xlr 40 m: AMP.in 1",
                    "pass 0.1 ms: AMP.out 1",
                    "LS1 ls4 10 m: T1.in",
                ],
            ],
            id="a processor with no patch takes all that is plugged in",
        ),
        pytest.param(
            """\
box DESK is desk12 in foh; box P is proc in foh
link L1: DESK.local-out 1-2 -- P.in 1-2 via xlr 2 m
output pa main in front from P.out 1 via xlr 40 m
patch P.in 2 -> P.out 1""",
            "pa",
            [
                [
                    "DESK.mix 2",
                    "pass: DESK.local-out 2",
                    "L1 xlr 2 m: P.in 2",
                    "patch 1.7 ms: P.out 1",
                    "plug xlr 40 m: pa",
                ]
            ],
            id="a patch inside a processor says what it takes",
        ),
        pytest.param(
            """\
box DESK is desk32 in foh; box P is proc in foh
link N1: DESK.pri -- P.net via cat6 5 m
output pa main in front from P.out 1 via xlr 40 m
patch DESK.matrix 1 -> P.out 1""",
            "pa",
            [
                [
                    "DESK.matrix 1",
                    "patch: DESK.pri",
                    "N1 cat6 5 m brooknet 1 ms: P.net",
                    "convert 1.2 ms: P.out 1",
                    "plug xlr 40 m: pa",
                ]
            ],
            id="a processor on the network: its work and its converter",
        ),
    ],
)
def test_paths(rig: str, name: str, expected: list[list[str]]) -> None:
    assert lines(paths(rig), name) == expected


RECORDING = """\
box DESK is desk32 in foh; box PC is pc32 in foh; box H is hub8 in foh
link N1: DESK.pri -- H.port 1 via cat6 3 m
link N2: PC.net -- H.port 2 via cat6 2 m
patch DESK.ch 1-2 -> PC.rec 1-2
patch DESK.mix 1 -> PC.rec 31
"""


@pytest.mark.parametrize(
    ("what", "starts"),
    [
        (port("PC.rec 2"), ["DESK.ch 2"]),
        (port("DESK.ch 1"), ["DESK.ch 1"]),
        (port("PC.rec 31"), ["DESK.mix 1"]),
        ("N2", ["DESK.ch 1", "DESK.ch 2", "DESK.mix 1"]),
        ("H", ["DESK.ch 1", "DESK.ch 2", "DESK.mix 1"]),
    ],
)
def test_what_a_desk_records_can_be_traced(what: str, starts: list[str]) -> None:
    found = paths(RECORDING).trace(what)
    assert [str(path.start) for path in found] == starts
    assert all(path.complete for path in found)


def test_a_direct_out_hop_by_hop() -> None:
    (path,) = paths(RECORDING).trace(port("PC.rec 1"))
    assert told(path) == [
        "DESK.ch 1",
        "patch: DESK.pri",
        "N1 cat6 3 m brooknet 1 ms: H.port 1",
        "switch: H.port 2",
        "N2 cat6 2 m brooknet: PC.net",
        "patch: PC.rec 1",
    ]
