"""Single cables and boxes that silence a source, against a general graph library: bridges, cut vertices, flows.

The other graph is built from the list of cables alone, and asked with networkx.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.paths import Paths
from rigdsl.paths.failure import Failures
from rigdsl.rig import read

GEAR = """\
rig "Rings" {}
protocol web { carries 512 at 48 kHz; over cat5e 100 m; topology network }
model desk { kind console; channels ch 1-8; digital p 1-2 { protocol web } }
model stage { kind stage-box; inputs mic 1-4 { preamp }; digital p 1-2 { protocol web; redundant } }
model hub { kind switch; digital p 1-48 }
"""
Cables = list[tuple[str, str]]


def failures(cables: Cables) -> Failures:
    """A rig of switches, joined by cables of one ring; box `B` and desk `D` are whatever hangs on them."""
    used: dict[str, int] = {}
    lines = []
    for n, (left, right) in enumerate(cables):
        ends = []
        for box in (left, right):
            used[box] = used.get(box, 0) + 1
            ends.append(f"{box}.p {used[box]}")
        lines.append(f"link C{n}: {ends[0]} -- {ends[1]} via cat6 5 m {{ ring R1 }}")
    models = {"B": "stage", "D": "desk"}
    lines += [f"box {box} is {models.get(box, 'hub')}" for box in used]
    made = read(GEAR + "\n".join([*lines, "source kick dynamic to B.mic 1 via xlr 2 m", "patch B.mic 1 -> D.ch 1"]))
    assert [finding.message for finding in made.findings] == []
    return Failures(Paths(made))


def silencing(found: Failures, kind: str) -> set[str]:
    """The cables or boxes that silence the source when they fail alone."""
    return {one.name for one in found.ranking if one.kind == kind and one.lost.silent_sources}


def graph(cables: Cables) -> nx.Graph[str]:
    """Boxes, and a node for every cable: so two cables side by side are two ways."""
    made: nx.Graph[str] = nx.Graph()
    for n, (left, right) in enumerate(cables):
        made.add_edges_from(((left, f"C{n}"), (f"C{n}", right)))
    return made


def between(made: nx.Graph[str]) -> Iterator[str]:
    """What lies on every way from box to desk: cut vertices that part the two."""
    for cut in nx.articulation_points(made):
        if cut not in "BD":
            left = made.copy()
            left.remove_node(cut)
            if not nx.has_path(left, "B", "D"):
                yield cut


@st.composite
def networks(draw: st.DrawFn) -> Cables:
    """Switches joined at random, some twice, with a box and a desk on one or two of them, and the two joined at all."""
    count = draw(st.integers(1, 7))
    switch = st.integers(1, count).map(lambda n: f"S{n}")
    pairs = st.tuples(switch, switch).filter(lambda pair: pair[0] != pair[1])
    cables: Cables = draw(st.lists(pairs, max_size=12)) if count > 1 else []
    for box in "BD":
        cables += [(box, draw(switch)) for _ in range(draw(st.integers(1, 2)))]
    joined = graph(cables)
    if not nx.has_path(joined, "B", "D"):
        ends = [next(right for left, right in cables if left == box) for box in "BD"]
        cables.append((ends[0], ends[1]))
    return cables


@settings(max_examples=150, deadline=None)
@given(networks())
def test_what_silences_a_source_alone_is_a_cut_vertex_of_its_ways(cables: Cables) -> None:
    found, other = failures(cables), graph(cables)
    cut = set(between(other))
    assert silencing(found, "cable") == {name for name in cut if name.startswith("C")}
    assert silencing(found, "box") == {name for name in cut if name.startswith("S")} | {"B", "D"}


@settings(max_examples=150, deadline=None)
@given(networks())
def test_a_cable_that_silences_is_a_bridge(cables: Cables) -> None:
    alone = {frozenset(pair) for pair in cables if sum(set(pair) == set(one) for one in cables) == 1}
    simple: nx.Graph[str] = nx.Graph(cables)
    bridges = {frozenset(pair) for pair in nx.bridges(simple)} & alone
    for name in silencing(failures(cables), "cable"):
        assert frozenset(cables[int(name[1:])]) in bridges


@settings(max_examples=150, deadline=None)
@given(networks())
def test_with_two_ways_that_share_no_cable_no_single_cable_silences(cables: Cables) -> None:
    """The greatest flow with one channel a cable is the number of ways that share none (Menger)."""
    flow: nx.DiGraph[str] = nx.DiGraph()
    for left, right in cables:
        for a, b in ((left, right), (right, left)):
            before = flow.edges[a, b]["capacity"] if flow.has_edge(a, b) else 0
            flow.add_edge(a, b, capacity=before + 1)
    ways = nx.maximum_flow_value(flow, "B", "D")
    found = failures(cables)
    assert (silencing(found, "cable") == set()) == (ways > 1)
    assert nx.minimum_cut_value(flow, "B", "D") == ways
    # All cables of a least cut together silence it, however many ways there are.
    _, (near, _) = nx.minimum_cut(flow, "B", "D")
    across = [f"C{n}" for n, (left, right) in enumerate(cables) if (left in near) != (right in near)]
    assert len(across) == ways
    assert found.lost_with(across).silent_sources == ("kick",)


def test_two_triangles_and_a_bridge() -> None:
    """Triangle A-B-C, bridge C-D, triangle D-E-F: bridges {C-D}, cut vertices {C, D} (networkx 3.6.1 on that graph)."""
    trunks = [("SA", "SB"), ("SB", "SC"), ("SA", "SC"), ("SC", "SD"), ("SD", "SE"), ("SE", "SF"), ("SD", "SF")]
    cables, boxes = set(), set()
    for stage, foh in permutations(["SA", "SB", "SC", "SD", "SE", "SF"], 2):
        found = failures([*trunks, ("B", stage), ("D", foh)])
        cables |= silencing(found, "cable") & {f"C{n}" for n in range(len(trunks))}
        boxes |= silencing(found, "box") - {"B", "D", stage, foh}
    assert cables == {"C3"}
    assert boxes == {"SC", "SD"}


@pytest.mark.parametrize(("second", "silences"), [(True, set()), (False, {"C0", "C2"})])
def test_a_pair_over_two_switches(second: bool, silences: set[str]) -> None:
    pair = [("B", "S1"), ("B", "S2"), ("D", "S1"), ("D", "S2")]
    found = failures(pair if second else [pair[0], ("S1", "S2"), pair[2]])
    assert silencing(found, "cable") == silences
