"""The work grows with the rig and no faster. Counted in calls of functions, which a busy machine does not change."""

from __future__ import annotations

import sys
from collections.abc import Callable

import pytest

from rigdsl.paths import Paths, branches, output_sockets, schedule
from rigdsl.paths.failure import Failures
from rigdsl.rig import Rig, read
from tests.bench.rigs import rig_text
from tests.paths.network import network_text


def calls(work: Callable[[], object]) -> int:
    """How many functions a piece of work calls, those written in C among them."""
    count = 0

    def counted(frame: object, event: str, _: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(counted)
    try:
        work()
    finally:
        sys.setprofile(before)
    return count


def everything(rig: Rig) -> None:
    """All that rules, drawings and reports ask for."""
    paths = Paths(rig)
    for run in paths.runs:
        paths.load_of(run)
    assert paths.all_paths
    assert paths.gains or rig.boxes
    assert (paths.bridge_loads, paths.misfits) == ((), ())
    for patch in rig.patches:
        paths.silenced_by(patch)
    for name in rig.sources:
        paths.arrives(name)
    for preamp in paths.phantom_on:
        paths.phantom_reach(preamp)
    for leg in paths.legs:
        paths.fed_by(leg)
    assert paths.signals
    assert paths.cable_powers == ()
    assert schedule(rig)
    for port in output_sockets(rig):
        branches(paths, port)


def broken(text: str) -> str:
    """The same network with a backbone and one desk's line that reach too far."""
    return text.replace("via om3 80 m", "via om3 800 m").replace("link M1: D1.net -- H1.port 1 via cat6 5 m", "")


def apart(count: int) -> str:
    """Many small networks that have nothing to do with each other, each with redundant lines and its own clock."""
    gear = network_text(1, 1, 1).split("box H1", 1)[0]
    gear += "model twin { kind stage-box; inputs mic 1-8 { preamp }; digital net 1-2 { protocol brooknet } }\n"
    gear += "model tdesk { kind console; channels ch 1-8; digital net 1-2 { protocol brooknet } }\n"
    lines = []
    for n in range(count):
        lines += [f"box T{n} is twin; box H{n} is hub48; box G{n} is hub48; box D{n} is tdesk; clock D{n}"]
        lines += [f"link A{n}: T{n}.net 1 -- H{n}.port 1 via cat6 9 m {'{ redundant }'}"]
        lines += [f"link B{n}: T{n}.net 2 -- H{n}.port 2 via cat6 9 m {'{ redundant }'}"]
        lines += [
            f"link E{n}: H{n}.port 3 -- G{n}.port 1 via cat6 9 m",
            f"link F{n}: G{n}.port 2 -- D{n}.net 1 via cat6 9 m",
        ]
        lines += [f"source in{n} dynamic to T{n} 1", f"patch T{n}.mic 1-8 -> D{n}.ch 1-8"]
    return gear + "\n".join(lines)


@pytest.mark.parametrize(
    ("small", "large"),
    [
        pytest.param(rig_text(1000), rig_text(4000), id="many stages"),
        pytest.param(network_text(20, 4, 4), network_text(80, 16, 4), id="one network"),
        pytest.param(broken(network_text(20, 4, 4)), broken(network_text(80, 16, 4)), id="one broken network"),
        pytest.param(apart(30), apart(120), id="many networks"),
    ],
)
def test_four_times_the_rig_is_four_times_the_work(small: str, large: str) -> None:
    rigs = read(small), read(large)
    assert [finding.message for rig in rigs for finding in rig.findings] == []
    few, many = (calls(lambda rig=rig: everything(rig)) for rig in rigs)  # type: ignore[misc]
    assert many / few < 5


def test_four_times_the_rig_is_four_times_the_work_of_ranking_what_silences_most() -> None:
    few, many = (read(rig_text(size)) for size in (500, 2000))
    once, again = (calls(lambda rig=rig: Failures(Paths(rig)).ranking) for rig in (few, many))  # type: ignore[misc]
    assert again / once < 5
