"""What each paper says of a small night on top of a house."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from rigdsl.papers import PAPERS, Facts, PaperSettings, printed, unknown_columns
from rigdsl.papers.cautions import cautions_of
from rigdsl.papers.pieces import pieces_of
from rigdsl.paths import Paths, schedule
from rigdsl.rig import DictReader, read
from rigdsl.rig import load as load_rig
from rigdsl.show import load
from tests.papers.made import HOUSE, NIGHT, facts_of, made, records

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/shows/*.rig"))


def only(name: str, title: str, facts: Facts | None = None) -> list[dict[str, object]]:
    (table,) = (table for table in made(name, facts) if table.title == title)
    return list(map(dict, records(table)))


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


class TestCableSchedule:
    def test_each_piece_with_its_ends_and_their_marks(self) -> None:
        rows = only("cable-schedule", "")
        assert rows[0] == {
            "id": "C01",
            "for": "link",
            "kind": "c6",
            "from": "SL.A",
            "to": "DESK.stage",
            "lines": 1,
            "needed m": 30,
            "taken m": 50,
            "mark at from": "C01: SL.A / DESK.stage",
            "mark at to": "C01: DESK.stage / SL.A",
        }
        assert [(row["from"], row["needed m"], row["loom"]) for row in rows if row["id"] == "L01"] == [
            ("DR.tail 1-4", 7, "T1")  # 5 m between the zones by Pythagoras, and 2 m of slack
        ]

    def test_a_source_of_two_lines_takes_two_cables(self) -> None:
        assert [(row["from"], row["to"]) for row in only("cable-schedule", "") if row["id"] == "oh"] == [
            ("oh 1", "DR.panel 2"),
            ("oh 2", "DR.panel 3"),
        ]

    def test_what_the_stock_lacks_is_said(self) -> None:
        """By hand: 3 m x 3 and 2 m x 2 want five leads where two of 3 m lie, 6 m x 4 want one more than there are."""
        (note,) = (note for note in made("cable-schedule")[0].notes if note.startswith("short"))
        assert note == ("short: 2 x lead of 2 m or longer, 1 x lead of 3 m or longer, 1 x lead of 6 m or longer")
        taken = Counter(row["taken m"] for row in only("cable-schedule", "") if row["kind"] == "lead")
        assert taken == {3: 2, 6: 3, 10: 1, "short": 4}

    def test_joins_where_the_project_allows_them(self) -> None:
        night = NIGHT.replace("stock lead 10 m x 1", "stock lead 5 m x 8")
        plain, joined = facts_of(night), facts_of(night, joins=1)
        for facts, taken in ((plain, "short"), (joined, "5 + 5")):
            assert [row["taken m"] for row in only("cable-schedule", "", facts) if row["id"] == "wdg"] == [taken]
        assert any(note.startswith("joined cables") for note in made("cable-schedule", joined)[0].notes)

    def test_where_the_best_choice_would_take_minutes_it_says_so(self) -> None:
        """As above, through the paper: a choice without joins, and why."""
        sources = "".join(f"source s{n} dynamic in a to D {n + 1} via xlr {3 + n / 7:.2f} m\n" for n in range(300))
        stock = "".join(f"stock xlr {1.5 + 1.3 * n:.2f} m x 10\n" for n in range(20))
        gear = "model d { kind console; inputs in 1-300 }\nzone a\nbox D is d in a\n"
        rig = read(f'rig "R" {{ rate 48 kHz }}\n{gear}{sources}{stock}')
        facts = Facts(rig, Paths(rig), settings=PaperSettings(joins=2))
        notes = made("cable-schedule", facts)[0].notes
        assert any("too many different lengths" in note for note in notes)

    def test_copper_data_is_never_joined_and_never_too_long(self) -> None:
        """AES50 on category 5e or better: 100 m (AES50-2011)."""
        for stock, taken in (
            ("c6 20 m x 2", "short"),
            ("c6 120 m x 1", "short"),
            ("c6 90 m x 1\nstock c6 120 m x 1", 90),
        ):
            facts = facts_of(NIGHT.replace("stock c6 50 m x 1", f"stock {stock}"), joins=2)
            assert [row["taken m"] for row in only("cable-schedule", "", facts) if row["id"] == "C01"] == [taken]

    def test_what_has_no_word_of_its_cable_is_said_to_be_missing(self) -> None:
        """The trunk to the desk among them: nobody would pack it. A line by radio takes none."""
        house = HOUSE.replace(" via c6 30 m", "") + "model rx { kind receiver; inputs air { wireless }; outputs out }\n"
        night = (
            NIGHT + "box RX is rx in foh\nsource hand wireless in foh to RX.air\nsource bare dynamic in wing to SL 8\n"
        )
        facts = facts_of(night, house)
        for name in ("cable-schedule", "kit-list"):
            (note,) = (note for note in made(name, facts)[0].notes if note.startswith("not in this list"))
            assert note == "not in this list, since no line says with which cable: C01, bare"
            assert not any(note.startswith("not in this list") for note in made(name)[0].notes)

    def test_a_length_that_nobody_knows_is_neither_measured_nor_short(self) -> None:
        rig = read(
            'rig "R" { rate 48 kHz }\nmodel d { kind console; inputs in 1-2 }\nzone a\nbox D is d in a\n'
            "source s dynamic in a to D 1 via xlr\nstock xlr 5 m x 2\n"
        )
        facts = Facts(rig, Paths(rig))
        assert made("cable-schedule", facts)[0].notes == ()
        (row,) = (row for row in only("kit-list", "", facts) if row["what"] == "cable")
        assert row == {"what": "cable", "item": "Microphone cable (xlr)", "count": 1, "note": "to be measured"}

    def test_a_25_pin_plug_brings_its_pins(self) -> None:
        night = NIGHT.replace("keep DR.panel 4", "link L09: DR.tail 4 -- SL.mic 8 via snake8 5 m\nkeep DR.panel 4")
        night = night.replace("change SL", "unpatch SL.mic 8\nchange SL") if "patch SL.mic 8" in HOUSE else night
        house = HOUSE.replace("DR.tail 1-4 -- SL.mic 1-4", "DR.tail 1-3 -- SL.mic 1-3")
        pins = only("cable-schedule", "snake8: pins of the 25-pin plug", facts_of(night, house))
        assert pins[0] == {"line": 1, "hot": 24, "cold": 12, "screen": 25}

    @pytest.mark.parametrize("show", EXAMPLES, ids=lambda path: path.stem)
    def test_as_many_cables_as_the_rule_over_stock_counts(self, show: Path) -> None:
        found = load(show)
        counted = Counter({row.name: row.count for row in schedule(found.rig)})
        rows = made("cable-schedule", found.facts())[0]
        assert len(rows.rows) == sum(counted.values()) == len(pieces_of(found.paths))


class TestOutputList:
    def test_a_source_that_feeds_an_output_without_a_mix_is_named(self) -> None:
        direct = NIGHT.replace("patch DESK.mix 1 -> wdg", "patch keys -> wdg")
        (row,) = (row for row in only("output-list", "", facts_of(direct)) if row["output"] == "wdg")
        assert row["fed from"] == "keys"


class TestKitList:
    def test_boxes_cables_and_what_lies_in_the_drawers(self) -> None:
        rows = only("kit-list", "")
        assert [(row["what"], row["item"], row["count"]) for row in rows if row["what"] in ("DI", "mic", "stand")] == [
            ("DI", "DI box", 1),
            ("mic", "plate", 1),
            ("mic", "ribbon", 1),
            ("stand", "low boom", 1),
            ("stand", "tall boom", 1),
        ]
        assert {row["item"]: row["note"] for row in rows if row["what"] == "box"}["Desk"] == "DESK"

    def test_owned_and_short_by_kind_and_length(self) -> None:
        rows = {row["m"]: row for row in only("kit-list", "") if row["item"] == "Lead (lead)"}
        assert {m: (row["count"], row["owned"], row["short"]) for m, row in rows.items()} == {
            2: (2, 0, 2),
            3: (3, 2, 1),
            6: (4, 3, 1),
            10: (1, 1, 0),
        }

    def test_totals_by_hand(self) -> None:
        """Leads 2 x 2 + 3 x 3 + 4 x 6 + 10 m, loom 7 m, loudspeaker cable 10 m, cat 6 50 m; weights by the metre."""
        totals = {row["item"]: row for row in only("kit-list", "") if row["what"] == "total"}
        assert totals["cable"]["m"] == 4 + 9 + 24 + 10 + 7 + 10 + 50
        assert totals["weight"]["kg"] == pytest.approx(4 + 12 + 28 + 47 * 0.1 + 7 * 0.6 + 50 * 0.05)
        assert totals["power"]["W"] == 30 + 90 + 400
        assert totals["weight"]["note"] == "3 without a weight"  # amplifier, sub-box, loudspeaker cable

    def test_adapters_that_connectors_ask_for(self) -> None:
        house = HOUSE.replace("lead 3 m\nlink S01", "turned 3 m\nlink S01")
        house = "cable turned { medium analogue; connector jack }\n" + house
        rows = [row for row in only("kit-list", "", facts_of(house=house)) if row["what"] in ("adapter", "turnaround")]
        assert rows == [{"what": "adapter", "item": "plug jack to socket xlr-m", "count": 1}]

    def test_couplers_where_the_cable_does_not_go_into_its_like(self) -> None:
        night = NIGHT.replace("stock lead 10 m x 1", "stock lead 5 m x 8")
        assert not [row for row in only("kit-list", "", facts_of(night, joins=1)) if row["what"] == "coupler"]
        house = HOUSE.replace("connector xlr-f, xlr-m; ", "")
        rows = [row for row in only("kit-list", "", facts_of(night, house, joins=1)) if row["what"] == "coupler"]
        assert rows == [{"what": "coupler", "item": "for lead", "count": 2}]

    def test_spares_are_rounded_up(self) -> None:
        rows = [row for row in only("kit-list", "", facts_of(spares_percent=10)) if row.get("note") == "spare"]
        assert {(row["item"], row["m"], row["count"]) for row in rows} >= {("Lead (lead)", 6, 1), ("loom8", 7, 1)}
        assert not [row for row in only("kit-list", "") if row.get("note") == "spare"]


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
        assert [row["name"] for row in only("tonight", "Taken away")] == ["old"]
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
        assert [row["name"] for row in only("tonight", "Added")] == ["gtr", "keys", "kick", "oh", "wdg"]

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


class TestChoice:
    def test_columns_that_a_project_chooses(self) -> None:
        facts = facts_of(columns={"input-list": ("source", "channel")})
        (table,) = printed(PAPERS["input-list"], facts).tables
        assert table.columns == ("source", "channel")
        assert table.rows[0] == ("kick", "DESK.ch 1")

    def test_a_column_that_is_none_is_told(self) -> None:
        facts = facts_of(columns={"input-list": ("sorce",)})
        assert list(unknown_columns(PAPERS["input-list"], facts)) == [
            "`input-list` has no column `sorce`, which `[papers.columns]` of rig.toml asks for; "
            "there is a column with a similar name: `source`"
        ]

    def test_every_heading_of_ours_has_its_german(self) -> None:
        facts = facts_of(colours=True, language="de")
        plain, german = facts_of(colours=True), facts
        same = {"W", "kg", "m", "Name", "Phantom", "Zone", "Firmware", "Mikrofon", "Cold", "Hot", "was"}
        for name, paper in PAPERS.items():
            ours, theirs = printed(paper, plain), printed(paper, german)
            assert ours.title != theirs.title, name
            for one, other in zip(ours.tables, theirs.tables, strict=True):
                unchanged = {b for a, b in zip(one.columns, other.columns, strict=True) if a == b}
                assert unchanged <= same, name
                assert one.rows == other.rows
