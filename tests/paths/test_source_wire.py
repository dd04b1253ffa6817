"""Sources on analogue desks, splitters, amplifiers, computers and recorders: every hop."""

from __future__ import annotations

import pytest

from tests.paths.small import lines, paths


@pytest.mark.parametrize(
    ("rig", "name", "expected"),
    [
        pytest.param(
            """\
box DESK is desk12 in foh
source vox dynamic in front to DESK 5 via xlr 40 m""",
            "vox",
            [["vox", "plug xlr 40 m: DESK.local 5", "pass: DESK.ch 5"]],
            id="an analogue desk is hard-wired: no patch needed",
        ),
        pytest.param(
            """\
box MC is multi in front; box DESK is desk12 in foh
link X1 via loom12 40 m {
  MC.tail 1-12 -- DESK.local 1-12
  DESK.local-out 1-4 -- MC.return 1-4
}
source vox dynamic in front to MC.panel 5 via xlr 5 m""",
            "vox",
            [["vox", "plug xlr 5 m: MC.panel 5", "pass: MC.tail 5", "X1 loom12 40 m: DESK.local 5", "pass: DESK.ch 5"]],
            id="over a multicore box with returns",
        ),
        pytest.param(
            """\
box SP is split8 in wing; box FOH is desk12 in foh; box MON is desk12 in wing
link S1: SP.direct 1-8 -- MON.local 1-8 via xlr 4 m
link S2: SP.iso 1-8 -- FOH.local 1-8 via xlr 60 m
source vox dynamic in front to SP 1 via xlr 5 m""",
            "vox",
            [
                ["vox", "plug xlr 5 m: SP.in 1", "pass: SP.direct 1", "S1 xlr 4 m: MON.local 1", "pass: MON.ch 1"],
                ["vox", "plug xlr 5 m: SP.in 1", "pass: SP.iso 1", "S2 xlr 60 m: FOH.local 1", "pass: FOH.ch 1"],
            ],
            id="a splitter to two desks",
        ),
        pytest.param(
            """\
box CORE is core16 in wing; box FACE is face in foh
link C02: CORE.net -- FACE.net via cat6 60 m
source vox dynamic in front to CORE 3 via xlr 5 m
patch CORE.local 3 -> CORE.ch 3""",
            "vox",
            [["vox", "plug xlr 5 m: CORE.local 3", "patch 0.2 ms: CORE.ch 3"]],
            id="an engine on stage mixes; its surface carries no audio",
        ),
        pytest.param(
            """\
box DESK is desk32 in foh; box PC is pc32 in foh
link N1: PC.net -- DESK.pri via cat6 3 m
source tracks playback in foh to PC.track 1-2
patch tracks -> DESK.ch 31-32""",
            "tracks",
            [
                [
                    "tracks",
                    "plug: PC.track 1",
                    "convert: PC.net",
                    "N1 cat6 3 m brooknet 1 ms: DESK.pri",
                    "patch: DESK.ch 31",
                ],
                [
                    "tracks",
                    "plug: PC.track 2",
                    "convert: PC.net",
                    "N1 cat6 3 m brooknet 1 ms: DESK.pri",
                    "patch: DESK.ch 32",
                ],
            ],
            id="playback inside a computer takes no cable",
        ),
        pytest.param(
            """\
box SL is nw16 in wing; box DECK is deck8 in foh
link C01: SL.A -- DECK.in via cat6s 60 m
source vox dynamic in front to SL 1 via xlr 5 m
patch SL.mic 1 -> DECK.rec 1""",
            "vox",
            [
                [
                    "vox",
                    "plug xlr 5 m: SL.mic 1",
                    "preamp 0.4 ms: SL.A",
                    "C01 cat6s 60 m fernlink 0.06 ms: DECK.in",
                    "patch: DECK.rec 1",
                ]
            ],
            id="straight onto a recorder's channel",
        ),
        pytest.param(
            """\
box AMP is amp2 in wing; box TOP is top8 in wing
link LS1: AMP.out 2 -- TOP.in via ls4 10 m
source keys line in wing to AMP 2 via xlr 3 m""",
            "keys",
            [["keys", "plug xlr 3 m: AMP.in 2", "pass 0.1 ms: AMP.out 2", "LS1 ls4 10 m: TOP.in"]],
            id="over wire alone to a loudspeaker",
        ),
        pytest.param(
            """\
box P is proc in foh; box AMP is amp2 in wing; box TOP is top8 in wing
link L1: P.out 6 -- AMP.in 1 via xlr 40 m
link LS1: AMP.out 1 -- TOP.in via ls4 10 m
source walk-in playback in foh to P.in 3 via xlr 2 m""",
            "walk-in",
            [
                [
                    "walk-in",
                    "plug xlr 2 m: P.in 3",
                    "mix 1.7 ms: P.out 6",
                    "L1 xlr 40 m: AMP.in 1",
                    "pass 0.1 ms: AMP.out 1",
                    "LS1 ls4 10 m: TOP.in",
                ]
            ],
            id="a processor takes any input to any output: in, work and out again",
        ),
        pytest.param(
            """\
box SL is nw16 in wing; box DESK is desk12 in foh
link L1: SL.line 1-8 -- DESK.local 1-8 via xlr 40 m
source vox dynamic in front to SL 1 via xlr 5 m
patch SL.mic 1 -> SL.line 3""",
            "vox",
            [
                [
                    "vox",
                    "plug xlr 5 m: SL.mic 1",
                    "patch 0.7 ms: SL.line 3",
                    "L1 xlr 40 m: DESK.local 3",
                    "pass: DESK.ch 3",
                ]
            ],
            id="a stage box used as a split: out of its line socket into another desk",
        ),
        pytest.param(
            """\
box FOH is desk32 in foh; box SL is nw16 in wing; box CAST is desk32 in foh
link C01: SL.A -- CAST.stage 1 via cat6s 30 m
link L1: FOH.local-out 1 -- SL.mic 9 via xlr 4 m
source vox dynamic in front to FOH.local 1 via xlr 5 m
patch FOH.local 1 -> FOH.local-out 1
patch SL.mic 9 -> CAST.ch 2""",
            "vox",
            [
                [
                    "vox",
                    "plug xlr 5 m: FOH.local 1",
                    "patch 0.4 ms: FOH.local-out 1",
                    "L1 xlr 4 m: SL.mic 9",
                    "preamp 0.4 ms: SL.A",
                    "C01 cat6s 30 m fernlink 0.06 ms: CAST.stage 1",
                    "patch: CAST.ch 2",
                ]
            ],
            id="patched, on wire again, and patched again",
        ),
    ],
)
def test_over_wire_and_straight(rig: str, name: str, expected: list[list[str]]) -> None:
    assert lines(paths(rig), name) == expected
