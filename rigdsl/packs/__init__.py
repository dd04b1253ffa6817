"""Packs: what adds rules, gear, drawings and papers. A pack is a value, found by an entry point, checked when loaded.

An installed distribution offers one in its metadata, in the group `rigdsl.packs`:

    [project.entry-points."rigdsl.packs"]
    festival = "rigdsl_festival:pack"

One may also stand in a Python file that a person names on the command line; no rig and no `rig.toml` can name one.
A pack that cannot be used is refused with the reason and left out; the others go on.
"""

from rigdsl.packs.discover import asked_for, discover, gear
from rigdsl.packs.faults import KEBAB, pack_faults
from rigdsl.packs.guards import PackError
from rigdsl.packs.pack import API, EDITION, Installed, Offer, Pack, Packs, Refused

__all__ = [
    "API",
    "EDITION",
    "KEBAB",
    "Installed",
    "Offer",
    "Pack",
    "PackError",
    "Packs",
    "Refused",
    "asked_for",
    "discover",
    "gear",
    "pack_faults",
]
