"""How many channels go over a run, each way, against what it carries."""

from __future__ import annotations

import pytest

from tests.paths.small import paths

CHAIN = """\
box DESK is desk32 in foh; box S1 is nw16 in wing; box S2 is nw16 in wing; box S3 is nw16 in wing
link C1: DESK.stage 1 -- S1.A via cat6 60 m
link C2: S1.B -- S2.A via cat6 9 m
"""


def loads(rig: str, head: str = "rate 48 kHz") -> dict[str, str]:
    """Each run: for each end, what goes in there, of which boxes, out of what limit."""
    found = paths(rig, head)
    told = {}
    for run in found.runs:
        for load in found.load_of(run):
            boxes = " ".join(f"{box}:{count}" for box, count in load.by_box)
            told[f"{run.name} from {load.enters.box}"] = f"{load.channels} of {load.limit} ({boxes})" + (
                f", tipped by {load.tips}" if load.tips else ""
            )
    return told


@pytest.mark.parametrize(
    ("rig", "expected"),
    [
        # fixed slots: whole boxes, patched or not, and all that is chained behind
        (
            CHAIN,
            {
                "C1 from DESK": "16 of 40 (S1:8 S2:8)",
                "C1 from S1": "32 of 40 (S1:16 S2:16)",
                "C2 from S1": "8 of 40 (S2:8)",
                "C2 from S2": "16 of 40 (S2:16)",
            },
        ),
        (
            CHAIN + "link C3: S2.B -- S3.A via cat6 9 m",
            {
                "C1 from DESK": "24 of 40 (S1:8 S2:8 S3:8)",
                "C1 from S1": "48 of 40 (S1:16 S2:16 S3:16), tipped by S3",
                "C2 from S1": "16 of 40 (S2:8 S3:8)",
                "C2 from S2": "32 of 40 (S2:16 S3:16)",
                "C3 from S2": "8 of 40 (S3:8)",
                "C3 from S3": "16 of 40 (S3:16)",
            },
        ),
        # a box that nothing carries on sends nothing through
        (
            "model end16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol fernlink } }\n"
            + CHAIN.replace("S1 is nw16", "S1 is end16"),
            {
                "C1 from DESK": "0 of 40 ()",
                "C1 from S1": "16 of 40 (S1:16)",
                "C2 from S1": "8 of 40 (S2:8)",
                "C2 from S2": "16 of 40 (S2:16)",
            },
        ),
        # a desk at either end: a box counts where it is nearer, and where the other desk takes something from it
        (
            CHAIN + "box MON is desk32 in wing\nlink C3: S2.B -- MON.stage 1 via cat6 9 m",
            {
                "C1 from DESK": "8 of 40 (S1:8)",
                "C1 from S1": "16 of 40 (S1:16)",
                "C2 from S1": "8 of 40 (S2:8)",
                "C2 from S2": "16 of 40 (S2:16)",
                "C3 from MON": "8 of 40 (S2:8)",
                "C3 from S2": "16 of 40 (S2:16)",
            },
        ),
        (
            CHAIN + "box MON is desk32 in wing\nlink C3: S2.B -- MON.stage 1 via cat6 9 m\npatch S2.mic 1 -> DESK.ch 1",
            {
                "C1 from DESK": "8 of 40 (S1:8)",
                "C1 from S1": "32 of 40 (S1:16 S2:16)",
                "C2 from S1": "8 of 40 (S2:8)",
                "C2 from S2": "16 of 40 (S2:16)",
                "C3 from MON": "8 of 40 (S2:8)",
                "C3 from S2": "16 of 40 (S2:16)",
            },
        ),
        # a mirror has the box's own inputs, and nothing the other way
        (
            "model dual16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8\n"
            "  digital A, B { protocol fernlink; chain }; digital C { protocol fernlink; mirror } }\n"
            + CHAIN.replace("S1 is nw16", "S1 is dual16")
            + "box MON is desk32 in wing\nlink C3: S1.C -- MON.stage 1 via cat6 9 m",
            {
                "C1 from DESK": "16 of 40 (S1:8 S2:8)",
                "C1 from S1": "32 of 40 (S1:16 S2:16)",
                "C2 from S1": "8 of 40 (S2:8)",
                "C2 from S2": "16 of 40 (S2:16)",
                "C3 from MON": "0 of 40 ()",
                "C3 from S1": "16 of 40 (S1:16)",
            },
        ),
    ],
)
def test_slots_that_are_fixed(rig: str, expected: dict[str, str]) -> None:
    assert loads(rig) == expected


def test_between_two_desks_only_what_is_patched_counts_but_boxes_count_whole() -> None:
    rig = """\
box FOH is desk32 in foh; box MON is desk32 in wing; box S1 is nw16 in wing
link C1: MON.stage 1 -- S1.A via cat6 5 m
link C2: MON.stage 2 -- FOH.stage 1 via cat6 60 m
patch MON.mix 1-3 -> FOH.ch 1-3
"""
    assert loads(rig)["C2 from MON"] == "3 of 40 (MON:3)"
    assert loads(rig + "patch S1.mic 1 -> FOH.ch 9")["C2 from MON"] == "19 of 40 (MON:3 S1:16)"
    assert loads(rig)["C2 from FOH"] == "0 of 40 ()"


def test_the_limit_is_that_of_the_rate() -> None:
    assert loads(CHAIN, "rate 96 kHz")["C1 from S1"] == "32 of 20 (S1:16 S2:16), tipped by S2"


