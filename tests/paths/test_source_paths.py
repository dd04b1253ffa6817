"""Where sources go: a small rig, and every hop of the way from the plug to the channel."""

from __future__ import annotations

import pytest

from tests.paths.small import lines, moved, paths

DIGITAL = """\
box SL is nw16 in wing
box DESK is desk32 in foh
link C01: SL.A -- DESK.stage 1 via cat6s 75 m
"""
HOME = ["preamp 0.4 ms: SL.A", "C01 cat6s 75 m fernlink 0.06 ms: DESK.stage 1"]


@pytest.mark.parametrize(
    ("rig", "name", "expected"),
    [
        pytest.param(
            "source kick dynamic in wing to SL 1 via xlr 6 m\npatch SL.mic 1 -> DESK.ch 3",
            "kick",
            [["kick", "plug xlr 6 m: SL.mic 1", *HOME, "patch: DESK.ch 3"]],
            id="into a stage box",
        ),
        pytest.param(
            """\
box DR is sub12 in drums
link L01: DR.tail 1-12 -- SL.mic 1-12 via loom12 15 m
source tom dynamic in drums to DR 2 via xlr 4 m
patch SL.mic 2 -> DESK.ch 2""",
            "tom",
            [
                [
                    "tom",
                    "plug xlr 4 m: DR.panel 2",
                    "pass: DR.tail 2",
                    "L01 loom12 15 m: SL.mic 2",
                    *HOME,
                    "patch: DESK.ch 2",
                ]
            ],
            id="over a sub-box",
        ),
        pytest.param(
            """\
box DR is sub12 in drums
link L01: DR.tail 1-12 -- SL.mic 1-12 via loom12 15 m
source tom dynamic in drums to DR 2 via xlr 4 m
patch tom -> DESK.ch 2""",
            "tom",
            [
                [
                    "tom",
                    "plug xlr 4 m: DR.panel 2",
                    "pass: DR.tail 2",
                    "L01 loom12 15 m: SL.mic 2",
                    *HOME,
                    "patch: DESK.ch 2",
                ]
            ],
            id="by name, found behind the sub-box",
        ),
        pytest.param(
            """\
box W1 is tie8 in front; box W2 is tie8 in wing; box W3 is tie8 in wing
link T1: W1.room 1-8 -- W2.stage 1-8 via xlr 20 m
link T2: W2.room 1-8 -- W3.stage 1-8 via xlr 12 m
link T3: W3.room 1-8 -- SL.mic 1-8 via xlr 2 m
source vox dynamic in front to W1 4 via xlr 8 m
patch SL.mic 4 -> DESK.ch 4""",
            "vox",
            [
                [
                    "vox",
                    "plug xlr 8 m: W1.stage 4",
                    "pass: W1.room 4",
                    "T1 xlr 20 m: W2.stage 4",
                    "pass: W2.room 4",
                    "T2 xlr 12 m: W3.stage 4",
                    "pass: W3.room 4",
                    "T3 xlr 2 m: SL.mic 4",
                    *HOME,
                    "patch: DESK.ch 4",
                ]
            ],
            id="over analogue tie lines of three wall panels",
        ),
        pytest.param(
            """\
box RX is rx4 in wing
link L02: RX.line 1-4 -- SL.mic 9-12 via xlr 1 m
source lead-vox wireless in front to RX.air 2
patch SL.mic 9-12 -> DESK.ch 21-24""",
            "lead-vox",
            [
                [
                    "lead-vox",
                    "plug: RX.air 2",
                    "pass 2 ms: RX.line 2",
                    "L02 xlr 1 m: SL.mic 10",
                    "preamp 0.4 ms: SL.A",
                    "C01 cat6s 75 m fernlink 0.06 ms: DESK.stage 1",
                    "patch: DESK.ch 22",
                ]
            ],
            id="by radio: no cable, and the receiver takes its time",
        ),
        pytest.param(
            """\
box D1 is dibox in front
link L03: D1.out -- SL.mic 13 via xlr 12 m
source bass instrument in front to D1 via jack 3 m
patch bass -> DESK.ch 13""",
            "bass",
            [
                [
                    "bass",
                    "plug jack 3 m: D1.in",
                    "pass: D1.out",
                    "L03 xlr 12 m: SL.mic 13",
                    *HOME,
                    "patch: DESK.ch 13",
                ]
            ],
            id="over a DI",
        ),
        pytest.param(
            "source keys line in wing to SL 14-15 via xlr 4 m\npatch keys -> DESK.ch 14-15",
            "keys",
            [
                ["keys", "plug xlr 4 m: SL.mic 14", *HOME, "patch: DESK.ch 14"],
                ["keys", "plug xlr 4 m: SL.mic 15", *HOME, "patch: DESK.ch 15"],
            ],
            id="stereo: one path for each side",
        ),
        pytest.param(
            "source kick dynamic in wing to SL 1 via xlr 6 m\npatch SL.mic 1, SL.mic 1 -> DESK.ch 1,17",
            "kick",
            [
                ["kick", "plug xlr 6 m: SL.mic 1", *HOME, "patch: DESK.ch 1"],
                ["kick", "plug xlr 6 m: SL.mic 1", *HOME, "patch: DESK.ch 17"],
            ],
            id="on two channels: one path for each",
        ),
        pytest.param(
            "source talk talkback in foh to DESK.local 8 via xlr 3 m\npatch DESK.local 8 -> DESK.ch 32",
            "talk",
            [["talk", "plug xlr 3 m: DESK.local 8", "patch 0.2 ms: DESK.ch 32"]],
            id="into the desk itself: converted there",
        ),
        pytest.param(
            """\
output hot wedge in front from SL.line 2 via xlr 9 m
source cue playback in wing to SL 1 via xlr 6 m
patch cue -> hot""",
            "cue",
            [["cue", "plug xlr 6 m: SL.mic 1", "patch 0.7 ms: SL.line 2", "plug xlr 9 m: hot"]],
            id="straight to an output of the same box: in and out again",
        ),
    ],
)
def test_on_one_stage_box(rig: str, name: str, expected: list[list[str]]) -> None:
    assert lines(paths(DIGITAL + rig), name) == expected


def test_a_patch_by_name_follows_a_plug_that_is_moved() -> None:
    house = """\
box SL is nw16 in wing; box SR is nw16 in wing; box DESK is desk32 in foh
link C01: SL.A -- DESK.stage 1 via cat6s 75 m
link C02: SR.A -- DESK.stage 2 via cat6s 75 m
source kick dynamic in wing to SL 1 via xlr 6 m
patch kick -> DESK.ch 1
"""
    assert lines(moved(house, "replug kick to SR 7 via xlr 9 m"), "kick") == [
        [
            "kick",
            "plug xlr 9 m: SR.mic 7",
            "preamp 0.4 ms: SR.A",
            "C02 cat6s 75 m fernlink 0.06 ms: DESK.stage 2",
            "patch: DESK.ch 1",
        ]
    ]
