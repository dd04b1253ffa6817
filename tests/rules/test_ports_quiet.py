"""What could not be read is told once, and no rule guesses at what hangs on it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from rigdsl.lint.rule import Rule, Sockets
from rigdsl.paths import Paths
from rigdsl.rig import read
from rigdsl_ports import pack

RULES: Mapping[str, Rule[Any]] = {rule.name: rule for rule in pack.rules}

GEAR = """\
rig "Half written" {}
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A { protocol fernlink } }
model desk32 { kind console; channels ch 1-32; mixes mix 1-8; digital stage 1-2 { protocol fernlink } }
model sub12 { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }
box SL is nw16
box DR is sub12
box DESK is desk32
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
        ("split-pair", ("source keys line to SL 1,3 { mono }", "source b dynamic to SX 1 { with keys }")),
    ],
)
def test_rules_keep_quiet_about_what_is_broken(rule: str, lines: tuple[str, ...]) -> None:
    rig = read(GEAR + "\n".join(lines))
    assert rig.findings, "the fault itself is told while the files are read"
    said = RULES[rule].check(rig, Paths(rig), RULES[rule].options())
    assert [one.tell(one.ports) if isinstance(one, Sockets) else one for one in said] == []
