"""A whole small rig that is in order, in two files: the show, and the house's gear."""

from __future__ import annotations

__all__ = ["GEAR", "SHOW"]

SHOW = """\
rig "Lantern Hall, Friday" { rate 48 kHz; slack 3 m; lead xlr; date 2026-12-04; revision "2"; demo }

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

source kick "Kick in" dynamic in drums to DR 1 via xlr 6 m
source oh-l "Overhead left" condenser in drums to DR 5 { stand "tall boom"; mic "small condenser" }
source bass "Bass" di in front to SL 13 via xlr 12 m
source keys "Keys" line in wing to SL 14-15
output wdg1 "Lead wedge" wedge in front from SL.line 1 via xlr 10 m
output wdg2 "Drum wedge" wedge in drums from SL.line 2

patch SL.mic 1-13 -> DESK.ch 1-13
patch keys -> DESK.ch 14-15
patch DESK.mix 1 -> wdg1
patch DESK.mix 2-4 -> SL.line 2-4

box CP "Compressors" is comp2 in foh
box DC "Stage card" is fl64 in DESK.opt 1
insert DESK.ch 13, DESK.mix 1 through CP 1-2 via ins-lead 2 m
supply D1 "Stage left, 16 A" 230 V 16 A in wing
power SL from D1

clock DESK
control SL.mic 1-16 by DESK

keep SL.mic 16 for "support act"
accept unused-port on SL.line 5 because "preamp faulty, away for repair" until 2026-12-31
stock xlr 10 m x 24
"""

GEAR = """\
cable cat6s "Cat 6 F/UTP on a reel" { medium twisted-pair; category 6; shielded; stranded; weight 55 g/m }
cable loom12 "12-pair loom" { medium analogue; lines 12; capacitance 110 pF/m; resistance 84 mohm/m; weight 0.9 kg/m }
protocol fernlink "Fernlink" {
  carries 40 at 48 kHz, 20 at 96 kHz
  over cat5e 100 m, om3 300 m
  slots fixed
  topology chain 4
  latency 0.06 ms
  budget 2.6 dB
}
model nw16 "16x8 stage box" {
  kind stage-box
  inputs mic 1-16 { connector xlr-f; level mic, line; preamp; phantom 48 V 10 mA; gain remote; latency 0.4 ms }
  outputs line 1-8 { connector xlr-m; level line; latency 0.4 ms }
  digital A, B { protocol fernlink; control fern; chain; connector rj45 }
  data ctl { connector rj45 }
  weight 4.2 kg; power 35 W
}
cable ins-lead "Insert lead" { medium analogue }
model comp2 "Two compressors" { kind outboard; inputs in 1-2; outputs out 1-2; latency 0.5 ms }
model fl64 "Card" { kind card; fits my64; digital pri, sec { protocol fernlink; control fern } }
model sub12 "12-line sub-box" { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }
model desk32 "32-channel digital desk" {
  kind console
  channels ch 1-32; mixes mix 1-16; mixes matrix 1-4
  inputs local 1-8 { preamp; phantom 48 V 10 mA }
  outputs local-out 1-8
  digital stage 1-2 { protocol fernlink, aes50; control fern }
  data net
  slot opt 1-2 takes my64
  latency 1.2 ms
}
"""
