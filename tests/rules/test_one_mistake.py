"""A slip of the pen in a good rig gives one finding: nothing is told of what only follows from it."""

from __future__ import annotations

import pytest

from rigdsl.finding import Level
from rigdsl.testing import findings

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


def told(text: str) -> list[str]:
    return [f"{item.rule} {item.subject}" for item in findings(text) if item.level != Level.NOTE]


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


# Copper all the way: a multicore, DI, amplifiers, loudspeakers in parallel, supplies, a stock, the public.
BARN = """\
rig "Barn" { lead xlr }
cable multi8 { medium analogue; lines 8; connector xlr-m, xlr-f }
model desk8 {
  kind console; channels ch 1-8; mixes mix 1-4
  inputs local 1-8 { connector xlr-f; preamp; phantom 48 V 10 mA }; outputs out 1-4 { connector xlr-m }
  pass local -> ch; pass mix -> out
  power 60 W
}
model head6 {
  kind sub-box; inputs panel 1-6 { connector xlr-f }; outputs tail 1-6 { connector xlr-m }
  inputs return 1-2 { connector xlr-f }; outputs send 1-2 { connector xlr-m }
  pass panel -> tail; pass return -> send
}
model di1 {
  kind di; inputs in { connector jack; level instrument }; outputs out { connector xlr-m; level mic }
  pass in -> out { isolated }
}
model amp2 {
  kind amplifier; inputs in 1-2 { connector xlr-f; level line }; outputs out 1-2 { least 4 ohm }; pass in -> out
  power 1.5 kW
}
model top8 { kind loudspeaker; inputs in { impedance 8 ohm }; outputs on { thru } }
zone stage
zone wing
zone foh
box DESK "Desk" is desk8 in foh { address 10.0.4.11 }
box MC "Multicore head" is head6 in stage
box DI "Bass DI" is di1 in stage
box A1 "Mains amplifier" is amp2 in wing { address 10.0.4.12 }
box T1 "Left" is top8 in stage
box T2 "Right" is top8 in stage
box T3 "Wedge" is top8 in stage
link X1 via multi8 30 m {
  MC.tail 1-6 -- DESK.local 1-6
  DESK.out 1-2 -- MC.return 1-2
}
link D1: DI.out -- MC.panel 1 via xlr 5 m
link A1A: MC.send 1-2 -- A1.in 1-2 via xlr 5 m
link S1: A1.out 1 -- T1.in via ls4 5 m
link S2: T1.on -- T2.in via ls4 5 m
link S3: A1.out 2 -- T3.in via ls4 5 m
source bass instrument in stage to DI.in via jack 3 m
source vox dynamic in stage to MC.panel 2 via xlr 10 m
source oh condenser in stage to MC.panel 3 via xlr 10 m
source radio wireless in stage to MC.panel 4 via xlr 5 m { freq 606.5 MHz }
source host wireless in stage to MC.panel 5 via xlr 5 m { freq 607.9 MHz }
supply M1 230 V 16 A in wing
power A1, DESK from M1
stock xlr 5 m x 5
stock xlr 10 m x 2
"""


def test_the_barn_is_good() -> None:
    assert told(BARN) == []


