"""Circles of cables between switches: which are meant, and which stop the network."""

from __future__ import annotations

import pytest

from rigdsl.paths import Paths
from tests.paths.small import rig

THREE = "box A is hub8 in wing; box B is hub8 in wing; box C is hub8 in foh\n"
PARALLEL = "link C1: A.port 1 -- B.port 1 via cat6 5 m {first}\nlink C2: A.port 2 -- B.port 2 via cat6 5 m {second}\n"
TRIANGLE = (
    "link C1: A.port 1 -- B.port 1 via cat6 5 m {first}\n"
    "link C2: B.port 3 -- C.port 3 via cat6 5 m {first}\n"
    "link C3: A.port 4 -- C.port 4 via cat6 5 m {second}\n"
)


def circles(text: str) -> list[str]:
    """The links of each circle that nobody meant."""
    return ["+".join(link.name for link in loop) for net in Paths(rig(THREE + text)).networks for loop in net.loops]


@pytest.mark.parametrize(
    ("text", "first", "second", "told"),
    [
        (PARALLEL, "", "", ["C1+C2"]),
        (PARALLEL, "{ bundle B1 }", "{ bundle B1 }", []),
        (PARALLEL, "{ bundle B1 }", "{ bundle B2 }", ["C1+C2"]),
        (PARALLEL, "{ bundle B1 }", "", ["C1+C2"]),
        (PARALLEL, "{ ring R1 }", "{ ring R1 }", []),
        (TRIANGLE, "", "", ["C1+C2+C3"]),
        (TRIANGLE, "{ ring R1 }", "{ ring R1 }", []),
        (TRIANGLE, "{ ring R1 }", "", []),  # said once is enough where no cable runs beside another
        (TRIANGLE, "{ ring R1 }", "{ ring R2 }", []),
    ],
)
def test_circles_between_switches(text: str, first: str, second: str, told: list[str]) -> None:
    assert circles(text.format(first=first, second=second)) == told


def test_a_cable_beside_one_of_a_ring_closes_a_circle_of_its_own() -> None:
    ring = TRIANGLE.format(first="{ ring R1 }", second="{ ring R1 }")
    assert circles(ring + "link C4: A.port 5 -- C.port 5 via cat6 5 m") == ["C3+C4"]
