"""The digital way of a patch: the working one of fewest hops, and what is to blame where none works."""

from __future__ import annotations

import pytest

from tests.paths.small import paths, port

BOXES = """\
box SL is nw16 in wing; box SR is nw16 in wing; box DESK is desk32 in foh; box MON is desk32 in wing
box NB is nb8 in wing; box H1 is hub8 in wing; box H2 is hub8 in foh; box H3 is hub8 in foh; box BR is bridge16 in wing
"""


def way(rig: str, left: str, right: str) -> str:
    """The steps of a route, or what keeps it from working."""
    route = paths(BOXES + rig).route(port(left), port(right))
    if route.works:
        return " ".join(step.run.name if step.run else step.by for step in route.steps)
    return "no way: " + (", ".join(f"{fault.rule} {subject}" for _, fault, subject in route.blame) or "no cable")


@pytest.mark.parametrize(
    ("rig", "expected"),
    [
        ("link C1: SL.A -- DESK.stage 1 via cat6 60 m", "C1"),
        # fewest hops
        (
            "link C1: SL.A -- SR.A via cat6 9 m\nlink C2: SR.B -- DESK.stage 1 via cat6 60 m\n"
            "link C3: SL.B -- DESK.stage 2 via cat6 60 m",
            "C3",
        ),
        # a tie goes to the id that comes first as people count
        ("link C10: SL.A -- DESK.stage 1 via cat6 60 m\nlink C2: SL.B -- DESK.stage 2 via cat6 60 m", "C2"),
        ("link C2: SL.A -- DESK.stage 1 via cat6 60 m\nlink C10: SL.B -- DESK.stage 2 via cat6 60 m", "C2"),
        # a faulty one is no way
        ("link C2: SL.A -- DESK.stage 1 via cat6 160 m\nlink C10: SL.B -- DESK.stage 2 via cat6 60 m", "C10"),
        (
            "link C1: SL.A -- SR.A via cat6 9 m\nlink C2: SR.B -- DESK.stage 1 via cat6 60 m\n"
            "link C3: SL.B -- DESK.stage 2 via om2 60 m",
            "C1 chain C2",
        ),
        # through another desk
        ("link C1: SL.A -- MON.stage 1 via cat6 5 m\nlink N1: MON.pri -- DESK.pri via cat6 60 m", "C1 patch N1"),
        # over a bridge, and on through a switch
        (
            "link C1: SL.A -- BR.L via cat6 5 m\nlink N1: BR.M -- H1.port 1 via cat6 3 m\n"
            "link N2: H1.port 2 -- DESK.pri via cat6 50 m",
            "C1 bridge N1 switch N2",
        ),
        # to blame
        ("", "no way: no cable"),
        ("link C1: SL.A -- DESK.stage 1 via cat6 160 m", "no way: run-too-long C1"),
        ("link C1: SL.A -- DESK.net via cat6 60 m", "no way: not-an-audio-port C1"),
        ("link C1: SL.A -- DESK.pri via cat6 60 m", "no way: protocol-mismatch C1"),
        ("link C1: SL.ctl -- DESK.net via cat6 60 m", "no way: not-an-audio-port C1"),  # control data only
        (
            "link C1: SL.A -- SR.A via om1 9 m\nlink C2: SR.B -- DESK.stage 1 via cat6 600 m",
            "no way: medium-mismatch C1, run-too-long C2",
        ),
        # the way with fewer faults is the one to blame
        (
            "link C1: SL.A -- SR.A via om1 9 m\nlink C2: SR.B -- DESK.stage 1 via cat6 600 m\n"
            "link C3: SL.B -- DESK.stage 2 via cat6 200 m",
            "no way: run-too-long C3",
        ),
    ],
)
def test_from_a_stage_box_to_a_desk(rig: str, expected: str) -> None:
    assert way(rig, "SL.mic 1", "DESK.ch 1") == expected


