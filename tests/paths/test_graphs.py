"""Random rigs of boxes, panels and switches: routes, runs, islands and chains against a general graph library.

The other graph is built from the list of cables alone, and asked with networkx.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.paths import Paths
from rigdsl.rig import Port, read

REACH_M = 100
GEAR = f"""\
protocol web {{ carries 512 at 48 kHz; over cat5e {REACH_M} m; topology network }}
model desk {{ kind console; channels ch 1-64; mixes mix 1-8; digital p 1-3 {{ protocol web }} }}
model line {{ kind stage-box; inputs mic 1-4 {{ preamp }}; outputs out 1-4; digital p 1-2 {{ protocol web; chain }} }}
model end {{ kind stage-box; inputs mic 1-4 {{ preamp }}; outputs out 1-4; digital p 1-2 {{ protocol web }} }}
model hub {{ kind switch; digital p 1-4 }}
model panel {{ kind panel; digital p 1-2; digital q 1-2; pass p -- q }}
"""
PORTS = {"desk": 3, "line": 2, "end": 2, "hub": 4}
CARRIES = ("desk", "line", "hub")  # boxes that pass sound on from one of their ports to another


@dataclass(frozen=True)
class Made:
    """A rig: the model of each box, and its cables with their lengths in metres."""

    boxes: dict[str, str]
    cables: tuple[tuple[Port, Port, int], ...]

    @property
    def text(self) -> str:
        """In the language."""
        boxes = [f"box {name} is {model}" for name, model in self.boxes.items()]
        links = [f"link C{n}: {a} -- {b} via cat6 {m} m" for n, (a, b, m) in enumerate(self.cables, 1)]
        return "\n".join(['rig "Random" {}', GEAR, *boxes, *links])

    def ports(self) -> list[Port]:
        """Every digital socket."""
        found = []
        for name, model in self.boxes.items():
            groups = [("p", 2), ("q", 2)] if model == "panel" else [("p", PORTS[model])]
            found += [Port(name, group, n + 1) for group, count in groups for n in range(count)]
        return found


@st.composite
def rigs(draw: st.DrawFn) -> Made:
    """A handful of boxes, and cables between sockets that are free."""
    counts = {model: draw(st.integers(low, 4)) for model, low in (("desk", 1), ("line", 1), ("end", 0), ("hub", 0))}
    counts["panel"] = draw(st.integers(0, 4))
    boxes = {f"{model[0].upper()}{n}": model for model, count in counts.items() for n in range(1, count + 1)}
    ports = draw(st.permutations(Made(boxes, ()).ports()))
    pairs = [(a, b) for a, b in zip(ports[::2], ports[1::2], strict=False) if a.box != b.box]
    kept = draw(st.integers(0, len(pairs)))
    lengths = st.one_of(st.integers(1, 30), st.integers(31, 130))
    return Made(boxes, tuple((a, b, draw(lengths)) for a, b in pairs[:kept]))


def strung(made: Made) -> list[tuple[Port, Port, int]]:
    """Cables put together through panels: the two ends that are no panel's, and how far it is between them."""
    graph: nx.Graph[Port] = nx.Graph()
    graph.add_weighted_edges_from(made.cables)
    for name, model in made.boxes.items():
        if model == "panel":
            graph.add_weighted_edges_from((Port(name, "p", n), Port(name, "q", n), 0) for n in (1, 2))
    found = []
    for part in nx.connected_components(graph):
        ends = [port for port in part if made.boxes[port.box] != "panel"]
        if len(ends) == 2:
            found.append((ends[0], ends[1], int(nx.shortest_path_length(graph, ends[0], ends[1], weight="weight"))))
    return found


def ways(made: Made) -> nx.Graph[object]:
    """Sockets joined by working runs (1) and inside the boxes that carry on (0); each box joined to its own ports."""
    graph: nx.Graph[object] = nx.Graph()
    graph.add_weighted_edges_from((a, b, 1) for a, b, length in strung(made) if length <= REACH_M)
    for port in made.ports():
        if made.boxes[port.box] in CARRIES:
            graph.add_edge(port, ("inside", port.box), weight=0)
    return graph


def hops(made: Made, left: str, right: str) -> int | None:
    """The fewest runs between two boxes, by the other graph."""
    graph = ways(made)
    for end, box in (("left", left), ("right", right)):
        graph.add_node(end)
        graph.add_weighted_edges_from((end, port, 0) for port in made.ports() if port.box == box)
    if not nx.has_path(graph, "left", "right"):
        return None
    return int(nx.shortest_path_length(graph, "left", "right", weight="weight"))


def routed(paths: Paths, left: Port, right: Port) -> int | None:
    route = paths.route(left, right)
    assert route.works or route.steps == ()
    return len(route.runs) if route.works else None


def of(made: Made, *models: str) -> list[str]:
    return [name for name, model in made.boxes.items() if model in models]


