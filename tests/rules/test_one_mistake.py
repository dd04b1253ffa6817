"""A slip of the pen in a good rig gives one finding: nothing is told of what only follows from it."""

from __future__ import annotations

import pytest

from rigdsl.finding import Level
from rigdsl.lint import lint
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.rig import read

GOOD = """\
rig "Hall" { rate 48 kHz }
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
model nw16 {
  kind stage-box
  inputs mic 1-16 { preamp; phantom 48 V 10 mA; gain remote }
  outputs line 1-8
  digital A, B { protocol fernlink; control fern; chain }
}
model desk32 { kind console; channels ch 1-32; mixes mix 1-16; digital stage 1-2 { protocol fernlink; control fern } }
model sub4 { kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }
cable loom4 { medium analogue; lines 4 }
zone wing
zone foh
box SL is nw16 in wing
box SUB is sub4 in wing
box DESK is desk32 in foh
link C01: SL.A -- DESK.stage 1 via cat6 60 m
link L1: SUB.tail 1-4 -- SL.mic 13-16 via loom4 10 m
source kick dynamic in wing to SL 1 via xlr 6 m
source oh condenser in wing to SUB 1 via xlr 6 m
source keys line in wing to SL 2-3 via xlr 6 m
output wdg wedge in wing from SL.line 1 via xlr 6 m
patch SL.mic 1,4-16 -> DESK.ch 1,4-16
patch keys -> DESK.ch 2-3
patch DESK.mix 1 -> wdg
clock DESK
"""

RULES = [packed for packed in discover().rules if packed.rule.on]


def told(text: str) -> list[str]:
    rig = read(text)
    verdict = lint(rig, Paths(rig), RULES)
    return [f"{item.rule} {item.subject}" for item in verdict.findings if item.level != Level.NOTE]


def test_the_rig_is_good() -> None:
    assert told(GOOD) == []


@pytest.mark.parametrize(
    ("right", "wrong", "rule"),
    [
        ("via cat6 60 m", "via cat66 60 m", "unknown-name"),
        ("C01: SL.A --", "C01: SX.A --", "unknown-name"),
        ("C01: SL.A --", "C01: SL.Q --", "no-such-port"),
        ("C01: SL.A --", "C01: SL.A ->", "syntax-error"),
        ("DESK.stage 1 via", "DESK.stage 9 via", "no-such-port"),
        ("box SL is nw16", "box SL is nw61", "unknown-name"),
        ("box SL is nw16", "box SL nw16", "syntax-error"),
        ("box DESK is desk32", "box DESK is desk23", "unknown-name"),
        ("box SUB is sub4", "box SUB is sub5", "unknown-name"),
        ("SUB.tail 1-4 -- SL.mic 13-16", "SUB.tail 1-4 -- SL.mic 13-15", "range-length"),
        ("to SL 1 via", "to SX 1 via", "unknown-name"),
        ("to SL 1 via", "to SL 99 via", "no-such-port"),
        ("to SL 1 via xlr", "to SL 1 via xlrr", "unknown-name"),
        ("from SL.line 1", "from SL.lime 1", "no-such-port"),
        ("oh condenser", "oh condensr", "unknown-name"),
        ("{ protocol fernlink; control fern; chain }", "{ protocol fernlnk; control fern; chain }", "unknown-name"),
        ("carries 40 at 48 kHz", "carries 40 at 48 m", "wrong-unit"),
        ("patch keys ->", "patch kyes ->", "unknown-name"),
        ("clock DESK", "clock DSEK", "unknown-name"),
        # and the faults of cables and gear that rules tell
        ("via cat6 60 m", "via cat6 160 m", "run-too-long"),
        ("via cat6 60 m", "via om3 60 m", "medium-mismatch"),
        ("link C01: SL.A", "link C01: SL.mic 4", "domain-mismatch"),
        ("chain }", "chain; rate 96 kHz }", "rate-mismatch"),
        ("carries 40", "carries 8", "too-many-channels"),
    ],
)
def test_one_mistake_one_finding(right: str, wrong: str, rule: str) -> None:
    assert GOOD.count(right) >= 1
    found = told(GOOD.replace(right, wrong, 1))
    assert [line.split()[0] for line in found] == [rule]
