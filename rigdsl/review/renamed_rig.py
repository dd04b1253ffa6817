"""A rig with the new names of what is only called otherwise, so that two states of it speak of one thing alike."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from rigdsl.review.renames import Renames
from rigdsl.rig import Leg, Port, Rig

__all__ = ["with_new_names"]

# What is called by a name, and the fields in which others call it so.
NAMED = ("zones", "boxes", "links", "sources", "outputs", "supplies")
GEAR = frozenset({"model", "cable", "protocol"})  # whose names are a set of their own
LINES = ("patches", "inserts", "powers", "clocks", "controls", "keeps")
CALLED = frozenset(
    {"name", "id", "zone", "zones", "aimed", "partner", "supply", "by", "box", "boxes", "ports", "joins", "pairs"}
    | {"at", "send", "back", "slot"}
)


def with_new_names(rig: Rig, names: Renames) -> Rig:
    """The rig by the new names. One name is never that of two things, whatever they are."""
    fresh = {old: new for (what, old), new in names.items() if what not in GEAR}
    if not fresh:
        return rig
    things: dict[str, Any] = {
        kind: {fresh.get(name, name): _called(thing, fresh) for name, thing in getattr(rig, kind).items()}
        for kind in NAMED
    }
    ways = {_value(zones, fresh): _called(way, fresh) for zones, way in rig.ways.items()}
    lines: dict[str, Any] = {kind: tuple(_called(one, fresh) for one in getattr(rig, kind)) for kind in LINES}
    incomplete = frozenset(fresh.get(name, name) for name in rig.incomplete)
    return replace(rig, ways=ways, incomplete=incomplete, **things, **lines)


def _called(thing: Any, fresh: dict[str, str]) -> Any:
    new = {one.name: _value(getattr(thing, one.name), fresh) for one in fields(thing) if one.name in CALLED}
    return replace(thing, **new)


def _value(value: Any, fresh: dict[str, str]) -> Any:
    """A name, a socket, a line of a source, or several of them, by the new names."""
    if isinstance(value, str):
        return fresh.get(value, value)
    if isinstance(value, Port):
        return value._replace(box=fresh.get(value.box, value.box))
    if isinstance(value, Leg):
        return value._replace(name=fresh.get(value.name, value.name))
    if isinstance(value, tuple | frozenset):
        return type(value)(_value(one, fresh) for one in value)
    return value
