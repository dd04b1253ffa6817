"""The input list and the output list, row by row."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigdsl.papers import PAPERS, Cell, Facts, Table
from rigdsl.paths import Paths
from rigdsl.rig import read
from rigdsl.show import load

EXAMPLES = Path(__file__).parents[2] / "examples"
RIG = """\
rig "Barn" {{ rate 48 kHz; revision "2"; date 2027-03-05{demo} }}
model nw8 {{
  kind stage-box; inputs mic 1-8 {{ preamp; phantom 48 V 10 mA }}; outputs line 1-4; digital A {{ protocol aes50 }}
}}
model desk8 {{
  kind console; channels ch 1-16; mixes mix 1-4; inputs local 1-2 {{ preamp }}; digital stage {{ protocol aes50 }}
}}
model sub4 {{ kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }}
model rx2 {{ kind receiver; inputs air 1-2 {{ wireless }}; outputs line 1-2; pass air -> line }}
model amp1 {{ kind amplifier; inputs in; outputs out {{ level loudspeaker }}; pass in -> out }}
model top {{ kind loudspeaker; inputs in {{ level loudspeaker }} }}
zone wing "Stage left wing"
zone foh
box SL "Stage left" is nw8 in wing
box DR "Drum sub-box" is sub4 in wing
box RX "Receiver" is rx2 in wing
box AM "Amplifier" is amp1 in wing
box TOP "Top" is top in wing {{ note "on the crate" }}
box DESK "Desk" is desk8 in foh
link C01: SL.A -- DESK.stage via cat6 30 m
link L01: DR.tail 1-4 -- SL.mic 1-4 via xlr 10 m
link L02: RX.line 1-2 -- SL.mic 7-8 via xlr 2 m
link L03: SL.line 2 -- AM.in via xlr 2 m
link S01: AM.out -- TOP.in via ls4 10 m
{lines}
"""
LINES = """\
source oh "Overheads" condenser in wing to DR 1-2 via xlr 6 m { stand "two tall booms"; mic "pair" }
source kick dynamic in wing to DR 3 via xlr 3 m { note "in, on a pillow" }
source gtr "Guitar" ribbon in wing to SL 5 via xlr 6 m
source vox wireless in wing to RX 1 { freq 606.5125 MHz }
source talk talkback in foh to DESK.local 1 via xlr 3 m
output ears "Ears" in-ear in wing from SL.line 3-4
patch oh -> DESK.ch 2,10
patch kick -> DESK.ch 1
patch gtr -> DESK.ch 3
patch vox -> DESK.ch 4
patch DESK.mix 3-4 -> ears
patch DESK.mix 1 -> SL.line 2
"""


def rows(name: str, lines: str = LINES, demo: str = "") -> list[dict[str, Cell]]:
    """The rows of a list of the barn, by heading; what is empty is left out."""
    table = made(name, lines, demo)
    return [{head: field for head, field in zip(table.columns, row, strict=True) if field} for row in table.rows]


def made(name: str, lines: str, demo: str = "") -> Table:
    rig = read(RIG.format(lines=lines, demo=demo))
    assert [finding.message for finding in rig.findings] == []
    (table,) = PAPERS[name].tables(Facts(rig, Paths(rig)))
    return table


class TestInputList:
    def test_it_is_in_the_order_of_the_channels(self) -> None:
        """2 comes before 10; what has no channel comes last."""
        assert [(row["no"], row.get("channel"), row["source"]) for row in rows("input-list")] == [
            (1, "DESK.ch 1", "kick"),
            (2, "DESK.ch 2", "oh"),
            (3, "DESK.ch 3", "gtr"),
            (4, "DESK.ch 4", "vox"),
            (5, "DESK.ch 10", "oh"),
            (6, None, "talk"),
        ]

    def test_what_is_not_plugged_in_yet_stands_where_it_is_patched_to(self) -> None:
        """The order of the band's list is known before the first cable is."""
        lines = "source vox dynamic\nsource keys line\nsource bass di\n"
        lines += "patch bass -> DESK.ch 1\npatch keys -> DESK.ch 2-3\npatch vox -> DESK.ch 4\n"
        assert [(row.get("channel"), row["source"]) for row in rows("input-list", lines)] == [
            ("DESK.ch 1", "bass"),
            ("DESK.ch 2", "keys"),
            ("DESK.ch 3", "keys"),
            ("DESK.ch 4", "vox"),
        ]

    def test_a_stereo_source_has_a_row_for_each_side(self) -> None:
        left, right = (row for row in rows("input-list") if row["source"] == "oh")
        assert left == {
            "no": 2,
            "channel": "DESK.ch 2",
            "source": "oh",
            "label": "Overheads, left",
            "type": "condenser",
            "zone": "Stage left wing",
            "plugged into": "DR.panel 1",
            "preamp": "SL.mic 1",
            "stand": "two tall booms",
            "mic": "pair",
            "phantom": "needed, by SL",
            "gain by": "SL",
            "cable": "xlr 6 m",
        }
        assert (right["label"], right["plugged into"], right["preamp"]) == (
            "Overheads, right",
            "DR.panel 2",
            "SL.mic 2",
        )

    def test_a_source_without_a_label_has_none(self) -> None:
        kick = rows("input-list")[0]
        assert "label" not in kick
        assert (kick["note"], kick["preamp"]) == ("in, on a pillow", "SL.mic 3")

    def test_radio(self) -> None:
        vox = rows("input-list")[3]
        assert (vox["plugged into"], vox["preamp"], vox["radio"]) == ("RX.air 1", "SL.mic 7", "606.5125 MHz")
        assert "cable" not in vox

    def test_phantom_is_kept_off_a_ribbon_that_needs_none(self) -> None:
        """The usual caution of the makers of ribbon microphones: common practice, no source."""
        table = made("input-list", LINES)
        at = table.columns.index("phantom")
        assert [row[at] for row in table.rows if row[2] == "gtr"] == ["keep off"]
        assert [note for note in table.notes if "phantom can damage a ribbon" in note]
        for other in (
            LINES.replace("ribbon", "dynamic"),
            LINES.replace("to SL 5 via xlr 6 m", "to SL 5 via xlr 6 m { phantom }"),
        ):
            table = made("input-list", other)
            assert "keep off" not in {row[at] for row in table.rows}
            assert [note.partition(":")[0] for note in table.notes] == ["phantom"]

    def test_the_usual_cautions_stand_at_the_foot(self) -> None:
        """Common practice, no source: mute before phantom, amplifiers off before their cables are touched, hearing."""
        live, loud = made("output-list", LINES).notes[:2]
        assert live.startswith("amplifiers off before anybody touches")
        assert "hearing" in loud

    def test_what_is_plugged_into_nothing_yet_is_there_all_the_same(self) -> None:
        table = made("input-list", LINES + "source snare dynamic in wing\n")
        assert [row[1:4] for row in table.rows[-2:]] == [("", "snare", ""), ("", "talk", "")]
        assert any("rigdsl check says what is missing" in note for note in table.notes)

    def test_demo_data_says_so(self) -> None:
        assert made("input-list", "", "; demo").notes == ("demo data",)
        assert made("input-list", "").rows == ()


