"""Boxes behind boxes: who stands where, towards which desk, and which chains do not work."""

from __future__ import annotations

import pytest

from tests.paths.small import paths

BOXES = """\
protocol short2 { carries 40 at 48 kHz; over cat5e 100 m; slots fixed; topology chain 2 }
protocol pair1 { carries 40 at 48 kHz; over cat5e 100 m; topology point-to-point }
model end16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol fernlink } }
model two16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol short2; chain } }
model lone16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol pair1; chain } }
model deskx { kind console; channels ch 1-64; digital stage 1-2 { protocol fernlink, short2, pair1 } }
box DESK is deskx in foh; box MON is deskx in wing
"""


def chain(*models: str) -> str:
    """Boxes S1, S2 ... one behind the other on the desk's first port, each entered at A and left at B."""
    boxes = [f"box S{n} is {model} in wing" for n, model in enumerate(models, 1)]
    links = ["link C1: DESK.stage 1 -- S1.A via cat6 60 m"]
    links += [f"link C{n}: S{n - 1}.B -- S{n}.A via cat6 9 m" for n in range(2, len(models) + 1)]
    return "\n".join([*boxes, *links])


def places(rig: str) -> dict[str, str]:
    """Each box: behind which port, in which place, and which of its ports faces the desk."""
    found = paths(BOXES + rig)
    return {box: f"{one.position} behind {one.head}, by {one.near}" for box, one in found.chains.items()}


def misfits(rig: str) -> list[str]:
    found = paths(BOXES + rig)
    return [f"{one.fault.rule} {one.box}: {one.fault.because}" for one in found.misfits]


@pytest.mark.parametrize(
    ("rig", "expected"),
    [
        (
            chain("nw16", "nw16", "nw16"),
            {
                "S1": "1 behind DESK.stage 1, by S1.A",
                "S2": "2 behind DESK.stage 1, by S2.A",
                "S3": "3 behind DESK.stage 1, by S3.A",
            },
        ),
        # either port may face the desk
        (
            chain("nw16", "nw16").replace("S1.A", "S1.x").replace("S1.B", "S1.A").replace("S1.x", "S1.B"),
            {"S1": "1 behind DESK.stage 1, by S1.B", "S2": "2 behind DESK.stage 1, by S2.A"},
        ),
        # a desk at either end: each box faces the desk that is nearer
        (
            chain("nw16", "nw16", "nw16") + "\nlink C4: S3.B -- MON.stage 1 via cat6 5 m",
            {
                "S1": "1 behind DESK.stage 1, by S1.A",
                "S3": "1 behind MON.stage 1, by S3.B",
                "S2": "2 behind DESK.stage 1, by S2.A",
            },
        ),
        # a ring between two ports of one desk
        (
            chain("nw16", "nw16") + "\nlink C3: S2.B -- DESK.stage 2 via cat6 60 m",
            {"S1": "1 behind DESK.stage 1, by S1.A", "S2": "1 behind DESK.stage 2, by S2.B"},
        ),
        # a chain begins anew behind a bridge
        (
            "box BR is bridge16; box S1 is nw16; box S2 is nw16\n"
            "link C1: BR.L -- S1.A via cat6 5 m\nlink C2: S1.B -- S2.A via cat6 5 m",
            {"S1": "1 behind BR.L, by S1.A", "S2": "2 behind BR.L, by S2.A"},
        ),
        # no desk, no chain
        ("box S1 is nw16; box S2 is nw16\nlink C2: S1.B -- S2.A via cat6 5 m", {}),
    ],
)
def test_places(rig: str, expected: dict[str, str]) -> None:
    assert places(rig) == expected


@pytest.mark.parametrize(
    ("rig", "expected"),
    [
        (chain("nw16", "nw16", "nw16", "nw16"), []),
        (chain("nw16", "end16"), []),  # the last one carries nothing on
        (
            chain("nw16", "nw16", "nw16", "nw16", "nw16"),
            ["chain-too-deep S5: `fernlink` takes 4 boxes behind one port, and `S5` is number 5"],
        ),
        (chain("two16", "two16"), []),
        (
            chain("two16", "two16", "two16"),
            ["chain-too-deep S3: `short2` takes 2 boxes behind one port, and `S3` is number 3"],
        ),
        (
            chain("end16", "nw16"),
            ["chain-not-supported S2: `S1` does not carry on at `S1.A` what comes in at `S1.B`"],
        ),
        (
            chain("nw16", "end16", "nw16"),
            ["chain-not-supported S3: `S2` does not carry on at `S2.A` what comes in at `S2.B`"],
        ),
        (
            chain("lone16", "lone16"),
            ["chain-not-supported S2: `pair1` joins two boxes and no more, so `C2` leads nowhere"],
        ),
        # a desk at either end halves the depth
        (
            chain("two16", "two16", "two16", "two16") + "\nlink C5: S4.B -- MON.stage 1 via cat6 5 m",
            [],
        ),
    ],
)
def test_what_does_not_fit(rig: str, expected: list[str]) -> None:
    assert misfits(rig) == expected


@pytest.mark.parametrize(
    ("rig", "box", "blamed"),
    [
        (chain("two16", "two16", "two16"), "S2", []),
        (chain("two16", "two16", "two16"), "S3", ["chain-too-deep S3"]),
        (chain("two16", "two16", "two16", "two16"), "S4", ["chain-too-deep S3"]),
        (chain("end16", "nw16"), "S1", []),
        (chain("end16", "nw16"), "S2", ["chain-not-supported C2"]),
        (chain("lone16", "lone16"), "S2", ["chain-not-supported C2"]),
    ],
)
def test_sound_ends_where_the_chain_does(rig: str, box: str, blamed: list[str]) -> None:
    found = paths(BOXES + rig + f"\nsource kick dynamic in wing to {box} 1\npatch kick -> DESK.ch 1")
    (pair,) = found.pairs
    assert pair.route is not None
    assert [f"{fault.rule} {subject}" for _, fault, subject in pair.route.blame] == blamed
    assert found.arrives("kick") == (not blamed)
