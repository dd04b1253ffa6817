"""Rigs in two states, and what is said of the change."""

from __future__ import annotations

from rigdsl.finding import Finding
from rigdsl.lint import lint
from rigdsl.lint.order import worst_first
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.review import Review, review
from rigdsl.review.review import Side
from rigdsl.rig import DictReader, load

__all__ = ["BOXES", "STAGE", "compared", "side", "told"]

BOXES = """\
protocol fern { carries 40 at 48 kHz; over cat5e 100 m; topology chain 4 }
cable c6 { medium twisted-pair; category 6 }
model nw8 {
  kind stage-box; weight 4 kg; inputs mic 1-8 { preamp; phantom 48 V 10 mA; gain remote }; outputs line 1-4
  digital A, B { protocol fern; control d1; chain }
}
model nw16 {
  kind stage-box; weight 6 kg; inputs mic 1-16 { preamp; phantom 48 V 10 mA; gain remote }; outputs line 1-8
  digital A, B { protocol fern; control d1; chain }
}
"""
STAGE = f"""\
rig "Night" {{ rate 48 kHz; slack 1 m; lead xlr }}
{BOXES}\
model desk {{
  kind console; channels ch 1-16; mixes mix 1-4; latency 1 ms
  digital stage 1-2 {{ protocol fern; control d1 }}
}}
zone left "Left wing" at (4, 0) m
zone right "Right wing" at (-4, 0) m
zone foh "Mixing place" at (0, -20) m
box SL "Left rack" is nw8 in left
box SR "Right rack" is nw8 in right
box DESK "Desk" is desk in foh
link C01: SL.A -- DESK.stage 1 via c6 30 m
link C02: SR.A -- SL.B via c6
source kick "Kick" dynamic in left to SL 1 via xlr 3 m
source snare "Snare" dynamic in left to SL 2 via xlr 3 m
source vox "Vocal" condenser in right to SR 1 via xlr 5 m
output wdg "Wedge" wedge in right from SR.line 1 via xlr 5 m
patch kick, snare -> DESK.ch 1-2
patch vox -> DESK.ch 3
patch DESK.mix 1 -> wdg
"""


def side(text: str) -> Side:
    """A rig with what all rules find in it."""
    loaded = load("night.rig", DictReader({"night.rig": text}), ())
    paths = Paths(loaded.rig)
    rules = [packed for packed in discover().rules if packed.rule.on]
    findings: tuple[Finding, ...] = lint(loaded.rig, paths, rules).findings
    return Side(loaded.rig, paths, loaded.sources, worst_first(findings))


def compared(old: str, new: str) -> Review:
    """What the change from one text to another means."""
    return review(side(old), side(new))


def told(found: Review) -> list[str]:
    """Changes in short, each with its effects behind it."""
    return [
        f"{change.kind} {change.what} {change.name}" + "".join(f" > {effect}" for effect in change.effects)
        for change in found.changes
    ] + [f"> {words}" for words in found.more]
