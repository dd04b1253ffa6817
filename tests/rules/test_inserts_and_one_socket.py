"""Sockets in use by an insert, and two cables meant for one digital socket."""

from __future__ import annotations

import pytest

from rigdsl.paths import Paths
from rigdsl.rig import read
from rigdsl_ports.empty_channel import empty_channel
from rigdsl_ports.port_taken import port_taken
from rigdsl_ports.unused_port import unused_port
from tests.rules.said import findings, said
from tests.rules.whole import told, wrong

OUTBOARD = """rig "Stage" {}
cable ins-lead { medium analogue }
model desk { kind console; channels ch 1-8; mixes mix 1-4; inputs local 1-2 { preamp }; pass local 1-2 -> ch 1-2 }
model comp { kind outboard; inputs in 1-4; outputs out 1-4 }
model eq { kind outboard; inputs in 1-2; outputs out 1-2; pass in 1 -> out 1; pass in 2 -> out 1 }
zone foh
box DESK is desk in foh; box CP is comp in foh; box EQ is eq in foh
source a line in foh to DESK 1 via xlr 3 m; source b line in foh to DESK 2 via xlr 3 m
"""


def test_what_an_insert_uses_is_not_free() -> None:
    subjects = [message for _, _, message in said(unused_port, OUTBOARD + "insert DESK.ch 1-2 through CP 1-2")]
    assert subjects == ["`CP.in 3-4` are free", "`CP.out 3-4` are free"]


@pytest.mark.parametrize(
    ("lines", "subjects"),
    [
        ("insert DESK.ch 1-2 through CP 1-2", []),
        # Two in one channel, one behind the other.
        ("insert DESK.ch 1 through CP 1\ninsert DESK.ch 1 through CP 2", []),
        # One socket for two: told where they go in, and not once more where they come back.
        ("insert DESK.ch 1 through CP 1\ninsert DESK.ch 2 through CP 1", ["CP.in 1"]),
        # Two ways in that come back by one socket.
        ("insert DESK.ch 1 through EQ 1\ninsert DESK.ch 2 through EQ 2", ["EQ.out 1"]),
        ("insert DESK.ch 1 through CP 1\nsource c line in foh to CP 1 via xlr 3 m", ["CP.in 1"]),
        ("insert DESK.ch 1 through CP 1\nlink CP.out 1 -- EQ.in 1 via xlr 1 m", ["CP.out 1"]),
    ],
)
def test_one_socket_takes_one_insert(lines: str, subjects: list[str]) -> None:
    assert [subject for _, subject, _ in said(port_taken, OUTBOARD + lines)] == subjects


def test_inserts_are_called_by_their_channels() -> None:
    text = OUTBOARD + "insert DESK.ch 1-2 through CP 1-2\ninsert DESK.mix 1 through CP 2"
    (found,) = findings(port_taken, text)
    assert found.message == "two plugs are meant for `CP.in 2`: `DESK.ch 2`, `DESK.mix 1`"
    assert [one.message for one in found.related] == ["`DESK.ch 2` goes here too"]
    assert found.help == "`CP.in 3` is free"


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ("insert DESK.ch 1 through CP 1", []),
        ("insert DESK.mix 1 through CP 1", []),  # whatever is mixed comes to it
        ("insert DESK.ch 5 through CP 1", ["DESK.ch 5"]),
        ("insert DESK.ch 5 through CP 1\ninsert DESK.ch 5 through CP 2", ["DESK.ch 5"]),
        ("insert DESK.ch 1,5-6 through CP 1-3", ["DESK.ch 5", "DESK.ch 6"]),
        ("insert DESK.ch 5 through CP 1\npatch DESK.local 1 -> DESK.ch 5", []),
        ("insert DESK.ch 5 through CP 1\npatch a -> DESK.ch 5", []),
        ('insert DESK.ch 5 through CP 1\nkeep DESK.ch 5 for "guests"', []),
    ],
)
def test_outboard_in_a_channel_that_nothing_comes_to(lines: str, told: list[str]) -> None:
    assert said(empty_channel, OUTBOARD + lines) == [
        ("note", subject, f"`{subject}` has outboard in it and nothing comes to it") for subject in told
    ]


CHAIN = """rig "Stage" { rate 48 kHz }
protocol fernlink { carries 64 at 48 kHz; over cat5e 100 m; topology chain 4 }
model nw8 { kind stage-box; inputs mic 1-8 { preamp }; digital A, B { protocol fernlink; chain } }
model desk { kind console; channels ch 1-32; digital stage 1-2 { protocol fernlink } }
zone wing; zone foh
box SL is nw8 in wing; box SR is nw8 in wing; box DESK is desk in foh
link C01: SL.A -- DESK.stage 1 via cat6 60 m
source kick dynamic in wing to SL 1 via xlr 5 m
source vox dynamic in wing to SR 1 via xlr 5 m
patch SL.mic 1 -> DESK.ch 1
patch SR.mic 1 -> DESK.ch 2
"""


def test_two_cables_in_one_digital_socket_are_told_once_with_what_falls_silent() -> None:
    text = CHAIN + "link C02: SL.A -- SR.A via cat6 10 m"
    assert told(text) == ["error port-taken SL.A"]
    (found,) = wrong(text)
    assert found.consequence == "only one of them fits: 1 channel is silent: `vox`"
    assert found.silent == ("vox",)
    assert found.help == "`SL.B` is free"
    (path,) = Paths(read(text)).paths_of("vox")
    assert path.stops == "two cables are meant for `SL.A`"


def test_out_by_the_other_socket_it_works() -> None:
    assert told(CHAIN + "link C02: SL.B -- SR.A via cat6 10 m") == []
