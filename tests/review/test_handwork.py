"""What hands do with cables, boxes, mains and outboard, and what is no work at all."""

from __future__ import annotations

import pytest

from rigdsl.review.handwork import steps
from tests.review.made import STAGE, compared, side

HALL = (
    STAGE
    + """\
model comp { kind outboard; inputs in 1-2; outputs out 1-2; pass in -> out }
box CP "Compressor" is comp in foh
model desk2 { kind console; channels ch 1-4; mixes mix 1-2; inputs local 1-4; outputs out 1-2; pass local -> ch }
box MON "Monitor desk" is desk2 in foh
supply P1 "Left feed" 230 V 16 A in left
supply P2 "Right feed" 230 V 16 A in right
power SL from P1
insert MON.ch 1 through CP 1 via xlr 2 m
"""
)


def told(old: str, new: str) -> list[tuple[str, ...]]:
    assert new != old
    found = compared(old, new)
    return [(one.do, one.what, one.off, one.on) for one in steps(side(old).rig, side(new).rig, found)]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        # no work: which end is written first, and what only has another name
        ("C01: SL.A -- DESK.stage 1", "C01: DESK.stage 1 -- SL.A", []),
        ("nw8", "rack8", []),
        ("foh", "front", []),
        # a box that moves and has another label too
        ('SR "Right rack" is nw8 in right', 'SR "Rack" is nw8 in foh',
         [("move", "box SR", "Right wing", "Mixing place")]),
        ('SR "Right rack" is nw8 in right', 'SR "Right rack" is nw8 in right { serial "17" }', []),
        ("power SL from P1", "power SL from P2", [("replug", "mains of SL", "P1", "P2")]),
        ("insert MON.ch 1 through", "insert MON.ch 3 through", [("replug", "insert of CP", "MON.ch 1", "MON.ch 3")]),
        ("insert MON.ch 1 through CP 1 via xlr 2 m\n", "", [("unplug", "insert of CP", "MON.ch 1", "")]),
        ("SR.A -- SL.B", "SR.B -- SL.B", [("replug", "cable C02", "SR.A", "SR.B")]),
        ("to SL 2 via xlr 3 m", 'to SL 2 via xlr 3 m { mic "clip-on" }',
         [("swap", "Snare: clip-on instead of dynamic", "", "SL.mic 2")]),
        ("to SL 2 via xlr 3 m", 'to SL 2 via xlr 3 m { stand "tall boom" }',
         [("swap", "Snare: dynamic on tall boom instead of dynamic", "", "SL.mic 2")]),
        ("to SL 2 via xlr 3 m", 'to SL 2 via xlr 3 m { note "mind the cable" }', []),
    ],
)  # fmt: skip
def test_what_hands_do(old: str, new: str, said: list[tuple[str, ...]]) -> None:
    assert old in HALL
    assert told(HALL, HALL.replace(old, new)) == said


def test_two_boxes_of_one_model_that_get_other_names() -> None:
    """They are known by their labels."""
    two = STAGE.replace("is nw8 in right", "is nw8 in left")
    named = two.replace("SL", "LA").replace("SR", "LB")
    assert told(two, named) == []


def test_mains_come_with_the_caution() -> None:
    new = HALL.replace("power SL from P1", "power SL from P2")
    (step,) = steps(side(HALL).rig, side(new).rig, compared(HALL, new))
    assert "licensed people" in step.note
