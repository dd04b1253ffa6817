"""How late sound comes to an output: the longest way, and its parts."""

from __future__ import annotations

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.paths import Delay, Paths
from rigdsl.rig import read
from tests.paths.small import paths

# T11: worked by hand. Conversion at the box 0.4 ms, AES50 62.5 us a hop (three samples at 48 kHz: encyclopedia).
AES50_HOP_S = 62.5e-6


def delay(found: Paths, output: str) -> Delay:
    made = found.delay_of(output)
    assert made is not None
    return made


def told(found: Paths, output: str) -> list[str]:
    """The source, and each part in milliseconds."""
    made = delay(found, output)
    return [str(made.source), *(f"{part.by} {part.at} {part.latency_s * 1000:g}" for part in made.parts)]


STAGE = """\
box SL is nw16 in wing
box DESK is desk32 in foh
link C01: SL.A -- DESK.stage 1 via cat6 60 m
"""
KICK = """\
source kick dynamic in drums to SL 1 via xlr 6 m
patch SL.mic 1 -> DESK.ch 1
"""
WEDGE = "output wedge wedge in front from SL.line 1 via xlr 6 m\n"


def test_conversion_hops_and_the_desk_are_added() -> None:
    found = paths(STAGE + KICK + WEDGE + "patch DESK.mix 1 -> wedge")
    assert told(found, "wedge") == [
        "kick",
        "convert SL.mic 1 0.4",
        "hop fernlink 0.06",
        "desk DESK 1.2",
        "hop fernlink 0.06",
        "convert SL.line 1 0.3",
    ]
    assert delay(found, "wedge").latency_s == pytest.approx(2.02e-3)


def test_what_is_patched_straight_goes_through_no_desk() -> None:
    found = paths(STAGE + KICK + WEDGE + "patch SL.mic 1 -> SL.line 1")
    assert told(found, "wedge") == ["kick", "convert SL.line 1 0.7"]


def test_the_latest_of_all_sources_counts() -> None:
    radio = """\
box RX is rx4 in wing
source vox wireless in front to RX.air 1
link L01: RX.line 1 -- SL.mic 2 via xlr 3 m
patch SL.mic 2 -> DESK.ch 2
patch DESK.mix 1 -> wedge
"""
    made = told(paths(STAGE + KICK + WEDGE + radio), "wedge")
    assert made[:3] == ["vox", "pass RX 2", "convert SL.mic 2 0.4"]


def test_a_direct_out_takes_its_own_channel_only() -> None:
    found = paths(
        STAGE
        + KICK
        + WEDGE
        + "source keys line in wing to DESK.local 1 via xlr 3 m\npatch DESK.local 1 -> DESK.ch 2\n"
        + "patch DESK.ch 2 -> wedge"
    )
    assert told(found, "wedge") == [
        "keys",
        "convert DESK.ch 2 0.2",
        "desk DESK 1.2",
        "hop fernlink 0.06",
        "convert SL.line 1 0.3",
    ]


def test_an_analogue_desk_takes_no_time() -> None:
    found = paths(
        "box DESK is desk12 in foh\nsource vox dynamic in front to DESK 1 via xlr 40 m\n"
        "output wedge wedge in front from DESK.local-out 1 via xlr 40 m"
    )
    assert told(found, "wedge") == ["vox"]
    assert delay(found, "wedge").latency_s == 0


def test_nothing_is_said_of_an_output_that_no_source_reaches() -> None:
    assert paths(STAGE + WEDGE + "patch DESK.mix 1 -> wedge").delay_of("wedge") is None
    assert paths(STAGE + KICK + WEDGE).delay_of("wedge") is None


# ---- networks whose latency is set once

NETWORK = """\
box B1 is nb8 in wing
box B2 is nb8 in drums
box DESK is desk32 in foh
source kick dynamic in drums to B1 1 via xlr 6 m
output wedge wedge in front from B2.line 1 via xlr 6 m
patch B1.mic 1 -> DESK.ch 1
patch DESK.mix 1 -> wedge
"""


def test_a_network_counts_once_over_the_whole_way() -> None:
    switch = "box H is hub8 in wing\n" + "".join(
        f"link C{n}: {end} -- H.port {n} via cat6 20 m\n" for n, end in enumerate(("B1.pri", "B2.pri", "DESK.pri"), 1)
    )
    assert told(paths(NETWORK + switch), "wedge") == [
        "kick",
        "convert B1.mic 1 0.4",
        "network brooknet 1",
        "desk DESK 1.2",
        "convert B2.line 1 0.3",
    ]


