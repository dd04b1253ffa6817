"""Who can set gain and phantom of a remote preamp: over which ports, dialects and boxes."""

from __future__ import annotations

import pytest

from rigdsl.paths import Gain
from tests.paths.small import paths

BOXES = """\
model mute16 { kind stage-box; inputs mic 1-16 { preamp; gain remote }; digital A, B { protocol fernlink; chain } }
model deaf32 { kind console; channels ch 1-32; digital stage 1-2 { protocol fernlink } }
model other32 { kind console; channels ch 1-32; digital stage 1-2 { protocol fernlink; control moss } }
model dumb { kind bridge; digital L { protocol fernlink }; digital M { protocol brooknet }; bridge L -> M }
box S is nw16 in wing; box T is nw16 in wing; box D is desk32 in foh; box E is desk32 in wing
box MU is mute16 in wing; box DEAF is deaf32 in foh; box O is other32 in foh
box NB is nb8 in wing; box H is hub8 in wing; box P is panel4 in wing; box BR is bridge16 in wing
box DUMB is dumb in wing
box CORE is core16 in wing; box FACE is face in foh; box TAB is tablet in foh; box PC is deck8 in foh
"""


def gains(rig: str) -> tuple[Gain, ...]:
    return paths(BOXES + rig).gains


def gain(rig: str) -> Gain:
    """The one group whose gain is set from elsewhere."""
    (found,) = gains(rig)
    return found


@pytest.mark.parametrize(
    ("rig", "moves"),
    [
        # both ports speak the dialect
        ("link C1: S.A -- D.stage 1 via cat6 60 m\npatch S.mic 1 -> D.ch 1", True),
        ("link C1: S.A -- DEAF.stage 1 via cat6 60 m\npatch S.mic 1 -> DEAF.ch 1", False),
        ("link C1: S.A -- O.stage 1 via cat6 60 m\npatch S.mic 1 -> O.ch 1", False),
        # a data line that joins others helps nobody
        (
            "link C1: MU.A -- D.stage 1 via cat6 60 m\nlink K1: S.ctl -- D.net via cat6 60 m\npatch MU.mic 1 -> D.ch 1",
            False,
        ),
        (
            "link C1: S.A -- DEAF.stage 1 via cat6 60 m\nlink K1: S.ctl -- D.net via cat6 60 m\n"
            "patch S.mic 1 -> DEAF.ch 1",
            False,
        ),
        # through panels and switches, whatever they are
        (
            "link C1: S.A -- P.front 1 via cat6 5 m\nlink C2: P.rear 1 -- D.stage 1 via cat6 50 m\n"
            "patch S.mic 1 -> D.ch 1",
            True,
        ),
        (
            "link N1: NB.pri -- H.port 1 via cat6 5 m\nlink N2: H.port 2 -- D.pri via cat6 50 m\n"
            "patch NB.mic 1 -> D.ch 1",
            True,
        ),
        # only one port of the sound line speaks it
        ("link C1: MU.A -- D.stage 1 via cat6 60 m\npatch MU.mic 1 -> D.ch 1", False),
        # the box's control jack and the desk's in the show's switch, beside the sound
        (
            "link C1: S.A -- D.stage 1 via cat6 60 m\nlink K1: S.ctl -- H.port 1 via cat6 5 m\n"
            "link K2: H.port 2 -- D.net via cat6 60 m\npatch S.mic 1 -> D.ch 1",
            True,
        ),
        # chained boxes pass on what both of their ports name
        (
            "link C1: S.A -- D.stage 1 via cat6 60 m\nlink C2: T.A -- S.B via cat6 9 m\npatch T.mic 1 -> D.ch 1",
            True,
        ),
        (
            "link C1: MU.A -- D.stage 1 via cat6 60 m\nlink C2: T.A -- MU.B via cat6 9 m\npatch T.mic 1 -> D.ch 1",
            False,
        ),
        # so do bridges
        (
            "link C1: BR.L -- D.stage 1 via cat6 60 m\nlink N1: NB.pri -- BR.M via cat6 9 m\npatch NB.mic 1 -> D.ch 1",
            True,
        ),
        (
            "link C1: DUMB.L -- D.stage 1 via cat6 60 m\nlink N1: NB.pri -- DUMB.M via cat6 9 m\n"
            "patch NB.mic 1 -> D.ch 1",
            False,
        ),
        # an engine is set by itself and through its surface
        (
            "link C1: S.A -- CORE.stage via cat6 9 m\nlink K1: CORE.net -- FACE.net via cat6 60 m\n"
            "patch S.mic 1 -> CORE.ch 1",
            True,
        ),
    ],
)
def test_does_gain_move(rig: str, moves: bool) -> None:
    assert (gain(rig).cut == ()) is moves


