"""Paths that do not arrive, and the reason in plain words."""

from __future__ import annotations

import pytest

from tests.paths.small import paths, stops

HALL = """\
box SL is nw16 in wing; box DESK is desk32 in foh; box DR is sub12 in drums; box MOSS is deck8 in foh
link C01: SL.A -- DESK.stage 1 via cat6s {length}
"""


def hall(*more: str, length: str = "75 m") -> str:
    return HALL.replace("{length}", length) + "\n".join(more)


@pytest.mark.parametrize(
    ("rig", "name", "why"),
    [
        (hall("source kick dynamic in wing"), "kick", "`kick` is plugged into nothing"),
        (hall("source kick dynamic in wing to SL"), "kick", "`kick` has no socket yet on `SL`"),
        (hall("source kick dynamic in wing to SL 1"), "kick", "nothing is patched from `SL.mic 1`"),
        (hall("source kick dynamic in drums to DR 1"), "kick", "nothing is plugged into `DR.tail 1`"),
        (
            hall("source kick dynamic in wing to SL 1", "patch kick -> MOSS.rec 1"),
            "kick",
            "no digital way leads from `SL` to `MOSS`",
        ),
        (
            hall("source kick dynamic in wing to SL 1", "patch kick -> DESK.ch 1", length="101 m"),
            "kick",
            "101 m of cable, and `fernlink` reaches 100 m on it",
        ),
        (
            # by name, the socket that is nearest to working is the one to blame
            hall(
                "link L1: DR.tail 1 -- SL.mic 1 via xlr 9 m",
                "source kick dynamic in drums to DR 1",
                "patch kick -> DESK.ch 1",
                length="101 m",
            ),
            "kick",
            "101 m of cable, and `fernlink` reaches 100 m on it",
        ),
        (
            hall("source kick dynamic in wing to SL 1", "patch kick -> SL.line 1"),
            "kick",
            "nothing is plugged into `SL.line 1`",
        ),
        (hall("output wdg wedge in front"), "wdg", "`wdg` is plugged into nothing"),
        (hall("output wdg wedge in front from SL"), "wdg", "`wdg` has no socket yet on `SL`"),
        (hall("output wdg wedge in front from SL.line 1"), "wdg", "nothing is patched to `SL.line 1`"),
        (
            hall(
                "model mute2 { kind monitor-sender; inputs in 1-2; outputs air { wireless } }",
                "box TX is mute2 in wing",
                "output ears in-ear in front from TX.air",
            ),
            "ears",
            "nothing inside `TX` leads to `TX.air`",
        ),
        (
            hall("output wdg wedge in front from SL.line 1", "patch DESK.mix 1 -> wdg", length="0.2 km"),
            "wdg",
            "200 m of cable, and `fernlink` reaches 100 m on it",
        ),
        (
            hall("output wdg wedge in front from SL.line 1", "patch SL.mic 1 -> wdg"),
            "wdg",
            "no source reaches `SL.mic 1`",
        ),
        (
            hall(
                "source cue playback in wing",
                "output wdg wedge in front from SL.line 1",
                "patch cue -> wdg",
            ),
            "wdg",
            "`cue` is plugged into nothing",
        ),
        (
            "box TX is tx2 in wing\noutput ears in-ear in front from TX.air 1",
            "ears",
            "nothing is plugged into `TX.line 1`",
        ),
        ("box TOP is top8 in wing", "TOP", "nothing is plugged into `TOP.in`"),
        (
            "box AMP is amp2 in wing; box TOP is top8 in wing\nlink LS1: AMP.out 1 -- TOP.in via ls4 5 m",
            "TOP",
            "nothing is plugged into `AMP.in 1`",
        ),
    ],
)
def test_why(rig: str, name: str, why: str) -> None:
    found = paths(rig)
    assert stops(found, name) == [why]
    assert not (found.arrives(name) if name in found.rig.sources else found.sounds(name))


@pytest.mark.parametrize(
    ("more", "arrives"),
    [
        (["patch SL.mic 1-2 -> DESK.ch 1-2"], True),
        (["patch SL.mic 1 -> DESK.ch 1"], False),
        (["patch SL.mic 2 -> DESK.ch 2"], False),
        ([], False),
    ],
)
def test_a_stereo_source_is_lost_if_a_side_is(more: list[str], arrives: bool) -> None:
    assert paths(hall("source keys line in wing to SL 1-2", *more)).arrives("keys") is arrives


@pytest.mark.parametrize(
    ("more", "sounds"),
    [
        (["patch DESK.mix 1-2 -> pa"], True),
        (["patch DESK.mix 1 -> SL.line 1"], False),
        (["patch DESK.mix 1 -> SL.line 1", "patch DESK.mix 9 -> SL.line 2"], True),
    ],
)
def test_a_stereo_output_is_silent_if_a_side_is(more: list[str], sounds: bool) -> None:
    assert paths(hall("output pa main in front from SL.line 1-2", *more)).sounds("pa") is sounds


def test_the_way_as_far_as_it_goes_is_shown() -> None:
    (path,) = paths(
        hall("source kick dynamic in drums to DR 1 via xlr 4 m", "link L1: DR.tail 1 -- SL.mic 1 via xlr 9 m")
    ).paths_of("kick")
    assert [str(hop.right) for hop in path.hops] == ["DR.panel 1", "DR.tail 1", "SL.mic 1"]
    assert (str(path.start), str(path.end), path.length_m) == ("kick", "SL.mic 1", 13.0)
