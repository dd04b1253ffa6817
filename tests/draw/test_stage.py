"""Zones in rows: upstage at the top, the performer's left on the right."""

from __future__ import annotations

import pytest

from rigdsl.draw.stage import column_of, grid
from tests.draw.made import small

# Zones with their places, and the rows that they make.
ROWS = [
    ({"a": "(0, 5)", "b": "(0, 0)"}, [("a",), ("b",)]),
    ({"a": "(3, 0)", "b": "(-3, 0)"}, [("b", "a")]),
    ({"a": "(0, 4)", "b": "(4, 2)", "c": "(-4, 2)", "d": "(0, -12)"}, [("c", "a", "b"), ("d",)]),
    ({"z10": "", "z2": ""}, [("z2", "z10")]),
    ({"a": "(0, 0)", "b": ""}, [("b",), ("a",)]),  # what nobody placed comes first
    ({f"z{n}": "" for n in range(6)}, [("z0", "z1", "z2", "z3"), ("z4", "z5")]),
]


@pytest.mark.parametrize(("places", "expected"), ROWS)
def test_rows(places: dict[str, str], expected: list[tuple[str, ...]]) -> None:
    """Zones of about one depth stand in one row."""
    rig = small("\n".join(f"zone {name}" + (f" at {at} m" if at else "") for name, at in places.items()))
    assert list(grid(rig, places).rows) == expected


def test_without_any_place_the_desk_comes_last() -> None:
    """Nearest to the audience."""
    rig = small("zone a\nzone b\nbox D is desk8 in a\nbox S is nw16 in b")
    assert grid(rig, ["a", "b"]).rows == (("b",), ("a",))


def test_a_row_leans_to_its_side() -> None:
    """A zone far to the performer's left is at the right of the sheet."""
    rig = small("zone a at (-8, 5) m\nzone b at (8, 0) m\nzone c at (0, -9) m")
    assert grid(rig, ["a", "b", "c"]).lean == (0.0, 1.0, 0.5)


@pytest.mark.parametrize(
    ("left", "right"),
    [("sources", "sub-box"), ("splitter", "stage-box"), ("stage-box", "console"), ("amplifier", "loudspeaker")],
)
def test_columns(left: str, right: str) -> None:
    """Within a zone boxes stand in the order in which sound goes through them."""
    assert column_of(left) < column_of(right) < column_of("outputs")
