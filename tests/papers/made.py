"""A small house and a night on top of it, and papers made of them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from rigdsl.papers import PAPERS, Cell, Facts, PaperSettings, Table
from rigdsl.paths import Paths
from rigdsl.rig import DictReader, Rig, load

__all__ = ["EXAMPLES", "HOUSE", "NIGHT", "facts_of", "made", "only", "records"]

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/shows/*.rig"))

HOUSE = """\
cable c6 "Cat 6" { medium twisted-pair; category 6; weight 0.05 kg/m }
cable lead "Lead" { medium analogue; connector xlr-f, xlr-m; weight 0.1 kg/m }
cable loom8 { medium analogue; lines 8; weight 0.6 kg/m }
cable snake8 { medium analogue; lines 8; ends dsub25 }
cable ls { medium loudspeaker; conductor 2.5 mm2 }
model nw8 "8x4 stage box" {
  kind stage-box; weight 4 kg; power 30 W
  inputs mic 1-8 { preamp; phantom 48 V 10 mA; gain remote; connector xlr-f }
  outputs line 1-4 { connector xlr-m }
  digital A { protocol aes50; control d1 }
}
model desk16 "Desk" {
  kind console; weight 12 kg; power 90 W; channels ch 1-16; mixes mix 1-4; inputs local 1-2 { preamp }
  digital stage { protocol aes50; control d1 }; data net
}
model sub4 { kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }
model amp { kind amplifier; power 400 W; inputs in 1-2; outputs out 1-2 { level loudspeaker }; pass in -> out }
model top { kind loudspeaker; weight 28 kg; inputs in { level loudspeaker } }
zone wing "Stage left" at (4, 0) m
zone drums "Drums" at (0, 3) m
zone foh "Mixing place" at (0, -20) m
box SL "Stage rack" is nw8 in wing { address 10.0.0.7; firmware "1.2"; serial "0042" }
box DESK "Main desk" is desk16 in foh
box DR "Drum sub-box" is sub4 in drums
box AMP is amp in wing
box TOP "Left top" is top in wing
link C01: SL.A -- DESK.stage via c6 30 m
link L01: DR.tail 1-4 -- SL.mic 1-4 via loom8 { loom T1 }
link L02: SL.line 4 -- AMP.in 1 via lead 3 m
link S01: AMP.out 1 -- TOP.in via ls 10 m
source house "House CD" playback in foh to DESK.local 1-2 via lead 2 m
source old "Old mic" dynamic in wing to SL 8 via lead 10 m
source spare "Spare mic" dynamic in wing to DR 4 via lead 10 m
patch house -> DESK.ch 15-16
patch old -> DESK.ch 14
patch DESK.mix 4 -> SL.line 4
"""
NIGHT = """\
rig "Night" { rate 48 kHz; slack 2 m; revision "7"; date 2027-01-02; demo }
use "house.rig"
without old
unpatch DESK.ch 16
replug spare to SL 7 via lead 3 m
change SL { note "behind the curtain" }
source kick "Kick" condenser in drums to DR 1 via lead 3 m { mic "plate"; stand "low boom" }
source oh "Overheads" condenser in drums to DR 2-3 via lead 6 m { stand "tall boom"; note "spaced" }
source gtr "Guitar" ribbon in wing to SL 5 via lead 6 m { mic "ribbon" }
source keys di in wing to SL 6 via lead 6 m
output wdg "Wedge" wedge in drums from SL.line 1 via lead 10 m
patch kick -> DESK.ch 1
patch oh, gtr, keys -> DESK.ch 2-5
patch DESK.mix 1 -> wdg
keep DR.panel 4 for "guest"
stock lead 3 m x 2
stock lead 6 m x 3
stock lead 10 m x 1
stock c6 50 m x 1
"""


def facts_of(night: str = NIGHT, house: str = HOUSE, **chosen: object) -> Facts:
    """What papers of the night are made of; `chosen` are settings of papers."""
    rig = rig_of(night, house)
    settings = replace(PaperSettings(), **chosen)  # type: ignore[arg-type]
    return Facts(rig, Paths(rig), path="night.rig", settings=settings)


def rig_of(night: str, house: str) -> Rig:
    """The night, without a fault in its text."""
    rig = load("night.rig", DictReader({"night.rig": night, "house.rig": house})).rig
    assert [finding.message for finding in rig.findings] == []
    return rig


def made(name: str, facts: Facts | None = None) -> tuple[Table, ...]:
    """The tables of a paper."""
    return PAPERS[name].tables(facts or facts_of())


def records(table: Table) -> list[dict[str, Cell]]:
    """Its rows by heading, without what is empty."""
    return [{head: cell for head, cell in zip(table.columns, row, strict=True) if cell != ""} for row in table.rows]


def only(name: str, title: str, facts: Facts | None = None) -> list[dict[str, object]]:
    (table,) = (table for table in made(name, facts) if table.title == title)
    return list(map(dict, records(table)))
