"""A small rig that two people change, and their merge."""

from __future__ import annotations

from rigdsl.branches import Merged, merged

__all__ = ["BASS", "KICK", "LINK", "NOTE", "PATCH", "RIG", "TPT", "VL", "Edits", "edited", "put_together"]

RIG = """\
rig "Demo night" { rate 48 kHz }

# ---- The boxes
box SL "Stage left" is box32 in wing {
  rate 48 kHz
  note "on the riser"  # dry
}
link C01: SL.A -- DESK.stage via reel6 35 m

# ---- What makes sound
source kick "Kick" dynamic in stage to SL.mic 1 via xlr 10 m { stand "short boom" }
source bass "Bass" di in stage to SL.mic 2

patch kick, bass -> DESK.ch 1-2
"""
KICK = 'source kick "Kick" dynamic in stage to SL.mic 1 via xlr 10 m { stand "short boom" }\n'
BASS = 'source bass "Bass" di in stage to SL.mic 2\n'
LINK = "link C01: SL.A -- DESK.stage via reel6 35 m\n"
PATCH = "patch kick, bass -> DESK.ch 1-2\n"
TPT, VL = 'source tpt "Trumpet" dynamic\n', 'source vl "Violin" condenser\n'
NOTE = '  note "on the riser"  # dry\n'

Edits = tuple[tuple[str, str], ...]


def edited(*changes: tuple[str, str]) -> str:
    text = RIG
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def put_together(ours: str, theirs: str, base: str = RIG) -> Merged:
    done = merged(base, ours, theirs)
    assert done is not None
    return done
