"""The cable schedule and the kit list: what is needed, what the stock gives, what goes into the truck."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from rigdsl.papers import Facts, PaperSettings
from rigdsl.papers.pieces import pieces_of
from rigdsl.paths import Paths, schedule
from rigdsl.rig import read
from rigdsl.show import load
from tests.papers.made import EXAMPLES, HOUSE, NIGHT, facts_of, made, only


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
