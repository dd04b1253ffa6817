"""Who falls silent, and by which cable or patch; and what can be asked of a socket."""

from __future__ import annotations

import pytest

from rigdsl.rig import Leg
from tests.paths.small import paths, port

SHOW = """\
box DR is sub12 in drums; box SL is nw16 in wing; box SR is nw16 in wing; box DESK is desk32 in foh
box AMP is amp2 in wing; box TOP is top8 in wing
link L01: DR.tail 1-12 -- SL.mic 1-12 via loom12 15 m
link C1: DESK.stage 1 -- SL.A via {first} 60 m
link C2: SL.B -- SR.A via {second} 20 m
link L02: SR.line 8 -- AMP.in 1 via xlr 2 m
link LS1: AMP.out 1 -- TOP.in via ls4 10 m
source in10 dynamic in drums to DR 10 via xlr 6 m
source in2 dynamic in drums to DR 2 via xlr 6 m
source vox dynamic in wing to SR 1 via xlr 6 m
source spare dynamic in wing to SR 2 via xlr 6 m
output wdg wedge in wing from SR.line 1 via xlr 6 m
patch SL.mic 1-12 -> DESK.ch 1-12
patch vox -> DESK.ch 13
patch DESK.mix 1 -> wdg
patch DESK.mix 8 -> SR.line 8
"""


def silent(first: str, second: str) -> dict[str, tuple[str, ...]]:
    """By every run and patch, whom it silences."""
    found = paths(SHOW.format(first=first, second=second))
    told = {run.name: found.silenced_by(run) for run in found.runs}
    told |= {patch.name: found.silenced_by(patch) for patch in found.rig.patches}
    return {what: names for what, names in told.items() if names}


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        ("cat6", "cat6", {}),
        (
            "cat6",
            "os2",
            {
                "C2": ("TOP", "vox", "wdg"),
                "vox -> DESK.ch 13": ("vox",),
                "DESK.mix 1 -> wdg": ("wdg",),
                "DESK.mix 8 -> SR.line 8": ("TOP",),
            },
        ),
        (
            "os2",
            "cat6",
            {
                "C1": ("TOP", "in2", "in10", "vox", "wdg"),
                "SL.mic 1-12 -> DESK.ch 1-12": ("in2", "in10"),
                "vox -> DESK.ch 13": ("vox",),
                "DESK.mix 1 -> wdg": ("wdg",),
                "DESK.mix 8 -> SR.line 8": ("TOP",),
            },
        ),
    ],
)
def test_silenced_by(first: str, second: str, expected: dict[str, tuple[str, ...]]) -> None:
    assert silent(first, second) == expected


def test_what_is_heard() -> None:
    found = paths(SHOW.format(first="cat6", second="cat6"))
    assert [name for name in found.rig.sources if not found.arrives(name)] == ["spare"]
    assert [name for name in ("wdg", "TOP") if not found.sounds(name)] == []


def test_what_hangs_on_a_socket() -> None:
    found = paths(SHOW.format(first="cat6", second="cat6"))
    assert found.plugs[port("DR.panel 2")] == (Leg("in2", 0),)
    assert [piece.link.name for piece in found.pieces[port("DR.tail 2")]] == ["L01"]
    assert found.sources_at(port("SL.mic 10")) == (Leg("in10", 0),)
    assert found.sources_at(port("SL.mic 1")) == ()
    assert [str(socket) for socket in found.inputs_of(Leg("in2", 0))] == ["DR.panel 2", "SL.mic 2"]
    assert [str(socket) for socket in found.outlets_of(Leg("TOP", 0))] == ["AMP.out 1", "SR.line 8"]
    assert [(patch.name, str(end)) for patch, end in found.feeds[port("SL.mic 3")]] == [
        ("SL.mic 1-12 -> DESK.ch 1-12", "DESK.ch 3")
    ]
    assert [str(end) for _, end in found.fed[port("DESK.ch 13")]] == ["vox"]
    assert port("DESK.ch 14") not in found.fed


def test_what_goes_through_a_thing() -> None:
    found = paths(SHOW.format(first="cat6", second="cat6"))
    through = {what: [str(path.start) for path in found.trace(what)] for what in ("C2", "L01", "AMP", "in2")}
    assert through == {
        "C2": ["vox", "DESK.mix 8", "DESK.mix 1"],
        "L01": ["in2", "in10"],
        "AMP": ["DESK.mix 8"],
        "in2": ["in2"],
    }
    assert [str(path.start) for path in found.trace(port("DESK.ch 13"))] == ["vox"]
    assert [str(path.end) for path in found.trace(port("DESK.mix 1"))] == ["wdg"]
