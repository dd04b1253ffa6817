"""A festival of five stages, 480 sources and 1,500 cables (a plug's own cable counts), for drawings that need sheets.

All names, models and closed protocols are invented.
"""

from __future__ import annotations

from collections.abc import Iterator

__all__ = ["CABLES", "SOURCES", "STAGES", "festival_text"]

STAGES = 5
SOURCES = 480
CABLES = 1500

GEAR = """\
protocol fernlink "Fernlink" { carries 40 at 48 kHz; over cat5e 100 m; topology point-to-point; latency 0.06 ms }
protocol larch "Larch" { carries 64 at 48 kHz; over cat5e 100 m, om3 300 m; topology network; latency 0.5 ms }
cable reel6 "Cat 6 on a reel" { medium twisted-pair; category 6; shielded }
cable om3drum "OM3 duplex on a drum" { medium fibre; grade om3; loss 3.5 dB/km at 850 nm }
cable loom12 "12-pair loom" { medium analogue; lines 12; capacitance 110 pF/m; resistance 84 mohm/m }
model sub12 "12-line sub-box" { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }
model split24 "24-way split" {
  kind splitter
  inputs in 1-24; outputs direct 1-24; outputs iso 1-24
  pass in -> direct; pass in -> iso { isolated }
}
model box32 "32x16 stage box" {
  kind stage-box
  inputs mic 1-32 { connector xlr-f; level mic, line; preamp; phantom 48 V 10 mA; gain remote; latency 0.4 ms }
  outputs line 1-16 { connector xlr-m; level line; latency 0.4 ms }
  digital A { protocol fernlink; control fern; connector rj45 }
}
model desk96 "96-channel desk" {
  kind console
  channels ch 1-96; mixes mix 1-32
  digital stage 1-4 { protocol fernlink; control fern; connector rj45 }
  digital net { protocol larch; connector rj45 }
  latency 1 ms
}
model sw8 "8+2 switch" { kind switch; digital copper 1-8 { connector rj45 }; digital light 1-2 { connector lc } }
model player "Recording computer" { kind computer; channels track 1-64 { soft }; digital net { protocol larch } }
model ears2 "In-ear sender, stereo" {
  kind monitor-sender
  inputs in 1-2 { connector xlr-f; level line }; outputs air 1-2 { wireless }; pass in -> air
}
model amp2 "Amplifier, 2 lines" {
  kind amplifier
  inputs in 1-2 { connector xlr-f; level line }; outputs out 1-2 { level loudspeaker }; pass in -> out { active }
}
"""

NAMES = ("Meadow", "Quarry", "Orchard", "Boathouse", "Hayloft")
ZONES = (
    ("drums", "drum riser", 0, 6),
    ("brass", "brass riser", 6, 6),
    ("back", "backline", -6, 6),
    ("front", "downstage", 0, 0),
    ("wing", "monitor world", 9, 3),
    ("foh", "mixing place", 0, -30),
)
SUBS = ("drums", "drums", "brass", "brass", "back", "back", "front", "front")
TYPES = ("dynamic", "dynamic", "dynamic", "di", "dynamic", "condenser")


def festival_text() -> str:
    """The whole rig."""
    head = 'rig "Five Stages" { rate 48 kHz; slack 3 m; lead xlr; date 2027-06-19; revision "7"; demo }\n'
    return head + GEAR + "".join(f"{line}\n" for stage in range(1, STAGES + 1) for line in _stage(stage))


def _stage(n: int) -> Iterator[str]:
    """300 cables: 96 plugs in, 96 tails, 60 of the splits, 12 digital ones, 28 plugs out, 8 to amplifiers and ears."""
    yield f"\n# ---- {NAMES[n - 1]}"
    for zone, label, x, y in ZONES:
        yield f'zone {zone}-{n} "{NAMES[n - 1]}, {label}" at ({x + 60 * n}, {y}) m'
    yield from _boxes(n)
    yield from _copper(n)
    yield from _digital(n)
    yield from _sources(n)
    yield from _outputs(n)
    for box in range(1, 5):
        first = 24 * box - 23
        yield f"patch F{box}-{n}.mic 1-24 -> FOH-{n}.ch {first}-{first + 23}"
        yield f"patch M{box}-{n}.mic 1-24 -> MON-{n}.ch {first}-{first + 23}"
    yield f"patch FOH-{n}.ch 1-48 -> REC-{n}.track 1-48"
    yield f"clock FOH-{n}"


