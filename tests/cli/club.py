"""A small project on the disk, and what `rigdsl check` says of it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema

__all__ = ["CLEAN", "GEAR", "LOOSE", "SCHEMA", "document", "rules", "worst"]

SCHEMA = json.loads((Path(__file__).parents[2] / "grammar" / "check.schema.json").read_text("utf-8"))

GEAR = """\
model nw4 "4x2 stage box" {
  kind stage-box; inputs mic 1-4 { preamp; phantom 48 V 10 mA }; outputs line 1-2; digital A { protocol aes50 }
}
model desk8 "8-channel desk" { kind console; channels ch 1-8; mixes mix 1-2; digital stage { protocol aes50 } }
"""
CLEAN = """\
rig "Lantern Hall" { rate 48 kHz }
use "gear.rig"
zone wing "Stage left wing"
box SL "Stage left rack" is nw4 in wing
box DESK "Desk" is desk8 in wing
link C01: SL.A -- DESK.stage via cat6 30 m
source kick "Kick in" dynamic in wing to SL 1 via xlr 6 m
source oh "Overhead" condenser in wing to SL 2 via xlr 6 m
output wedge "Wedge" wedge in wing from SL.line 1 via xlr 6 m
patch SL.mic 1-2 -> DESK.ch 1-2
patch DESK.mix 1 -> wedge
keep SL.mic 3-4 for "support act"
keep SL.line 2 for "support act"
"""
LOOSE = CLEAN.replace(" to SL 1 via xlr 6 m", "")  # the kick is plugged into nothing


def document(out: str) -> Any:
    """The JSON document, held against its schema."""
    value = json.loads(out)
    jsonschema.validate(value, SCHEMA)
    return value


def worst(out: str) -> str:
    """The level of the worst finding."""
    levels = {finding["level"] for finding in document(out)["findings"]}
    return next((level for level in ("error", "warning", "note") if level in levels), "nothing")


def rules(out: str) -> list[str]:
    return [finding["rule"] for finding in document(out)["findings"]]
