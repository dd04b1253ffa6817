"""Lengths and times along a path, and the copper that a source drives."""

from __future__ import annotations

import pytest

from rigdsl.rig import Leg
from tests.paths.small import paths

STAGE = """\
box DR is sub12 in drums; box SL is nw16 in wing; box DESK is desk32 in foh
link L01: DR.tail 1-12 -- SL.mic 1-12 via loom12 {loom}
link C01: SL.A -- DESK.stage 1 via cat6s {trunk}
source kick dynamic in drums to DR 1 via xlr {plug}
patch SL.mic 1 -> DESK.ch 1
"""


@pytest.mark.parametrize(
    ("loom", "trunk", "plug", "length_m"),
    [
        ("15 m", "75 m", "6 m", 96.0),
        ("50 ft", "200 ft", "20 ft", 270 * 0.3048),  # international yard and pound agreement, 1959
        ("15 m", "75 m", "", 15 + 75 + 3),  # inside one zone: the slack
        ("", "75 m", "6 m", 81 + 52**0.5 + 3),  # drums at (0, 4), wing at (6, 0): the straight line and the slack
    ],
)
def test_a_path_is_as_long_as_its_cables(loom: str, trunk: str, plug: str, length_m: float) -> None:
    (path,) = paths(STAGE.format(loom=loom, trunk=trunk, plug=plug)).paths_of("kick")
    assert path.length_m == pytest.approx(length_m)


def test_a_length_that_nobody_knows_leaves_the_whole_unknown() -> None:
    rig = STAGE.format(loom="15 m", trunk="75 m", plug="").replace("in drums to", "to")
    (path,) = paths(rig).paths_of("kick")
    assert path.length_m is None


COPPER = """\
box DR is sub12 in drums; box W is tie8 in wing; box SP is split8 in wing; box SL is nw16 in wing
box D1 is dibox in front; box RX is rx4 in wing; box MON is nw16 in wing
link L01: DR.tail 1-8 -- W.stage 1-8 via loom12 15 m
link L02: W.room 1-8 -- SP.in 1-8 via loom12 30 m
link L03: SP.direct 1-8 -- SL.mic 1-8 via xlr 2 m
link L04: SP.iso 1-8 -- MON.mic 1-8 via xlr 40 m
link L05: D1.out -- SL.mic 9 via xlr 12 m
link L06: RX.line 1 -- SL.mic 10 via xlr 3 m
source kick dynamic in drums to DR 1 via xlr 6 m
source tom dynamic in drums to DR 9 via xlr 5 m
source bass instrument in front to D1 via jack 4 m
source vox wireless in front to RX.air 1
source snare dynamic in drums
"""


@pytest.mark.parametrize(
    ("name", "hops", "length_m"),
    [
        # through every passive pass; a transformer (SP.iso) ends it, so the 40 m to the monitor box do not count
        ("kick", ["plug", "pass", "link", "pass", "link", "pass", "link"], 6 + 15 + 30 + 2),
        ("tom", ["plug"], 5.0),  # the loose line behind it adds nothing that is known
        ("bass", ["plug"], 4.0),  # as far as the DI
        ("vox", ["plug"], 0.0),  # no copper at all
        ("snare", [], 0.0),
    ],
)
def test_the_copper_that_a_source_drives(name: str, hops: list[str], length_m: float) -> None:
    found = paths(COPPER).copper_run(Leg(name, 0))
    assert [hop.by for hop in found][: len(hops)] == hops
    assert sum(hop.length_m or 0.0 for hop in found) == pytest.approx(length_m)


def test_where_a_line_splits_the_longer_copper_counts() -> None:
    both = COPPER.replace("SP.iso 1-8 -- MON.mic 1-8", "SP.direct 1-8 -- MON.mic 1-8")
    assert sum(hop.length_m or 0.0 for hop in paths(both).copper_run(Leg("kick", 0))) == pytest.approx(6 + 15 + 30 + 40)


NET = """\
box NB is nb8 in wing; box DESK is desk32 in foh; box H1 is hub8 in wing; box H2 is hub8 in foh
link N1: NB.pri -- H1.port 1 via cat6 3 m
link N2: H1.port 8 -- H2.port 8 via om3 150 m
link N3: H2.port 1 -- DESK.pri via cat6 5 m
source vox dynamic in front to NB 3
patch NB.mic 3 -> DESK.ch 3
"""
LINE = """\
box SL is nw16 in wing; box SR is nw16 in wing; box SU is nw16 in drums; box DESK is desk32 in foh
link C01: DESK.stage 1 -- SL.A via cat6s 60 m
link C02: SL.B -- SR.A via cat6s 20 m
link C03: SR.B -- SU.A via cat6s 10 m
source vox dynamic in drums to SU 3
patch SU.mic 3 -> DESK.ch 3
"""


@pytest.mark.parametrize(
    ("rig", "latency_ms"),
    [
        (NET, 0.4 + 1.0),  # `1 ms per network`: once, over three cables and two switches
        (LINE, 0.4 + 3 * 0.06),  # `0.06 ms`: on each of three hops
        (LINE.replace("SU 3", "SL 3").replace("SU.mic 3", "SL.mic 3"), 0.4 + 0.06),
    ],
)
def test_times_add_up(rig: str, latency_ms: float) -> None:
    (path,) = paths(rig).paths_of("vox")
    assert path.latency_s == pytest.approx(latency_ms * 1e-3)


def test_a_run_through_panels_is_one_hop_of_latency() -> None:
    (path,) = paths(
        """\
box SL is nw16 in wing; box P is panel4 in wing; box DESK is desk32 in foh
link C01: SL.A -- P.front 1 via cat6 5 m
link C02: P.rear 1 -- DESK.stage 1 via cat6 40 m
source vox dynamic in front to SL 3
patch SL.mic 3 -> DESK.ch 3"""
    ).paths_of("vox")
    assert [hop.latency_s for hop in path.hops if hop.protocol] == [pytest.approx(0.06e-3), 0.0]
