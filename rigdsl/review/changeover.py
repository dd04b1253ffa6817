"""The changeover between two acts: what to unplug, what to plug where, what to move, zone by zone.

How many hands it takes is a rule of thumb (common practice, no source): so many plugs a minute, so many minutes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rigdsl.draw.words import lead_text
from rigdsl.papers.lines import zone_text
from rigdsl.papers.table import Cell, Table
from rigdsl.paths import Paths
from rigdsl.review.review import Review
from rigdsl.rig import Box, Link, Output, Rig, Source, natural, ports_text

__all__ = ["changeover", "hands"]

COLUMNS = ("zone", "do", "what", "off", "on", "cable", "note")
SHARED = ("zone", "what", "socket", "before", "after")
DESK = ("channel or mix", "before", "after")
PLUGS_A_MINUTE = 3  # one person, cables laid out and marked: common practice, no source
ORDER = ("unplug", "move", "plug")
CAUTION = (
    "mute the channels and mixes of the lines that are touched, phantom off first;"
    " amplifiers off before a loudspeaker plug is touched"
)


@dataclass(frozen=True)
class _Step:
    zone: str
    do: str
    what: str
    off: str = ""
    on: str = ""
    cable: str = ""
    note: str = ""

    @property
    def cells(self) -> tuple[Cell, ...]:
        return self.zone, self.do, self.what, self.off, self.on, self.cable, self.note


def changeover(old: Paths, new: Paths, found: Review) -> tuple[Table, ...]:
    """What the stage crew does, who shares a socket, and what is recalled at the desk."""

    def order(one: _Step) -> tuple[object, ...]:
        return _place(new.rig, old.rig, one.zone), ORDER.index(one.do), natural(one.what)

    steps = sorted(_steps(old.rig, new.rig, found), key=order)
    count = hands(sum(step.do != "move" for step in steps), 5)
    notes = (
        f"{len(steps)} things to do; about {count} {'person' if count == 1 else 'people'} for five minutes",
        CAUTION,
    )
    stage = Table(COLUMNS, tuple(step.cells for step in steps), notes, "On stage")
    shared = Table(SHARED, tuple(_shared(old.rig, new.rig)), (), "Who shares what")
    desk = Table(DESK, tuple(_at_desk(found)), (), "At the desk")
    return stage, *(table for table in (shared, desk) if table.rows)


def hands(plugs: int, minutes: float) -> int:
    """How many people it takes to pull or put so many plugs in so many minutes; at least one."""
    return max(1, math.ceil(plugs / (PLUGS_A_MINUTE * minutes)))


def _place(new: Rig, old: Rig, zone: str) -> tuple[int, str]:
    """The zones in the order in which the house lists them."""
    labels = [one.label or one.name for rig in (new, old) for one in rig.zones.values()]
    return (labels.index(zone) if zone in labels else len(labels)), zone


# ---- what hands do


def _steps(old: Rig, new: Rig, found: Review) -> Iterator[_Step]:
    for change in found.changes:
        before, after = _thing(old, change.what, change.old_name or change.name), _thing(new, change.what, change.name)
        if change.what in ("source", "output"):
            yield from _plugs(old, new, before, after)
        elif change.what == "link":
            yield from _links(old, new, before, after)
        elif change.what == "box" and (change.kind in ("added", "removed", "moved") or "model" in change.fields):
            yield from _boxes(old, new, before, after)


Thing = Source | Output | Link | Box | None


def _thing(rig: Rig, what: str, name: str) -> Thing:
    things: Mapping[str, Mapping[str, Source | Output | Link | Box]] = {
        "source": rig.sources,
        "output": rig.outputs,
        "link": rig.links,
        "box": rig.boxes,
    }
    return things.get(what, {}).get(name)


def _plugs(old: Rig, new: Rig, before: Thing, after: Thing) -> Iterator[_Step]:
    off = before if isinstance(before, Source | Output) else None
    on = after if isinstance(after, Source | Output) else None
    if off and on and (off.ports, off.zone, lead_text(off.lead)) == (on.ports, on.zone, lead_text(on.lead)):
        return
    if all(_by_radio(rig, thing) for rig, thing in ((old, off), (new, on)) if thing):
        return
    if off and on and off.ports != on.ports:
        sockets = ports_text(off.ports), ports_text(on.ports)
        yield _Step(zone_text(new, on), "plug", on.title, *sockets, lead_text(on.lead), on.note)
    elif off and on:
        zones = zone_text(old, off), zone_text(new, on)
        yield _Step(zone_text(new, on), "move", on.title, *zones, lead_text(on.lead), on.note)
    elif off and off.ports:
        yield _Step(zone_text(old, off), "unplug", off.title, ports_text(off.ports), "", lead_text(off.lead))
    elif on and on.ports:
        yield _Step(zone_text(new, on), "plug", on.title, "", ports_text(on.ports), lead_text(on.lead), on.note)


def _by_radio(rig: Rig, thing: Source | Output) -> bool:
    """Nothing to plug: it is sent, or it is a track inside a machine."""
    groups = [rig.group(port) for port in thing.ports]
    return bool(groups) and all(group.wireless or group.soft for group in groups)


def _links(old: Rig, new: Rig, before: Thing, after: Thing) -> Iterator[_Step]:
    off = before if isinstance(before, Link) else None
    on = after if isinstance(after, Link) else None
    if off and (on is None or off.joins != on.joins or lead_text(off.lead) != lead_text(on.lead)):
        yield _Step(_link_zone(old, off), "unplug", f"cable {off.name}", _ends(off), "", lead_text(off.lead))
    if on and (off is None or off.joins != on.joins or lead_text(off.lead) != lead_text(on.lead)):
        yield _Step(_link_zone(new, on), "plug", f"cable {on.name}", "", _ends(on), lead_text(on.lead), on.note)


def _boxes(old: Rig, new: Rig, before: Thing, after: Thing) -> Iterator[_Step]:
    off = before if isinstance(before, Box) else None
    on = after if isinstance(after, Box) else None
    box = on or off
    if box is not None:
        was, now = (zone_text(old, off) if off else ""), (zone_text(new, on) if on else "away")
        yield _Step(now if on else was, "move", f"box {box.name}", was, now, "", box.note)


def _ends(link: Link) -> str:
    return f"{ports_text(left for left, _ in link.joins)} -- {ports_text(right for _, right in link.joins)}"


def _link_zone(rig: Rig, link: Link) -> str:
    return zone_text(rig, rig.boxes[rig.body(link.joins[0][0].box)])


# ---- sockets that both acts use, and the desk


def _shared(old: Rig, new: Rig) -> Iterator[tuple[Cell, ...]]:
    """Sockets that stay plugged, with another source or output on them: the cable stays, what hangs on it changes."""
    for before, after in ((old.sources, new.sources), (old.outputs, new.outputs)):
        at = {port: thing for thing in before.values() for port in thing.ports}
        for name in sorted(after, key=natural):
            thing = after[name]
            for port in thing.ports:
                other = at.get(port)
                if other is not None and other.title != thing.title:
                    yield zone_text(new, thing), "socket", str(port), other.title, thing.title


def _at_desk(found: Review) -> Iterator[tuple[Cell, ...]]:
    """Channels and mixes that something else feeds."""
    for change in found.changes:
        if change.what == "patch":
            was, now = change.fields.get("from", (None, None))
            yield change.name, was or "", now or ""
