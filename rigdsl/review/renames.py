"""Things that only go by another name: a new name at the old place is no new thing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from typing import Any

from rigdsl.review.items import Fields, Items

__all__ = ["Renames", "renamed", "renames"]

Renames = Mapping[tuple[str, str], str]  # the new name, by what it is and its old one

# Which fields name other things, and so change with their names.
SOCKETS = ("ports", "joins", "from", "send", "back", "slot", "at", "aimed")
PLACES = ("zone",)
THINGS = ("supply", "by", "partner")
BY_SOCKET = ("patch", "insert", "control", "keep", "power", "clock")  # these are called by a socket or box


def renames(old: Items, new: Items) -> Renames:
    """Kind by kind, those first that others are named by."""
    found: dict[tuple[str, str], str] = {}
    for what, identity in IDENTITY.items():
        before = renamed(old, found)
        gone = [name for kind, name in before if kind == what and (what, name) not in new]
        come = [name for kind, name in new if kind == what and (what, name) not in before]
        by_identity: dict[Any, tuple[list[str], list[str]]] = defaultdict(lambda: ([], []))
        for side, (names, items) in enumerate(((gone, before), (come, new))):
            for name in names:
                key = identity(items[what, name])
                if key is not None:
                    by_identity[key][side].append(name)
        found |= {(what, ours[0]): theirs[0] for ours, theirs in by_identity.values() if len(ours) == len(theirs) == 1}
    return found


def _plug(fields: Fields) -> Any:
    """A source or output: the same label in the same sockets, or in none. With another label it is another thing."""
    if fields["ports"]:
        return "plug", fields["type"], tuple(fields["ports"]), fields["label"]
    return ("label", fields["type"], fields["label"]) if fields["label"] else None


def _box(fields: Fields) -> Any:
    return fields["model"], fields["zone"], str(fields["slot"])


def _link(fields: Fields) -> Any:
    return tuple(tuple(sorted(pair)) for pair in fields["joins"])


def _zone(fields: Fields) -> Any:
    position = fields["position_m"]
    return ("at", tuple(position)) if position else ("label", fields["label"]) if fields["label"] else None


def _supply(fields: Fields) -> Any:
    return fields["zone"], fields["voltage_v"], fields["current_a"]


IDENTITY: Mapping[str, Callable[[Fields], Any]] = {
    "zone": _zone,
    "box": _box,
    "supply": _supply,
    "link": _link,
    "source": _plug,
    "output": _plug,
}


def renamed(items: Items, names: Renames) -> Items:
    """All things with the new names, also where others speak of them."""
    if not names:
        return items
    new = {what: {old: fresh for (kind, old), fresh in names.items() if kind == what} for what in IDENTITY}
    heads = {**new["box"], **new["source"], **new["output"]}
    found: dict[tuple[str, str], Fields] = {}
    for (what, name), fields in items.items():
        fresh = new.get(what, {}).get(name, name)
        if what in BY_SOCKET:
            fresh = _socket(name, heads)
        elif what == "way":
            fresh = " -- ".join(sorted(new["zone"].get(part, part) for part in name.split(" -- ")))
        found[what, fresh] = {key: _field(key, value, new, heads) for key, value in fields.items()}
    return found


def _field(key: str, value: Any, new: Mapping[str, Mapping[str, str]], heads: Mapping[str, str]) -> Any:
    if isinstance(value, list):
        return [_field(key, item, new, heads) for item in value]
    if not isinstance(value, str):
        return value
    if key in SOCKETS:
        return _socket(value, heads)
    if key in PLACES:
        return new["zone"].get(value, value)
    if key in THINGS:
        return {**heads, **new["supply"]}.get(value, value)
    return value


def _socket(text: str, heads: Mapping[str, str]) -> str:
    """`SL.mic 3`, `kick 2` or a name alone, with the new name at its head."""
    for sign in (".", " "):
        head, found, rest = text.partition(sign)
        if found and head in heads:
            return f"{heads[head]}{sign}{rest}"
    return heads.get(text, text)
