"""Line patterns and colours. A pattern must be told from the others in black and white; colour only helps.

Colours are of the set that Okabe and Ito published for colour-blind readers ("Color Universal Design", 2008).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "AIR",
    "BLACK",
    "BLUE",
    "CONTROL",
    "DIGITAL",
    "GROUND",
    "INK",
    "INSIDE",
    "LEADER",
    "LINE",
    "LOOM",
    "ORANGE",
    "PAPER",
    "PATTERNS",
    "QUIET",
    "RULING",
    "SILENT",
    "SPARE",
    "SPEAKER",
    "VERMILLION",
    "Pattern",
]

BLACK = "#000000"
BLUE = "#0072B2"
ORANGE = "#E69F00"
VERMILLION = "#D55E00"

INK = "#1a1a1a"
QUIET = "#595959"  # 7.0:1 on white, 6.2:1 on the ground of a heading
RULING = "#d9d9d9"
GROUND = "#f1eee6"
PAPER = "#ffffff"


@dataclass(frozen=True)
class Pattern:
    """How a line is drawn: `strands` side by side, each `weight` points thick. `means` is the legend's words.

    `dashes` are the lengths of dashes and gaps in turn, in points; `style` is what comes nearest to them in DOT.
    """

    name: str
    means: str
    strands: Literal[1, 2] = 1
    weight: float = 1.0
    style: Literal["solid", "dashed", "dotted"] = "solid"
    colour: str = INK
    dashes: tuple[float, ...] = ()


LINE = Pattern("line", "one analogue line")
LOOM = Pattern("loom", "several analogue lines in one", weight=3.2)
SPEAKER = Pattern("speaker", "loudspeaker line", weight=2.6, style="dashed", dashes=(8, 3))
DIGITAL = Pattern("digital", "digital link", strands=2, weight=1.6, colour=BLUE)
SPARE = Pattern(
    "spare", "second of a redundant pair", strands=2, weight=1.6, style="dashed", colour=BLUE, dashes=(5, 3)
)
CONTROL = Pattern("control", "control data, no sound", weight=1.2, style="dashed", dashes=(7, 2, 1.5, 2))
AIR = Pattern("air", "by radio", weight=1.8, style="dotted", dashes=(1.8, 3.2))
INSIDE = Pattern("inside", "inside one box", weight=0.8, style="dashed", colour=QUIET, dashes=(3, 2))
SILENT = Pattern("silent", "no sound gets through", weight=4.0, style="dotted", colour=VERMILLION, dashes=(1.5, 4))

LEADER = Pattern(
    "leader", "from words to what they say it of", weight=0.7, style="dotted", colour=QUIET, dashes=(0.7, 2)
)

PATTERNS = (LINE, LOOM, SPEAKER, DIGITAL, SPARE, CONTROL, AIR, INSIDE, LEADER, SILENT)
