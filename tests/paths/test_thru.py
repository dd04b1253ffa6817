"""A socket that says `thru` is in parallel with what comes in: sound goes on there without a pass."""

from __future__ import annotations

import pytest

from rigdsl.paths import Paths
from rigdsl.rig import read
from tests.rules.whole import told

SHOW = """\
rig "In parallel" {{}}
model desk {{ kind console; channels ch 1-2; mixes mix 1-2
  inputs in 1-2 {{ preamp }}; outputs out 1-2; pass in -> ch; pass mix -> out }}
model amp {{ kind amplifier; inputs in; outputs out; pass in -> out }}
model top {{ kind loudspeaker; {sockets} }}
box DESK is desk
box AMP is amp
box T1 is top
box T2 is top
source vox dynamic to DESK 1 via xlr 5 m
link L1: DESK.out 1 -- AMP.in via xlr 3 m
link L2: AMP.out -- T1.{first} via ls4 5 m
link L3: T1.{on} -- T2.{first} via ls4 5 m
"""


@pytest.mark.parametrize(
    ("sockets", "first", "on", "goes_on"),
    [
        ("inputs in; outputs on { thru }", "in", "on", True),
        ("inputs in; outputs on; pass in -> on", "in", "on", True),
        ("inputs in; outputs on { thru }; pass in -> on", "in", "on", True),
        ("inputs in 1-2 { thru }", "in 1", "in 2", True),
        ("inputs in 1-2 { thru }", "in 2", "in 1", True),
        ("inputs in 1-4 { thru }", "in 4", "in 2", True),
        ("inputs in; outputs on 1-2 { thru }", "in", "on 2", True),
        ("inputs in 1-2; outputs on { thru }", "in 2", "on", True),
        ("inputs in 1-2; outputs on 1-2 { thru }", "in 2", "on 2", True),
        ("inputs in; outputs on", "in", "on", False),
        ("inputs in 1-2; outputs on 1-2 { thru }", "in 2", "on 1", False),
    ],
)
def test_sound_goes_on_behind_it(sockets: str, first: str, on: str, goes_on: bool) -> None:
    rig = read(SHOW.format(sockets=sockets, first=first, on=on))
    assert [finding.message for finding in rig.findings] == []
    paths = Paths(rig)
    assert (paths.sounds("T1"), paths.sounds("T2")) == (True, goes_on)


def test_nothing_is_said_of_such_a_line() -> None:
    text = SHOW.format(sockets="inputs in { impedance 8 ohm }; outputs on { thru }", first="in", on="on")
    assert told(text) == []
