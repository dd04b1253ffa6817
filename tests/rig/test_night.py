"""A night on top of a house file: what it takes away, and what it changes."""

from __future__ import annotations

import pytest

from rigdsl.rig import Rig, read
from tests.rig.said import clean, ports, short

GEAR = """
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A, B { protocol aes50 } }
model desk32 { kind console; channels ch 1-32; mixes mix 1-16; digital stage 1-2 { protocol aes50 } }
"""
HOUSE = (
    GEAR
    + """
rig "The house" { lead xlr; slack 3 m }
zone drums at (0, 4) m; zone wing at (6, 1) m; zone foh at (0, -28) m
way foh -- wing 65 m
box DESK "Main desk" is desk32 in foh
box SL "Stage left rack" is nw16 in wing
box OLD-RACK is nw16 in wing
link C01: SL.A -- DESK.stage 1 via cat6 75 m
link C07: OLD-RACK.A -- DESK.stage 2 via cat6 80 m
source kick dynamic in drums to SL 1 via xlr 6 m
source keys line in wing to SL 14-15
source vox dynamic in drums to OLD-RACK 1
output wdg wedge in drums from SL 1
output side wedge in drums from OLD-RACK 2
patch kick, keys, SL.mic 2 -> DESK.ch 1-4
patch vox, OLD-RACK.mic 2-3 -> DESK.ch 5-7
patch DESK.mix 1-2 -> wdg, side
patch DESK.mix 3-4 -> SL.line 3, OLD-RACK.line 3
clock DESK
control SL.mic 1-16, OLD-RACK.mic 1-16 by DESK
keep SL.mic 16, OLD-RACK.mic 16 for "support act"
accept unused-port on OLD-RACK.mic 12 because "away for repair"
"""
)
NIGHT = 'rig "Tonight" {}\nuse "house.rig"\n'


def tonight(text: str) -> Rig:
    """A night that reads without a fault."""
    return clean(NIGHT + text, house=HOUSE)


def patched(rig: Rig) -> list[str]:
    """All patches by name."""
    return [patch.name for patch in rig.patches]


WHOLE = [
    "kick, keys, SL.mic 2 -> DESK.ch 1-4",
    "vox, OLD-RACK.mic 2-3 -> DESK.ch 5-7",
    "DESK.mix 1-2 -> wdg, side",
    "DESK.mix 3-4 -> SL.line 3, OLD-RACK.line 3",
]


def test_a_night_that_changes_nothing() -> None:
    rig = tonight("")
    assert (rig.head.title, rig.head.lead) == ("Tonight", "xlr")
    assert list(rig.boxes) == ["DESK", "SL", "OLD-RACK"]
    assert patched(rig) == WHOLE


@pytest.mark.parametrize(
    ("line", "things", "patches"),
    [
        # A link goes by itself.
        ("without C07", {"links": ["C01"]}, WHOLE),
        # A source or an output goes with its plug and its patches.
        (
            "without kick",
            {"sources": ["keys", "vox"]},
            ["keys, SL.mic 2 -> DESK.ch 2-4", *WHOLE[1:]],
        ),
        # Stereo in the middle of a list: the others keep their channels.
        (
            "without keys",
            {"sources": ["kick", "vox"]},
            ["kick, SL.mic 2 -> DESK.ch 1,4", *WHOLE[1:]],
        ),
        ("without wdg", {"outputs": ["side"]}, [*WHOLE[:2], "DESK.mix 2 -> side", WHOLE[3]]),
        # A box goes with its cables, plugs and patches; what was plugged into it stays, unplugged.
        (
            "without OLD-RACK",
            {"boxes": ["DESK", "SL"], "links": ["C01"], "sources": ["kick", "keys", "vox"], "outputs": ["wdg", "side"]},
            [WHOLE[0], "vox -> DESK.ch 5", "DESK.mix 1-2 -> wdg, side", "DESK.mix 3 -> SL.line 3"],
        ),
        # A zone goes with all that stands in it.
        (
            "without drums",
            {"zones": ["wing", "foh"], "sources": ["keys"], "outputs": []},
            ["keys, SL.mic 2 -> DESK.ch 2-4", "OLD-RACK.mic 2-3 -> DESK.ch 6-7", WHOLE[3]],
        ),
        (
            "without wing",
            {"zones": ["drums", "foh"], "boxes": ["DESK"], "links": [], "sources": ["kick", "vox"]},
            ["kick -> DESK.ch 1", "vox -> DESK.ch 5", "DESK.mix 1-2 -> wdg, side"],
        ),
        # Several at once.
        (
            "without C07, OLD-RACK, vox, side",
            {"boxes": ["DESK", "SL"], "links": ["C01"], "sources": ["kick", "keys"], "outputs": ["wdg"]},
            [WHOLE[0], "DESK.mix 1 -> wdg", "DESK.mix 3 -> SL.line 3"],
        ),
    ],
)
def test_without(line: str, things: dict[str, list[str]], patches: list[str]) -> None:
    rig = tonight(line)
    assert {kind: list(getattr(rig, kind)) for kind in things} == things
    assert patched(rig) == patches


