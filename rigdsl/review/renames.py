"""Things that only go by another name: a new name at the old place is no new thing."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping
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
    """Kind by kind, those first that others are named by; of each kind the surest sign of one thing first."""
    found: dict[tuple[str, str], str] = {}
    for what, identities in IDENTITIES.items():
        for identity in identities:
            before = renamed(old, found)
            gone = [name for kind, name in before if kind == what and (what, name) not in new]
            come = [name for kind, name in new if kind == what and (what, name) not in before]
            found |= {(what, was): now for was, now in _same(what, gone, before, come, new, identity)}
    return found


Identity = Callable[[Fields], Any]


def _same(
    what: str, gone: Collection[str], old: Items, come: Collection[str], new: Items, identity: Identity
) -> Iterator[tuple[str, str]]:
    """Pairs of a name that went and one that came, where only these two are alike."""
    alike: dict[Any, tuple[list[str], list[str]]] = defaultdict(lambda: ([], []))
    for side, (names, items) in enumerate(((gone, old), (come, new))):
        for name in names:
            key = identity(items[what, name])
            if key is not None:
                alike[key][side].append(name)
    for ours, theirs in alike.values():
        if len(ours) == len(theirs) == 1:
            yield ours[0], theirs[0]


def _labelled_plug(fields: Fields) -> Any:
    """A source or output with the same label in the same sockets, or in none yet."""
    return (tuple(fields["ports"]), fields["label"]) if fields["label"] else None


def _plug(fields: Fields) -> Any:
    """A source or output in the same sockets of which nothing but the name and the label is new."""
    rest = {key: value for key, value in fields.items() if key not in ("label", "partner")}
    return json.dumps(rest, sort_keys=True) if fields["ports"] else None


def _labelled_box(fields: Fields) -> Any:
    return (fields["model"], fields["label"], fields["serial"]) if fields["label"] else None


def _box(fields: Fields) -> Any:
    return fields["model"], fields["zone"], str(fields["slot"]), fields["serial"]


def _gear(fields: Fields) -> Any:
    """A model that is the same in all but what it is called."""
    return json.dumps({key: value for key, value in fields.items() if key != "label"}, sort_keys=True)


def _link(fields: Fields) -> Any:
    return tuple(tuple(sorted(pair)) for pair in fields["joins"])


def _zone(fields: Fields) -> Any:
    position = fields["position_m"]
    return ("at", tuple(position)) if position else ("label", fields["label"]) if fields["label"] else None


def _supply(fields: Fields) -> Any:
    return fields["zone"], fields["voltage_v"], fields["current_a"]


IDENTITIES: Mapping[str, tuple[Identity, ...]] = {
    "model": (_gear,),
    "zone": (_zone,),
    "box": (_labelled_box, _box),
    "supply": (_supply,),
    "link": (_link,),
    "source": (_labelled_plug, _plug),
    "output": (_labelled_plug, _plug),
}


def renamed(items: Items, names: Renames) -> Items:
    """All things with the new names, also where others speak of them."""
    if not names:
        return items
    new = {what: {old: fresh for (kind, old), fresh in names.items() if kind == what} for what in IDENTITIES}
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
    if key == "model":
        return new["model"].get(value, value)
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