def test_outputs_that_repeat_an_input_take_no_slot() -> None:
    rig = """\
model thru16 {
  kind stage-box
  inputs mic 1-16 { preamp }; outputs line 1-8; outputs thru 1-16; pass mic -> thru
  digital A { protocol fernlink }
}
box DESK is desk32; box S is thru16
link C1: DESK.stage 1 -- S.A via cat6 60 m
"""
    assert loads(rig)["C1 from DESK"] == "8 of 40 (S:8)"


NET = """\
box DESK is desk32 in foh; box NB is nb8 in wing; box H1 is hub8 in wing; box H2 is hub8 in foh; box PC is pc32 in foh
link N1: NB.pri -- H1.port 1 via cat6 5 m
link N2: H1.port 8 -- H2.port 8 via cat6 60 m
link N3: H2.port 1 -- DESK.pri via cat6 5 m
link N4: H2.port 2 -- PC.net via cat6 5 m
"""


@pytest.mark.parametrize(
    ("patches", "expected"),
    [
        ([], {"N1 from NB": "0 of 64 ()", "N1 from H1": "0 of 64 ()"}),
        (["NB.mic 1-3 -> DESK.ch 1-3"], {"N1 from NB": "3 of 64 (NB:3)", "N3 from H2": "3 of 64 (NB:3)"}),
        # one channel, however many take it
        (
            ["NB.mic 1-3 -> DESK.ch 1-3", "NB.mic 1-3 -> DESK.ch 11-13", "NB.mic 1-2 -> PC.rec 1-2"],
            {
                "N1 from NB": "3 of 64 (NB:3)",
                "N2 from H1": "3 of None (NB:3)",
                "N3 from H2": "3 of 64 (NB:3)",
                "N4 from H2": "2 of 64 (NB:2)",
            },
        ),
        # each way by itself
        (
            ["NB.mic 1-3 -> DESK.ch 1-3", "DESK.mix 1-2 -> NB.line 1-2", "DESK.ch 1-32 -> PC.rec 1-32"],
            {
                "N1 from NB": "3 of 64 (NB:3)",
                "N1 from H1": "2 of 64 (DESK:2)",
                "N3 from DESK": "34 of 64 (DESK:34)",
                "N3 from H2": "3 of 64 (NB:3)",
                "N4 from H2": "32 of 64 (DESK:32)",
            },
        ),
    ],
)
def test_slots_that_are_routed(patches: list[str], expected: dict[str, str]) -> None:
    found = loads(NET + "\n".join(f"patch {patch}" for patch in patches))
    assert {key: found[key] for key in expected} == expected


def test_between_two_switches_nothing_limits_the_channels() -> None:
    found = loads(NET + "patch NB.mic 1-8 -> DESK.ch 1-8", "rate 96 kHz")
    assert (found["N2 from H1"], found["N1 from NB"]) == ("8 of None (NB:8)", "8 of 32 (NB:8)")


@pytest.mark.parametrize(
    ("links", "halves"),
    [
        # primary and secondary
        (
            ["P1: NB.pri -- DESK.pri via cat6 60 m", "S1: NB.sec -- DESK.sec via cat6 60 m"],
            {"P1 from NB": "8 of 64 (NB:8)", "S1 from NB": "8 of 64 (NB:8)", "S1 from DESK": "4 of 64 (DESK:4)"},
        ),
        # two links that say `redundant`
        (
            [
                "P1: RB.net 1 -- RD.net 1 via cat6 60 m { redundant }",
                "S1: RB.net 2 -- RD.net 2 via cat6 60 m { redundant }",
            ],
            {"P1 from RB": "8 of 64 (RB:8)", "S1 from RB": "8 of 64 (RB:8)", "S1 from RD": "4 of 64 (RD:4)"},
        ),
    ],
)
def test_each_half_of_a_redundant_pair_carries_all(links: list[str], halves: dict[str, str]) -> None:
    rig = """\
model rb { kind stage-box; inputs mic 1-8 { preamp }; outputs line 1-4; digital net 1-2 { protocol brooknet } }
model rd { kind console; channels ch 1-32; mixes mix 1-16; digital net 1-2 { protocol brooknet } }
box DESK is desk32 in foh; box NB is nb8 in wing; box RB is rb in wing; box RD is rd in foh
"""
    boxes = ("RB", "RD") if "RB" in links[0] else ("NB", "DESK")
    rig += "\n".join(f"link {link}" for link in links)
    rig += f"\npatch {boxes[0]}.mic 1-8 -> {boxes[1]}.ch 1-8\npatch {boxes[1]}.mix 1-4 -> {boxes[0]}.line 1-4"
    found = loads(rig)
    assert {key: found[key] for key in halves} == halves


def test_what_goes_over_a_bridge() -> None:
    found = paths("""\
box DESK is desk32 in foh; box BR is bridge16 in wing; box NB is nb8 in wing
link C1: DESK.stage 1 -- BR.L via cat6 60 m
link N1: BR.M -- NB.pri via cat6 5 m
patch NB.mic 1-8 -> DESK.ch 1-8
patch NB.mic 1-8 -> DESK.ch 9-16
patch DESK.mix 1-4 -> NB.line 1-4
""")
    assert [(one.box.name, one.enters, one.channels, one.bridge.channels) for one in found.bridge_loads] == [
        ("BR", "L", 4, 16),
        ("BR", "M", 8, 16),
    ]
