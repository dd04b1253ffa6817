"""Where the current comes from: supplies of the house, and the boxes that are plugged into them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rigdsl.finding import Finding, Level, Related
from rigdsl.rig import words
from rigdsl.rig.amounts import amount, clipped, fault
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
    """What is plugged into which supply. The user's own file comes first, so its lines for a box beat those of used
    files. A box with two power supplies is plugged into two.
    """
    made = []
    file_of: dict[str, str] = {}
    told: dict[tuple[str, str], syntax.Word] = {}
    for one in night.said:
        node = one.statement
        if not isinstance(node, syntax.Power):
            continue
        here, key, supply = names[one.file.key], one.file.key, node.supply.text
        known = [word for word in node.boxes if _is_box(word, rig, here, notes)]
        fed = _is_supply(node.supply, rig, here, notes)
        boxes = []
        for word in known:
            if file_of.setdefault(word.text, key) != key:
                continue
            if (word.text, supply) in told:
                notes.findings.append(_twice(word, told[word.text, supply], supply))
                continue
            told[word.text, supply] = word
            boxes.append(word.text)
        if boxes and fed:
            made.append(Power(tuple(boxes), supply, node.span))
    return tuple(made)


def _is_box(word: syntax.Word, rig: Rig, names: Named, notes: Notes) -> bool:
    """Whether a word names a box that is there tonight; one that is nowhere, or sits in a slot, is told."""
    if word.text in names.gone:
        return False
    if word.text in rig.boxes:
        if host := rig.boxes[word.text].slot:
            notes.findings.append(_card(word, host.box))
        return not host
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


def _card(word: syntax.Word, host: str) -> Finding:
    card, desk = clipped(word.text), clipped(host)
    return fault(
        "unknown-name",
        word.span,
        f"`{card}` is a card and is fed by `{desk}`",
        consequence=f"it has no plug of its own: what it draws is counted with `{desk}`",
        help=f"name `{desk}` in a `power` line, and not the card",
    )


def _twice(second: syntax.Word, first: syntax.Word, supply: str) -> Finding:
    name = clipped(second.text)
    return Finding(
        rule="repeated-name",
        level=Level.ERROR,
        place=second.span,
        subject=name,
        message=f"`{name}` is plugged into `{clipped(supply)}` twice",
        consequence="only the first one counts",
        help="name it once; for two power supplies in one box, name the other supply",
        related=(Related(first.span, "the first one is here"),),
    )
