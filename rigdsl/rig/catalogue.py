"""Gear statements become gear: cables, protocols and models. Names that a model uses are checked here too."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Set
from typing import Any

from rigdsl.finding import Finding, similar
from rigdsl.rig import inside, words
from rigdsl.rig.amounts import clipped, fault
from rigdsl.rig.doubt import Doubts
from rigdsl.rig.facts import read
from rigdsl.rig.gear import CATEGORIES, MULTIMODE, SINGLE_MODE, Cable, Group, Model, Phantom, Protocol, Slot
from rigdsl.syntax import nodes as syntax

__all__ = ["cable", "model", "protocol", "spoken_by", "unknown_protocols"]

# What a protocol's `over` may name besides cables: what cables are by their category, grade or impedance.
RUNGS = frozenset((*(f"cat{step}" for step in CATEGORIES), *MULTIMODE, *SINGLE_MODE, "aes-pair"))
_COAX = re.compile(r"coax[0-9]+")


def cable(said: syntax.Cable, findings: list[Finding]) -> Cable:
    """A kind of cable."""
    fields = read(said.facts, words.CABLE, "a cable", findings)
    label = fields.pop("label", _label(said.label))
    if "medium" not in fields:
        fields["medium"] = _medium(fields)
    return Cable(name=said.name.text, label=label, place=said.name.span, **fields)


def _medium(fields: dict[str, Any]) -> str:
    """What a cable that does not say its medium must be, by the figures it gives."""
    if "category" in fields:
        return "twisted-pair"
    if "grade" in fields:
        return "fibre"
    return "loudspeaker" if "conductor_m2" in fields else "analogue"


def protocol(said: syntax.Protocol, cables: Set[str] | None, findings: list[Finding]) -> Protocol:
    """A protocol; without `carries` it carries nothing, which is said unless a line of it could not be read.

    `cables` are those that it may run over by name; None: any, for a file with some is missing.
    """
    fields = read(said.facts, words.PROTOCOL, "a protocol", findings)
    if cables is not None and "reach" in fields:
        fields["reach"] = _known_reach(said, fields["reach"], cables, findings)
    label = fields.pop("label", _label(said.label))
    if "capacity" not in fields and not Doubts(findings).about(said):
        message = f"protocol `{said.name.text}` does not say how many channels it carries"
        consequence = "nobody can tell whether the channels fit"
        form = "add a line such as `carries 40 at 48 kHz`"
        findings.append(fault("syntax-error", said.name.span, message, consequence=consequence, help=form))
    fields.setdefault("capacity", {})
    fields.setdefault("reach", {})
    return Protocol(name=said.name.text, label=label, place=said.name.span, **fields)


def _known_reach(
    said: syntax.Protocol, reach: dict[str, float], cables: Set[str], findings: list[Finding]
) -> dict[str, float]:
    """The reach on what is a cable, a category or a grade; a finding for each other name."""
    unknown = {name for name in reach if name not in cables and name not in RUNGS and not _COAX.fullmatch(name)}
    if not unknown:
        return reach
    clauses = (clause for fact in said.facts if fact.name.text == "over" for clause in fact.clauses)
    for word in (clause[0] for clause in clauses):
        if isinstance(word, syntax.Word) and word.text in unknown:
            unknown.discard(word.text)
            text = clipped(word.text)
            message = f"there is no cable, category or grade called `{text}`"
            near_by = similar("cable", word.text, cables) or similar("cable", word.text, RUNGS)
            hint = near_by or "define it: `cable NAME { medium ... }`"
            consequence = "how far it reaches on that is not looked at"
            findings.append(fault("unknown-name", word.span, message, subject=text, consequence=consequence, help=hint))
    return {name: far for name, far in reach.items() if name in cables or name in RUNGS or _COAX.fullmatch(name)}


def _label(word: syntax.Word | None) -> str:
    return word.text if word else ""


def model(said: syntax.Model, protocols: Set[str], findings: list[Finding]) -> Model:
    """A model with its groups and passes; `protocols` are those that its ports may speak.

    A port that names another one takes any: what it really speaks is not known. Where something is wrong in
    the groups, nothing is said of the passes between them.
    """
    fields = read(said.facts, words.MODEL, "a model", findings)
    label = fields.pop("label", _label(said.label))
    kind = fields.pop("kind", "")
    groups = _groups(said, kind, protocols, findings)
    doubted = Doubts(findings).about(said)
    if not kind and not doubted:
        message = f"model `{said.name.text}` does not say what kind of gear it is"
        kinds = f"add `kind ...`, one of: {', '.join(words.KINDS)}"
        consequence = "nothing is known of what it does with the sound"
        findings.append(fault("syntax-error", said.name.span, message, consequence=consequence, help=kinds))
    told: list[Finding] = [] if doubted else findings
    said_passes = inside.passes(said, kind, groups, told)
    passes = (*said_passes, *inside.wired_through(groups, said_passes))
    bridges = tuple(inside.bridges(said, groups, told))
    place = said.name.span
    slots = _slots(said, groups, findings)
    return Model(said.name.text, label, place, kind, groups, passes, bridges, slots, **fields)


def _slots(said: syntax.Model, groups: Mapping[str, Group], findings: list[Finding]) -> dict[str, Slot]:
    """The places for option cards. They share the names of the groups: `DESK.opt 1` is one thing."""
    slots: dict[str, Slot] = {}
    for declared in said.slots:
        name = declared.head.name.text
        if name in groups or name in slots:
            message = f"model `{clipped(said.name.text)}` has two groups or slots called `{clipped(name)}`"
            place, help = declared.head.name.span, "give one of them another name"
            consequence = "only the first one counts"
            findings.append(fault("repeated-name", place, message, consequence=consequence, help=help))
            continue
        takes = tuple(dict.fromkeys(word.text for word in declared.takes))
        slots[name] = Slot(name, _count(declared.head, findings), takes, declared.head.name.span)
    return slots


def _groups(said: syntax.Model, kind: str, protocols: Set[str], findings: list[Finding]) -> dict[str, Group]:
    groups: dict[str, Group] = {}
    for line, declared in enumerate(said.groups, 1):
        fields = read(declared.facts, words.GROUP, "a group of sockets", findings)
        fields.pop("label", None)
        if not protocols >= set(fields.get("protocols", ())):
            fields["protocols"] = ()
        fields = _with_defaults(declared.role.text, kind, fields)
        for head in declared.heads:
            name = head.name.text
            if name in groups:
                findings.append(_second_group(said, head, groups[name]))
                continue
            count = _count(head, findings)
            role: Any = declared.role.text
            groups[name] = Group(name=name, role=role, count=count, place=head.name.span, line=line, **fields)
    return groups


def _second_group(said: syntax.Model, head: syntax.GroupHead, first: Group) -> Finding:
    name = first.name
    message = f"model `{clipped(said.name.text)}` has two groups called `{clipped(name)}`"
    help = "give one of them another name"
    if head.range and head.range.first.text == str(first.count + 1):
        last = (head.range.last or head.range.first).text
        help = f"one group is one row of sockets: `{first.role} {name} 1-{last}`; or give one of them another name"
    return fault("repeated-name", head.name.span, message, consequence="only the first one counts", help=help)


def _protocol_words(said: syntax.Model) -> Iterator[syntax.Word]:
    """Every protocol that a model's ports name."""
    for fact in (fact for group in said.groups for fact in group.facts if fact.name.text == "protocol"):
        for clause in fact.clauses:
            if len(clause) == 1 and isinstance(clause[0], syntax.Word):
                yield clause[0]


