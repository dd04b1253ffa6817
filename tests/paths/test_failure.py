"""What falls silent when cables, boxes, plugs, looms and supplies fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.paths import Paths
from rigdsl.paths.failure import Failures
from rigdsl.rig import Power, Rig, Supply
from tests.paths.broken import built, rigs, silent
from tests.paths.small import rig

Silent = tuple[list[str], list[str]]

STAGE = """\
box DESK is desk32 in foh; box SL is nw16 in wing; box SR is nw16 in front; box DR is sub12 in drums
link C01: SL.A -- DESK.stage 1 via cat6s 60 m
link C02: SR.A -- SL.B via cat6s 20 m
link L01: DR.tail 1-2 -- SL.mic 1-2 via loom12 15 m { loom T1 }
source kick dynamic in drums to DR 1 via xlr 6 m
source oh dynamic in drums to DR 2, SR.mic 2 via xlr 6 m
source vox dynamic in front to SR.mic 1 via xlr 6 m
output wedge wedge in front from SR.line 1 via xlr 6 m
output main main in foh from DESK.local-out 1 via xlr 6 m
patch SL.mic 1-2, SR.mic 1-2 -> DESK.ch 1-4
patch DESK.mix 1 -> wedge
patch DESK.mix 2 -> DESK.local-out 1
"""
TWO_DESKS = """\
box SP is split8 in wing; box FOH is desk12 in foh; box MON is desk12 in wing
link L01: SP.direct 1 -- FOH.local 1 via xlr 60 m
link L02: SP.iso 1 -- MON.local 1 via xlr 5 m
source vox dynamic in front to SP.in 1 via xlr 6 m
output pa main in front from FOH.local-out 1 via xlr 6 m
"""
NETWORKS = """\
box DESK is desk32 in foh; box SL is nb8 in wing; box SWA is hub8 in wing; box SWB is hub8 in wing
link A1: SL.pri -- SWA.port 1 via cat6 5 m; link A2: SWA.port 2 -- DESK.pri via cat6 60 m
link B1: SL.sec -- SWB.port 1 via cat6 5 m; link B2: SWB.port 2 -- DESK.sec via cat6 60 m
source kick dynamic in drums to SL.mic 1 via xlr 6 m
output wedge wedge in front from SL.line 1 via xlr 6 m
patch SL.mic 1 -> DESK.ch 1
patch DESK.mix 1 -> SL.line 1
"""
PAIR = """\
box DESK is desk32 in foh; box SL is nw16 in wing
link C01: SL.A -- DESK.stage 1 via cat6s 60 m { redundant }
link C02: SL.B -- DESK.stage 2 via cat6s 60 m { redundant }
source kick dynamic in drums to SL.mic 1 via xlr 6 m
patch SL.mic 1 -> DESK.ch 1
"""
PROCESSOR = """\
box FOH is desk12 in foh; box P is proc in wing; box T is top8 in wing; box U is top8 in wing
link L01: FOH.local-out 1 -- P.in 1 via xlr 60 m
link L02: P.out 1 -- T.in via xlr 5 m
link L03: T.link -- U.in via xlr 5 m
"""

CARDS = """\
model deskx { kind console; channels ch 1-8; mixes mix 1-4; outputs local-out 1-4; slot opt 1-2 takes my64 }
model fl64 { kind card; fits my64; digital pri, sec { protocol fernlink; redundant } }
model comp2 { kind outboard; inputs in 1-2; outputs out 1-2 }
box DESK is deskx in foh; box DC is fl64 in DESK.opt 1; box DD is fl64 in DESK.opt 2; box SL is nw16 in wing
box CP is comp2 in foh; box SR is nw16 in wing
link C01: SL.A -- DC.pri via cat6s 60 m; link C02: SR.A -- DD.pri via cat6s 60 m; link C03: SL.B -- SR.B via cat6s 9 m
source kick dynamic in drums to SL.mic 1 via xlr 6 m; source vox dynamic in front to SR.mic 1 via xlr 6 m
output wedge wedge in front from SL.line 1 via xlr 6 m; output main main in foh from DESK.local-out 1 via xlr 3 m
patch kick -> DESK.ch 1; patch vox -> DESK.ch 2; patch DESK.mix 1 -> wedge; patch DESK.mix 2 -> main
insert DESK.ch 2 through CP 1; insert DESK.mix 2 through CP 2
"""


def lost(made: Rig, *names: str) -> Silent:
    found = Failures(Paths(made)).lost_with(names)
    return list(found.silent_sources), list(found.silent_outputs)


@pytest.mark.parametrize(
    ("text", "names", "expected"),
    [
        (STAGE, ["C01"], (["kick", "oh", "vox"], ["wedge"])),
        (STAGE, ["C02"], (["oh", "vox"], ["wedge"])),  # one line of two is enough to lose it
        (STAGE, ["L01"], (["kick", "oh"], [])),
        (STAGE, ["loom T1"], (["kick", "oh"], [])),
        (STAGE, ["DR"], (["kick", "oh"], [])),
        (STAGE, ["SR"], (["oh", "vox"], ["wedge"])),
        (STAGE, ["SL"], (["kick", "oh", "vox"], ["wedge"])),  # it carries what is chained behind it
        (STAGE, ["DESK"], (["kick", "oh", "vox"], ["main", "wedge"])),  # and what it feeds itself
        (STAGE, ["vox"], (["vox"], [])),
        (STAGE, ["main"], ([], ["main"])),
        (STAGE, ["vox", "L01"], (["kick", "oh", "vox"], [])),
        (STAGE, [], ([], [])),
        (TWO_DESKS, ["L01"], ([], [])),  # still heard at the other desk
        (TWO_DESKS, ["FOH"], ([], ["pa"])),
        (TWO_DESKS, ["L01", "L02"], (["vox"], [])),
        (TWO_DESKS, ["FOH", "MON"], (["vox"], ["pa"])),
        (TWO_DESKS, ["SP"], (["vox"], [])),
        (NETWORKS, ["A1"], ([], [])),
        (NETWORKS, ["SWA"], ([], [])),
        (NETWORKS, ["SWA", "B2"], (["kick"], ["wedge"])),
        (NETWORKS, ["A1", "A2"], ([], [])),
        (PAIR, ["C01"], ([], [])),
        (PAIR, ["C02"], ([], [])),
        (PAIR, ["C01", "C02"], (["kick"], [])),
        (PROCESSOR, ["L01"], ([], ["T", "U"])),
        (PROCESSOR, ["L03"], ([], ["U"])),
        (PROCESSOR, ["T"], ([], ["T", "U"])),
        (PROCESSOR, ["FOH"], ([], ["T", "U"])),
        (CARDS, ["DC"], ([], [])),  # the other box's line and card carry it too
        (CARDS, ["C01"], ([], [])),
        (CARDS, ["DC", "DD"], (["kick", "vox"], ["wedge"])),
        (CARDS, ["C01", "DD"], (["kick", "vox"], ["wedge"])),
        (CARDS, ["DESK"], (["kick", "vox"], ["main", "wedge"])),
        (CARDS, ["SR"], (["vox"], [])),
        (CARDS, ["CP"], (["vox"], ["main"])),  # what is inserted does not come back
    ],
)
def test_what_falls_silent(text: str, names: list[str], expected: Silent) -> None:
    assert lost(rig(text), *names) == expected


def test_a_ring_of_boxes_that_is_cut_goes_round_the_other_way_as_far_as_its_chain_reaches() -> None:
    text = "box DESK is desk32 in foh\n" + "\n".join(
        f"box S{n} is nw16 in wing; source v{n} dynamic in wing to S{n}.mic 1 via xlr 3 m\n"
        f"patch S{n}.mic 1 -> DESK.ch {n}"
        for n in range(1, 7)
    )
    text += "\nlink C1: DESK.stage 1 -- S1.A via cat6s 9 m\nlink C7: S6.B -- DESK.stage 2 via cat6s 9 m\n"
    text += "\n".join(f"link C{n + 1}: S{n}.B -- S{n + 1}.A via cat6s 9 m" for n in range(1, 6))
    made = rig(text)
    assert lost(made, "C4") == ([], [])  # three boxes on either side, as before
    assert lost(made, "C7") == (["v5", "v6"], [])  # six behind one port, and fernlink takes four
    assert lost(made, "C1") == (["v1", "v2"], [])


def powered(made: Rig, *powers: tuple[str, str]) -> Rig:
    place = next(iter(made.boxes.values())).place
    supplies = {name: Supply(name, "", 230, 16, "", place) for _, name in powers}
    return replace(made, supplies=supplies, powers=tuple(Power((box,), name, place) for box, name in powers))


@pytest.mark.parametrize(
    ("powers", "names", "expected"),
    [
        ([("SWA", "D1"), ("SWB", "D2")], ["D1"], ([], [])),
        ([("SWA", "D1"), ("SWB", "D1")], ["D1"], (["kick"], ["wedge"])),
        ([("SWA", "D1"), ("SWB", "D1"), ("SWB", "D2")], ["D1"], ([], [])),  # two supplies, one stands
        ([("SWA", "D1"), ("SWB", "D1"), ("SWB", "D2")], ["D1", "D2"], (["kick"], ["wedge"])),
    ],
)
def test_a_supply_takes_the_boxes_that_have_no_other(
    powers: list[tuple[str, str]], names: list[str], expected: Silent
) -> None:
    assert lost(powered(rig(NETWORKS), *powers), *names) == expected


CABLE_FED = """\
model pb {
  kind stage-box; inputs mic 1-8 { preamp }; outputs line 1-4; poe 13 W
  digital pri { protocol brooknet; net primary }; digital sec { protocol brooknet; net secondary }
}
model giver { kind switch; digital port 1-8; gives poe 60 W }
model fed { kind switch; digital port 1-8; gives poe 60 W; poe 30 W }
model loose { kind panel; inputs in 1-9; outputs out 1-9 }
box LOOSE is loose
box DESK is desk32 in foh; box SWA is giver in wing; box SWB is SECOND in wing; box SL is pb in wing
link A2: SWA.port 2 -- DESK.pri via cat6 60 m; link B2: SWB.port 2 -- DESK.sec via cat6 60 m
link A1: SL.pri -- SWA.port 1 via cat6 5 m; link B1: SL.sec -- SWB.port 1 via cat6 5 m
source kick dynamic in wing to SL.mic 1 via xlr 6 m
output wedge wedge in foh from SL.line 1 via xlr 6 m
patch SL.mic 1 -> DESK.ch 1; patch DESK.mix 1 -> SL.line 1
"""
CHAINED = CABLE_FED.replace("SL.pri -- SWA.port 1", "SWB.port 8 -- SWA.port 8").replace("SECOND", "fed")
DARK: Silent = (["kick"], ["wedge"])


@pytest.mark.parametrize(
    ("text", "powers", "names", "expected"),
    [
        (CABLE_FED.replace("SECOND", "hub8"), [], ["SWA"], DARK),  # the other switch gives no power
        (CABLE_FED.replace("SECOND", "hub8"), [], ["A1"], DARK),
        (CABLE_FED.replace("SECOND", "hub8"), [], ["A2"], ([], [])),  # still powered, heard over the other
        (CABLE_FED.replace("SECOND", "hub8"), [], ["SWB"], ([], [])),
        (CABLE_FED.replace("SECOND", "hub8"), [("SL", "D1")], ["SWA"], ([], [])),  # on the wall too
        (CABLE_FED.replace("SECOND", "hub8"), [("SWA", "D1")], ["D1"], DARK),
        (CABLE_FED.replace("SECOND", "giver"), [], ["SWA"], ([], [])),  # two that give
        (CABLE_FED.replace("SECOND", "giver"), [], ["SWA", "B1"], DARK),
        (CABLE_FED.replace("SECOND", "giver"), [("SWA", "D1"), ("SWB", "D1")], ["D1"], DARK),
        (CHAINED, [], ["SWA"], DARK),  # it powers the switch that powers the box
        (CHAINED, [("SWB", "D1")], ["SWA"], ([], [])),
    ],
)
def test_power_over_the_data_cable_goes_with_the_last_that_gave_it(
    text: str, powers: list[tuple[str, str]], names: list[str], expected: Silent
) -> None:
    made = powered(rig(text), *powers)
    assert lost(made, *names) == expected == silent(made, names)


def test_a_card_goes_with_the_box_that_it_sits_in() -> None:
    made = rig(NETWORKS)
    slot = next(iter(made.sources.values())).ports[0]._replace(box="DESK", group="slot", number=1)
    carded = replace(made, boxes={**made.boxes, "SL": replace(made.boxes["SL"], slot=slot)})
    assert lost(carded, "DESK") == (["kick"], ["wedge"])
    assert Failures(Paths(carded)).lost_with(["DESK"]).gone.boxes == {"DESK", "SL"}


def test_what_stands_another_way_is_named() -> None:
    assert Failures(Paths(rig(NETWORKS))).lost_with(["A1"]).standing == ("kick", "wedge")


def test_an_unknown_name_is_an_error() -> None:
    with pytest.raises(LookupError, match="C99"):
        lost(rig(STAGE), "C99")


def test_the_worst_come_first_and_ties_in_natural_order() -> None:
    ranked = [(one.name, one.kind, one.lost.size) for one in Failures(Paths(rig(STAGE))).ranking]
    assert ranked == [
        ("DESK", "box", 5),
        ("C01", "cable", 4),
        ("SL", "box", 4),
        ("C02", "cable", 3),
        ("SR", "box", 3),
        ("DR", "box", 2),
        ("L01", "cable", 2),
    ]


@settings(max_examples=100, deadline=None)
@given(rigs(), st.data())
def test_it_is_as_if_the_cables_were_pulled_out(text: str, data: st.DataObject) -> None:
    """Each thing alone, and some together: the quick way against a rig without them, worked out anew."""
    made = built(text)
    assert [finding.message for finding in made.findings] == []
    things = [*made.links, *made.boxes, *made.sources, *made.outputs]
    for name in things:
        assert lost(made, name) == silent(made, [name])
    several = data.draw(st.lists(st.sampled_from(things or ["LOOSE"]), min_size=2, max_size=4))
    assert lost(made, *several) == silent(made, several)


@settings(max_examples=60, deadline=None)
@given(rigs(), st.data())
def test_losing_more_silences_no_less(text: str, data: st.DataObject) -> None:
    made = built(text)
    names = data.draw(st.lists(st.sampled_from([*made.links, *made.boxes]), min_size=1, max_size=3, unique=True))
    more = [*names, data.draw(st.sampled_from([*made.boxes]))]
    for few, many in zip(lost(made, *names), lost(made, *more), strict=True):
        assert set(few) <= set(many)
