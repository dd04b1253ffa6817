"""Desks and stage boxes in short, and what is said of a pair of them."""

from __future__ import annotations

from rigdsl.plan.match import Match, matched
from rigdsl.rig import Rig, read

__all__ = ["BOX", "COMPUTER", "DESK", "ENGINE", "LOCAL", "PLOVER", "PROTOCOLS", "gear", "pair", "verdict"]

PROTOCOLS = """\
protocol plover { carries 40 at 48 kHz, 20 at 96 kHz; over cat5e 100 m, om3 300 m; slots fixed; topology chain 4 }
protocol brook { carries 64 at 48 kHz; over cat5e 100 m; topology network; needs shielded }
protocol moss { carries 8 at 48 kHz; over cat5e 80 m }
"""
BOX = "model box { kind stage-box; inputs mic 1-16 { preamp; gain remote }; outputs line 1-8; %s }"
DESK = "model desk { kind console; channels ch 1-32; mixes mix 1-8; inputs local 1-12 { preamp }; %s }"
LOCAL = "model box { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; %s }"
ENGINE = "model desk { kind engine; channels ch 1-32; mixes mix 1-8; inputs local 1-12 { preamp }; %s }"
COMPUTER = "model desk { kind computer; channels track 1-32; %s }"
PLOVER = "digital A, B { protocol plover; control lark; chain }"


def gear(*models: str) -> Rig:
    rig = read(PROTOCOLS + "\n".join(models))
    assert [finding.message for finding in rig.findings] == []
    return rig


def pair(box: str, desk: str, *more: str, rate_hz: int | None = None) -> Match:
    rig = gear(box, desk, *more)
    (found,) = matched(rig, [rig.models["desk"]], [rig.models["box"]], rate_hz)
    return found


def verdict(found: Match) -> tuple[bool, bool | None, bool | None]:
    return found.audio, found.back, found.control