@settings(max_examples=120, deadline=None)
@given(rigs())
def test_routes_are_shortest_paths(made: Made) -> None:
    paths = Paths(read(made.text))
    for stage in of(made, "line", "end"):
        for desk in of(made, "desk"):
            expected = hops(made, stage, desk)
            assert routed(paths, Port(stage, "mic", 1), Port(desk, "ch", 1)) == expected
            assert routed(paths, Port(desk, "mix", 1), Port(stage, "out", 1)) == expected


@settings(max_examples=80, deadline=None)
@given(rigs())
def test_desks_reach_each_other_by_shortest_paths(made: Made) -> None:
    paths = Paths(read(made.text))
    desks = of(made, "desk")
    for left, right in pairwise(desks):
        assert routed(paths, Port(left, "ch", 1), Port(right, "ch", 2)) == hops(made, left, right)


@settings(max_examples=80, deadline=None)
@given(rigs())
def test_the_steps_of_a_route_hang_together(made: Made) -> None:
    paths = Paths(read(made.text))
    for stage in of(made, "line", "end"):
        for desk in of(made, "desk"):
            route = paths.route(Port(stage, "mic", 1), Port(desk, "ch", 1))
            if route.works:
                assert route.steps[0].left.box == stage
                assert route.steps[-1].right.box == desk
                assert all(a.right == b.left for a, b in pairwise(route.steps))
                assert all(run.works for run, _ in route.runs)


@settings(max_examples=120, deadline=None)
@given(rigs())
def test_cables_add_up_through_panels(made: Made) -> None:
    found = {frozenset(run.ends): run.length_m for run in Paths(read(made.text)).runs if not run.open}
    assert found == {frozenset((a, b)): length for a, b, length in strung(made)}


@settings(max_examples=120, deadline=None)
@given(rigs())
def test_islands_are_connected_components(made: Made) -> None:
    graph: nx.Graph[str] = nx.Graph()
    graph.add_edges_from((a.box, b.box) for a, b, _ in strung(made))
    parts = [{box for box in part if made.boxes[box] != "hub"} for part in nx.connected_components(graph)]
    found = [set(island.boxes) for island in Paths(read(made.text)).islands]
    assert as_sets(found) == as_sets(part for part in parts if len(part) > 1)


def as_sets(parts: Iterable[set[str]]) -> set[frozenset[str]]:
    return {frozenset(part) for part in parts}


@settings(max_examples=120, deadline=None)
@given(rigs())
def test_networks_are_connected_components_of_switches(made: Made) -> None:
    graph: nx.MultiGraph[str] = nx.MultiGraph()
    graph.add_nodes_from(of(made, "hub"))
    graph.add_edges_from(
        (a.box, b.box) for a, b, _ in strung(made) if {made.boxes[a.box], made.boxes[b.box]} == {"hub"}
    )
    networks = Paths(read(made.text)).networks
    assert as_sets(set(one.switches) for one in networks) == as_sets(map(set, nx.connected_components(graph)))
    # one loop for each link more than a tree has
    spare = graph.number_of_edges() - graph.number_of_nodes() + nx.number_connected_components(graph)
    assert sum(len(one.loops) for one in networks) == spare


@settings(max_examples=120, deadline=None)
@given(rigs())
def test_places_in_a_chain_are_distances(made: Made) -> None:
    graph: nx.DiGraph[str] = nx.DiGraph()
    heads = {"desk", "hub"}
    for a, b, _ in strung(made):
        for one, other in ((a.box, b.box), (b.box, a.box)):
            if made.boxes[other] not in heads:
                graph.add_edge(one, other)
    expected: dict[str, int] = {}
    for head in ("hub", "desk"):  # what stands behind a desk counts from there, whatever switch is nearer
        starts = set(of(made, head)) & set(graph)
        found = nx.multi_source_dijkstra_path_length(graph, starts) if starts else {}
        expected |= {box: int(far) for box, far in found.items() if made.boxes[box] not in heads}
    chains = Paths(read(made.text)).chains
    assert {box: chain.position for box, chain in chains.items()} == expected
    for box, chain in chains.items():
        assert chain.near.box == box
        assert (chain.position == 1) == (chain.before == chain.head.box)


@pytest.mark.parametrize("count", [1, 2, 5, 40])
def test_a_long_chain(count: int) -> None:
    boxes = [
        f"box L{n} is line\nlink C{n}: {f'L{n - 1}.p 2' if n > 1 else 'D.p 1'} -- L{n}.p 1 via cat6 9 m"
        for n in range(1, count + 1)
    ]
    paths = Paths(read("\n".join(['rig "Long" {}', GEAR, "box D is desk", *boxes])))
    route = paths.route(Port(f"L{count}", "mic", 1), Port("D", "ch", 1))
    assert [run.name for run, _ in route.runs] == [f"C{n}" for n in range(count, 0, -1)]
    assert paths.chains[f"L{count}"].position == count