def spoken_by(said: syntax.Model) -> frozenset[str]:
    """The names of the protocols that a model's ports speak."""
    return frozenset(word.text for word in _protocol_words(said))


def unknown_protocols(said: syntax.Model, known: Collection[str]) -> list[Finding]:
    """A finding for each protocol of a model that nobody defines."""
    findings = []
    for word in _protocol_words(said):
        if word.text not in known:
            message = f"there is no protocol called `{clipped(word.text)}`"
            hint = similar("protocol", word.text, known) or "define it: `protocol NAME { carries 40 at 48 kHz }`"
            consequence = "what this port speaks is not known"
            findings.append(fault("unknown-name", word.span, message, consequence=consequence, help=hint))
    return findings


def _with_defaults(role: str, kind: str, fields: dict[str, Any]) -> dict[str, Any]:
    """What the catalogue need not say: levels, gain, and which way a preamp's phantom goes."""
    filled = dict(fields)
    if role == "inputs":
        preamp = filled.get("preamp", False)
        level = ("loudspeaker",) if kind == "loudspeaker" else ("mic", "line") if preamp else ("line",)
        filled.setdefault("levels", level)
        if preamp:
            filled.setdefault("gain", ("local",))
    elif role == "outputs":
        filled.setdefault("levels", ("loudspeaker",) if kind in ("amplifier", "loudspeaker") else ("line",))
    if role != "inputs" and isinstance(filled.get("phantom"), Phantom):
        del filled["phantom"]
    return filled


def _count(head: syntax.GroupHead, findings: list[Finding]) -> int:
    if head.range is None:
        return 1
    first = inside.socket(head.range.first, findings)
    last = inside.socket(head.range.last, findings) if head.range.last else first
    if first is None or last is None:
        return 1
    if first != 1 or last < first:
        message = f"the sockets of a group are counted from 1 up, and `{head.range.span.text}` is not"
        form = f"write `{head.name.text} 1-{max(first, last)}`"
        consequence = f"they are counted as 1 to {max(first, last)}"
        findings.append(fault("range-length", head.range.span, message, consequence=consequence, help=form))
        return max(first, last)
    return last
