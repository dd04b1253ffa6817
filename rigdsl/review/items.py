"""A rig as things with names and fields of plain values, so that two rigs can be held against each other.

Made of the same record that `rigdsl export` writes: whatever differs there differs here.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from typing import Any

from rigdsl.rig import Rig, natural
from rigdsl.rig.record import plain, used_gear
from rigdsl.text import Source, Span

__all__ = ["KINDS", "Fields", "Items", "Standing", "items_of", "place_of", "standing"]

Fields = Mapping[str, Any]
Items = Mapping[tuple[str, str], Fields]  # by what a thing is and what it is called

Standing = Mapping[tuple[str, str], Sequence[tuple[Fields, Span]]]  # several things may go by one name

# Lists of the record, what one thing of each is, in the order in which a crew reads of them.
KINDS = {
    "zones": "zone",
    "ways": "way",
    "boxes": "box",
    "links": "link",
    "sources": "source",
    "outputs": "output",
    "patches": "patch",
    "inserts": "insert",
    "supplies": "supply",
    "powers": "power",
    "clocks": "clock",
    "controls": "control",
    "keeps": "keep",
    "accepts": "accept",
    "stock": "stock",
    "models": "model",
    "cables": "cable",
    "protocols": "protocol",
}


def items_of(rig: Rig, own: Collection[Source]) -> Items:
    """Every thing of a rig; a list of sockets is a thing for each of them."""
    found: dict[tuple[str, str], Fields] = {key: fields for key, fields, _ in _things(rig, own)}
    if rig.head.place is not None:  # else it is a library, or there is none
        found["rig", ""] = plain(rig, rig.head)
    for name in rig.boxes:
        found["box", name] = _own_facts(rig, name, found["box", name])
    return found


def standing(rig: Rig, own: Collection[Source]) -> Standing:
    """Where the things of a rig stand in the files, and what each of them says there."""
    found: dict[tuple[str, str], list[tuple[Fields, Span]]] = {}
    for (what, name), fields, place in _things(rig, own):
        found.setdefault((what, name.partition("#")[0]), []).append((fields, place))
    return found


def place_of(there: Standing, what: str, name: str, fields: Fields) -> Span | None:
    """Where a thing stands: of several of one name the one that has these fields, else the first."""
    some = there.get((what, name.partition("#")[0]), ())
    same = (place for found, place in some if all(found.get(key) == value for key, value in fields.items()))
    return next(same, some[0][1] if some else None)


def _things(rig: Rig, own: Collection[Source]) -> Iterator[tuple[tuple[str, str], Fields, Span]]:
    used = used_gear(rig, own)
    files = {id(source) for source in own}  # what comes with the tool is nobody's change
    taken: set[tuple[str, str]] = set()
    for kind, what in KINDS.items():
        things = getattr(rig, kind)
        for thing in things.values() if isinstance(things, Mapping) else things:
            if kind not in used or (thing.name in used[kind] and id(thing.place.source) in files):
                for name, fields in SPLIT.get(kind, _named)(plain(rig, thing)):
                    key = what, _free(taken, what, name)
                    taken.add(key)
                    yield key, fields, thing.place


def _free(taken: Collection[tuple[str, str]], what: str, name: str) -> str:
    """A second thing of one name keeps its place in the order of the files."""
    number, free = 1, name
    while (what, free) in taken:
        number += 1
        free = f"{name}#{number}"
    return free


def _own_facts(rig: Rig, name: str, fields: Fields) -> Fields:
    """A box without what it only has from its model: that changes with the model."""
    model = rig.boxes[name].model
    same = ("weight_kg", "power_w", "poe_w", "gives_poe_w", "latency_s", "rate_hz", "net", "converts_rate")
    inherited = (*same, "serial", "address", "firmware", "note")
    box = rig.boxes[name]
    return {
        key: None if key in inherited and getattr(model, key, None) == getattr(box, key, None) else value
        for key, value in fields.items()
    }


Named = Iterator[tuple[str, Fields]]


def _named(thing: dict[str, Any]) -> Named:
    yield str(thing["name"]), {key: value for key, value in thing.items() if key != "name"}


def _link(thing: dict[str, Any]) -> Named:
    """What it joins, whichever end is written first."""
    yield (
        str(thing["name"]),
        {
            key: sorted((sorted(pair, key=natural) for pair in value), key=_by_name) if key == "joins" else value
            for key, value in thing.items()
            if key != "name" and not (key == "id" and value == thing["name"])
        },
    )


def _by_name(pair: Sequence[str]) -> list[object]:
    return [natural(end) for end in pair]


def _way(thing: dict[str, Any]) -> Named:
    yield " -- ".join(thing["zones"]), {key: value for key, value in thing.items() if key != "zones"}


def _patch(thing: dict[str, Any]) -> Named:
    """What feeds each channel, output or socket."""
    for left, right in thing["pairs"]:
        yield right, {"from": left, "note": thing["note"]}


def _insert(thing: dict[str, Any]) -> Named:
    yield str(thing["at"]), {key: value for key, value in thing.items() if key not in ("at", "name")}


def _power(thing: dict[str, Any]) -> Named:
    for box in thing["boxes"]:
        yield box, {"supply": thing["supply"]}


def _clock(thing: dict[str, Any]) -> Named:
    yield thing["box"], {}


def _control(thing: dict[str, Any]) -> Named:
    for port in thing["ports"]:
        yield port, {"by": thing["by"]}


def _keep(thing: dict[str, Any]) -> Named:
    for port in thing["ports"]:
        yield port, {"for": thing["what"]}


def _accept(thing: dict[str, Any]) -> Named:
    yield f"{thing['rule']} on {thing['subject']}", {key: thing[key] for key in ("ports", "because", "until")}


def _stock(thing: dict[str, Any]) -> Named:
    yield f"{thing['cable']} {thing['length_m']:g} m", {"count": thing["count"]}


SPLIT: Mapping[str, Callable[[dict[str, Any]], Named]] = {
    "links": _link,
    "ways": _way,
    "patches": _patch,
    "inserts": _insert,
    "powers": _power,
    "clocks": _clock,
    "controls": _control,
    "keeps": _keep,
    "accepts": _accept,
    "stock": _stock,
}