def test_two_networks_count_twice() -> None:
    apart = "link C1: B1.pri -- DESK.pri via cat6 20 m\nlink C2: B2.sec -- DESK.sec via cat6 20 m\n"
    assert told(paths(NETWORK + apart), "wedge").count("network brooknet 1") == 2


# ---- outboard in the way


OUTBOARD = """\
model squeeze { kind outboard; inputs in 1-2 { latency 0.5 ms }; outputs out 1-2; pass in -> out }
box CP is squeeze in foh
"""


def test_what_is_inserted_counts_on_channel_and_mix() -> None:
    found = paths(
        OUTBOARD
        + STAGE
        + KICK
        + WEDGE
        + "patch DESK.mix 1 -> wedge\n"
        + "insert DESK.ch 1 through CP 1 via xlr 2 m\ninsert DESK.mix 1 through CP 2 via xlr 2 m"
    )
    assert told(found, "wedge")[3:6] == ["insert CP 0.5", "desk DESK 1.2", "insert CP 0.5"]


def test_an_insert_on_a_direct_out_counts_once_and_one_elsewhere_not_at_all() -> None:
    inserts = "insert DESK.ch 1 through CP 1 via xlr 2 m\ninsert DESK.ch 9 through CP 2 via xlr 2 m"
    found = paths(OUTBOARD + STAGE + KICK + WEDGE + "patch DESK.ch 1 -> wedge\n" + inserts)
    assert told(found, "wedge") == [
        "kick",
        "convert SL.mic 1 0.4",
        "hop fernlink 0.06",
        "desk DESK 1.2",
        "insert CP 0.5",
        "hop fernlink 0.06",
        "convert SL.line 1 0.3",
    ]


# ---- several desks

CORES = """\
protocol wire { carries 64 at 48 kHz; latency 0.0625 ms }
model box { kind stage-box; inputs mic 1-8; outputs line 1-8; digital a 1-8 { protocol wire } }
model foh {
  kind console; channels ch 1-8; mixes mix 1-8; outputs out 1-8; digital a 1-8 { protocol wire }; latency 1.3 ms
}
model mon {
  kind console; channels ch 1-8; mixes mix 1-8; outputs out 1-8; digital a 1-8 { protocol wire }; latency 2.5 ms
}
"""


def cores(text: str) -> Paths:
    rig = read(f'rig "Desks" {{ rate 48 kHz }}\n{CORES}{text}')
    assert [finding.message for finding in rig.findings] == []
    return Paths(rig)


def test_the_longest_way_goes_by_the_monitor_desk() -> None:
    """Box to front of house and to monitors over AES50, 1.3 and 2.5 ms in the desks: 2.5625 ms by way of monitors."""
    found = cores(
        "box SB is box\nbox FOH is foh\nbox MON is mon\n"
        "link C1: SB.a 1 -- FOH.a 1 via cat6 9 m\nlink C2: SB.a 2 -- MON.a 1 via cat6 9 m\n"
        "source vox dynamic to SB 1 via xlr 3 m\npatch SB.mic 1 -> FOH.ch 1\npatch SB.mic 1 -> MON.ch 1\n"
        "output amp main from FOH.out 1 via xlr 3 m\noutput ears in-ear from MON.out 1 via xlr 3 m\n"
        "patch FOH.mix 1 -> amp\npatch MON.mix 1 -> ears\n"
    )
    late = {name: delay(found, name).latency_s for name in ("amp", "ears")}
    assert late == pytest.approx({"amp": 1.3625e-3, "ears": 2.5625e-3})
    graph: networkx.DiGraph[object] = networkx.DiGraph()
    edges = [("mic", "box", 0), ("box", "foh", 62.5e-6), ("foh", "amp", 1.3e-3), ("box", "mon", 62.5e-6)]
    graph.add_weighted_edges_from([*edges, ("mon", "ears", 2.5e-3)])
    assert max(late.values()) == pytest.approx(networkx.dag_longest_path_length(graph))


