"""Option cards: which slot of which box each one sits in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from rigdsl.finding import Finding, Level, Related, similar
from rigdsl.rig.amounts import a, as_laid_out, clipped, fault
from rigdsl.rig.gear import Slot
from rigdsl.rig.names import Notes, unknown
from rigdsl.rig.night import Said
from rigdsl.rig.port import Port
from rigdsl.rig.stage import Box
from rigdsl.syntax import nodes as syntax

__all__ = ["seated"]

LOOSE = "it is in no slot: its sockets belong to no desk (console)"
CARD = "card"
MOST_HOSTS = 4  # so many boxes with slots are named


def seated(boxes: Mapping[str, Box], said: Iterable[Said], broken: frozenset[str], notes: Notes) -> dict[str, Box]:
    """All boxes, the cards among them in their slots. A card stands where its host stands."""
    found = dict(boxes)
    taken: dict[Port, syntax.Word] = {}
    nodes = [one.statement for one in said]
    cards = {node.name.text for node in nodes if isinstance(node, syntax.Box) and _place(node, boxes)}
    for node in nodes:
        if not isinstance(node, syntax.Box) or node.name.text not in boxes:
            continue
        card = boxes[node.name.text]
        end = _place(node, boxes)
        if end is None:
            if card.kind == CARD and not notes.quiet:
                notes.findings.append(_in_no_slot(node, boxes))
            continue
        slot = _slot(node, end, boxes, cards, broken, notes)
        if slot is None:
            notes.incomplete.add(card.name)
            continue
        if slot in taken:
            notes.findings.append(_two_in_one(node.name, slot, taken[slot], boxes[slot.box]))
        taken.setdefault(slot, node.name)
        if told := _misfit(end, card, boxes[slot.box].model.slots[slot.group]):
            notes.findings.append(told)
        found[card.name] = replace(card, slot=slot, zone=boxes[slot.box].zone)
    return found


def _place(node: syntax.Box, boxes: Mapping[str, Box]) -> syntax.End | None:
    """What is said of the slot; a bare name in the zone's place may be that of a box."""
    if node.slot is None and node.zone is not None and node.zone.text in boxes:
        return syntax.End(node.zone, None, (), node.zone.span)
    return node.slot


def _slot(
    node: syntax.Box, end: syntax.End, boxes: Mapping[str, Box], cards: set[str], broken: frozenset[str], notes: Notes
) -> Port | None:
    """The slot that is meant; None, with the finding told, where there is no such one."""
    host = boxes.get(end.name.text)
    if host is None:
        if end.name.text not in broken | notes.incomplete:
            unknown("box", end.name, boxes, notes, consequence=LOOSE)
        return None
    if host.name in notes.incomplete and not host.model.slots:
        return None
    if host.name in cards:
        message = f"`{host.name}` is in a slot itself, and a card sits in a box that is not"
        _told(end, message, "name the box that has the slot", notes)
        return None
    if not host.model.slots:
        _told(end, f"`{host.name}` has no slots for cards", _slots_elsewhere(node, host, boxes), notes)
        return None
    slot = _named(end, host, notes)
    return None if slot is None else _numbered(end, host, slot, notes)


def _slots_elsewhere(node: syntax.Box, host: Box, boxes: Mapping[str, Box]) -> str:
    """The boxes that have slots; where none has, how a model says so."""
    there = [f"`{box.name}` has {_slots_text(box)}" for box in boxes.values() if box.model.slots]
    if there:
        return "name a box that has some: " + ", ".join(there[:MOST_HOSTS])
    return f"say in model `{host.model.name}` what it has: `slot opt 1-2 takes {node.model.text}`"


def _named(end: syntax.End, host: Box, notes: Notes) -> Slot | None:
    slots = host.model.slots
    if end.group is None and len(slots) == 1:
        return next(iter(slots.values()))
    if end.group is not None and end.group.text in slots:
        return slots[end.group.text]
    listed = f"its slots are: {_slots_text(host)}"
    if end.group is None:
        _told(end, f"`{host.name}` has {len(slots)} rows of slots: say which", listed, notes)
    else:
        help = similar("slot", end.group.text, slots) or listed
        _told(end, f"`{host.name}` has no slot `{clipped(end.group.text)}`", help, notes)
    return None