def test_lines_about_a_box_that_is_gone_go_too() -> None:
    rig = tonight("without OLD-RACK")
    assert [str(port.box) for control in rig.controls for port in control.ports] == ["SL"] * 16
    assert [ports(keep.ports) for keep in rig.keeps] == [["SL.mic 16"]]
    assert rig.sources["vox"].ports == ()
    assert rig.incomplete == frozenset()
    assert tonight("without DESK").clocks == ()


def test_names_and_sockets_are_free_again() -> None:
    rig = tonight("""
        without C07, OLD-RACK, kick
        box OLD-RACK "New rack" is nw16 in drums
        link C07: OLD-RACK.B -- DESK.stage 2 via cat6 60 m
        source kick condenser in drums to OLD-RACK 4 via xlr 3 m
        patch kick -> DESK.ch 1
    """)
    assert rig.boxes["OLD-RACK"].zone == "drums"
    assert [(str(a), str(b)) for a, b in rig.links["C07"].joins] == [("OLD-RACK.B", "DESK.stage 2")]
    assert (rig.sources["kick"].type, ports(rig.sources["kick"].ports)) == ("condenser", ["OLD-RACK.mic 4"])
    # What the house said of the old ones does not come back with the names.
    assert patched(rig) == [
        "kick -> DESK.ch 1",
        "keys, SL.mic 2 -> DESK.ch 2-4",
        "vox -> DESK.ch 5",
        "DESK.mix 1-2 -> wdg, side",
        "DESK.mix 3 -> SL.line 3",
    ]
    assert rig.sources["vox"].ports == ()


@pytest.mark.parametrize(
    ("line", "patches"),
    [
        ("unpatch DESK.ch 1", ["keys, SL.mic 2 -> DESK.ch 2-4", *WHOLE[1:]]),
        ("unpatch DESK.ch 1-4", WHOLE[1:]),
        # A patch by name is found by its channel, and by its name.
        ("unpatch DESK.ch 2-3", ["kick, SL.mic 2 -> DESK.ch 1,4", *WHOLE[1:]]),
        ("unpatch keys", ["kick, SL.mic 2 -> DESK.ch 1,4", *WHOLE[1:]]),
        ("unpatch wdg", [*WHOLE[:2], "DESK.mix 2 -> side", WHOLE[3]]),
        # By what feeds, too.
        ("unpatch SL.mic 2", ["kick, keys -> DESK.ch 1-3", *WHOLE[1:]]),
        ("unpatch DESK.mix 1-2", [*WHOLE[:2], WHOLE[3]]),
        ("unpatch DESK.ch 1, DESK.ch 5-7", ["keys, SL.mic 2 -> DESK.ch 2-4", *WHOLE[2:]]),
        ("unpatch DESK.ch", WHOLE[2:]),
    ],
)
def test_unpatch(line: str, patches: list[str]) -> None:
    assert patched(tonight(line)) == patches


def test_the_id_of_a_cable_is_free_where_its_box_is_gone() -> None:
    rig = tonight("without OLD-RACK\nlink C07: SL.B -- DESK.stage 2 via cat6 60 m")
    assert [(str(a), str(b)) for a, b in rig.links["C07"].joins] == [("SL.B", "DESK.stage 2")]


