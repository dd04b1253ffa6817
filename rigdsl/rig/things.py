"""Statements become the things of the rig: zones, ways, boxes and links."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from rigdsl.rig import words
from rigdsl.rig.amounts import amount, clipped, fault
from rigdsl.rig.facts import Table, read
from rigdsl.rig.gear import Cable
from rigdsl.rig.names import Gear, Notes, unknown
from rigdsl.rig.night import Said
from rigdsl.rig.port import Port, ports_text
from rigdsl.rig.rig import Box, Lead, Link, Rig, Way, Zone
from rigdsl.rig.sockets import Named, Use, sockets
from rigdsl.rig.units import UNITS
from rigdsl.syntax import nodes as syntax

__all__ = ["JOINED", "boxes", "facts_of", "label", "lead_of", "links", "ways", "zone_of", "zones"]

JOINED = Use("sockets", lambda group: group.role not in ("channels", "mixes"))


def label(said: syntax.Word | None, fields: dict[str, Any]) -> str:
    """The label in quotes behind the name; a `label` fact says it too."""
    fact: str = fields.pop("label", "")
    return fact or (said.text if said else "")


def facts_of(one: Said, facts: tuple[syntax.Fact, ...], table: Table, owner: str, notes: Notes) -> dict[str, Any]:
    """The facts of a statement's own block, then those that `change` lines put on top."""
    fields = read(facts, table, owner, notes.findings)
    return fields | read(one.changes, table, owner, notes.findings)


def zones(said: Iterable[Said], notes: Notes) -> dict[str, Zone]:
    """All zones by name."""
    made = {}
    for one in said:
        node = one.statement
        if isinstance(node, syntax.Zone):
            fields = facts_of(one, node.facts, words.ZONE, "a zone", notes)
            position = _position(node.position, notes) if node.position else None
            name = node.name.text
            made[name] = Zone(name, label(node.label, fields), node.name.span, position, **fields)
    return made


def _position(said: syntax.Position, notes: Notes) -> tuple[float, float, float] | None:
    dimension, factor = UNITS.get(said.unit.text, ("", 0.0))
    if dimension != "length":
        message = f"`{clipped(said.unit.text)}` is no unit of length"
        notes.findings.append(fault("wrong-unit", said.unit.span, message, help="a position reads: `at (0, 4, 0.4) m`"))
        return None
    if not 2 <= len(said.coordinates) <= 3 or max(map(abs, said.coordinates)) * factor > 1e6:
        message = "a position is two or three lengths: to stage left, upstage, and up"
        notes.findings.append(fault("wrong-number", said.span, message, help="it reads: `at (0, 4, 0.4) m`"))
        return None
    x, y, z = (*said.coordinates, 0.0)[:3]
    return x * factor, y * factor, z * factor


def ways(
    said: Iterable[Said], known: Mapping[str, Zone], broken: frozenset[str], notes: Notes
) -> dict[frozenset[str], Way]:
    """All ways by their two zones. The user's own file comes first, so its way beats that of a file it uses."""
    made: dict[frozenset[str], Way] = {}
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Way):
            continue
        length = amount(node.length, "length", notes.findings)
        ends = [node.left, node.right]
        for word in ends:
            if word.text not in known and word.text not in broken:
                unknown("zone", word, known, notes)
        pair = frozenset(word.text for word in ends)
        fields = read(node.facts, words.WAY, "a way", notes.findings)
        if length is not None and pair <= known.keys() and len(pair) == 2:
            made.setdefault(pair, Way(pair, length, label(node.label, fields), node.span))
    return made


def zone_of(word: syntax.Word | None, known: Mapping[str, Zone], broken: frozenset[str], notes: Notes) -> str:
    """The zone a thing stands in, or nothing where it says none or an unknown one."""
    if word is None:
        return ""
    if word.text in known:
        return word.text
    if word.text not in broken:
        unknown("zone", word, known, notes, help='define it: `zone NAME "Label"`')
    return ""