def _boxes(n: int) -> Iterator[str]:
    for index, zone in enumerate(SUBS, 1):
        yield f'box B{index}-{n} "{NAMES[n - 1]} sub-box {index}" is sub12 in {zone}-{n}'
    for index in range(1, 5):
        yield f'box X{index}-{n} "{NAMES[n - 1]} split {index}" is split24 in wing-{n}'
        yield f'box F{index}-{n} "{NAMES[n - 1]} house box {index}" is box32 in wing-{n}'
        yield f'box M{index}-{n} "{NAMES[n - 1]} monitor box {index}" is box32 in wing-{n}'
    yield f'box MON-{n} "{NAMES[n - 1]} monitor desk" is desk96 in wing-{n}'
    yield f'box FOH-{n} "{NAMES[n - 1]} house desk" is desk96 in foh-{n}'
    yield f'box SW-{n} "{NAMES[n - 1]} stage switch" is sw8 in wing-{n}'
    yield f'box SF-{n} "{NAMES[n - 1]} house switch" is sw8 in foh-{n}'
    yield f'box REC-{n} "{NAMES[n - 1]} recorder" is player in foh-{n}'
    for index in (1, 2):
        yield f'box TX{index}-{n} "{NAMES[n - 1]} ears {index}" is ears2 in wing-{n}'
        yield f'box AMP{index}-{n} "{NAMES[n - 1]} amplifier {index}" is amp2 in wing-{n}'


def _copper(n: int) -> Iterator[str]:
    """Tails line by line, two splits line by line to the monitor boxes, all else in looms of twelve."""
    for box in range(1, 9):
        split, first = (box + 1) // 2, 12 * ((box + 1) % 2) + 1
        lines = f"{first}-{first + 11}"
        yield f"link T{box}-{n}: B{box}-{n}.tail 1-12 -- X{split}-{n}.in {lines} via xlr 20 m"
        cable = "xlr 5 m" if split < 3 else "loom12 5 m"
        yield f"link D{box}-{n}: X{split}-{n}.direct {lines} -- M{split}-{n}.mic {lines} via {cable}"
        yield f"link I{box}-{n}: X{split}-{n}.iso {lines} -- F{split}-{n}.mic {lines} via loom12 5 m"
    for index in (1, 2):
        lines = f"{2 * index - 1}-{2 * index}"
        yield f"link A{index}-{n}: F1-{n}.line {lines} -- AMP{index}-{n}.in 1-2 via xlr 10 m"
        yield f"link E{index}-{n}: M2-{n}.line {lines} -- TX{index}-{n}.in 1-2 via xlr 3 m"


def _digital(n: int) -> Iterator[str]:
    for box in range(1, 5):
        yield f"link C{box}-{n}: F{box}-{n}.A -- FOH-{n}.stage {box} via reel6 70 m"
        yield f"link K{box}-{n}: M{box}-{n}.A -- MON-{n}.stage {box} via reel6 15 m"
    yield f"link N1{n}: MON-{n}.net -- SW-{n}.copper 1 via reel6 5 m"
    yield f"link N2{n}: FOH-{n}.net -- SF-{n}.copper 1 via reel6 5 m"
    yield f"link N3{n}: REC-{n}.net -- SF-{n}.copper 2 via reel6 5 m"
    yield f"link N4{n}: SW-{n}.light 1 -- SF-{n}.light 1 via om3drum 80 m"


def _sources(n: int) -> Iterator[str]:
    for index in range(SOURCES // STAGES):
        zone, box, line = SUBS[index // 12], index // 12 + 1, index % 12 + 1
        what = f'in{index + 1}-{n} "{NAMES[n - 1]} line {index + 1}" {TYPES[index % len(TYPES)]}'
        yield f"source {what} in {zone}-{n} to B{box}-{n} {line} via xlr 6 m"


def _outputs(n: int) -> Iterator[str]:
    stage = NAMES[n - 1]
    for index in range(1, 17):
        zone = f"{('drums', 'brass', 'back', 'front')[(index - 1) // 4]}-{n}"
        yield f'output wedge{index}-{n} "{stage} wedge {index}" wedge in {zone} from M1-{n}.line {index} via xlr 20 m'
    for index in range(1, 9):
        yield f'output fill{index}-{n} "{stage} fill {index}" fill in front-{n} from F2-{n}.line {index} via xlr 20 m'
    for index in range(1, 5):
        amp, line = (index + 1) // 2, (index + 1) % 2 + 1
        out = f"AMP{amp}-{n}.out {line}"
        yield f'output main{index}-{n} "{stage} main {index}" main in front-{n} from {out} via ls2-5 15 m'
        yield f'output ears{index}-{n} "{stage} ears {index}" in-ear in front-{n} from TX{amp}-{n}.air {line}'
    yield f"patch MON-{n}.mix 1-16 -> M1-{n}.line 1-16"
    yield f"patch MON-{n}.mix 17-20 -> M2-{n}.line 1-4"
    yield f"patch FOH-{n}.mix 1-4 -> F1-{n}.line 1-4"
    yield f"patch FOH-{n}.mix 5-12 -> F2-{n}.line 1-8"
