"""The resolved rig as plain values: texts, numbers, lists and names of fields, as JSON has them.

Everything of the rig but the places it came from and the order it was written in: two rigs that differ in the order of
their lines, in comments or in layout give the same. Keys are the names of the rig's own values, units included;
what is otherwise stands in the tables below, and nowhere else.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Hashable, Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Any, cast

from rigdsl.rig.gear import Cable, Model, Protocol
from rigdsl.rig.port import Leg, Port, natural
from rigdsl.rig.rig import Rig
from rigdsl.text import Source

__all__ = ["LEFT_OUT", "NAMED", "ORDERED", "PAIRED", "PLACE", "RENAMED", "plain", "record", "used_gear"]

# Where something came from, what of it a night changes, and what `rigdsl check` tells.
LEFT_OUT = {("Group", "line"), ("Rig", "edits"), ("Rig", "findings")}
PLACE = "place"
# Things that stand in a list of their own and are called by name wherever else they are used.
NAMED = (Model, Cable)
# Lists whose order means something: legs of a source, coordinates, the two ends of a piece of cable.
ORDERED = {("Source", "ports"), ("Output", "ports"), ("Zone", "position_m"), ("Cable", "ends")}
# Lists of two sides each: what is joined to what, what feeds what.
PAIRED = {("Link", "joins"), ("Patch", "pairs")}
# Maps from words or numbers to numbers, under names that say the units.
RENAMED = {("Protocol", "capacity"): "channels_at_hz", ("Protocol", "reach"): "reach_m"}

AS_THEY_ARE = frozenset({str, int, bool, type(None)})  # most of what is written, and so looked for first


def record(rig: Rig, own: Collection[Source]) -> dict[str, Any]:
    """All of it by the names of its fields. `own` are the user's files: of other gear, only what the rig uses."""
    found = _Writer(rig).record(rig)
    for kind, used in used_gear(rig, own).items():
        found[kind] = [thing for thing in found[kind] if thing["name"] in used]
    return found


def plain(rig: Rig, thing: Any) -> dict[str, Any]:
    """One thing of the rig by the names of its fields."""
    return _Writer(rig).record(thing)


def used_gear(rig: Rig, own: Collection[Source]) -> dict[str, set[str]]:
    """The names of the gear to write: all that the user's files define, and what the rig or that gear names."""
    files = {id(source) for source in own}

    def defined(things: Mapping[str, Model] | Mapping[str, Cable] | Mapping[str, Protocol]) -> set[str]:
        return {name for name, thing in things.items() if id(thing.place.source) in files}

    models = defined(rig.models) | {box.model.name for box in rig.boxes.values()}
    groups = [group for name in models if name in rig.models for group in rig.models[name].groups.values()]
    plugs = [*(source.lead for source in rig.sources.values()), *(output.lead for output in rig.outputs.values())]
    leads = [*plugs, *(link.lead for link in rig.links.values()), *(insert.lead for insert in rig.inserts)]
    return {
        "models": models,
        "cables": defined(rig.cables)
        | {lead.cable.name for lead in leads if lead}
        | {stock.cable for stock in rig.stock}
        | {rig.head.lead},
        "protocols": defined(rig.protocols) | {name for group in groups for name in group.protocols},
    }


@cache
def _fields(kind: Any) -> tuple[tuple[str, tuple[str, str]], ...]:
    """Each field that is written: what it is called there, and its key in the tables above."""
    keys = ((kind.__name__, field.name) for field in fields(kind))
    return tuple((RENAMED.get(key, key[1]), key) for key in keys if key[1] != PLACE and key not in LEFT_OUT)


@dataclass(frozen=True)
class _Writer:
    """Turns the rig's values into those of JSON."""

    rig: Rig

    def record(self, value: Any) -> dict[str, Any]:
        """A dataclass, field by field."""
        found: dict[str, Any] = {}
        for told, key in _fields(cast(Hashable, type(value))):
            item = getattr(value, key[1])
            found[told] = item if type(item) in AS_THEY_ARE else self.field(key, item)
        return found

    def field(self, key: tuple[str, str], value: Any) -> Any:
        """The value of a field, by the tables above."""
        if key in RENAMED:
            return {str(word): self.value(value[word]) for word in sorted(value, key=lambda word: natural(str(word)))}
        if key in PAIRED:
            return _sorted([self.value(side) for side in pair] for pair in value)
        if key in ORDERED:
            return None if value is None else [self.value(item) for item in value]
        return self.value(value)

    def value(self, value: Any) -> Any:
        """Anything that stands in a field. Sockets are text, things of other lists are their names."""
        if value is None or isinstance(value, str | int):
            return value
        if isinstance(value, Port):
            return str(value)
        if isinstance(value, Leg):
            return f"{value.name} {value.index + 1}" if self.rig.thing(value).width > 1 else value.name
        if isinstance(value, NAMED):
            return value.name
        if is_dataclass(value):
            return self.record(value)
        if isinstance(value, Mapping):
            return _sorted(self.record(item) for item in value.values())
        if isinstance(value, tuple | frozenset):
            return _sorted(self.value(item) for item in value)
        return float(f"{value:.12g}") if isinstance(value, float) else value


def _sorted(items: Iterable[Any]) -> list[Any]:
    """In the order of names that people know: C2 before C10; what has no name by all that it says."""
    found = list(items)
    if len(found) < 2:  # as most lists are
        return found
    return sorted(found, key=lambda item: (natural(_first(item)), json.dumps(item, ensure_ascii=False)))


def _first(item: Any) -> str:
    """The first thing that an item says: its name, where it has one."""
    while isinstance(item, dict | list):
        item = next(iter(item.values() if isinstance(item, dict) else item), "")
    return str(item)
