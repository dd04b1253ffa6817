"""Statements become the things of the rig: zones, ways and boxes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from rigdsl.finding import Finding, Level, Related
from rigdsl.rig import words
from rigdsl.rig.amounts import amount, clipped, factor, fault
from rigdsl.rig.facts import Table, read
from rigdsl.rig.names import Gear, Notes, unknown
from rigdsl.rig.night import Said, Tonight
from rigdsl.rig.project import File
from rigdsl.rig.stage import Box, Way, Zone
from rigdsl.rig.units import counted
from rigdsl.syntax import nodes as syntax

__all__ = ["boxes", "facts_of", "label", "ways", "zone_of", "zones"]


NOT_MEASURED = "nothing is measured from here"


def label(said: syntax.Word | None, fields: dict[str, Any]) -> str:
    """The label in quotes behind the name; a `label` fact says it too."""
    fact: str = fields.pop("label", "")
    return fact or (said.text if said else "")


def facts_of(one: Said, facts: tuple[syntax.Fact, ...], table: Table, owner: str, notes: Notes) -> dict[str, Any]:
    """The facts of a statement's own block, then those that `change` lines put on top."""
    fields = read(facts, table, owner, notes.findings)
    for change in one.changes:
        fields |= read(change, table, owner, notes.findings)
    return fields


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
    si = factor(said.unit, said.unit.span, "length", notes.findings, NOT_MEASURED)
    if si is None:
        return None
    form = "metres to stage left, upstage and up: `at (0, 4, 0.4) m`"
    if not 2 <= len(said.coordinates) <= 3:
        message = (
            f"`{clipped(said.span.text)}` has {counted(len(said.coordinates), 'length')}: a position has two or three"
        )
        notes.findings.append(fault("wrong-number", said.span, message, consequence=NOT_MEASURED, help=form))
        return None
    if max(map(abs, said.coordinates)) * si > 1e6:
        message = f"`{clipped(said.span.text)}` is more than 1000 km away from the middle of the stage"
        notes.findings.append(fault("wrong-number", said.span, message, consequence=NOT_MEASURED, help=form))
        return None
    x, y, z = (*said.coordinates, 0.0)[:3]
    return x * si, y * si, z * si


def ways(night: Tonight, known: Mapping[str, Zone], broken: frozenset[str], notes: Notes) -> dict[frozenset[str], Way]:
    """All ways by their two zones. The user's own file comes first, so its way beats that of a file it uses."""
    made: dict[frozenset[str], Way] = {}
    told: dict[frozenset[str], File] = {}
    for one in night.said:
        node = one.statement
        if not isinstance(node, syntax.Way):
            continue
        length = amount(node.length, "length", notes.findings)
        ends = [node.left, node.right]
        for word in ends:
            if word.text not in known and word.text not in broken | night.gone[one.file.key]:
                unknown("zone", word, known, notes)
        pair = frozenset(word.text for word in ends)
        fields = read(node.facts, words.WAY, "a way", notes.findings)
        if len(pair) == 1 and pair <= known.keys():
            notes.findings.append(_nowhere(node))
        if length is None or not pair <= known.keys() or len(pair) != 2:
            continue
        if pair in made and told[pair] is one.file:
            notes.findings.append(_second_way(node, made[pair]))
        if pair not in made:
            made[pair], told[pair] = Way(pair, length, label(node.label, fields), node.span), one.file
    return made


def _nowhere(node: syntax.Way) -> Finding:
    name = clipped(node.left.text)
    message = f"this way leads from `{name}` to itself"
    help = "name the zones at its two ends: `way foh -- wing 65 m`"
    return fault("repeated-name", node.right.span, message, subject=name, consequence="the way is left out", help=help)


def _second_way(node: syntax.Way, first: Way) -> Finding:
    ends = f"`{node.left.text}` and `{node.right.text}`"
    return Finding(
        rule="repeated-name",
        level=Level.ERROR,
        place=node.span,
        subject=" -- ".join(sorted((node.left.text, node.right.text))),
        message=f"there are two ways between {ends}",
        consequence="only the first one is measured by",
        help="keep the way that the cable really goes",
        related=(Related(first.place, "the first one is here"),),
    )


def zone_of(word: syntax.Word | None, known: Mapping[str, Zone], broken: frozenset[str], notes: Notes) -> str:
    """The zone a thing stands in, or nothing where it says none or an unknown one."""
    if word is None:
        return ""
    if word.text in known:
        return word.text
    if word.text not in broken:
        unknown("zone", word, known, notes)
    return ""


FROM_MODEL = (
    "rate_hz",
    "net",
    "converts_rate",
    "latency_s",
    "weight_kg",
    "power_w",
    "poe_w",
    "gives_poe_w",
    "serial",
    "address",
    "firmware",
)


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
        in_a_box = node.zone is not None and node.zone.text not in known and notes.names.get(node.zone.text) == "box"
        zone = "" if in_a_box else zone_of(node.zone, known, broken, notes)
        fields = facts_of(one, node.facts, words.BOX, "a box", notes)
        model = gear.models.get(node.model.text)
        if model is None or node.model.text in gear.doubted:
            notes.incomplete.add(name)
        if model is None:
            if node.model.text not in gear.broken:
                unknown("model", node.model, gear.models, notes)
            continue
        from_model = {field: getattr(model, field) for field in FROM_MODEL}
        text = label(node.label, fields)
        made[name] = Box(name, text, model, zone, node.name.span, **(from_model | fields))
    return made
