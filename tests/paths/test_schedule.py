"""The cable schedule, and what the stock lacks: held against a matching of highest weight and of most pairs."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from rigdsl.paths import schedule, shortages, unserved
from rigdsl.rig import Insert, Lead, Port, read

LENGTHS = st.lists(st.integers(1, 12), max_size=12)


@given(needed=LENGTHS, owned=LENGTHS)
def test_as_few_as_can_be_stay_without(needed: list[int], owned: list[int]) -> None:
    """A largest matching of a graph of needs and cables that are long enough (networkx)."""
    graph: nx.Graph[tuple[str, int]] = nx.Graph()
    tops = [("need", i) for i in range(len(needed))]
    graph.add_nodes_from(tops)
    graph.add_nodes_from(("own", j) for j in range(len(owned)))
    graph.add_edges_from(
        (("need", i), ("own", j)) for i, want in enumerate(needed) for j, has in enumerate(owned) if has >= want
    )
    matched = len(nx.bipartite.hopcroft_karp_matching(graph, tops)) // 2
    missing = unserved(map(float, needed), Counter(map(float, owned)))
    assert missing.total() == len(needed) - matched


@given(needed=LENGTHS.filter(bool), owned=LENGTHS.filter(bool))
def test_the_assignment_problem_says_the_same(needed: list[int], owned: list[int]) -> None:
    """scipy's solver: a pair costs nothing where the cable is long enough, else one."""
    cost = np.array([[0 if has >= want else 1 for has in owned] for want in needed])
    rows, columns = linear_sum_assignment(cost)
    served = int((cost[rows, columns] == 0).sum())
    missing = unserved(map(float, needed), Counter(map(float, owned)))
    assert missing.total() == len(needed) - served
    assert set(missing) <= set(map(float, needed))


SHOW = """\
rig "Count" { slack 2 m; lead xlr }
cable loom4 { medium analogue; lines 4 }
cable insert { medium analogue; lines 2 }
model box { kind stage-box; inputs mic 1-16 { preamp }; outputs out 1-8 }
model rx { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line }
zone stage at (0, 0) m
zone wing at (3, 4) m
zone attic
box A is box in stage
box B is box in wing
box R is rx in stage
"""


@pytest.mark.parametrize(
    ("line", "rows"),
    [
        ("link L1: A.out 1-4 -- B.mic 1-4 via xlr 10 m", [("L1", "xlr", 10, 4)]),  # one line, four sockets: four
        ("link L1: A.out 1-4 -- B.mic 1-4 via loom4 10 m", [("L1", "loom4", 10, 1)]),
        ("link L1: A.out 1-5 -- B.mic 1-5 via loom4 10 m", [("L1", "loom4", 10, 2)]),  # rounded up
        (
            "link L1 via loom4 10 m {\n  A.out 1-2 -- B.mic 1-2\n  B.out 1-2 -- A.mic 1-2\n}",
            [("L1", "loom4", 10, 1)],
        ),
        ("link L1: A.out 1 -- B.mic 1", []),  # no cable is named
        ("source keys line in stage to A 1-2 via xlr 6 m", [("keys", "xlr", 6, 2)]),
        ("source keys line in stage to A 1-2 via insert 6 m", [("keys", "insert", 6, 1)]),
        ("output w wedge in stage from A.out 1 via xlr 6 m", [("w", "xlr", 6, 1)]),
        ("source vox dynamic in wing to A 1", [("vox", "xlr", 7, 1)]),  # measured: 5 m and 2 m of slack
        ("source vox dynamic in attic to A 1", [("vox", "xlr", None, 1)]),  # to be measured
        ("source vox wireless in stage to R 1", []),
        ("source vox dynamic in stage", []),
    ],
)
def test_what_a_rig_takes(line: str, rows: list[tuple[str, str, float | None, int]]) -> None:
    rig = read(SHOW + line)
    assert [finding.message for finding in rig.findings] == []
    assert [(row.name, row.cable.name, row.length_m, row.count) for row in schedule(rig)] == rows


def test_the_schedule_is_in_natural_order() -> None:
    links = "\n".join(f"link C{i}: A.out {i} -- B.mic {i} via xlr 3 m" for i in (8, 2, 1))
    assert [row.name for row in schedule(read(SHOW + links + "\nlink C10: A.out 5 -- B.mic 5 via xlr 3 m"))] == [
        "C1",
        "C2",
        "C8",
        "C10",
    ]


def test_a_shortage_goes_by_the_length_that_the_house_has() -> None:
    """Needs of 7, 8 and 9 m are all served by 10 m."""
    plugs = [f"source s{n} dynamic in stage to A {n} via xlr {n} m" for n in (7, 8, 9)]
    rig = read(SHOW + "\n".join([*plugs, "stock xlr 10 m x 2", "stock xlr 5 m x 9"]))
    (shortage,) = shortages(rig)
    assert (shortage.length_m, shortage.missing, shortage.needed, shortage.owned) == (10, 1, 3, 2)
    assert [row.name for row in shortage.wanted] == ["s7", "s8", "s9"]


def test_an_insert_is_one_cable_both_ways() -> None:
    """One line of the file that inserts two is two cables, or one with two lines."""
    rig = read(SHOW)
    for cable, count in (("xlr", 2), ("insert", 1)):
        lead = Lead(rig.cables[cable], 2.0)
        ins = [
            Insert("EQ", Port("A", "mic", n), Port("B", "mic", n), Port("B", "out", n), lead, rig.boxes["B"].place)
            for n in (1, 2)
        ]
        assert [(row.name, row.count) for row in schedule(replace(rig, inserts=tuple(ins)))] == [("EQ", count)]


INSERTS = """\
cable short { medium analogue }
cable long { medium analogue }
model desk { kind console; channels ch 1-8 }
model comp { kind outboard; inputs in 1-2; outputs out 1-2 }
box DESK is desk in wing
box CP is comp in wing
box EQ is comp in wing
insert DESK.ch 1-2 through CP 1-2 via short 2 m
insert DESK.ch 1 through EQ 1 via long 3 m
"""


@pytest.mark.parametrize(("stock", "missing"), [("stock short 2 m x 2", 0), ("stock short 2 m x 1", 1)])
def test_two_inserts_in_one_channel_have_each_its_own_lead(stock: str, missing: int) -> None:
    rig = read(SHOW + INSERTS + f"{stock}\nstock long 3 m x 1")
    assert [finding.message for finding in rig.findings] == []
    rows = [(row.name, row.cable.name, row.length_m, row.count) for row in schedule(rig)]
    assert rows == [("DESK.ch 1", "short", 2, 2), ("DESK.ch 1", "long", 3, 1)]
    assert sum(shortage.missing for shortage in shortages(rig)) == missing
