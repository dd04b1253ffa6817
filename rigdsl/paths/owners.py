"""Who sets gain and phantom of each preamp."""

from __future__ import annotations

from rigdsl.paths.paths import Paths
from rigdsl.rig import Port

__all__ = ["gain_owners"]


def gain_owners(paths: Paths) -> dict[Port, str]:
    """Who sets gain and phantom of each preamp: a desk from afar, or whoever stands at the box.

    A preamp that only a desk out of reach could set has nobody: `rigdsl check` says so.
    """
    rig = paths.rig
    found = {port: owner for gain in paths.gains for port, owner in zip(gain.ports, gain.owners, strict=True) if owner}
    cut = {port for gain in paths.gains for port in gain.cut}
    for name, box in sorted(rig.boxes.items()):
        for group in box.model.of_role("inputs"):
            for port in box.ports(group) if group.preamp else ():
                if port in cut and "local" not in group.gain:
                    found[port] = "nobody"
                elif port in cut or not group.remote_gain:
                    found[port] = rig.body(name)
    return found