class TestOutputList:
    def test_every_output_and_loudspeaker_with_what_is_between(self) -> None:
        assert rows("output-list") == [
            {
                "no": 1,
                "fed from": "DESK.mix 1",
                "output": "TOP",
                "label": "Top",
                "type": "loudspeaker",
                "zone": "Stage left wing",
                "by way of": "SL.line 2",
                "amplifier": "AM.out",
                "plugged into": "TOP.in",
                "cable": "ls4 10 m",
                "note": "on the crate",
            },
            *(
                {
                    "no": no,
                    "fed from": f"DESK.mix {no + 1}",
                    "output": "ears",
                    "label": f"Ears, {side}",
                    "type": "in-ear",
                    "zone": "Stage left wing",
                    "plugged into": f"SL.line {no + 1}",
                }
                for no, side in ((2, "left"), (3, "right"))
            ),
        ]

    def test_a_loudspeaker_that_nothing_feeds_is_told(self) -> None:
        table = made("output-list", LINES.replace("patch DESK.mix 1 -> SL.line 2\n", ""))
        assert any("rigdsl check says what is missing" in note for note in table.notes)

    @pytest.mark.parametrize("show", ["club/shows/friday", "hall/shows/winter-concert", "analogue/shows/dance"])
    def test_no_wedge_and_no_loudspeaker_of_an_example_is_missing(self, show: str) -> None:
        made = load(EXAMPLES / f"{show}.rig")
        (table,) = made.paper("output-list").tables
        names = set(table.column("output"))
        speakers = {box.name for box in made.rig.boxes.values() if box.kind == "loudspeaker"}
        assert names == {*made.rig.outputs, *speakers}
        assert all(table.column("fed from")), "what each is fed from"
