"""Paths through outboard: an insert takes its time, and its cables stand on the way."""

from __future__ import annotations

import pytest

from tests.paths.small import lines, paths, port, told

OUTBOARD = """
cable ins-lead { medium analogue }
model comp2 { kind outboard; inputs in 1-2; outputs out 1-2; latency 0.5 ms }
model de-esser { kind outboard; inputs in { latency 0.8 ms }; outputs out; pass in -> out; latency 0.5 ms }
model pad { kind outboard; inputs in; outputs out; pass in -> out { isolated }; latency 0.5 ms }
box D is desk12 in foh; box CP is comp2 in foh; box DS is de-esser in foh; box P is pad in foh
source vox dynamic in front to D 1 via xlr 3 m
output wdg wedge in front from D.local-out 1 via xlr 10 m
"""
DIGITAL = """
box SL is nw16 in wing; box DESK is desk32 in foh; box REC is deck8 in foh
link C01: SL.A -- DESK.stage 1 via cat6s 75 m; link C02: REC.in -- DESK.stage 2 via cat6s 3 m
source kick dynamic in drums to SL 1 via xlr 6 m
output side wedge in drums from SL.line 1 via xlr 5 m
patch kick -> DESK.ch 1; patch DESK.ch 1 -> REC.rec 1; patch DESK.mix 1 -> side
"""
OUT = "plug ins-lead 2 m: CP.in 1"
HOME = "plug ins-lead 2 m: D.ch 1"


@pytest.mark.parametrize(
    ("line", "way"),
    [
        ("", []),
        ("insert D.ch 1 through CP 1 via ins-lead 2 m", [OUT, "pass 0.5 ms: CP.out 1", HOME]),
        ("insert D.ch 1 through CP 1", ["plug: CP.in 1", "pass 0.5 ms: CP.out 1", "plug: D.ch 1"]),
        # An input says its own time; wire that only goes through a transformer takes none.
        ("insert D.ch 1 through DS", ["plug: DS.in", "pass 0.8 ms: DS.out", "plug: D.ch 1"]),
        ("insert D.ch 1 through P", ["plug: P.in", "pass: P.out", "plug: D.ch 1"]),
        # One behind the other.
        (
            "insert D.ch 1 through CP 1 via ins-lead 2 m\ninsert D.ch 1 through DS",
            [OUT, "pass 0.5 ms: CP.out 1", HOME, "plug: DS.in", "pass 0.8 ms: DS.out", "plug: D.ch 1"],
        ),
        ("insert D.ch 2 through CP 1", []),
    ],
)
def test_a_source_goes_through_the_insert_of_its_channel(line: str, way: list[str]) -> None:
    (found,) = lines(paths(OUTBOARD + line), "vox")
    assert found == ["vox", "plug xlr 3 m: D.local 1", "pass: D.ch 1", *way]


def test_an_output_comes_from_a_mix_through_its_insert() -> None:
    found = paths(OUTBOARD + "insert D.mix 1 through CP 2 via ins-lead 2 m")
    assert lines(found, "wdg") == [
        [
            "D.mix 1",
            "plug ins-lead 2 m: CP.in 2",
            "pass 0.5 ms: CP.out 2",
            "plug ins-lead 2 m: D.mix 1",
            "pass: D.local-out 1",
            "plug xlr 10 m: wdg",
        ]
    ]
    (path,) = found.paths_of("wdg")
    assert path.length_m == 14
    assert path.latency_s == pytest.approx(0.0005)


def test_over_digital_ways_too() -> None:
    found = paths(OUTBOARD + DIGITAL + "insert DESK.ch 1, DESK.mix 1 through CP 1-2 via ins-lead 2 m")
    (kick,) = lines(found, "kick")
    assert kick[-3:] == ["plug ins-lead 2 m: CP.in 1", "pass 0.5 ms: CP.out 1", "plug ins-lead 2 m: DESK.ch 1"]
    (side,) = lines(found, "side")
    assert side[:4] == [
        "DESK.mix 1",
        "plug ins-lead 2 m: CP.in 2",
        "pass 0.5 ms: CP.out 2",
        "plug ins-lead 2 m: DESK.mix 1",
    ]
    # What a channel sends to a recorder comes behind its insert.
    (sent,) = (path for path in found.all_paths if path.leg is None)
    assert told(sent)[:4] == [
        "DESK.ch 1",
        "plug ins-lead 2 m: CP.in 1",
        "pass 0.5 ms: CP.out 1",
        "plug ins-lead 2 m: DESK.ch 1",
    ]
    assert str(sent.end) == "REC.rec 1"


def test_inserts_are_found_by_their_channel_and_by_the_sockets_that_they_use() -> None:
    found = paths(OUTBOARD + "insert D.ch 1-2 through CP 1-2\ninsert D.ch 1 through DS")
    assert [str(one.send) for one in found.inserts_at(port("D.ch 1"))] == ["CP.in 1", "DS.in"]
    assert found.inserts_at(port("D.ch 3")) == ()
    assert [str(one.at) for one in found.inserts_through(port("CP.out 2"))] == ["D.ch 2"]
    assert [str(hop.right) for hop in found.insert_hops(port("D.ch 2"))] == ["CP.in 2", "CP.out 2", "D.ch 2"]


def test_the_outboard_is_traced_by_what_goes_through_it() -> None:
    found = paths(OUTBOARD + "insert D.ch 1, D.mix 1 through CP 1-2")
    assert [str(path.start) for path in found.trace("CP")] == ["vox", "D.mix 1"]
    assert [str(path.start) for path in found.trace(port("CP.in 2"))] == ["D.mix 1"]
