"""Which cable is to blame where a patch finds no way: the nearest to working, in the direction of the signal."""

from __future__ import annotations

import pytest

from rigdsl.paths import Paths
from tests.paths.small import rig

ONE_WAY = """
protocol coaxial { carries 64 at 48 kHz; over coax75 100 m; one-way }
model sender { kind stage-box; inputs mic 1-8; outputs line 1-8
  digital tx { protocol coaxial; sends }; digital rx { protocol coaxial; takes } }
model mixer { kind console; channels ch 1-8; mixes mix 1-8
  digital tx { protocol coaxial; sends }; digital rx { protocol coaxial; takes } }
box S is sender in wing; box D is mixer in foh
source a line in wing to S 1
patch a -> D.ch 1
patch D.mix 1 -> S.line 1
"""

TWO_CABLES = """
box SL is nw16 in wing; box DESK is desk32 in foh
source a line in wing to SL 1
patch a -> DESK.ch 1
"""


def blamed(text: str) -> list[tuple[str, list[str]]]:
    """Every lost pair of a patch, and the rules and subjects that tell of it."""
    return [
        (pair.patch.name, [f"{fault.rule} {subject}" for _, fault, subject in pair.route.blame])
        for pair in Paths(rig(text)).pairs
        if pair.route and not pair.route.works
    ]


@pytest.mark.parametrize(
    ("cables", "told"),
    [
        # The control cable beside it never carried audio: the audio cable is what is wrong.
        (
            "link C1: SL.A -- DESK.stage 1 via cat6 160 m; link N1: SL.ctl -- DESK.net via cat6 60 m",
            [("a -> DESK.ch 1", ["run-too-long C1"])],
        ),
        # With nothing but the control cable, that is what somebody took for the audio.
        ("link N1: SL.ctl -- DESK.net via cat6 60 m", [("a -> DESK.ch 1", ["not-an-audio-port N1"])]),
        ("link C1: SL.A -- DESK.pri via cat6 60 m", [("a -> DESK.ch 1", ["protocol-mismatch C1"])]),
    ],
)
def test_an_audio_cable_is_blamed_before_a_control_cable(cables: str, told: list[tuple[str, list[str]]]) -> None:
    assert blamed(TWO_CABLES + cables) == told


@pytest.mark.parametrize(
    ("there", "back", "told"),
    [
        ("40 m", "150 m", [("D.mix 1 -> S.line 1", ["run-too-long C2"])]),
        ("150 m", "40 m", [("a -> D.ch 1", ["run-too-long C1"])]),
        ("150 m", "150 m", [("a -> D.ch 1", ["run-too-long C1"]), ("D.mix 1 -> S.line 1", ["run-too-long C2"])]),
        ("40 m", "40 m", []),
    ],
)
def test_a_one_way_cable_is_blamed_for_its_own_direction(
    there: str, back: str, told: list[tuple[str, list[str]]]
) -> None:
    text = f"link C1: S.tx -- D.rx via coax75 {there}; link C2: D.tx -- S.rx via coax75 {back}"
    assert blamed(ONE_WAY + text) == told


def test_the_known_part_of_a_run_may_be_too_long_by_itself() -> None:
    text = """
    box SL is nw16 in wing; box P is panel4; box DESK is desk32 in foh
    link C1: SL.A -- P.rear 1 via cat6
    link C2: P.front 1 -- DESK.stage 1 via cat6 120 m
    """
    (run,) = Paths(rig(text)).runs
    assert (run.length_m, run.known_m) == (None, 120)
    assert [fault.because for fault in run.faults] == ["at least 120 m of cable, and `fernlink` reaches 100 m on it"]