def _numbered(end: syntax.End, host: Box, slot: Slot, notes: Notes) -> Port | None:
    numbers = [word for one in end.ranges for word in (one.first, one.last) if word is not None]
    if not numbers and slot.count == 1:
        return Port(host.name, slot.name, 0)
    last = f"`{host.name}.{slot.name} 1`"
    if len(numbers) != 1:
        what = "a card sits in one slot" if numbers else f"`{host.name}.{slot.name}` has {slot.count} slots: say which"
        _told(end, what, f"write one of them, such as {last}", notes)
        return None
    text = numbers[0].text
    if not text.isdigit() or len(text) > 6 or not 1 <= int(text) <= slot.count:
        has = f"slots 1 to {slot.count}" if slot.count > 1 else "one slot"
        message = f"`{host.name}.{slot.name}` has {has}, and `{clipped(text)}` is not among them"
        _told(end, message, f"its slots are: {_slots_text(host)}", notes)
        return None
    return Port(host.name, slot.name, int(text) if slot.count > 1 else 0)


def _slots_text(host: Box) -> str:
    return ", ".join(f"`{one.name} 1-{one.count}`" if one.count > 1 else f"`{one.name}`" for one in _rows(host))


def _rows(host: Box) -> list[Slot]:
    return list(host.model.slots.values())


def _told(end: syntax.End, message: str, help: str, notes: Notes) -> None:
    subject = as_laid_out(end.span)
    notes.findings.append(fault("no-such-port", end.span, message, subject=subject, consequence=LOOSE, help=help))


def _in_no_slot(node: syntax.Box, boxes: Mapping[str, Box]) -> Finding:
    name = clipped(node.name.text)
    host = next((box for box in boxes.values() if box.model.slots), None)
    where = f"{host.name}.{_rows(host)[0].name} 1" if host else "DESK.opt 1"
    return fault(
        "no-such-port",
        node.name.span,
        f"`{name}` is a card, and nothing says which slot it sits in",
        subject=name,
        consequence=LOOSE,
        help=f"name the slot: `box {name} is {clipped(node.model.text)} in {where}`",
    )


def _two_in_one(card: syntax.Word, slot: Port, first: syntax.Word, host: Box) -> Finding:
    rows = f"its slots are: {_slots_text(host)}"
    return Finding(
        rule="repeated-name",
        level=Level.ERROR,
        place=card.span,
        subject=str(slot),
        message=f"two cards are meant for one slot, `{slot}`: `{first.text}` and `{card.text}`",
        consequence="only one of them goes in",
        help=f"put one of them into another slot; {rows}",
        related=(Related(first.span, f"`{clipped(first.text)}` sits here too"),),
    )


def _misfit(end: syntax.End, card: Box, slot: Slot) -> Finding | None:
    """A card says which forms of slot it fits, or the slot names its model; what may be a card is not judged."""
    model = card.model
    if model.name in slot.takes or not set(model.fits).isdisjoint(slot.takes) or _maybe_card(card):
        return None
    takes = " and ".join(f"`{form}`" for form in slot.takes)
    fits = f" for {' and '.join(f'`{form}`' for form in model.fits)}" if model.fits else ""
    return fault(
        "no-such-port",
        end.span,
        f"`{card.name}` is {a(card.kind)}{fits}, and `{end.name.text}.{slot.name}` takes {takes}",
        subject=card.name,
        consequence="it does not go in, and all that is plugged into it is lost",
        help=f"fit a card for {takes}, or another desk (console)"
        if fits
        else f"if it is a card, say `fits {slot.takes[0]}` in model `{model.name}`; else name the zone it stands in",
    )


def _maybe_card(card: Box) -> bool:
    """One that says nothing of its form, and is called a card or a bridge, or has no sockets for sound."""
    sockets = card.model.groups.values()
    named = card.kind in (CARD, "bridge")
    return not card.model.fits and (named or all(group.role in ("digital", "data") for group in sockets))
