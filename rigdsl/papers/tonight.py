"""Tonight against the house: what this file takes away from the files that it uses, changes in them, and adds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rigdsl.draw.words import cable_text, kind_text, lead_text
from rigdsl.papers.lines import DEMO, held, zone_text
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.rig import Rig, natural, ports_text, shown

__all__ = ["TONIGHT"]

GONE = ("what", "name", "label", "was")
CHANGED = ("what", "name", "label", "was", "now")
ADDED = ("what", "name", "label", "where", "by")
ALONE = "this rig uses no other file that it could be held against"
NOTHING = "the house stands as it is"


def _tonight(facts: Facts) -> tuple[Table, ...]:
    rig = facts.rig
    gone = tuple((e.what, e.name, e.label, e.was) for e in rig.edits if e.verb == "taken away")
    edits = [edit for edit in rig.edits if edit.verb != "taken away"]
    changed = tuple((edit.what, edit.name, edit.label, edit.was, edit.now or edit.verb) for edit in edits)
    added = tuple(_added(rig, facts.path)) if _uses(rig, facts.path) else ()
    notes = held(((ALONE, not _uses(rig, facts.path)), (NOTHING, not (gone or changed)), (DEMO, rig.head.demo)))
    tables = [
        Table(GONE, gone, (), "Taken away"),
        Table(CHANGED, changed, (), "Changed"),
        Table(ADDED, added, (), "Added"),
    ]
    some = [table for table in tables if table.rows] or tables[:1]
    return (*some[:-1], replace(some[-1], notes=notes))


def _uses(rig: Rig, path: str) -> bool:
    """Whether anything that stands there comes from another file."""
    things = (rig.zones, rig.boxes, rig.links, rig.sources, rig.outputs)
    places = [thing.place for some in things for thing in some.values()] + [edit.place for edit in rig.edits]
    return any(place.source.path != path for place in places)


def _added(rig: Rig, path: str) -> Iterator[tuple[Cell, ...]]:
    """What stands in tonight's own file, in natural order, kind by kind."""
    for name in sorted(rig.zones, key=natural):
        if rig.zones[name].place.source.path == path:
            yield "zone", name, rig.zones[name].label, "", ""
    for name in sorted(rig.boxes, key=natural):
        box = rig.boxes[name]
        if box.place.source.path == path:
            yield "box", name, box.label, zone_text(rig, box), kind_text(box)
    for link in sorted(rig.links.values(), key=lambda link: link.key):
        if link.place.source.path == path:
            ends = (ports_text(port for port, _ in link.joins), ports_text(port for _, port in link.joins))
            yield "link", link.id, link.label, " -- ".join(ends), cable_text(link)
    for what, things in (("source", rig.sources), ("output", rig.outputs)):
        for name in sorted(things, key=natural):
            thing = things[name]
            if thing.place.source.path == path:
                yield what, name, thing.label, ports_text(thing.ports) or thing.aimed, lead_text(thing.lead)
    yield from _added_besides(rig, path)


def _added_besides(rig: Rig, path: str) -> Iterator[tuple[Cell, ...]]:
    """Outboard and supplies that tonight's own file brings."""
    for insert in rig.inserts:
        if insert.place.source.path == path:
            yield "insert", str(insert.at), "", ports_text((insert.send, insert.back)), lead_text(insert.lead)
    for name in sorted(rig.supplies, key=natural):
        supply = rig.supplies[name]
        if supply.place.source.path == path:
            where = rig.zones[supply.zone].label or supply.zone if supply.zone in rig.zones else ""
            yield "supply", name, supply.label, where, f"{shown(supply.voltage_v)} V {shown(supply.current_a)} A"


TONIGHT = Paper("tonight", "Tonight against the house", _tonight)
