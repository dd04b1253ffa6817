"""Gear for small rigs, and their paths told in lines that can be read aloud."""

from __future__ import annotations

from rigdsl.paths import Hop, Path, Paths
from rigdsl.rig import Port, Rig, read
from rigdsl.rig.units import shown

__all__ = ["GEAR", "lines", "moved", "paths", "port", "rig", "stops", "told"]

GEAR = """\
protocol fernlink "Fernlink" {
  carries 40 at 48 kHz, 20 at 96 kHz
  over cat5e 100 m, om3 300 m
  slots fixed
  topology chain 4
  latency 0.06 ms
}
protocol mosslink "Mosslink" { carries 32 at 48 kHz; over cat5e 80 m; latency 0.05 ms }
protocol brooknet "Brooknet" {
  carries 64 at 48 kHz, 32 at 96 kHz
  over cat5e 100 m, om3 300 m, os2 5000 m
  topology network
  latency 1 ms per network
}
cable cat6s "Cat 6 on a reel" { medium twisted-pair; category 6; shielded; stranded }
cable loom12 "12-pair loom" { medium analogue; lines 12; capacitance 110 pF/m; resistance 84 mohm/m }
model nw16 "16x8 stage box" {
  kind stage-box
  inputs mic 1-16 { preamp; gain remote; latency 0.4 ms }
  outputs line 1-8 { latency 0.3 ms }
  digital A, B { protocol fernlink; control fern; chain }
  data ctl { control fern }
}
model nb8 "8x4 box on the network" {
  kind stage-box
  inputs mic 1-8 { preamp; gain remote; latency 0.4 ms }
  outputs line 1-4 { latency 0.3 ms }
  digital pri { protocol brooknet; net primary; control fern }
  digital sec { protocol brooknet; net secondary; control fern }
}
model sub12 "12-line sub-box" { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }
model multi "Multicore box with returns" {
  kind sub-box
  inputs panel 1-12; outputs tail 1-12; pass panel -> tail
  inputs return 1-4; outputs jack 1-4; pass return -> jack
}
model split8 "8-way split" {
  kind splitter
  inputs in 1-8; outputs direct 1-8; outputs iso 1-8
  pass in -> direct
  pass in -> iso { isolated }
}
model tie8 "Analogue wall panel" { kind panel; inputs stage 1-8; outputs room 1-8; pass stage -> room }
model panel4 "Digital wall panel" { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
model rx4 "Radio receiver" {
  kind receiver
  inputs air 1-4 { wireless; latency 2 ms }
  outputs line 1-4
  pass air -> line { active }
}
model tx2 "In-ear sender" {
  kind monitor-sender
  inputs line 1-2 { latency 1 ms }
  outputs air 1-2 { wireless }
  pass line -> air { active }
}
model dibox "DI" { kind di; inputs in; outputs out; pass in -> out { isolated } }
model desk32 "32-channel digital desk" {
  kind console
  channels ch 1-32; mixes mix 1-16; mixes matrix 1-4
  inputs local 1-8 { preamp; latency 0.2 ms }
  outputs local-out 1-8 { latency 0.2 ms }
  digital stage 1-2 { protocol fernlink, aes50; control fern }
  digital pri { protocol brooknet; net primary; control fern }
  digital sec { protocol brooknet; net secondary; control fern }
  data net { control fern }
  latency 1.2 ms
}
model desk12 "Analogue desk" {
  kind console
  channels ch 1-12; mixes mix 1-4
  inputs local 1-12 { preamp }; outputs local-out 1-4
  pass local -> ch; pass mix -> local-out
}
model core16 "Mixer on the stage" {
  kind engine
  channels ch 1-16; mixes mix 1-8
  inputs local 1-16 { preamp; latency 0.2 ms }
  outputs local-out 1-8
  digital stage { protocol fernlink; control fern }
  data net { control fern }
}
model face "Control surface" { kind surface; data net { control fern } }
model tablet "Tablet" { kind computer; data air { wireless; control fern } }
model pc32 "Recording computer" {
  kind computer
  channels rec 1-32
  inputs track 1-32 { soft }
  digital net { protocol brooknet }
}
model deck8 "Recorder on a stage box's line" { kind computer; channels rec 1-40; digital in { protocol fernlink } }
model proc "Loudspeaker processor" {
  kind processor
  inputs in 1-4 { latency 0.5 ms }; outputs out 1-6 { latency 0.5 ms }
  digital net { protocol brooknet }
  latency 0.7 ms
}
model amp2 "Two-channel amplifier" {
  kind amplifier
  inputs in 1-2 { latency 0.1 ms }
  outputs out 1-2 { level loudspeaker }
  pass in -> out
}
model top8 "Passive loudspeaker" {
  kind loudspeaker
  inputs in { level loudspeaker }
  outputs link { level loudspeaker; thru }
  pass in -> link
}
model hub8 "Switch" { kind switch; digital port 1-8; digital air { wireless } }
model bridge16 "Bridge" {
  kind bridge
  digital L { protocol fernlink; control fern }
  digital M { protocol brooknet; control fern }
  bridge L -> M { channels 16 }
}
zone drums at (0, 4) m
zone front at (0, 0) m
zone wing at (6, 0) m
zone foh at (0, -30) m
"""


def rig(text: str, head: str = "rate 48 kHz; slack 3 m; lead xlr") -> Rig:
    """A small rig with the gear above; it must be one that reads without a fault."""
    made = read(f'rig "Hall" {{ {head} }}\nuse "gear.rig"\n{text}', gear=GEAR)
    assert [finding.message for finding in made.findings] == []
    return made


def paths(text: str, head: str = "rate 48 kHz; slack 3 m; lead xlr") -> Paths:
    """The paths of such a rig."""
    return Paths(rig(text, head))


def moved(house: str, changes: str) -> Paths:
    """The paths of a night on top of a house file."""
    made = read(f'rig "Tonight" {{ rate 48 kHz }}\nuse "house.rig"\n{changes}', house=GEAR + house)
    assert [finding.message for finding in made.findings] == []
    return Paths(made)


def port(text: str) -> Port:
    """A socket as it is written: `SL.mic 3`, or `SL.A`, the one socket of its group."""
    name, _, number = text.partition(" ")
    box, _, group = name.partition(".")
    return Port(box, group, int(number or 0))


def told(path: Path) -> list[str]:
    """Where a path begins, and each hop: by what, over what, and where to."""
    ends = [path.start, *(end for hop in path.hops for end in (hop.left, hop.right)), path.end]
    assert not path.complete or ends[::2] == ends[1::2], "each hop begins where the one before it ends"
    return [str(path.start), *(f"{_over(hop)}: {hop.right}" for hop in path.hops)]


def _over(hop: Hop) -> str:
    name = hop.link.name if hop.by == "link" and hop.link else hop.by
    parts = [name, hop.cable or ""]
    if hop.cable is not None:
        parts.append("? m" if hop.length_m is None else f"{shown(hop.length_m)} m")
    parts += [hop.protocol or "", f"{shown(hop.latency_s, 1e-3, 4)} ms" if hop.latency_s else ""]
    return " ".join(part for part in parts if part)


def lines(found: Paths, name: str) -> list[list[str]]:
    """All paths of a source or output; each must arrive."""
    made = found.paths_of(name)
    assert [path.stops for path in made if not path.complete] == []
    return [told(path) for path in made]


def stops(found: Paths, name: str) -> list[str]:
    """Why the paths of a source or output end before they should."""
    return [path.stops for path in found.paths_of(name) if not path.complete]
