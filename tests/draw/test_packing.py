"""What goes on one sheet, by numbers alone."""

from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.draw.packing import in_order, packed

WEIGHTS = st.dictionaries(
    st.tuples(st.integers(0, 11), st.integers(0, 11)).filter(lambda pair: pair[0] < pair[1]), st.floats(0.5, 9)
)


@pytest.mark.parametrize(
    ("count", "weights", "most", "sheets"),
    [
        (3, {}, 3, [{0, 1, 2}]),
        (3, {}, 1, [{0}, {1}, {2}]),
        (4, {(0, 3): 5.0, (1, 2): 4.0}, 2, [{0, 3}, {1, 2}]),
        (4, {(0, 1): 1.0, (1, 2): 9.0, (2, 3): 1.0}, 2, [{0, 3}, {1, 2}]),
        (5, {(0, 1): 1.0, (2, 3): 1.0, (3, 4): 1.0}, 3, [{0, 1}, {2, 3, 4}]),
    ],
)
def test_what_has_most_in_common_stands_together(
    count: int, weights: dict[tuple[int, int], float], most: int, sheets: list[set[int]]
) -> None:
    assert packed(count, weights, lambda one, other: len(one | other) <= most) == sheets


@given(WEIGHTS, st.integers(1, 12))
def test_every_unit_is_on_one_sheet_and_none_is_too_full(weights: dict[tuple[int, int], float], most: int) -> None:
    sheets = packed(12, weights, lambda one, other: len(one | other) <= most)
    assert sorted(unit for sheet in sheets for unit in sheet) == list(range(12))
    assert max(map(len, sheets)) <= most


@given(WEIGHTS)
def test_what_hangs_together_is_read_in_one_go(weights: dict[tuple[int, int], float]) -> None:
    """networkx says what hangs together."""
    order = [min(sheet) for sheet in in_order([frozenset((unit,)) for unit in range(12)], weights)]
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(range(12))
    graph.add_edges_from(weights)
    for part in nx.connected_components(graph):
        places = sorted(map(order.index, part))
        assert places == list(range(places[0], places[0] + len(part)))
