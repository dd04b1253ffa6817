"""What each paper says of a small night on top of a house."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from rigdsl.papers import PAPERS, Facts
from rigdsl.papers.cautions import cautions_of
from rigdsl.paths import Paths
from rigdsl.rig import DictReader, read
from rigdsl.rig import load as load_rig
from rigdsl.show import load
from tests.papers.made import EXAMPLES, HOUSE, NIGHT, facts_of, made, only, records

SPLIT = """\
model desk { kind console; channels ch 1-16; digital stage { protocol aes50 } }
model nw { kind stage-box; inputs mic 1-2 { preamp; phantom 48 V 10 mA }; digital A { protocol aes50 } }
model split { kind splitter; inputs in 1; outputs direct 1; outputs iso 1; pass in -> direct; pass in -> iso }
zone st
box SP is split in st
box A is nw in st
box B is nw in st
box F is desk in st
box M is desk in st
link L1: SP.direct -- A.mic 1 via xlr 3 m
link L2: SP.iso -- B.mic 1 via xlr 3 m
link D1: A.A -- F.stage via cat6 9 m
link D2: B.A -- M.stage via cat6 9 m
source kick dynamic in st to SP 1 via xlr 3 m
patch kick -> F.ch 1
patch B.mic 1 -> M.ch 7
"""


def _desks(text: str) -> dict[str, object]:
    """The channels that each socket of a rig leads to, as the box sheets say."""
    rig = read(f'rig "R" {{ rate 48 kHz }}\n{text}\n')
    return {
        f"{table.title}.{row['socket']}": row["channel or mix"]
        for table in made("box-sheets", Facts(rig, Paths(rig)))
        for row in records(table)
        if "channel or mix" in row
    }


class TestBoxSheets:
    def test_every_socket_with_what_is_on_it_and_where_it_goes(self) -> None:
        rows = {row["socket"]: row for row in only("box-sheets", "SL: Stage rack")}
        loom = {"cable": "L01 loom8 7 m, loom T1"}
        assert rows["mic 1"] == {
            "socket": "mic 1",
            "what is on it": "Kick",
            **loom,
            "other end": "DR.tail 1",
            "channel or mix": "DESK.ch 1",
            "phantom": "on",
        }
        assert rows["mic 4"]["what is on it"] == "a line that nothing is on"
        assert rows["mic 5"]["what is on it"] == "Guitar"
        assert rows["mic 8"] == {"socket": "mic 8", "what is on it": "free"}
        assert rows["line 1"]["channel or mix"] == "DESK.mix 1"
        assert rows["A"] == {"socket": "A", "what is on it": "aes50", "cable": "C01 c6 30 m", "other end": "DESK.stage"}

    def test_behind_a_split_each_leg_has_its_own_desk(self) -> None:
        """By hand: before the split both desks get it, on each leg the desk at the end of that leg alone."""
        assert _desks(SPLIT) == {
            "SP.in": "F.ch 1, M.ch 7",
            "SP.direct": "F.ch 1",
            "A.mic 1": "F.ch 1",
            "SP.iso": "M.ch 7",
            "B.mic 1": "M.ch 7",
        }

    def test_what_is_inserted_is_on_the_sheet_of_the_outboard(self) -> None:
        """Its sockets are taken, though no link and no source names them."""
        night = NIGHT + (
            "model comp { kind outboard; inputs in 1-2; outputs out 1-2; pass in -> out }\n"
            "box CP is comp in foh\ninsert DESK.ch 1 through CP 2 via lead 2 m\n"
        )
        rows = {row["socket"]: row for row in only("box-sheets", "CP", facts_of(night))}
        there = {"what is on it": "insert of DESK.ch 1", "cable": "lead 2 m", "channel or mix": "DESK.ch 1"}
        assert rows["in 2"] == {"socket": "in 2", **there}
        assert rows["out 2"] == {"socket": "out 2", **there}
        assert rows["in 1"] == {"socket": "in 1", "what is on it": "free"}

    def test_what_is_kept_says_for_whom(self) -> None:
        rows = {row["socket"]: row for row in only("box-sheets", "DR: Drum sub-box")}
        assert rows["panel 4"] == {"socket": "panel 4", "what is on it": "kept for guest"}

    def test_an_amplifiers_sheet_has_its_caution(self) -> None:
        """Common practice, no source."""
        notes = {table.title: table.notes for table in made("box-sheets")}
        assert any("amplifier off" in note for note in notes["AMP"])
        assert not any("amplifier off" in note for note in notes["SL: Stage rack"])

    @pytest.mark.parametrize("show", EXAMPLES, ids=lambda path: path.stem)
    def test_each_socket_of_each_box_has_one_row(self, show: Path) -> None:
        found = load(show)
        rows = sum(len(table.rows) for table in PAPERS["box-sheets"].tables(found.facts()))
        groups = [group for box in found.rig.boxes.values() for group in box.model.groups.values()]
        sockets = ("inputs", "outputs", "digital", "data")
        assert rows == sum(group.count for group in groups if group.role in sockets and not group.soft)


class TestInputList:
    def test_phantom_is_switched_by_whoever_can_give_it(self) -> None:
        """A transformer lets no phantom through (IEC 61938 feeds it over the pair): the far desk has gain alone."""
        split = (
            "model split4 { kind splitter; inputs in 1-4; outputs direct 1-4; outputs iso 1-4\n"
            "  pass in -> direct; pass in -> iso { isolated } }\n"
            "model mon4 { kind console; channels ch 1-4; inputs mic 1-4 { preamp; phantom }; pass mic -> ch }\n"
            "box SPL is split4 in wing; box MON is mon4 in wing\n"
            "link X1: SPL.direct 1 -- SL.mic 8 via lead 3 m; link X2: SPL.iso 1 -- MON.mic 1 via lead 3 m\n"
            'source vox "Vocal" condenser in wing to SPL 1 via lead 3 m\npatch SL.mic 8 -> DESK.ch 9\n'
        )
        (row,) = (row for row in only("input-list", "", facts_of(NIGHT + split)) if row["source"] == "vox")
        assert (row["phantom"], row["gain by"]) == ("needed, by DESK", "DESK, MON")


class TestOutputList:
    def test_a_source_that_feeds_an_output_without_a_mix_is_named(self) -> None:
        direct = NIGHT.replace("patch DESK.mix 1 -> wdg", "patch keys -> wdg")
        (row,) = (row for row in only("output-list", "", facts_of(direct)) if row["output"] == "wdg")
        assert row["fed from"] == "keys"


class TestOthers:
    def test_strips_are_short_and_say_left_and_right(self) -> None:
        names = [row.get("name", "") for row in only("label-strips", "DESK.ch")]
        assert names[:5] == ["Kick", "Overheads L", "Overheads R", "Guitar", "keys"]
        assert len(names) == 16
        coloured = only("label-strips", "DESK.ch", facts_of(colours=True))
        assert [row["colour"] for row in coloured[8:11]] == ["white", "brown-black", "brown-brown"]  # IEC 60062

    @pytest.mark.parametrize("show", EXAMPLES, ids=lambda path: path.stem)
    def test_no_name_on_a_strip_is_longer_than_its_field(self, show: Path) -> None:
        found = load(show)
        names = {
            str(name).partition(" +")[0]
            for table in PAPERS["label-strips"].tables(found.facts())
            for name in table.column("name")
        }
        things = {*found.rig.sources, *found.rig.outputs, *found.rig.boxes}
        assert {name for name in names if len(name) > 12 and name.rsplit(" ", 1)[0] not in things} == set()

    def test_the_control_sheet(self) -> None:
        rows = only("control-sheet", "Gain and phantom")
        assert rows[1] == {
            "box": "SL",
            "sockets": "mic 1-3,5-6",
            "gain and phantom by": "DESK",
            "phantom on at": "mic 1-3",
            "sources": "kick, oh, gtr, keys",
        }
        assert only("control-sheet", "Clock and rate") == [
            {"boxes": "DESK, SL", "clock leader": "DESK", "rate kHz": 48, "note": "the only desk there"}
        ]
        (address,) = only("control-sheet", "Addresses and firmware")
        assert (address["address"], address["firmware"], address["serial"]) == ("10.0.0.7", "1.2", "0042")

    def test_gain_that_nobody_sets_is_not_given_to_anybody(self) -> None:
        """Sound passes, and the two do not speak one dialect: the desk does not set it."""
        mute = HOUSE.replace("digital stage { protocol aes50; control d1 }", "digital stage { protocol aes50 }")
        facts = facts_of(house=mute)
        rows = only("control-sheet", "Gain and phantom", facts)
        assert {row["gain and phantom by"] for row in rows if row["box"] == "SL"} == {"nobody"}
        assert any("rigdsl check says why" in note for note in made("control-sheet", facts)[0].notes)

    def test_tonight_against_the_house(self) -> None:
        assert only("tonight", "Taken away") == [
            {"what": "source", "name": "old", "label": "Old mic", "was": "dynamic in wing to SL 8 via lead 10 m"}
        ]
        assert only("tonight", "Changed") == [
            {"what": "patch", "name": "DESK.ch 16", "now": "unpatched"},
            {
                "what": "source",
                "name": "spare",
                "label": "Spare mic",
                "was": "DR 4 via lead 10 m",
                "now": "SL 7 via lead 3 m",
            },
            {"what": "box", "name": "SL", "label": "Stage rack", "now": 'note "behind the curtain"'},
        ]
        added = only("tonight", "Added")
        assert [row["name"] for row in added if row["what"] in ("source", "output")] == [
            "gtr",
            "keys",
            "kick",
            "oh",
            "wdg",
        ]
        assert [(row["name"], row["where"]) for row in added if row["what"] in ("patch", "keep")] == [
            ("DESK.ch 1", "from kick"),
            ("DESK.ch 2-5", "from oh, gtr, keys"),
            ("wdg", "from DESK.mix 1"),
            ("DR.panel 4", "for guest"),
        ]

    def test_tonight_is_held_against_what_it_uses_and_not_against_the_oldest_file(self) -> None:
        """A file between the two has plugged, changed and taken away: that is how the house stands."""
        middle = (
            'use "house.rig"\nwithout old\nreplug spare to SL 7 via lead 3 m\nchange SL { note "from the middle" }\n'
        )
        night = (
            'rig "Night" { rate 48 kHz }\nuse "middle.rig"\nwithout house\nreplug spare to SL 6 via lead 6 m\n'
            'supply S2 "Extra" 230 V 16 A in foh\n'
            "model comp { kind outboard; inputs in 1-2; outputs out 1-2; pass in -> out }\n"
            "box CP is comp in foh\ninsert DESK.ch 1 through CP 2 via lead 2 m\n"
        )
        files = {"night.rig": night, "middle.rig": middle, "house.rig": HOUSE}
        rig = load_rig("night.rig", DictReader(files)).rig
        facts = Facts(rig, Paths(rig), path="night.rig")
        assert [row["name"] for row in only("tonight", "Taken away", facts)] == ["house"]
        assert [(row["name"], row["was"], row["now"]) for row in only("tonight", "Changed", facts)] == [
            ("spare", "SL 7 via lead 3 m", "SL 6 via lead 6 m")
        ]
        assert [(row["what"], row["name"], row["where"]) for row in only("tonight", "Added", facts)] == [
            ("box", "CP", "Mixing place"),
            ("insert", "DESK.ch 1", "CP.in 2, CP.out 2"),
            ("supply", "S2", "Mixing place"),
        ]

    def test_a_rig_that_uses_nothing_has_no_house(self) -> None:
        rig = read('rig "R" { rate 48 kHz }\nzone z\n')
        (table,) = PAPERS["tonight"].tables(Facts(rig, Paths(rig), path=rig.zones["z"].place.source.path))
        assert table.notes[0].startswith("this rig uses no other file")

    def test_a_guest_sees_what_the_night_brings_and_no_more(self) -> None:
        assert {row["source"] for row in only("guest-sheet", "Inputs")} == {
            "Kick",
            "Overheads, left",
            "Overheads, right",
            "Guitar",
            "keys",
        }

    @pytest.mark.parametrize(
        ("guest", "sources"),
        [
            (("kick",), {"Kick"}),
            (("wing",), {"Guitar", "keys", "Spare mic"}),
            (("DR",), {"Kick", "Overheads, left", "Overheads, right"}),
            (("kick", "keys"), {"Kick", "keys"}),
        ],
    )
    def test_a_guest_that_is_named(self, guest: tuple[str, ...], sources: set[str]) -> None:
        assert {row["source"] for row in only("guest-sheet", "Inputs", replace(facts_of(), guest=guest))} == sources

    def test_cautions_fit_the_rig(self) -> None:
        """Common practice, no source: each stands where the rig has what it is about, and nowhere else."""
        facts = facts_of()
        assert [title for (title, _), _ in cautions_of(facts.rig, facts.paths)] == [
            "Mains",
            "Phantom power",
            "Ribbon microphones",
            "Amplifiers",
            "Hearing",
            "Cables where people walk",
        ]
        empty = read('rig "R" { rate 48 kHz }')
        assert list(cautions_of(empty, Paths(empty))) == []
        hall = load(next(path for path in EXAMPLES if path.stem == "saturday-night"))
        assert "Fibre" in {title for (title, _), _ in cautions_of(hall.rig, hall.paths)}

    def test_cautions_name_what_they_are_about(self) -> None:
        """A lead of a source that crosses the aisle is one to trip over; nobody stands before a recorder."""
        house = HOUSE + "zone aisle { public }\n"
        night = NIGHT + (
            "source host dynamic in aisle to SL 8 via lead 10 m\n"
            "output rec record in foh from SL.line 2 via lead 10 m\npatch DESK.mix 2 -> rec\n"
        )
        facts = facts_of(night, house)
        here = {title: names for (title, _), names in cautions_of(facts.rig, facts.paths)}
        assert here["Cables where people walk"] == "host"
        assert here["Hearing"] == "TOP, wdg"
        assert made("cautions", facts)[0].column("caution")[1].startswith("Mute, plug in, then switch phantom on")  # type: ignore[union-attr]

    def test_findings_are_numbered_as_on_the_drawings(self) -> None:
        show = load(next(path for path in EXAMPLES if path.stem == "friday" and "faulty" in path.parts))
        (table,) = PAPERS["findings"].tables(show.facts())
        assert table.column("no") == tuple(range(1, len(show.findings()) + 1))
        assert table.column("level")[0] == "error"
        assert {str(place).partition(":")[0] for place in table.column("place")} <= {"friday.rig", "../venue/yard.rig"}
