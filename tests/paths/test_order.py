"""The order of the statements, and what stands beside a show, change nothing of its paths."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.paths import Paths
from tests.paths.small import paths, told

SHOW = """\
box DR is sub12 in drums
box SL is nw16 in wing
box SR is nw16 in wing
box DESK is desk32 in foh
box MON is desk32 in wing
box NB is nb8 in front
box H1 is hub8 in wing
box H2 is hub8 in foh
box P is panel4 in wing
box AMP is amp2 in wing
box TOP is top8 in wing
link L01: DR.tail 1-12 -- SL.mic 1-12 via loom12 15 m
link C10: SL.A -- P.front 1 via cat6 5 m
link C11: P.rear 1 -- DESK.stage 1 via cat6 40 m
link C2: SL.B -- SR.A via cat6 20 m
link C3: SR.B -- DESK.stage 2 via cat6 60 m
link N1: NB.pri -- H1.port 1 via cat6 5 m
link N2: H1.port 8 -- H2.port 8 via cat6 60 m
link N3: H1.port 7 -- H2.port 7 via cat6 60 m
link N4: H2.port 1 -- DESK.pri via cat6 5 m
link N5: H1.port 2 -- MON.pri via cat6 5 m
link L02: NB.line 1 -- AMP.in 1 via xlr 2 m
link LS1: AMP.out 1 -- TOP.in via ls4 10 m
source kick dynamic in drums to DR 1 via xlr 6 m
source keys line in wing to SR 3-4 via xlr 6 m
source vox dynamic in front to NB 2 via xlr 6 m
output wdg wedge in wing from SR.line 1 via xlr 6 m
patch SL.mic 1-12 -> DESK.ch 1-12
patch keys -> DESK.ch 13-14
patch NB.mic 1-8 -> DESK.ch 17-24
patch NB.mic 1-8 -> MON.ch 1-8
patch DESK.mix 1 -> wdg
patch DESK.mix 2 -> NB.line 1
clock DESK
control NB.mic 1-8 by MON
"""
LINES = SHOW.splitlines()


def all_said(found: Paths) -> object:
    """Everything that is asked of the paths, in words."""
    return {
        "paths": sorted((str(path.leg), told(path), path.complete, path.stops) for path in found.all_paths),
        "runs": [(run.name, run.length_m, run.protocol, run.faults) for run in found.runs],
        "loads": [(load.enters, load.channels, load.by_box) for run in found.runs for load in found.load_of(run)],
        "chains": {box: (chain.head, chain.position, chain.near) for box, chain in found.chains.items()},
        "islands": found.islands,
        "networks": [
            (one.switches, one.side, [[link.name for link in loop] for loop in one.loops]) for one in found.networks
        ],
        "gains": found.gains,
        "routes": {
            str(patch.name): [route and [(step.left, step.right) for step in route.steps] for *_, route in pairs]
            for patch, pairs in found.patch_routes.items()
        },
    }


EXPECTED = all_said(paths(SHOW))


@settings(max_examples=40, deadline=None)
@given(st.permutations(LINES))
def test_the_order_of_statements_does_not_matter(lines: Sequence[str]) -> None:
    assert all_said(paths("\n".join(lines))) == EXPECTED


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_a_link_may_be_read_from_either_end(data: st.DataObject) -> None:
    lines = [_turned(line) if line.startswith("link") and data.draw(st.booleans()) else line for line in LINES]
    assert all_said(paths("\n".join(lines))) == EXPECTED


def _turned(line: str) -> str:
    head, _, rest = line.partition(": ")
    ends, _, lead = rest.partition(" via ")
    left, _, right = ends.partition(" -- ")
    return f"{head}: {right} -- {left} via {lead}"


@pytest.mark.parametrize(
    "more",
    [
        "box X is nw16",
        "box A is hub8\nbox B is panel4\nbox ZZ is face",
        "source talk dynamic to X 1\nbox X is nw16",
        "zone roof at (0, 0, 9) m\nway roof -- foh 40 m",
    ],
)
def test_what_stands_beside_a_show_changes_nothing(more: str) -> None:
    found = paths(SHOW + more)
    for name in ("kick", "keys", "vox", "wdg", "TOP"):
        assert [told(path) for path in found.paths_of(name)] == [told(path) for path in paths(SHOW).paths_of(name)]
    assert [(run.name, run.faults) for run in found.runs] == [(run.name, run.faults) for run in paths(SHOW).runs]
    assert (found.gains, found.islands) == (paths(SHOW).gains, paths(SHOW).islands)
