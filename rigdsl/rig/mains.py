"""Where the current comes from: supplies of the house, and the boxes that are plugged into them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rigdsl.finding import Finding, Level, Related
from rigdsl.rig import words
from rigdsl.rig.amounts import amount, clipped
from rigdsl.rig.names import Notes, unknown
from rigdsl.rig.night import Said, Tonight
from rigdsl.rig.rig import Rig
from rigdsl.rig.sockets import Named
from rigdsl.rig.stage import Power, Supply, Zone
from rigdsl.rig.things import facts_of, label, zone_of
from rigdsl.syntax import nodes as syntax

__all__ = ["powers", "supplies"]

UNCOUNTED = "what it draws is counted nowhere"


def supplies(
    said: Iterable[Said], zones: Mapping[str, Zone], broken: frozenset[str], notes: Notes
) -> dict[str, Supply]:
    """All supplies by name; one whose figures cannot be read is left out, and its name noted."""
    made = {}
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Supply):
            continue
        name = node.name.text
        volts = amount(node.voltage, "voltage", notes.findings)
        amperes = amount(node.current, "current", notes.findings)
        zone = zone_of(node.zone, zones, broken, notes)
        fields = facts_of(one, node.facts, words.SUPPLY, "a supply", notes)
        if volts is None or amperes is None:
            notes.incomplete.add(name)
            continue
        made[name] = Supply(name, label(node.label, fields), volts, amperes, zone, node.name.span, **fields)
    return made


def powers(night: Tonight, rig: Rig, names: Mapping[str, Named], notes: Notes) -> tuple[Power, ...]:
    """What is plugged into which supply. The user's own file comes first, so its line beats those of used files."""
    made = []
    told: dict[str, tuple[str, syntax.Word]] = {}
    for one in night.said:
        node = one.statement
        if not isinstance(node, syntax.Power):
            continue
        here, key = names[one.file.key], one.file.key
        known = [word for word in node.boxes if _is_box(word, rig, here, notes)]
        fed = _is_supply(node.supply, rig, here, notes)
        first = {word.text: word for word in reversed(known)}
        for word in known:
            before = told.get(word.text, (key, first[word.text]))
            if before[0] == key and before[1] is not word:
                notes.findings.append(_twice(word, before[1]))
        boxes = tuple(name for name in dict.fromkeys(word.text for word in known) if name not in told)
        told |= {name: (key, first[name]) for name in boxes}
        if boxes and fed:
            made.append(Power(boxes, node.supply.text, node.span))
    return tuple(made)


def _is_box(word: syntax.Word, rig: Rig, names: Named, notes: Notes) -> bool:
    """Whether a word names a box that is there tonight; one that is nowhere is told."""
    if word.text in names.gone:
        return False
    if word.text in rig.boxes:
        return True
    if word.text not in names.broken:
        unknown("box", word, rig.boxes, notes, consequence=UNCOUNTED)
    return False


def _is_supply(word: syntax.Word, rig: Rig, names: Named, notes: Notes) -> bool:
    if word.text in names.gone:
        return False
    if word.text in rig.supplies:
        return True
    notes.kinds.add("power")
    if word.text not in names.broken | notes.incomplete:
        unknown("supply", word, rig.supplies, notes)
    return False


def _twice(second: syntax.Word, first: syntax.Word) -> Finding:
    name = clipped(second.text)
    return Finding(
        rule="repeated-name",
        level=Level.ERROR,
        place=second.span,
        subject=name,
        message=f"`{name}` is plugged into a supply twice",
        consequence="only the first one counts",
        help="name each box in one `power` line",
        related=(Related(first.span, "the first one is here"),),
    )
