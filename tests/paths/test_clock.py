"""Islands of one clock, and networks of switches."""

from __future__ import annotations

import pytest

from tests.paths.small import paths

BOXES = """\
box S is nw16 in wing; box T is nw16 in wing; box D is desk32 in foh; box E is desk32 in wing
box NB is nb8 in wing; box P is panel4 in wing; box BR is bridge16 in wing
box H1 is hub8 in wing; box H2 is hub8 in wing; box H3 is hub8 in foh
"""
CONVERTING = """\
model conv {
  kind bridge
  digital L { protocol fernlink }; digital M { protocol brooknet }
  bridge L -> M { converts rate }
}
box CV is conv in wing
"""


def islands(rig: str) -> list[str]:
    """Each island: its boxes, and who leads."""
    return [f"{' '.join(one.boxes)}: {one.leader or 'nobody'}" for one in paths(BOXES + rig).islands]


@pytest.mark.parametrize(
    ("rig", "expected"),
    [
        ("", []),
        ("link C1: S.A -- D.stage 1 via cat6 60 m", ["D S: D"]),
        ("link C1: S.A -- D.stage 1 via cat6 600 m", ["D S: D"]),  # working or not
        ("link C1: S.A -- T.A via cat6 60 m", ["S T: nobody"]),
        (
            "link C1: S.A -- D.stage 1 via cat6 60 m\nlink C2: T.A -- E.stage 1 via cat6 60 m",
            ["D S: D", "E T: E"],
        ),
        ("link C1: S.A -- D.stage 1 via cat6 60 m\nlink C2: S.B -- E.stage 1 via cat6 60 m", ["D E S: nobody"]),
        (
            "link C1: S.A -- D.stage 1 via cat6 60 m\nlink C2: S.B -- E.stage 1 via cat6 60 m\nclock E",
            ["D E S: E"],
        ),
        (
            "link C1: S.A -- D.stage 1 via cat6 60 m\nlink C2: S.B -- E.stage 1 via cat6 60 m\nclock D\nclock E",
            ["D E S: nobody"],
        ),
        # through panels, switches and bridges, which are not counted
        ("link C1: S.A -- P.front 1 via cat6 5 m\nlink C2: P.rear 1 -- D.stage 1 via cat6 50 m", ["D S: D"]),
        ("link N1: NB.pri -- H1.port 1 via cat6 5 m\nlink N2: H1.port 2 -- D.pri via cat6 50 m", ["D NB: D"]),
        ("link C1: D.stage 1 -- BR.L via cat6 5 m\nlink N1: BR.M -- NB.pri via cat6 50 m", ["D NB: D"]),
        # two lines that end in one panel join nothing
        ("link C1: S.A -- P.front 1 via cat6 5 m\nlink C2: D.stage 1 -- P.front 2 via cat6 50 m", []),
        # a data line does not
        ("link K1: S.ctl -- D.net via cat6 60 m", []),
        # what converts the rate keeps its sides apart
        (
            CONVERTING + "link C1: S.A -- CV.L via cat6 5 m\nlink C2: S.B -- D.stage 1 via cat6 5 m\n"
            "link N1: CV.M -- E.pri via cat6 50 m\nlink N2: E.sec -- NB.sec via cat6 5 m",
            ["D S: D", "E NB: E"],
        ),
    ],
)
def test_islands(rig: str, expected: list[str]) -> None:
    assert islands(rig) == expected


def test_a_desk_that_converts_leads_nothing_on_that_side() -> None:
    rig = BOXES.replace("E is desk32 in wing", "E is desk32 in wing { converts rate }")
    rig += "link C1: S.A -- D.stage 1 via cat6 60 m\nlink C2: S.B -- E.stage 1 via cat6 60 m\n"
    for clocks in ("", "clock D", "clock D\nclock E"):
        (island,) = paths(rig + clocks).islands
        assert (island.leader, island.desks) == ("D", ("D",))


def networks(rig: str, boxes: str = BOXES) -> list[str]:
    """Each network: its switches, which side it is, and the links of each loop."""
    return [
        " ".join([*one.switches, one.side or "-", *("+".join(link.name for link in loop) for loop in one.loops)])
        for one in paths(boxes + rig).networks
    ]


@pytest.mark.parametrize(
    ("rig", "expected"),
    [
        ("", ["H1 -", "H2 -", "H3 -"]),
        ("link T1: H1.port 8 -- H3.port 8 via cat6 60 m", ["H1 H3 -", "H2 -"]),
        ("link T1: H1.port 8 -- H3.port 8 via cat6 600 m", ["H1 H3 -", "H2 -"]),
        # by the port of the clock's leader
        (
            "link N1: H1.port 1 -- D.pri via cat6 5 m\nlink N2: H2.port 1 -- D.sec via cat6 5 m\n"
            "link N3: H1.port 2 -- NB.pri via cat6 5 m",
            ["H1 primary", "H2 secondary", "H3 -"],
        ),
        # two ways between the same switches
        (
            "link T1: H1.port 8 -- H3.port 8 via cat6 60 m\nlink T2: H1.port 7 -- H3.port 7 via cat6 60 m",
            ["H1 H3 - T1+T2", "H2 -"],
        ),
        (
            "link T1: H1.port 8 -- H3.port 8 via cat6 60 m { bundle B1 }\n"
            "link T2: H1.port 7 -- H3.port 7 via cat6 60 m { bundle B1 }",
            ["H1 H3 -", "H2 -"],
        ),
        (
            "link T1: H1.port 8 -- H2.port 8 via cat6 60 m\nlink T2: H2.port 7 -- H3.port 7 via cat6 60 m\n"
            "link T3: H3.port 6 -- H1.port 6 via cat6 60 m",
            ["H1 H2 H3 - T1+T2+T3"],
        ),
        (
            "link T1: H1.port 8 -- H2.port 8 via cat6 60 m { ring R1 }\n"
            "link T2: H2.port 7 -- H3.port 7 via cat6 60 m { ring R1 }\n"
            "link T3: H3.port 6 -- H1.port 6 via cat6 60 m { ring R1 }",
            ["H1 H2 H3 -"],
        ),
        # a switch joined to itself
        ("link T1: H1.port 1 -- H1.port 2 via cat6 1 m", ["H1 - T1", "H2 -", "H3 -"]),
    ],
)
def test_networks(rig: str, expected: list[str]) -> None:
    assert networks(rig) == expected


def test_a_switch_says_which_side_it_is() -> None:
    said = BOXES.replace("H1 is hub8 in wing", "H1 is hub8 in wing { net secondary }")
    assert networks("link T1: H1.port 8 -- H3.port 8 via cat6 60 m", said) == ["H1 H3 secondary", "H2 -"]
