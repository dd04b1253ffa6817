"""Where phantom goes on or off after a change: on a preamp that had it, a ribbon may be damaged."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.paths import Paths, keep_off
from rigdsl.review.effect import Effect, Fresh, named

__all__ = ["phantom", "phantom_words"]


def phantom(old: Paths, new: Paths, fresh: Fresh) -> Iterator[Effect]:
    """Preamps whose phantom is switched otherwise, on the sources that come to them."""
    was = {now: name for name, now in fresh.items()}
    before = {named(port, fresh) for port in old.phantom_on}
    for port in sorted(before ^ set(new.phantom_on), key=lambda port: port.key):
        if port.box in new.rig.boxes:
            here = [leg.name for leg in new.sources_at(port)]
            gone = [leg.name for leg in old.sources_at(named(port, was))]
            ribbon = next((name for name in here if keep_off(new.rig.sources[name])), "")
            words = phantom_words(was=port in before, now=port in new.phantom_on, ribbon=bool(ribbon))
            why = f", for {ribbon} is a ribbon" if ribbon else ""
            model = new.rig.boxes[port.box].model.name
            names = dict.fromkeys((*here, *(fresh.get(name, name) for name in gone), str(port), port.box, model))
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
