"""Sources and outputs: where they are plugged in, over what cable, and what their type says of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any, TypeVar

from rigdsl.finding import Finding, similar
from rigdsl.rig import words
from rigdsl.rig.amounts import as_laid_out, clipped, fault
from rigdsl.rig.gear import Group
from rigdsl.rig.links import lead_of
from rigdsl.rig.names import Gear, Notes, unknown
from rigdsl.rig.night import Said
from rigdsl.rig.port import Port, natural
from rigdsl.rig.rig import Rig
from rigdsl.rig.signals import Output, Source
from rigdsl.rig.sockets import Fits, Named, Sockets, Use, cordless, fitting, groups_text, sockets, twice
from rigdsl.rig.stage import Box
from rigdsl.rig.things import facts_of, label, zone_of
from rigdsl.syntax import nodes as syntax
from rigdsl.text import Span

__all__ = ["outputs", "sources"]


# Types of sources and outputs that may come and go without a cable.
CORDLESS = ("wireless", "in-ear", "playback", "record", "stream")


def _use(role: str, type_: str) -> Use:
    """Which groups a source or output means where it names none: wireless and soft ones only for what is so."""
    what = "inputs" if role == "inputs" else "outputs"
    if type_ in ("wireless", "in-ear"):
        return Use(what, fitting(role, soft=False), aims=True)
    if type_ in ("playback", "record", "stream"):
        return Use(what, fitting(role, wireless=False), aims=True)
    return Use(what, fitting(role, wireless=False, soft=False), aims=True)


def _preferred(role: str, type_: str, box: Box | None) -> Use:
    """A wireless or soft group of the box is meant first by what is wireless or soft itself."""
    wanted: Fits | None = None
    if type_ in ("wireless", "in-ear"):
        wanted = fitting(role, wireless=True)
    elif type_ in ("playback", "record", "stream"):
        wanted = fitting(role, soft=True)
    if wanted and box and any(wanted(group) for group in box.model.groups.values()):
        return Use("inputs" if role == "inputs" else "outputs", wanted, aims=True)
    return _use(role, type_)


def _plugged(node: syntax.Plug, role: str, names: Named, notes: Notes) -> tuple[tuple[Port, ...], str]:
    """The sockets of a plug, and the box that is aimed at with the socket open."""
    ports: list[Port] = []
    aimed = ""
    of_any_type = node.type.text not in (words.SOURCE_TYPES if node.word == "source" else words.OUTPUT_TYPES)
    for end in node.ends:
        if end.name.text in names.gone:
            continue
        box = names.boxes.get(end.name.text)
        use = Use(role, fitting(role), aims=True) if of_any_type else _preferred(role, node.type.text, box)
        # Which of several groups is meant where none is named hangs on the type.
        told = [] if of_any_type and box and not end.group and len(box.model.of_role(role)) > 1 else notes.findings
        found = sockets(end, use, names, told)
        if not found.known:
            notes.unplugged(node, end)
            continue
        aimed = aimed or found.aimed
        ports += _right_way(end, found, role, box, node, notes)
    if len(node.ends) > 1 and (again := twice(node.ends, ports)):
        notes.findings.append(again)
        notes.unplugged(node, node.ends[0])
    return tuple(dict.fromkeys(ports)), aimed


def _right_way(
    end: syntax.End, found: Sockets, role: str, box: Box | None, node: syntax.Plug, notes: Notes
) -> tuple[Port, ...]:
    groups = [box.model.groups[name] for name in {port.group for port in found.ports}] if box else []
    wrong = [group for group in groups if group.role != role]
    corded = node.lead is not None and node.type.text not in CORDLESS
    if not wrong and not (corded and box and groups and (groups[0].wireless or groups[0].soft)):
        return found.ports
    notes.unplugged(node, end)
    if not wrong:
        assert box is not None
        listed = f"its groups are: {groups_text(box)}"
        notes.findings.append(_no_plug(end, cordless(box, groups[0]), listed))
        return ()
    are = {"digital": "digital ports", "data": "ports for control data"}.get(wrong[0].role, wrong[0].role)
    message = f"`{end.name.text}.{wrong[0].name}` are {are}: {_goes(node)}"
    fits = [f"`{end.name.text}.{g.name}`" for g in (box.model.groups.values() if box else ()) if g.role == role]
    hint = f"its {role} are: {', '.join(fits)}" if fits else f"`{end.name.text}` has no {role}"
    notes.findings.append(_no_plug(end, message, hint))
    return ()


def _no_plug(end: syntax.End, message: str, help: str) -> Finding:
    subject = as_laid_out(end.span)
    consequence = "it is plugged into nothing"
    return fault("no-such-port", end.span, message, subject=subject, consequence=consequence, help=help)


def _goes(node: syntax.Plug) -> str:
    return "a source goes into inputs" if node.word == "source" else "an output is fed from outputs"


def _plug_zone(ports: tuple[Port, ...], aimed: str, rig: Rig) -> str:
    box = rig.boxes.get(ports[0].box if ports else aimed)
    return box.zone if box else ""


def _cordless(ports: tuple[Port, ...], rig: Rig) -> bool:
    groups: list[Group] = [rig.group(port) for port in ports]
    return bool(groups) and all(group.wireless or group.soft for group in groups)


# What a type says of itself where nobody writes more. Microphones: 150 to 200 ohm ("Understanding the microphone
# cable"), 4 mA at most as a rule (a magazine's glossary on phantom power); line and instrument: common practice,
# no source.
_MIC = {"level": "mic", "impedance_ohm": 200.0}
SOURCE_DEFAULTS: dict[str, dict[str, Any]] = {
    "dynamic": _MIC,
    "condenser": _MIC | {"needs_phantom": True},
    "ribbon": _MIC,
    "di": _MIC,
    "active-di": _MIC | {"needs_phantom": True},
    "line": {"level": "line", "impedance_ohm": 100.0},
    "instrument": {"level": "instrument", "impedance_ohm": 10_000.0, "balanced": False},
    "wireless": _MIC,
    "playback": {"level": "line", "impedance_ohm": 100.0},
    "talkback": _MIC,
}


def _common(
    node: syntax.Plug, role: str, gear: Gear, rig: Rig, names: Named, broken: frozenset[str], notes: Notes
) -> dict[str, Any]:
    zone = zone_of(node.zone, rig.zones, broken, notes)
    ports, aimed = _plugged(node, role, names, notes)
    default = rig.head.lead if (ports or aimed) and not _cordless(ports, rig) else ""
    lead = lead_of(node.lead, default, gear, rig, (zone, _plug_zone(ports, aimed, rig)), notes)
    return {
        "name": node.name.text,
        "place": node.name.span,
        "zone": zone,
        "ports": ports,
        "width": lines_said(node),
        "aimed": aimed,
        "lead": lead,
    }


def lines_said(plug: syntax.Plug) -> int:
    """How many sockets a source or output is plugged into, as far as its own words say; at least one."""
    ranges = [one for end in plug.ends for one in end.ranges]
    single = sum(not end.ranges for end in plug.ends)
    numbers = ((one.first.text, (one.last or one.first).text) for one in ranges)
    return max(1, single + sum(max(0, int(b) - int(a)) + 1 for a, b in numbers if len(a) < 6 and len(b) < 6))


def sources(
    said: Iterable[Said], gear: Gear, rig: Rig, names: Mapping[str, Named], broken: frozenset[str], notes: Notes
) -> dict[str, Source]:
    """All sources by name."""
    made: dict[str, Source] = {}
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Plug) or node.word != "source":
            continue
        type_ = _type(node, words.SOURCE_TYPES, "type of source", notes)
        common = _common(node, "inputs", gear, rig, names[one.plugged_in], broken, notes)
        fields = facts_of(one, node.facts, words.SOURCE, "a source", notes)
        if "phantom" in fields:
            fields["needs_phantom"] = fields.pop("phantom")
        fields["impedance_said"] = "impedance_ohm" in fields
        text = label(node.label, fields)
        made[node.name.text] = Source(label=text, type=type_, **(SOURCE_DEFAULTS[type_] | common | fields))
    return _with_partners(made, said, broken, notes)


def _type(node: syntax.Plug, known: tuple[str, ...], what: str, notes: Notes) -> str:
    if node.type.text in known:
        return node.type.text
    text = clipped(node.type.text)
    hint = similar(what, node.type.text, known) or f"there are: {', '.join(known)}"
    message = f"there is no {what} called `{text}`"
    consequence = "what it needs, and where it may be plugged in, is not known"
    findings = notes.findings
    findings.append(fault("unknown-name", node.type.span, message, subject=text, consequence=consequence, help=hint))
    notes.incomplete.add(node.name.text)
    return known[0]


Paired = TypeVar("Paired", Source, Output)


def _with_partners(
    made: dict[str, Paired], said: Iterable[Said], broken: frozenset[str], notes: Notes
) -> dict[str, Paired]:
    """`with` is said on either side and holds for both: first what names nobody is dropped, then it is mirrored."""
    for one in said:
        node = one.statement
        thing = made.get(node.name.text) if isinstance(node, syntax.Plug) else None
        if thing is None or not thing.partner or (thing.partner in made and thing.partner != thing.name):
            continue
        word = _partner_word(one)
        made[thing.name] = replace(thing, partner="")
        if thing.partner == thing.name:
            notes.findings.append(_own_partner(thing, word.span))
        elif thing.partner not in broken:
            unknown(_what(thing), word, made, notes)
    for name in sorted(made, key=natural):
        partner = made[name].partner
        if partner and not made[partner].partner:
            made[partner] = replace(made[partner], partner=name)
    return made


def _partner_word(one: Said) -> syntax.Word:
    """The partner as it is written where it counts: in the last `change` that says one, else in the block itself."""
    assert isinstance(one.statement, syntax.Plug)
    layers = (*reversed(one.changes), one.statement.facts)
    facts = (fact for layer in layers for fact in layer if fact.name.text == "with")
    word = next(atom for fact in facts for clause in fact.clauses for atom in clause)
    assert isinstance(word, syntax.Word)
    return word


def _what(thing: Source | Output) -> str:
    return "source" if isinstance(thing, Source) else "output"


def _own_partner(thing: Source | Output, place: Span) -> Finding:
    name = clipped(thing.name)
    message = f"`{name}` is named as its own stereo partner"
    help = f"name the {_what(thing)} on the other side, or take `with` away"
    return fault("repeated-name", place, message, subject=name, consequence="it stands by itself", help=help)


def outputs(
    said: Iterable[Said], gear: Gear, rig: Rig, names: Mapping[str, Named], broken: frozenset[str], notes: Notes
) -> dict[str, Output]:
    """All outputs by name."""
    made: dict[str, Output] = {}
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Plug) or node.word != "output":
            continue
        type_ = _type(node, words.OUTPUT_TYPES, "type of output", notes)
        common = _common(node, "outputs", gear, rig, names[one.plugged_in], broken, notes)
        fields = facts_of(one, node.facts, words.OUTPUT, "an output", notes)
        text = label(node.label, fields)
        made[node.name.text] = Output(label=text, type=type_, **(common | fields))
    return _with_partners(made, said, broken, notes)
