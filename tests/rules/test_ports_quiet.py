"""What could not be read is told once, and no rule guesses at what hangs on it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from rigdsl.finding import Finding
from rigdsl.lint.rule import Rule, Sockets
from rigdsl.paths import Paths
from rigdsl.rig import Rig, read
from rigdsl_ports import pack

RULES: Mapping[str, Rule[Any]] = {rule.name: rule for rule in pack.rules}

GEAR = """\
rig "Half written" {}
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A { protocol fernlink } }
model desk32 { kind console; channels ch 1-32; mixes mix 1-8; digital stage 1-2 { protocol fernlink } }
model sub12 { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }
model mc4 {
  kind sub-box; inputs panel 1-4; inputs return 1-4; outputs tail 1-4; outputs out 1-4
  pass panel -> tail; pass return -> out
}
model net4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
model amp2 { kind amplifier; inputs in 1-2; outputs out 1-2; pass in -> out }
model top8 { kind loudspeaker; inputs in; outputs link; pass in -> link }
box SL is nw16
box DR is sub12
box DESK is desk32
box A is amp2
box MC is mc4
box NP is net4
link C01: SL.A -- DESK.stage 1 via cat6 60 m
"""


@pytest.mark.parametrize(
    ("rule", "lines"),
    [
        ("unplugged-source", ("source vox dynamic to SL 17",)),
        ("unplugged-source", ("source vox dynamic to SX 1",)),
        ("unplugged-output", ("output wdg wedge from SL 9",)),
        ("lost-source", ("source vox dynamic to SL 1", "patch SL.mic 1 -> DESK.ch 33")),
        ("lost-source", ("source vox dynamic to DR 1", "link L1: DR.tail 1-3 -- SL.mic 1-2 via xlr 5 m")),
        ("silent-output", ("output wdg wedge from SL 1", "patch DESK.mix 9 -> SL.line 1")),
        ("lost-source", ("source vox dynamic to SL 1", "patch vxo -> DESK.ch 3")),
        ("silent-output", ("output wdg wedge from SL 1", "patch DESK.mix 1 -> wgd")),
        ("unused-port", ("source vox dynamic to SL 1", "link L1: DR.tail 1-3 -- SL.mic 2-3 via xlr 5 m")),
        # A cable that was left out may be the one that is missing at a loose end.
        ("lost-source", ("source vox dynamic to DR 1", "link L1: DRq.tail 1-4 -- SL.mic 3-6 via xlr 5 m")),
        ("lost-source", ("source vox dynamic to DR 1", "linkq L1: DR.tail 1-4 -- SL.mic 3-6 via xlr 5 m")),
        ("silent-output", ("box T is top8", "link S1: SL.line 3 -- Aq.in 1", "link P1: A.out 1 -- T.in")),
        ("silent-output", ("box T is top8", "link S1: SL.line 3 -- A.inn 1", "link P1: A.out 1 -- T.in")),
        ("unplugged-output", ("box T is top8", "link P1: A.out 1 -- Tq.in")),
        ("unplugged-output", ("box COL-Lq is top8", "link P1: A.out 1 -- COL-L.in")),
        ("silent-output", ("box COL-Lq is top8", "link P1: A.out 1 -- COL-L.in")),
        ("dead-end-line", ("link C2: SL.A -- NP.front 1", "link C3: NPq.rear 1 -- DESK.stage 2")),
        ("dead-end-line", ("link C2: SL.A -- NP.front 1", "link C3: NP.raer 1 -- DESK.stage 2")),
        # The source that may be meant to hang there has two groups to choose from.
        ("dead-end-line", ("link L1: MC.tail 1-4 -- SL.mic 5-8 via xlr 5 m", "source vox dynamic to MC 1")),
        (
            "empty-channel",
            ("link L1: MC.tail 1-4 -- SL.mic 5-8", "source vox dynamic to MC 1", "patch SL.mic 5 -> DESK.ch 5"),
        ),
        ("empty-channel", ("link L1: DRq.tail 1-4 -- SL.mik 5-8", "patch SL.mic 5 -> DESK.ch 5")),
        ("split-pair", ("source keys line to SL 1,3 { mono }", "source b dynamic to SX 1 { with keys }")),
    ],
)
def test_rules_keep_quiet_about_what_is_broken(rule: str, lines: tuple[str, ...]) -> None:
    rig = read(GEAR + "\n".join(lines))
    assert rig.findings, "the fault itself is told while the files are read"
    assert told(rule, rig) == []


@pytest.mark.parametrize(
    ("rule", "subject", "lines"),
    [
        ("lost-source", "vox", ("source vox dynamic to SL 1", "link L1: DRq.tail 1 -- MC.panel 1")),
        ("lost-source", "vox", ("source vox dynamic to DR 1", "link S1: Aq.out 1 -- MC.return 1")),
        ("unplugged-output", "T", ("box T is top8", "link L1: DRq.tail 1 -- MC.panel 1")),
        ("silent-output", "wdg", ("output wdg wedge from SL 1", "link L1: DRq.tail 1 -- MC.panel 1")),
    ],
)
def test_what_has_nothing_to_do_with_it_is_told(rule: str, subject: str, lines: tuple[str, ...]) -> None:
    rig = read(GEAR + "\n".join(lines))
    assert rig.findings
    assert [one.subject for one in told(rule, rig)] == [subject]


def told(rule: str, rig: Rig) -> list[Finding]:
    said = RULES[rule].check(rig, Paths(rig), RULES[rule].options())
    return [one.tell(one.ports) if isinstance(one, Sockets) else one for one in said]