def boxes(
    said: Iterable[Said], gear: Gear, known: Mapping[str, Zone], broken: frozenset[str], notes: Notes
) -> dict[str, Box]:
    """All boxes whose model is known; the others are left out, and their names noted."""
    made = {}
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Box):
            continue
        name = node.name.text
        zone = zone_of(node.zone, known, broken, notes)
        fields = facts_of(one, node.facts, words.BOX, "a box", notes)
        model = gear.models.get(node.model.text)
        if model is None or node.model.text in gear.doubted:
            notes.incomplete.add(name)
        if model is None:
            if node.model.text not in gear.broken:
                unknown("model", node.model, gear.models, notes, help="define it: `model NAME { kind ... }`")
            continue
        fields.pop("poe_w", None)
        from_model = {
            field: getattr(model, field)
            for field in ("rate_hz", "net", "converts_rate", "latency_s", "weight_kg", "power_w")
        }
        text = label(node.label, fields)
        made[name] = Box(name, text, model, zone, node.name.span, **(from_model | fields))
    return made


def lead_of(
    said: syntax.Lead | None, default: str, gear: Gear, rig: Rig, zones_of: tuple[str, str], notes: Notes
) -> Lead | None:
    """The cable of a link or plug. What names no length is as long as its way is measured."""
    name = said.cable.text if said else default
    if not name:
        return None
    cable = gear.cables.get(name)
    if cable is None and said:
        if name not in gear.broken:
            unknown("cable", said.cable, gear.cables, notes, help="define it: `cable NAME { medium ... }`")
        cable = Cable(name, "", said.cable.span, medium="")
    if cable is None:
        return None
    if said and said.length:
        length = amount(said.length, "length", notes.findings)
        if length is not None:
            return Lead(cable, length)
    return Lead(cable, rig.measured_m(*zones_of), measured=True)


def links(said: Iterable[Said], gear: Gear, rig: Rig, names: Mapping[str, Named], notes: Notes) -> dict[str, Link]:
    """All links by their name: the id, else the two ends. Joins at a box that was taken away are gone with it."""
    made: dict[str, Link] = {}
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Link):
            continue
        fields = facts_of(one, node.facts, words.LINK, "a link", notes)
        joins: list[tuple[Port, Port]] = []
        for join in node.joins:
            joins += _joined(join, names[one.file.key], node, notes)
        if not joins:
            if node.name:
                notes.incomplete.add(node.name.text)
            continue
        ident = node.name.text if node.name else ""
        ends = (rig.boxes[joins[0][0].box].zone, rig.boxes[joins[0][1].box].zone)
        lead = lead_of(node.lead, "", gear, rig, ends, notes)
        name = ident or _unnamed(joins, made)
        place = node.name.span if node.name else node.joins[0].span
        made[name] = Link(name, ident, tuple(joins), lead, place, **fields)
    return made


def _unnamed(joins: list[tuple[Port, Port]], made: Mapping[str, Link]) -> str:
    left, right = sorted(([a for a, _ in joins], [b for _, b in joins]), key=lambda side: side[0].key)
    name = f"{ports_text(left)} -- {ports_text(right)}"
    number = 2
    while (name if number == 2 else f"{name} #{number - 1}") in made:
        number += 1
    return name if number == 2 else f"{name} #{number - 1}"


def _joined(join: syntax.Join, names: Named, node: syntax.Link, notes: Notes) -> list[tuple[Port, Port]]:
    sides = [[sockets(end, JOINED, names, notes.findings) for end in side] for side in (join.left, join.right)]
    if any(found.gone for side in sides for found in side) and not all(f.ports for side in sides for f in side):
        return []
    if any(not found.known for side in sides for found in side):
        notes.left_out(node)
        return []
    left, right = ([(port, found.gone) for found in side for port in found.ports] for side in sides)
    if len(left) != len(right):
        message = f"{len(left)} sockets on the left of `--`, and {len(right)} on the right: they are joined one by one"
        form = "give both sides as many sockets"
        notes.findings.append(fault("range-length", join.span, message, consequence="the cable is left out", help=form))
        notes.left_out(node)
        return []
    return [(a, b) for (a, a_gone), (b, b_gone) in zip(left, right, strict=True) if not a_gone and not b_gone]