def test_a_digital_run_goes_through_an_analogue_wall_panel() -> None:
    """A line in the wall is wire; what stands at both ends decides what it carries."""
    text = """
    protocol stereo { carries 2 at 48 kHz; over xlr 100 m; one-way }
    model out2 { kind stage-box; inputs mic 1-2; digital out { protocol stereo; sends } }
    model in2 { kind console; channels ch 1-2; digital in { protocol stereo; takes } }
    box S is out2 in wing; box W is tie8 in wing; box D is in2 in foh
    link L1: S.out -- W.stage 1 via xlr 5 m
    link L2: W.room 1 -- D.in via xlr 40 m
    """
    (run,) = Paths(rig(text)).runs
    assert (run.name, run.length_m, run.works) == ("L1+L2", 45, True)


def test_a_loudspeaker_on_the_network_is_patched_by_its_name() -> None:
    text = """
    model active { kind loudspeaker; inputs in; digital net { protocol brooknet } }
    box DESK is desk32 in foh; box SW is hub8 in foh; box T is active in wing
    link N1: DESK.pri -- SW.port 1 via cat6 5 m
    link N2: SW.port 2 -- T.net via cat6 60 m
    patch DESK.mix 1 -> T
    """
    (path,) = Paths(rig(text)).paths_of("T")
    assert (str(path.start), str(path.end), path.complete) == ("DESK.mix 1", "T.in", True)


def test_two_listeners_hear_one_sender_that_is_patched_by_the_name_of_one() -> None:
    text = """
    box SL is nw16 in wing; box DESK is desk32 in foh; box TX is tx2 in wing
    link C1: SL.A -- DESK.stage 1 via cat6 60 m
    link X1: SL.line 1-2 -- TX.line 1-2 via xlr 3 m
    output singer in-ear in front from TX 1-2
    output friend in-ear in front from TX 1-2
    patch DESK.mix 1-2 -> singer
    """
    paths = Paths(rig(text))
    assert [paths.sounds("singer"), paths.sounds("friend")] == [True, True]


@pytest.mark.parametrize("patch", ["SL3.mic 1 -> SL1.line 1", "SL1.mic 1 -> SL3.line 1"])
def test_a_chain_that_is_too_deep_is_broken_whichever_way_the_signal_goes(patch: str) -> None:
    text = f"""
    protocol short {{ carries 40 at 48 kHz; topology chain 2 }}
    model link8 {{ kind stage-box; inputs mic 1-8; outputs line 1-8; digital A, B {{ protocol short; chain }} }}
    model head {{ kind console; channels ch 1-8; digital stage {{ protocol short }} }}
    box D is head in foh; box SL1 is link8; box SL2 is link8; box SL3 is link8
    link C1: D.stage -- SL1.A via cat6 30 m
    link C2: SL1.B -- SL2.A via cat6 5 m
    link C3: SL2.B -- SL3.A via cat6 5 m
    patch {patch}
    """
    assert blamed(text) == [(patch, ["chain-too-deep SL3"])]


def test_a_box_that_bridges_carries_a_chain_on_by_its_other_ports() -> None:
    text = """
    model both { kind stage-box; inputs mic 1-8; digital A, B { protocol fernlink; chain }
      digital M { protocol brooknet }; bridge A -> M }
    box DESK is desk32 in foh; box X is both in wing; box SL is nw16 in wing
    link C1: X.A -- DESK.stage 1 via cat6 60 m
    link C2: SL.A -- X.B via cat6 5 m
    source a line in wing to SL 1
    patch a -> DESK.ch 1
    """
    (path,) = Paths(rig(text)).paths_of("a")
    assert [hop.by for hop in path.hops] == ["plug", "preamp", "link", "chain", "link", "patch"]


def test_a_cable_of_which_nothing_is_said_leaves_the_length_open() -> None:
    text = """
    box DR is sub12 in wing; box SL is nw16 in wing; box DESK is desk32 in foh
    link L1: DR.tail 1 -- SL.mic 1
    link C1: SL.A -- DESK.stage 1 via cat6 60 m
    source a dynamic in wing to DR 1 via xlr 3 m
    patch a -> DESK.ch 1
    """
    (path,) = Paths(rig(text)).paths_of("a")
    assert (path.complete, path.length_m) == (True, None)
