"""Where phantom goes on or off after a change: on a preamp that had it, a ribbon may be damaged."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.paths import Paths, keep_off
from rigdsl.review.effect import Effect

__all__ = ["phantom", "phantom_words"]


def phantom(old: Paths, new: Paths) -> Iterator[Effect]:
    """Preamps whose phantom is switched otherwise, on the sources that come to them."""
    for port in sorted(old.phantom_on.keys() ^ new.phantom_on.keys(), key=lambda port: port.key):
        if port.box in new.rig.boxes:
            here, gone = ([leg.name for leg in paths.sources_at(port)] for paths in (new, old))
            ribbon = next((name for name in here if keep_off(new.rig.sources[name])), "")
            words = phantom_words(was=port in old.phantom_on, now=port in new.phantom_on, ribbon=bool(ribbon))
            why = f", for {ribbon} is a ribbon" if ribbon else ""
            names = dict.fromkeys((*here, *gone, str(port), port.box, new.rig.boxes[port.box].model.name))
            yield Effect(f"{port}: phantom {words}{why}", tuple(names))


def phantom_words(*, was: bool, now: bool, ribbon: bool) -> str:
    """What somebody does with the phantom of a preamp."""
    if now and ribbon:
        return "is on for others of its bank: do not plug it here"
    if was and not now:
        return "off before it is plugged" if ribbon else "off"
    if now:
        return "off, then on again" if was else "on"
    return "keep off" if ribbon else ""
