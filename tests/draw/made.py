"""Rigs made for the tests of drawings, and a rig drawn in one go."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from rigdsl.draw import Plates, View, Wanted, draw, laid_out
from rigdsl.finding import Finding
from rigdsl.lint import lint
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.rig import DiskReader, Rig, load, read

__all__ = ["EXAMPLES", "GEAR", "SHAPES", "drawn", "example", "findings", "sheet", "small", "svg"]

# Invented gear of every kind, for rigs that are put together line by line.
GEAR = """
cable c6 { medium twisted-pair; category 6 }
cable loom8 { medium analogue; lines 8 }
cable ls { medium loudspeaker; conductor 2.5 mm2 }
protocol fern { carries 40 at 48 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
protocol moss { carries 32 at 48 kHz; over cat5e 100 m; slots routed; topology point-to-point }
protocol larch { carries 64 at 48 kHz; over cat5e 100 m; topology network }
model nw16 {
  kind stage-box
  inputs mic 1-16 { preamp; phantom 48 V 10 mA; level mic, line }
  outputs line 1-8
  digital A, B { protocol fern; chain }
}
model mossbox { kind stage-box; inputs mic 1-4 { preamp }; digital A { protocol moss } }
model larchbox {
  kind stage-box
  inputs mic 1-4 { preamp }; outputs line 1-4
  digital pri, sec { protocol larch; redundant }
}
model desk32 {
  kind console
  channels ch 1-32; mixes mix 1-16
  inputs local 1-8 { preamp; phantom 48 V 10 mA }; outputs out 1-8
  digital stage 1-3 { protocol fern }
  digital pri, sec { protocol larch; redundant }
  data net
}
model desk8 {
  kind console
  channels ch 1-8; mixes mix 1-2; inputs local 1-8 { preamp; phantom }; outputs out 1-2
  pass local -> ch; pass mix -> out
}
model core { kind engine; channels ch 1-16; mixes mix 1-8; inputs mic 1-8 { preamp; phantom }; data ctl }
model faders { kind surface; data up }
model sub8 { kind sub-box; inputs panel 1-8; outputs tail 1-8; pass panel -> tail }
model split4 {
  kind splitter
  inputs in 1-4; outputs direct 1-4; outputs iso 1-4
  pass in -> direct; pass in -> iso { isolated }
}
model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
model head {
  kind sub-box
  inputs panel 1-8; outputs tail 1-8; pass panel -> tail
  inputs return 1-2; outputs send 1-2; pass return -> send
}
model switch8 { kind switch; digital port 1-8 { protocol larch } }
model rec { kind computer; inputs play 1-2 { soft }; channels track 1-16; digital net { protocol larch } }
model rx2 { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line { active } }
model tx2 { kind monitor-sender; inputs in 1-2; outputs air 1-2 { wireless }; pass in -> air }
model amp2 { kind amplifier; inputs in 1-2; outputs out 1-2 { level loudspeaker }; pass in -> out }
model box12 { kind loudspeaker; inputs in { level loudspeaker }; outputs on { level loudspeaker }; pass in -> on }
"""

EXAMPLES = Path(__file__).parents[2] / "examples"
SHAPES = sorted(f"{show.parents[1].name}/{show.stem}" for show in EXAMPLES.glob("*/shows/*.rig"))


def small(text: str) -> Rig:
    """A rig of a few lines on top of the gear; its head is added."""
    return read('rig "Test" { lead xlr }\n' + GEAR + text)


@cache
def example(name: str) -> Rig:
    """A shipped example by its project and show."""
    project, show = name.split("/")
    root = EXAMPLES / project
    return load(str(root / "shows" / f"{show}.rig"), DiskReader(root)).rig


def findings(rig: Rig) -> tuple[Finding, ...]:
    """What the shipped rules say of a rig."""
    return lint(rig, Paths(rig), [packed for packed in discover().rules if packed.rule.on]).findings


def sheet(rig: Rig, which: str, said: tuple[Finding, ...] = ()) -> View:
    """One view of a rig, its first sheet."""
    return drawn(rig, Wanted(which), said)[0]


def drawn(rig: Rig, wanted: Wanted, said: tuple[Finding, ...] = (), engine: str = "embedded") -> tuple[View, ...]:
    """The sheets of a drawing, as they are drawn."""
    return laid_out(rig, Paths(rig), said, wanted, Plates(engine))


def svg(rig: Rig, which: str, said: tuple[Finding, ...] = (), engine: str = "embedded") -> bytes:
    """One view of a rig as SVG."""
    return draw(rig, Paths(rig), said, Wanted(which), "svg", engine)[0]
