"""Which things of a rig changed, each once: added, removed, renamed, moved, changed in some fields."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from rigdsl.review.items import KINDS, Fields, Items
from rigdsl.review.renames import Renames, renamed
from rigdsl.rig import natural

__all__ = ["Change", "Kind", "changes"]

Kind = Literal["added", "removed", "renamed", "moved", "changed"]
WHERE = frozenset({"ports", "aimed", "zone", "slot", "joins", "position_m"})
ORDER = ("rig", *KINDS.values())


@dataclass(frozen=True)
class Change:
    """One thing, by its new name; `fields` has each field that differs as it was and as it is.

    `effects` are what follows from it on the night, in words; `old_name` differs where it is renamed.
    """

    kind: Kind
    what: str
    name: str
    fields: Mapping[str, tuple[Any, Any]] = field(default_factory=dict)
    effects: tuple[str, ...] = ()
    old_name: str = ""


def changes(old: Items, new: Items, names: Renames) -> tuple[Change, ...]:
    """All of them, in the order of a crew's reading: zones, boxes, cables, sources, outputs, patches and the rest."""
    before = renamed(old, names)
    fresh = {(what, now): was for (what, was), now in names.items()}
    found = []
    for what, name in before.keys() | new.keys():
        ours, theirs = before.get((what, name)), new.get((what, name))
        if ours is None or theirs is None:
            found.append(Change("added" if ours is None else "removed", what, name, _whole(ours, theirs)))
            continue
        was = fresh.get((what, name), name)
        fields = _differing(ours, theirs)
        if was != name:
            found.append(Change("renamed", what, name, {"name": (was, name), **fields}, old_name=was))
        elif fields:
            found.append(Change("moved" if _moves(fields) else "changed", what, name, fields))
    return tuple(sorted(found, key=lambda one: (ORDER.index(one.what), natural(one.name))))


def _moves(fields: Mapping[str, object]) -> bool:
    """It only stands or is plugged elsewhere, maybe with another cable."""
    return bool(fields.keys() & WHERE) and fields.keys() <= WHERE | {"lead"}


def _differing(ours: Fields, theirs: Fields) -> dict[str, tuple[Any, Any]]:
    if ours == theirs:  # as most are
        return {}
    keys = [*ours, *(key for key in theirs if key not in ours)]
    found = {key: (ours.get(key), theirs.get(key)) for key in keys if ours.get(key) != theirs.get(key)}
    if "lead" in found and _measured_only(*found["lead"]):
        del found["lead"]  # the zones moved, and with them the measure: that is told where it comes from
    return found


def _measured_only(ours: Any, theirs: Any) -> bool:
    both = isinstance(ours, dict) and isinstance(theirs, dict) and ours["measured"] and theirs["measured"]
    return bool(both) and ours["cable"] == theirs["cable"]


def _whole(ours: Fields | None, theirs: Fields | None) -> dict[str, tuple[Any, Any]]:
    """What a thing has that came, or had that went, without what is empty."""
    side = ours if ours is not None else theirs or {}
    told = {key: value for key, value in side.items() if value not in (None, "", [], False)}
    return {key: (value, None) if ours is not None else (None, value) for key, value in told.items()}
