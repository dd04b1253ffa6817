"""Nodes as short text without places, for tables of cases."""

from __future__ import annotations

from typing import Any

from rigdsl.syntax import nodes as n
from rigdsl.syntax import parse
from rigdsl.text import Source

HALL = """\
# Friday at Lantern Hall: a six-piece in a small room.
rig "Lantern Hall, Friday" {
  rate 48 kHz  # of every digital link and box unless one says otherwise
  slack 3 m
  lead xlr
  date 2026-12-04
}

use "gear/house.rig"

zone drums "Drum riser" at (0, 4, 0.4) m
zone front "Downstage" at (0, 0) m
zone wing "Stage left wing" at (6, 1) m
zone foh "Front of house" at (0, -28) m
way foh -- wing 65 m "under the balcony, over the door"

box DESK "Main desk" is desk32 in foh
box SL "Stage left rack" is nw16 in wing
box DR "Drum sub-box" is sub12 in drums

link C01: SL.A -- DESK.stage 1 via cat6s 75 m
link C02: DR.tail 1-12 -- SL.mic 1-12 via loom12 15 m
link X1 via multi32 40 m {
  MC.tail 1-22 -- LOCAL.mic 1-22
  LOCAL.out 1-6 -- MC.return 1-6
}

source kick "Kick in" dynamic in drums to DR 1 via xlr 6 m
source oh-l "Overhead left" condenser in drums to DR 5 { stand "tall boom"; mic "small condenser" }
source bass "Bass" di in front to SL 13 via xlr 12 m
source keys "Keys" line in wing to SL 14-15
output wdg1 "Lead wedge" wedge in front from SL.line 1 via xlr 10 m

patch SL.mic 1-13 -> DESK.ch 1-13
patch keys -> DESK.ch 14-15
patch DESK.mix 1 -> wdg1
patch DESK.mix 2-4 -> SL.line 2-4

clock DESK
control SL.mic 1-16 by DESK

keep SL.mic 16 for "support act"
accept unused-port on SL.mic 12 because "preamp faulty, away for repair" until 2026-12-31
stock xlr 10 m x 24

supply D1 "Stage left, 16 A" 230 V 16 A in wing { note "by the door" }
power SL, DESK from D1
insert DESK.ch 3-4 through CP 1-2 via ins-lead 2 m
box DC is tn64 in DESK.opt 1
"""

GEAR = """\
cable cat6s "Cat 6 F/UTP on a reel" { medium twisted-pair; category 6; shielded; stranded; weight 55 g/m }
cable om3x "OM3 duplex" { medium fibre; grade om3; loss 3.5 dB/km at 850 nm }
protocol fernlink "Fernlink" {  # invented
  carries 40 at 48 kHz, 20 at 96 kHz
  over cat5e 100 m, om3 300 m
  slots fixed
  latency 0.06 ms
}
model nw16 "16x8 stage box" {
  kind stage-box
  inputs mic 1-16 { connector xlr-f; level mic, line; preamp; phantom 48 V 10 mA; gain remote; latency 0.4 ms }
  outputs line 1-8 { connector xlr-m; level line; latency 0.4 ms }
  digital A, B { protocol fernlink; control fern; chain; connector rj45 }
  data ctl { connector rj45 }
  weight 4.2 kg; power 35 W
}
model split8 "8-way split" {
  kind splitter
  inputs in 1-8; outputs direct 1-8; outputs iso 1-8
  pass in -> direct
  pass in -> iso { isolated }
}
model panel4 "Wall panel" { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
model br "Bridge" { kind bridge; digital L { protocol fernlink }; digital M; bridge L -> M { channels 16 } }
model desk64 { kind console; slot opt 1-2 takes my64, tn64; power 90 W }
"""

NIGHT = """\
use "../venue/house.rig"
without C07, OLD-RACK
unpatch DESK.ch 1-4
replug kick to DR 3 via xlr 4 m
change DESK { rate 96 kHz }
"""


def read(text: str) -> str:
    """The statements of a text that has no mistakes, a line each."""
    parsed = parse(Source("test.rig", text))
    assert parsed.findings == ()
    return "\n".join(shown(statement) for statement in parsed.statements)


def shown(node: Any) -> str:
    """A statement as its kind and what it says; what is absent is left out."""
    parts = [(name, getattr(node, name)) for name in node._fields if name != "span"]
    return " ".join([type(node).__name__, *(f"{name}={part(said)}" for name, said in parts if said not in (None, ()))])


def part(value: Any) -> str:
    """A part of a statement."""
    match value:
        case n.Word(kind="string"):
            return f'"{value.text}"'
        case n.Word():
            return value.text
        case n.Range():
            return value.first.text + (f"-{value.last.text}" if value.last else "")
        case n.Amount():
            return f"{value.number.text} {value.unit.text}"
        case n.Lead():
            return value.cable.text + (f" {part(value.length)}" if value.length else "")
        case n.End():
            name = value.name.text + (f".{value.group.text}" if value.group else "")
            return name + ("/" + ",".join(map(part, value.ranges)) if value.ranges else "")
        case n.Join():
            return f"{part(value.left)}--{part(value.right)}"
        case n.Fact():
            return f"{value.name.text}({', '.join(' '.join(map(part, clause)) for clause in value.clauses)})"
        case n.Position():
            return f"{value.coordinates}{value.unit.text}"
        case n.GroupHead():
            return value.name.text + (f"/{part(value.range)}" if value.range else "")
        case n.PassSide():
            return value.group.text + ("/" + ",".join(map(part, value.ranges)) if value.ranges else "")
        case _ if hasattr(value, "_fields"):
            return f"<{shown(value)}>"
        case tuple():
            return "[" + " ".join(map(part, value)) + "]"
    return str(value)