def test_two_hops_of_aes50_are_six_samples() -> None:
    """62.5 us a hop, three samples at 48 kHz (encyclopedia); the AES gives less than 0.1 ms as the bound (its blog)."""
    found = cores(
        "model a50 { kind stage-box; inputs mic 1-8; outputs line 1-8; digital p { protocol aes50 } }\n"
        "model d50 { kind console; channels ch 1-8; mixes mix 1-8; digital p 1-2 { protocol aes50 } }\n"
        "box SB is a50\nbox FOH is d50\nlink C1: SB.p -- FOH.p 1 via cat6 9 m\n"
        "source vox dynamic to SB 1 via xlr 3 m\noutput wedge wedge from SB.line 1 via xlr 3 m\n"
        "patch SB.mic 1 -> FOH.ch 1\npatch FOH.mix 1 -> wedge\n"
    )
    late = delay(found, "wedge").latency_s
    assert late * 48_000 == pytest.approx(6)
    assert late == pytest.approx(2 * AES50_HOP_S)
    assert late < 2 * 100e-6


def test_two_desks_that_feed_each_other() -> None:
    """A circle is gone round once: from each desk the other one lies before it."""
    found = cores(
        "box SB is box\nbox FOH is foh\nbox MON is mon\nlink C1: SB.a 1 -- FOH.a 1 via cat6 9 m\n"
        "link C2: SB.a 2 -- MON.a 1 via cat6 9 m\nlink C3: FOH.a 2 -- MON.a 2 via cat6 9 m\n"
        "source vox dynamic to SB 1 via xlr 3 m\npatch SB.mic 1 -> FOH.ch 1\npatch SB.mic 1 -> MON.ch 1\n"
        "patch FOH.mix 8 -> MON.ch 8\npatch MON.mix 8 -> FOH.ch 8\n"
        "output amp main from FOH.out 1 via xlr 3 m\noutput ears in-ear from MON.out 1 via xlr 3 m\n"
        "patch FOH.mix 1 -> amp\npatch MON.mix 1 -> ears\n"
    )
    both = 2 * 62.5e-6 + 1.3e-3 + 2.5e-3
    assert delay(found, "amp").latency_s == pytest.approx(both)
    assert delay(found, "ears").latency_s == pytest.approx(both)


@settings(max_examples=60, deadline=None)
@given(
    desks=st.lists(st.sampled_from(("foh", "mon")), min_size=2, max_size=6),
    data=st.data(),
)
def test_desks_behind_desks_against_networkx(desks: list[str], data: st.DataObject) -> None:
    """Any desk may feed any later one; the longest way to the last one's output is that of the graph."""
    pairs = [(one, other) for one in range(len(desks)) for other in range(one + 1, len(desks))]
    fed = data.draw(st.lists(st.sampled_from(pairs), unique=True))
    heard = data.draw(st.sets(st.sampled_from(range(len(desks))), min_size=1))
    work = {"foh": 1.3e-3, "mon": 2.5e-3}
    text = "box SB is box\nsource vox dynamic to SB 1 via xlr 3 m\n"
    text += "".join(f"box D{n} is {model}\n" for n, model in enumerate(desks))
    graph: networkx.DiGraph[object] = networkx.DiGraph()
    plugs = dict.fromkeys(["SB", *(f"D{n}" for n in range(len(desks)))], 0)

    def joined(one: str, other: str, name: str) -> str:
        plugs[one] += 1
        plugs[other] += 1
        return f"link {name}: {one}.a {plugs[one]} -- {other}.a {plugs[other]} via cat6 9 m\n"

    for n in sorted(heard):
        text += joined("SB", f"D{n}", f"S{n}") + f"patch SB.mic 1 -> D{n}.ch 1\n"
        graph.add_edge("SB", n, weight=62.5e-6 + work[desks[n]])
    for one, other in fed:
        text += joined(f"D{one}", f"D{other}", f"C{one}x{other}")
        text += f"patch D{one}.mix {other + 1} -> D{other}.ch {one + 2}\n"
        graph.add_edge(one, other, weight=62.5e-6 + work[desks[other]])
    last = len(desks) - 1
    text += f"output amp main from D{last}.out 1 via xlr 3 m\npatch D{last}.mix 8 -> amp\n"
    made = cores(text).delay_of("amp")
    if last not in graph or not networkx.has_path(graph, "SB", last):
        assert made is None
        return
    reached = graph.subgraph(networkx.ancestors(graph, last) & networkx.descendants(graph, "SB") | {"SB", last})
    assert made is not None
    assert made.latency_s == pytest.approx(networkx.dag_longest_path_length(reached))