@pytest.mark.parametrize(
    ("right", "wrong", "finding"),
    [
        ("S3: A1.out 2 -- T3.in", "S3: T2.on -- T3.in", "amp-overload A1.out 1"),
        ("least 4 ohm", "least 8 ohm", "amp-overload A1.out 1"),
        ("power 1.5 kW", "power 3.7 kW", "circuit-load M1"),
        ("supply M1 230 V 16 A", "supply M1 120 V 12 A", "circuit-load M1"),
        ("connector jack; level instrument", "connector xlr-m; level instrument", "connector-mismatch bass"),
        ("DI.in via jack 3 m", "DI.in via jack 7 m", "hi-z-run bass"),
        ("A1.out 2 -- T3.in via ls4 5 m", "A1.out 2 -- T3.in via ls0-75 15 m", "speaker-loss S3"),
        (
            "outputs out { connector xlr-m; level mic }",
            "outputs out { connector jack; level mic }",
            "connector-mismatch D1",
        ),
        ("freq 607.9 MHz", "freq 606.5 MHz", "frequency-taken 606.5 MHz"),
        ("10.0.4.12", "10.0.4.11", "address-taken 10.0.4.11"),
        ('"Right"', '"Left"', "label-repeated T1"),
        ("stock xlr 10 m x 2", "stock xlr 10 m x 1", "over-stock xlr 10 m"),
        ("stock xlr 5 m x 5", "stock xlr 5 m x 4", "over-stock xlr 5 m"),
        ("zone foh\n", "zone foh { public }\n", "walkway X1"),
    ],
)
def test_one_mistake_in_a_barn(right: str, wrong: str, finding: str) -> None:
    assert BARN.count(right) == 1
    assert told(BARN.replace(right, wrong)) == [finding]


@pytest.mark.parametrize(
    ("right", "wrong", "rule"),
    [
        ("xlr-f; level line }; outputs out 1-2", "xlr-f; level mic }; outputs out 1-2", "level-mismatch"),
        ("impedance 8 ohm", "impedance 3 ohm", "amp-overload"),
    ],
)
def test_a_mistake_at_two_sockets_is_told_of_both(right: str, wrong: str, rule: str) -> None:
    found = told(BARN.replace(right, wrong))
    assert [line.split()[0] for line in found] == [rule, rule]


def test_a_condenser_on_a_line_input_wants_phantom_first() -> None:
    """That a microphone is too quiet there follows from the same wrong socket."""
    text = BARN.replace("; outputs out 1-4 {", "; inputs line 1-2; outputs out 1-4 {")
    text = text.replace("pass local -> ch;", "pass local 1-6 -> ch 1-6; pass line 1-2 -> ch 7-8;")
    text = text.replace("to MC.panel 3 via xlr 10 m", "to DESK.line 1 via xlr 10 m")
    assert told(text) == ["phantom-missing oh"]
    assert told(text.replace("oh condenser", "oh dynamic")) == ["level-mismatch DESK.line 1"]


AMPLIFIER = """\
rig "Amplifier" {}
model amp1 { kind amplifier; inputs in 1-2; outputs out 1-2 { level loudspeaker; least 4 ohm; connector jack }
  pass in -> out }
model wedge8 { kind loudspeaker; inputs in { level loudspeaker; impedance 8 ohm }; outputs on { thru } }
cable spk { medium loudspeaker; conductor 2.5 mm2 }
zone stage
box AMP is amp1 in stage
source keys line in stage to AMP.in 1 via xlr 3 m
"""


@pytest.mark.parametrize(
    ("lines", "rule"),
    [
        # two plugs in one socket: only one of them fits, so they are not in parallel
        (
            "output w1 wedge in stage from AMP.out 1 via spk 3 m { impedance 4 ohm }\n"
            "output w2 wedge in stage from AMP.out 1 via spk 3 m { impedance 4 ohm }",
            ["port-taken AMP.out 1"],
        ),
        # too many on one line, which loses too much of the power for that reason
        (
            "box W1 is wedge8 in stage\nbox W2 is wedge8 in stage\nbox W3 is wedge8 in stage\n"
            "link S1: AMP.out 1 -- W1.in via spk 10 m\nlink S2: W1.on -- W2.in via spk 3 m\n"
            "link S3: W2.on -- W3.in via spk 3 m",
            ["amp-overload AMP.out 1"],
        ),
        # into a desk: nobody is sent for the adapter that would make it fit
        (
            "model desk { kind console; channels ch 1; inputs local { preamp; connector xlr-f }; pass local -> ch }\n"
            "box DESK is desk in stage\nlink S1: AMP.out 1 -- DESK.local via xlr 3 m",
            ["level-mismatch DESK.local"],
        ),
    ],
)
def test_an_amplifier_s_output_is_told_of_once(lines: str, rule: list[str]) -> None:
    assert told(AMPLIFIER + lines) == rule