@pytest.mark.parametrize(
    ("rig", "expected"),
    [
        ("link C1: SL.A -- DESK.stage 1 via cat6 60 m", "C1"),
        ("link C1: SR.A -- DESK.stage 1 via cat6 60 m\nlink C2: SR.B -- SL.A via cat6 9 m", "C1 chain C2"),
        ("link C1: SL.A -- DESK.stage 1 via cat6 160 m", "no way: run-too-long C1"),
        (
            "link C1: SR.A -- DESK.stage 1 via om1 60 m\nlink C2: SR.B -- SL.A via cat6 900 m",
            "no way: medium-mismatch C1, run-too-long C2",  # in the direction of the sound
        ),
    ],
)
def test_back_from_the_desk(rig: str, expected: str) -> None:
    assert way(rig, "DESK.mix 1", "SL.line 1") == expected


@pytest.mark.parametrize(
    ("primary", "secondary", "expected"),
    [
        ("cat6 50 m", "cat6 50 m", "P1 switch P2"),
        ("cat6 500 m", "cat6 50 m", "S1 switch S2"),
        ("cat6 50 m", "cat6 500 m", "P1 switch P2"),
        ("cat6 500 m", "cat6 500 m", "no way: run-too-long P2"),
    ],
)
def test_one_of_two_networks_is_enough(primary: str, secondary: str, expected: str) -> None:
    rig = f"""\
link P1: NB.pri -- H1.port 1 via cat6 5 m
link P2: H1.port 2 -- DESK.pri via {primary}
link S1: NB.sec -- H2.port 1 via cat6 5 m
link S2: H2.port 2 -- DESK.sec via {secondary}
"""
    assert way(rig, "NB.mic 1", "DESK.ch 1") == expected


ONE_WAY = """\
model out8 { kind stage-box; inputs mic 1-8 { preamp }; outputs line 1-8; digital tx { protocol aes10-coax; sends } }
model in8 { kind console; channels ch 1-8; mixes mix 1-8; digital rx { protocol aes10-coax; takes } }
box X is out8; box D is in8
link M1: X.tx -- D.rx via coax75 60 m
"""


def test_a_one_way_line_brings_nothing_back() -> None:
    assert way(ONE_WAY, "X.mic 1", "D.ch 1") == "M1"
    assert way(ONE_WAY, "D.mix 1", "X.line 1") == "no way: no cable"


MIRROR = """\
model dual16 {
  kind stage-box
  inputs mic 1-16 { preamp }; outputs line 1-8
  digital A, B { protocol fernlink; chain }
  digital C { protocol fernlink; mirror }
}
box X is dual16 in wing; box Y is dual16 in wing
link C1: X.A -- DESK.stage 1 via cat6 60 m
link C2: X.B -- Y.A via cat6 9 m
link C3: X.C -- MON.stage 1 via cat6 5 m
"""


@pytest.mark.parametrize(
    ("left", "right", "expected"),
    [
        ("X.mic 1", "DESK.ch 1", "C1"),
        ("X.mic 1", "MON.ch 1", "C3"),  # the box's inputs again, for a second desk
        ("DESK.mix 1", "X.line 1", "C1"),
        ("MON.mix 1", "X.line 1", "no way: no cable"),  # and nothing back
        ("Y.mic 1", "DESK.ch 1", "C2 chain C1"),
    ],
)
def test_a_mirror_sends_the_inputs_of_its_box(left: str, right: str, expected: str) -> None:
    assert way(MIRROR, left, right) == expected


def test_a_mirror_belongs_to_no_chain() -> None:
    found = paths(BOXES + MIRROR)
    assert {box: (str(chain.head), chain.position) for box, chain in found.chains.items()} == {
        "X": ("DESK.stage 1", 1),
        "Y": ("DESK.stage 1", 2),
    }
    assert found.misfits == ()


def test_inside_one_box_nothing_is_needed() -> None:
    route = paths(BOXES).route(port("DESK.local 1"), port("DESK.ch 1"))
    assert (route.works, route.steps) == (True, ())


def test_a_network_protocol_stays_what_it_is_through_a_bridge() -> None:
    # a box that speaks another network protocol than the bridge's far side is not reached
    rig = """\
model other { kind console; channels ch 1-8; digital net { protocol aes67 } }
box O is other
link C1: SL.A -- BR.L via cat6 5 m
link N1: BR.M -- H1.port 1 via cat6 3 m
link N2: H1.port 2 -- O.net via cat6 50 m
"""
    assert way(rig, "SL.mic 1", "O.ch 1") == "no way: no cable"
