"""What hangs on something that could not be read is left alone: nobody knows what it does."""

from __future__ import annotations

import pytest

from rigdsl.paths import Paths
from rigdsl.rig import read
from tests.paths.small import GEAR

SHOW = """\
box DR is sub12 in drums; box SL is nw16 in wing; box SR is nw16 in wing; box DESK is desk32 in foh
link L01: DR.tail 1-12 -- SL.mic 1-12 via loom12 15 m
source kick dynamic in drums to DR 1
source vox dynamic in wing to SR 1
output wdg wedge in wing from SL.line 1
output side wedge in wing from SR.line 1
"""


@pytest.mark.parametrize(
    ("broken", "unsure"),
    [
        ("", []),
        ("link C9: SL.B -- SR.A via catt 3 m", []),  # only the cable is not known, and where it goes is
        ("link C9: SR.B -- NOBODY.A via cat6 3 m", ["vox", "side"]),
        ("source keys line in wing to NOBODY 1", []),
        ("box NB is nobody16 in wing", []),
    ],
)
def test_a_way_that_touches_it(broken: str, unsure: list[str]) -> None:
    found = Paths(read(f'rig "Hall" {{}}\nuse "gear.rig"\n{SHOW}{broken}', gear=GEAR))
    assert [name for name in ("kick", "vox", "wdg", "side") if found.unsure(name)] == unsure
