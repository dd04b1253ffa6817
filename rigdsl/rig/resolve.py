"""From files to the rig: names become things, and what cannot be resolved becomes a finding."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from rigdsl.finding import Finding
from rigdsl.rig import cards, inserts, links, mains, plugs, routing, things, words
from rigdsl.rig.doubt import Doubts, folded, meant, one_sided
from rigdsl.rig.edits import edits
from rigdsl.rig.facts import read
from rigdsl.rig.names import Gear, Notes, gear, lost, repeated, unknown
from rigdsl.rig.names import things as named_things
from rigdsl.rig.night import Said, Tonight, declared, kind, tonight
from rigdsl.rig.project import Project
from rigdsl.rig.rig import Head, Rig
from rigdsl.rig.sockets import Named
from rigdsl.rig.stage import Box
from rigdsl.syntax import nodes as syntax

__all__ = ["resolve"]

NIGHT = (syntax.Without, syntax.Unpatch, syntax.Replug, syntax.Change)


def resolve(project: Project) -> Rig:
    """The rig that the files describe. Its findings are those of reading and resolving, in the order of the files."""
    findings = list(project.findings)
    night = tonight(project, findings)
    notes = Notes(findings, set(), not project.complete, lost(night))
    catalogue = gear(night, notes)
    head = _head(project, catalogue, notes)
    found, broken = named_things(night, notes)
    notes.names.update((name, kind(one.statement)) for name, one in found.items())
    rig = Rig(
        head,
        zones=things.zones(found.values(), notes),
        models=catalogue.models,
        cables=catalogue.cables,
        protocols=catalogue.protocols,
    )
    rig = replace(rig, ways=things.ways(night, rig.zones, broken, notes))
    stood = things.boxes(found.values(), catalogue, rig.zones, broken, notes)
    rig = replace(rig, boxes=cards.seated(stood, found.values(), broken, notes))
    names = _named(project, night, rig, found, broken | notes.incomplete, catalogue, notes)
    rig = replace(rig, links=_links(night, found, catalogue, rig, names, notes))
    said = list(found.values())
    rig = replace(
        rig,
        sources=plugs.sources(said, catalogue, rig, names, broken, notes),
        outputs=plugs.outputs(said, catalogue, rig, names, broken, notes),
    )
    rig = replace(
        rig,
        patches=routing.patches(night, rig, names, notes),
        inserts=inserts.inserts(night, catalogue, rig, names, notes),
        clocks=routing.clocks(night.said, rig, names, notes),
        controls=routing.controls(night.said, rig, names, notes),
        keeps=routing.keeps(night.said, names, notes),
        accepts=routing.accepts(night.said, rig, names, notes),
        stock=routing.stock(night.said, catalogue, notes),
        supplies=mains.supplies(said, rig.zones, broken, notes),
        edits=edits(project, night),
    )
    rig = replace(rig, powers=mains.powers(night, rig, names, notes))
    doubt(night, rig, broken, notes)
    rig = replace(rig, incomplete=frozenset(notes.incomplete), left_out=frozenset(notes.kinds))
    return replace(rig, findings=_in_order(project, rig, notes.findings))


def doubt(night: Tonight, rig: Rig, broken: frozenset[str], notes: Notes) -> None:
    """Note the names that hang on something wrong: rules stay quiet about them."""
    names = {*rig.zones, *rig.boxes, *rig.links, *rig.sources, *rig.outputs, *rig.supplies}
    notes.incomplete.update(broken)
    doubts = Doubts(notes.findings)
    for one in night.said:
        node = one.statement
        if isinstance(node, syntax.Broken):
            notes.left_out(node)
            notes.kinds.update(meant(node))
            notes.incomplete.update(names if one_sided(node, names) else ())
        elif isinstance(node, NIGHT) and doubts.about(node):
            notes.left_out(node)
        elif (name := declared(node)) and doubts.about(node):
            notes.incomplete.add(name)
    if notes.quiet:
        notes.incomplete.update(names)


def _links(
    night: Tonight, found: Mapping[str, Said], catalogue: Gear, rig: Rig, names: Mapping[str, Named], notes: Notes
) -> dict[str, Any]:
    """Links with an id, each once, and all those without."""
    kept = {id(one) for one in found.values()}
    said = [
        one
        for one in night.said
        if isinstance(one.statement, syntax.Link) and (one.statement.name is None or id(one) in kept)
    ]
    return links.links(said, catalogue, rig, names, notes)


def _named(
    project: Project,
    night: Tonight,
    rig: Rig,
    found: Mapping[str, Said],
    broken: frozenset[str] | set[str],
    catalogue: Gear,
    notes: Notes,
) -> dict[str, Named]:
    """What names mean, file by file: a house file still speaks of the boxes that a night took away."""
    kinds = {name: kind(one.statement) for name, one in found.items() if name not in rig.boxes}
    quiet = Notes([], set(), quiet=True)
    taken: dict[str, Box] = things.boxes(night.taken, catalogue, rig.zones, frozenset(), quiet)
    lines = {
        one.statement.name.text: plugs.lines_said(one.statement)
        for one in night.taken
        if isinstance(one.statement, syntax.Plug)
    }
    nameless = notes.quiet or not notes.lost.isdisjoint(("box", "source", "output"))
    return {
        key: Named(rig.boxes, kinds, night.gone[key], taken, frozenset(broken), lines, nameless)
        for key in project.files
    }


def _head(project: Project, catalogue: Gear, notes: Notes) -> Head:
    """The entry's head over those of the files it uses; theirs are defaults."""
    fields: dict[str, Any] = {}
    title: str | None = None
    place = None
    for key, file in reversed(list(project.files.items())):
        heads = [one for one in file.statements if isinstance(one, syntax.RigHead)]
        for second in heads[1:]:
            notes.findings.append(_second_head(second, heads[0]))
        if not heads or file.shelf:
            continue
        fields |= _head_facts(heads[0], catalogue, notes)
        if key == project.entry:
            title, place = heads[0].title.text, heads[0].title.span
    return Head(title=title, place=place, **fields)


def _head_facts(said: syntax.RigHead, catalogue: Gear, notes: Notes) -> dict[str, Any]:
    fields = read(said.facts, words.HEAD, "the rig's head", notes.findings)
    fields.pop("label", None)  # the title is its label
    lead = fields.get("lead")
    if lead and lead not in catalogue.cables:
        word = next(fact.clauses[0][0] for fact in said.facts if fact.name.text == "lead")
        if lead not in catalogue.broken and isinstance(word, syntax.Word):
            unknown("cable", word, catalogue.cables, notes)
        del fields["lead"]
    return fields


def _second_head(second: syntax.RigHead, first: syntax.RigHead) -> Finding:
    return replace(
        repeated("thing", second.title, first.title),
        message="a file has one `rig` line, and this is its second",
        help="put its facts into the first one, and take this line away",
    )


def _in_order(project: Project, rig: Rig, findings: list[Finding]) -> tuple[Finding, ...]:
    """Core findings by file and place, what is missing in many places folded into one."""
    order = {file.source.path: number for number, file in enumerate(project.files.values())}
    in_order = sorted(
        findings, key=lambda one: (order.get(one.place.source.path, -1), one.place.start, one.rule, one.subject)
    )
    return tuple(folded(in_order, {name: box.model.name for name, box in rig.boxes.items()}))