def test_a_cable_with_several_groups_keeps_those_that_are_left() -> None:
    house = (
        GEAR
        + """
        box A is nw16; box B is nw16; box C is nw16
        link X1 via cat6 10 m { A.A -- B.A; A.B -- C.A }
        link X2 via cat6 10 m { A.line 1 -- B.mic 1; B.line 1 -- A.mic 1 }
    """
    )
    rig = clean('rig "x" {}\nuse "house.rig"\nwithout B', house=house)
    assert list(rig.links) == ["X1"]
    assert [(str(a), str(b)) for a, b in rig.links["X1"].joins] == [("A.B", "C.A")]


def test_unpatch_does_not_reach_the_file_it_stands_in() -> None:
    rig = tonight("unpatch DESK.ch 1\npatch SL.mic 9 -> DESK.ch 1")
    assert "SL.mic 9 -> DESK.ch 1" in patched(rig)


def test_replug() -> None:
    rig = tonight("""
        replug kick to SL 3 via jack 4 m
        replug keys to SL 9-10
        replug wdg from SL.line 5 via xlr 20 m
    """)
    kick, keys, wdg = rig.sources["kick"], rig.sources["keys"], rig.outputs["wdg"]
    assert kick.lead is not None
    assert keys.lead is not None
    assert wdg.lead is not None
    assert (ports(kick.ports), kick.lead.cable.name, kick.lead.length_m) == (["SL.mic 3"], "jack", 4.0)
    # Without `via`, as any `to` without it: the lead of the head, as long as it is measured.
    assert (ports(keys.ports), keys.lead.cable.name, keys.lead.length_m) == (["SL.mic 9", "SL.mic 10"], "xlr", 3.0)
    assert (ports(wdg.ports), wdg.lead.length_m) == (["SL.line 5"], 20.0)
    # The type, the label and the patches by name stay.
    assert kick.type == "dynamic"
    assert patched(rig) == WHOLE


def test_change() -> None:
    rig = tonight("""
        change DESK { rate 96 kHz; label "Desk for the night" }
        change C01 { redundant; loom T1 }
        change kick { phantom; mic "active" }
        change drums { public }
    """)
    assert (rig.boxes["DESK"].rate_hz, rig.boxes["DESK"].title) == (96_000, "Desk for the night")
    assert (rig.links["C01"].redundant, rig.links["C01"].loom) == (True, "T1")
    assert (rig.sources["kick"].needs_phantom, rig.sources["kick"].mic) == (True, "active")
    assert rig.zones["drums"].public


def test_a_change_is_on_top_of_what_the_line_says_itself() -> None:
    house = GEAR + 'box DESK is desk32 { rate 44.1 kHz; note "house" }'
    rig = clean('rig "x" {}\nuse "house.rig"\nchange DESK { rate 96 kHz }', house=house)
    assert (rig.boxes["DESK"].rate_hz, rig.boxes["DESK"].note) == (96_000, "house")


def test_three_levels() -> None:
    """The tour uses the house, the night uses the tour; the uppermost has the last word, at any depth."""
    tour = """
        use "house.rig"
        without OLD-RACK
        replug kick to SL 5 via xlr 5 m
        change DESK { rate 96 kHz; net primary }
        unpatch DESK.ch 4
        patch SL.mic 9 -> DESK.ch 9
        source tambourine dynamic in drums to SL 8
    """
    night = """
        rig "Tonight" {}
        use "tour.rig"
        without tambourine
        replug kick to SL 7 via xlr 7 m
        change DESK { rate 48 kHz }
        unpatch DESK.ch 9
    """
    rig = clean(night, tour=tour, house=HOUSE)
    assert list(rig.boxes) == ["DESK", "SL"]
    assert list(rig.sources) == ["kick", "keys", "vox"]
    assert ports(rig.sources["kick"].ports) == ["SL.mic 7"]
    assert (rig.boxes["DESK"].rate_hz, rig.boxes["DESK"].net) == (48_000, "primary")
    assert patched(rig)[0] == "kick, keys -> DESK.ch 1-3"
    assert "SL.mic 9 -> DESK.ch 9" not in patched(rig)


