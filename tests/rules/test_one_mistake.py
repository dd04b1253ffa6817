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


# Data lines, a panel, surface and engine, two desks, a chain of three.
HOUSE = """\
rig "House" { rate 48 kHz }
protocol fernlink { carries 64 at 48 kHz; over cat5e 100 m; topology chain 4 }
model nw16 {
  kind stage-box
  inputs mic 1-16 { preamp; phantom 48 V 10 mA; gain remote }
  digital A, B { protocol fernlink; control fern; chain }
}
model core { kind engine; channels ch 1-32; digital ext 1-2 { protocol fernlink; control fern }; data ctl }
model deck { kind surface; data ctl }
model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink; control fern }; data ctl }
model wall2 { kind panel; digital rear 1-2; digital front 1-2; pass rear -- front }
model switch8 { kind switch; digital port 1-8 }
zone wing
zone foh
box SL is nw16 in wing
box SR is nw16 in wing
box CORE is core in wing
box MON is desk32 in wing
box SURF is deck in foh
box SW is switch8 in wing
box WP is wall2 in wing
box FP is wall2 in foh
link C01: SL.A -- CORE.ext 1 via cat6 9 m
link C02: SL.B -- SR.A via cat6 9 m
link C03: MON.stage -- WP.front 2 via cat6 3 m
link H02: WP.rear 2 -- FP.rear 2 via cat6 50 m
link C04: FP.front 2 -- CORE.ext 2 via cat6 3 m
link H01: WP.rear 1 -- FP.rear 1 via cat6 50 m
link N01: SURF.ctl -- FP.front 1 via cat6 3 m
link N02: WP.front 1 -- SW.port 1 via cat6 3 m
link N03: CORE.ctl -- SW.port 2 via cat6 3 m
source kick dynamic in wing to SR 1 via xlr 6 m
source vox condenser in wing to SL 1 via xlr 6 m
patch SR.mic 1 -> CORE.ch 1
patch SL.mic 1 -> CORE.ch 2
patch CORE.ch 1-2 -> MON.ch 1-2
clock CORE
control SL.mic 1 by CORE
"""


def test_the_rigs_are_good() -> None:
    assert told(GOOD) == []
    assert told(HOUSE) == []


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


@pytest.mark.parametrize(
    ("right", "wrong", "rule"),
    [
        # the way from the surface to the engine
        ("link N01: SURF.ctl --", "link N01: SURFF.ctl --", "unknown-name"),
        ("-- FP.front 1 via", "-- FPP.front 1 via", "unknown-name"),
        ("link N01:", "linkq N01:", "syntax-error"),
        ("link H01: WP.rear 1", "link H01: WPP.rear 1", "unknown-name"),
        ("link H01: WP.rear 1", "link H01: WP.raer 1", "no-such-port"),
        ("N03: CORE.ctl", "N03: CORRE.ctl", "unknown-name"),
        ("-- SW.port 2", "-- SWW.port 2", "unknown-name"),
        ("box CORE is core", "box CORRE is core", "unknown-name"),
        ("box CORE is", "boxq CORE is", "syntax-error"),
        ("box SURF is", "box SURFF is", "unknown-name"),
        ("box SW is", "box SWW is", "unknown-name"),
        ("model core {", "model coer {", "unknown-name"),
        ("model core {", "modelq core {", "syntax-error"),
        ("model deck {", "model deckk {", "unknown-name"),
        ("kind engine", "kindq engine", "unknown-name"),
        ("kind engine", "kind enginee", "unknown-name"),
        ("control fern }; data ctl }\nmodel deck", "control fern }; data ctlq }\nmodel deck", "no-such-port"),
        ("kind surface; data ctl", "kind surface; data ctlq", "no-such-port"),
        ("kind surface; data ctl", "kind surface; dataq ctl", "unknown-name"),
        # the panel in between
        ("pass rear -- front", "pass raer -- front", "no-such-port"),
        ("pass rear -- front", "pas rear -- front", "syntax-error"),
        ("kind panel; digital rear", "kind panel; digitall rear", "unknown-name"),
        ("kind panel;", "kindq panel;", "unknown-name"),
        # dialects, chains, protocols
        ("control fern; chain }", "controll fern; chain }", "unknown-name"),
        ("control fern; chain }", "control fern; chian }", "unknown-name"),
        (
            "{ protocol fernlink; control fern }; data ctl }\nmodel deck",
            "{ protocol fernlink; controll fern }; data ctl }\nmodel deck",
            "unknown-name",
        ),
        ("digital A, B { protocol", "digital A, B { protocoll", "unknown-name"),
        ("topology chain 4", "topologyy chain 4", "unknown-name"),
        ("topology chain 4", "topology chian 4", "syntax-error"),
        ("carries 64", "carriess 64", "unknown-name"),
        ("kind console", "kindq console", "unknown-name"),
        ("gain remote", "gainn remote", "unknown-name"),
        # the lines between the boxes
        ("C01: SL.A", "C01: SLL.A", "unknown-name"),
        ("C02: SL.B", "C02: SLL.B", "unknown-name"),
        ("link C02:", "linc C02:", "syntax-error"),
        ("-- FP.rear 2", "-- FP.rear 9", "no-such-port"),
        ("box SL is", "box SLL is", "unknown-name"),
        ("clock CORE", "clok CORE", "syntax-error"),
        ("control SL.mic 1 by CORE", "control SL.mic 1 by COER", "unknown-name"),
        ("control SL.mic 1 by CORE", "contrl SL.mic 1 by CORE", "syntax-error"),
        ("patch SR.mic 1 ->", "patch SR.mik 1 ->", "no-such-port"),
        ("patch CORE.ch 1-2 ->", "patch CORRE.ch 1-2 ->", "unknown-name"),
        # and what is really wrong
        ("link N01: SURF.ctl -- FP.front 1", "link N01: SURF.ctl -- FP.front 3", "no-such-port"),
        ("link C02: SL.B -- SR.A via cat6 9 m", "link C02: SL.B -- SR.A via cat6 109 m", "run-too-long"),
        (
            "link H02: WP.rear 2 -- FP.rear 2 via cat6 50 m",
            "link H02: WP.rear 2 -- FP.rear 2 via cat6 95 m",
            "run-too-long",
        ),
        ("clock CORE", "", "clock-leader"),
    ],
)
def test_one_mistake_in_a_house_with_data_lines(right: str, wrong: str, rule: str) -> None:
    assert HOUSE.count(right) >= 1
    found = told(HOUSE.replace(right, wrong, 1))
    assert [line.split()[0] for line in found] == [rule]


def test_only_what_may_come_of_a_mistake_is_kept_back() -> None:
    """A patch that cannot be read leaves the cables as they are: their faults are told beside it."""
    text = GOOD.replace("patch keys ->", "patch kyes ->").replace(
        "DESK.stage 1 via cat6 60 m", "DESK.stage 1 via om3 60 m"
    )
    assert sorted(line.split()[0] for line in told(text)) == ["medium-mismatch", "unknown-name"]