def test_a_data_line_brings_control_where_the_sound_line_does_not() -> None:
    rig = """\
model half16 {
  kind stage-box
  inputs mic 1-16 { preamp; gain remote }
  digital A { protocol fernlink }
  data ctl { control fern }
}
box X is half16 in wing
link C1: X.A -- D.stage 1 via cat6 60 m
patch X.mic 1-2 -> D.ch 1-2
"""
    assert [str(port) for port in gain(rig).cut] == ["X.mic 1", "X.mic 2"]
    assert gain(rig + "link K1: X.ctl -- D.net via cat6 60 m").cut == ()
    switched = "link K1: X.ctl -- H.port 1 via cat6 5 m\nlink K2: H.port 2 -- D.net via cat6 60 m"
    assert gain(rig + switched).cut == ()
    # half of the way is none
    assert gain(rig + "link K1: X.ctl -- H.port 1 via cat6 5 m").cut != ()


ONE = "link C1: S.A -- D.stage 1 via cat6 60 m\npatch S.mic 1-2 -> D.ch 1-2\n"
TWO = ONE + "link C2: S.B -- E.stage 1 via cat6 9 m\npatch S.mic 1-2 -> E.ch 1-2\n"
TABLET = "link K1: S.ctl -- H.port 1 via cat6 5 m\nlink TAB.air -- H.air\n"


@pytest.mark.parametrize(
    ("rig", "owner", "cut", "shared", "lone"),
    [
        # the only desk that is patched
        (ONE, "D", 0, 0, 0),
        # two desks: whoever turns last moves both
        (TWO, "", 0, 2, 0),
        (TWO + "control S.mic 1-2 by E", "E", 0, 0, 0),
        (TWO + "control S.mic 1 by E", "E", 0, 1, 0),
        # a line may name a box that cannot
        (ONE + "control S.mic 1-2 by O", "O", 2, 0, 0),
        # a recorder owns nothing
        ("link C1: S.A -- PC.in via cat6 60 m\npatch S.mic 1-3 -> PC.rec 1-3", "", 0, 0, 3),
        # a tablet owns gain where a line says so, and reaches it by radio
        (ONE + TABLET, "D", 0, 0, 0),
        (ONE + TABLET + "control S.mic 1-2 by TAB", "TAB", 0, 0, 0),
        (ONE + "control S.mic 1-2 by TAB", "TAB", 2, 0, 0),
        # a surface too
        (
            "link C1: S.A -- CORE.stage via cat6 9 m\nlink K1: CORE.net -- FACE.net via cat6 60 m\n"
            "patch S.mic 1 -> CORE.ch 1\ncontrol S.mic 1 by FACE",
            "FACE",
            0,
            0,
            0,
        ),
    ],
)
def test_whose_it_is(rig: str, owner: str, cut: int, shared: int, lone: int) -> None:
    found = gain(rig)
    assert (found.owner, len(found.cut), len(found.shared), len(found.lone)) == (owner, cut, shared, lone)


@pytest.mark.parametrize(
    "rig",
    [
        "link C1: S.A -- D.stage 1 via cat6 60 m",  # patched nowhere
        "link C1: S.A -- D.stage 1 via cat6 160 m\npatch S.mic 1 -> D.ch 1",  # its sound does not arrive
        "patch D.local 1 -> D.ch 1",  # no remote gain
    ],
)
def test_of_these_nothing_is_said(rig: str) -> None:
    assert gains(rig) == ()


def test_each_preamp_by_itself() -> None:
    found = gain(TWO.replace("S.mic 1-2 -> E.ch 1-2", "S.mic 2-3 -> E.ch 2-3"))
    assert [str(port) for port in found.ports] == ["S.mic 1", "S.mic 2", "S.mic 3"]
    assert (found.owners, found.desks) == (("D", "", "E"), ("D", "E"))