@pytest.mark.parametrize(
    ("line", "rule", "place", "message", "help"),
    [
        (
            "without C08",
            "unknown-name",
            "C08",
            "no used file has a link, box, source, output, supply or zone called `C08`",
            "there is a link with a similar name: `C07`",
        ),
        (
            "without C07, OLDRACK",
            "unknown-name",
            "OLDRACK",
            "no used file has a link, box, source, output, supply or zone called `OLDRACK`",
            "there is a box with a similar name: `OLD-RACK`",
        ),
        (
            "zone here\nwithout here",
            "unknown-name",
            "here",
            "`here` is of this very file: `without` takes away what a used file brought",
            "delete its line instead",
        ),
        # Gear has no place in a rig: there is nothing to take away.
        (
            "without desk32",
            "unknown-name",
            "desk32",
            "no used file has a link, box, source, output, supply or zone called `desk32`",
            "there is a box with a similar name: `DESK`",
        ),
        (
            "unpatch DESK.ch 9",
            "unknown-name",
            "DESK.ch 9",
            "no used file patches `DESK.ch 9`: there is nothing to take away",
            "what is patched there: `DESK.ch 1-7`",
        ),
        (
            "unpatch kik",
            "unknown-name",
            "kik",
            "nothing is called `kik`",
            "there is a source with a similar name: `kick`",
        ),
        (
            "unpatch DESK.ch 33",
            "no-such-port",
            "33",
            "`DESK.ch` has sockets 1 to 32, and `33` is not among them",
            "its groups are: `ch 1-32`, `mix 1-16`, `stage 1-2`",
        ),
        (
            "replug kik to SL 3",
            "unknown-name",
            "kik",
            "there is no source or output called `kik`",
            "there is a source with a similar name: `kick`",
        ),
        (
            "replug DESK to SL 3",
            "unknown-name",
            "DESK",
            "`DESK` is a box, and a source or output is needed here",
            "name a source or output of this file or of one that it uses",
        ),
        (
            "replug kick to SL 17",
            "no-such-port",
            "17",
            "`SL.mic` has sockets 1 to 16, and `17` is not among them",
            "its groups are: `mic 1-16`, `line 1-8`, `A`, `B`",
        ),
        (
            "replug kick from SL 3",
            "syntax-error",
            "from",
            "`kick` is a source, and goes `to` a socket",
            "write `replug kick to ...`",
        ),
        (
            "replug wdg to SL.line 3",
            "syntax-error",
            "to",
            "`wdg` is an output, and comes `from` a socket",
            "write `replug wdg from ...`",
        ),
        (
            "change DSK { rate 96 kHz }",
            "unknown-name",
            "DSK",
            "there is no zone, box, link, source, output or supply called `DSK`",
            "there is a box with a similar name: `DESK`",
        ),
        (
            "change DESK { pace 96 kHz }",
            "unknown-name",
            "pace",
            "a box has no fact `pace`",
            "",
        ),
        # What was taken away cannot be changed.
        (
            "without vox\nreplug vox to SL 9",
            "unknown-name",
            "vox",
            "there is no source or output called `vox`",
            "",
        ),
        (
            "without OLD-RACK\nlink C09: OLD-RACK.B -- SL.B via cat6 3 m",
            "unknown-name",
            "OLD-RACK",
            "there is no box called `OLD-RACK`",
            "define it: `box NAME is MODEL in ZONE`",
        ),
    ],
)
def test_what_is_wrong_with_a_night(line: str, rule: str, place: str, message: str, help: str) -> None:
    ((found_rule, found_place, found_message, found_help),) = short(read(NIGHT + line, house=HOUSE).findings)
    assert (found_rule, found_place, found_message) == (rule, place, message)
    if help:
        assert found_help == help


@pytest.mark.parametrize(
    "line", ["without C07", "unpatch DESK.ch 1", "replug kick to SL 3", "change DESK { rate 96 kHz }", "clock DESK"]
)
def test_a_house_file_that_is_not_there_is_said_once(line: str) -> None:
    assert [finding.rule for finding in read(NIGHT + line).findings] == ["file-missing"]
