"""Outboard in a channel or a mix: where an insert sends to, and where it comes back from."""

from __future__ import annotations

from collections.abc import Mapping

from rigdsl.finding import Finding
from rigdsl.rig import words
from rigdsl.rig.amounts import as_laid_out, fault
from rigdsl.rig.facts import read
from rigdsl.rig.gear import Group, Model
from rigdsl.rig.links import lead_of
from rigdsl.rig.names import Gear, Notes
from rigdsl.rig.night import Tonight
from rigdsl.rig.port import Port
from rigdsl.rig.rig import Rig
from rigdsl.rig.signals import Insert
from rigdsl.rig.sockets import Named, Sockets, Use, fitting, groups_text, sockets, twice
from rigdsl.rig.stage import Box
from rigdsl.rig.units import counted
from rigdsl.syntax import nodes as syntax
from rigdsl.syntax.forms import FORMS
from rigdsl.text import Span

__all__ = ["inserts"]

LEFT_OUT = "the insert is left out"
AT = Use("channels and mixes", fitting("channels", "mixes"))
SEND = Use("inputs", fitting("inputs", wireless=False, soft=False))
SIDES = (
    (AT, ("channels", "mixes"), "an insert is in a channel or a mix"),
    (SEND, ("inputs",), "an insert goes into inputs of the outboard and comes back from its outputs"),
)
WORDS = {"digital": "digital ports", "data": "ports for control data"}

# One side, number by number, each socket with whether a night took its box away; None: it cannot be told.
Side = list[tuple[Port, bool]]


def inserts(night: Tonight, gear: Gear, rig: Rig, names: Mapping[str, Named], notes: Notes) -> tuple[Insert, ...]:
    """All inserts of tonight, in the order of the files; one whose desk or outboard was taken away is gone with it."""
    made: list[Insert] = []
    for one in night.said:
        if isinstance(node := one.statement, syntax.Insert):
            fields = read(node.facts, words.INSERT, "an insert", notes.findings)
            fields.pop("label", None)
            made += _made(node, fields.get("note", ""), gear, rig, names[one.file.key], notes)
    return tuple(made)


def _made(node: syntax.Insert, note: str, gear: Gear, rig: Rig, names: Named, notes: Notes) -> list[Insert]:
    sides = [_side(node, ends, which, names, notes) for which, ends in enumerate((node.at, node.through))]
    if any(side is None for side in sides):
        return []
    at, through = (side or [] for side in sides)
    told = _uneven(node, len(at), len(through)) or twice(node.through, (port for port, _ in through))
    if told:
        notes.findings.append(told)
        notes.left_out(node)
        return []
    joined = [(a, b) for (a, a_gone), (b, b_gone) in zip(at, through, strict=True) if not a_gone and not b_gone]
    backs = [_back(rig.boxes[send.box].model, send) for _, send in joined]
    if None in backs:
        box = rig.boxes[joined[backs.index(None)][1].box]
        if box.name not in names.broken:
            notes.findings.append(_no_way_back(node, box))
        notes.left_out(node)
        return []
    if not joined:
        return []
    zones = (rig.boxes[joined[0][0].box].zone, rig.boxes[joined[0][1].box].zone)
    lead = lead_of(node.lead, "", gear, rig, zones, notes)
    pairs = zip(joined, backs, strict=True)
    return [Insert(str(at[0][0]), port, send, back, lead, node.span, note) for (port, send), back in pairs if back]


def _side(node: syntax.Insert, ends: tuple[syntax.End, ...], which: int, names: Named, notes: Notes) -> Side | None:
    """The sockets of one side; None where they cannot be told: the finding stands already, or the box is gone."""
    use, roles, says = SIDES[which]
    found: list[Sockets] = []
    wrong = False
    for end in ends:
        one = sockets(end, use, names, notes.findings)
        if one.gone and not one.ports:
            return None  # of a box that a night took away, and nobody knows how many sockets
        box = names.boxes.get(end.name.text)
        group = box.model.groups[one.ports[0].group] if box and one.ports and not one.gone else None
        if box and group and group.role not in roles:
            notes.findings.append(_wrong(end, box, group, roles, says))
            wrong = True
        found.append(one)
    if wrong or any(not one.known for one in found):
        notes.left_out(node)
        return None
    return [(port, one.gone) for one in found for port in one.ports]


def _wrong(end: syntax.End, box: Box, group: Group, roles: tuple[str, ...], says: str) -> Finding:
    are = WORDS.get(group.role, group.role)
    fits = [f"`{box.name}.{one.name}`" for one in box.model.of_role(*roles)]
    what = " and ".join(roles)
    help = f"its {what} are: {', '.join(fits)}" if fits else f"`{box.name}` has no {what}; {_form()}"
    subject = as_laid_out(end.span)
    message = f"`{box.name}.{group.name}` are {are}: {says}"
    return fault("no-such-port", end.span, message, subject=subject, consequence=LEFT_OUT, help=help)


def _form() -> str:
    return f"an insert reads: `{FORMS['insert'].example}`"


def _uneven(node: syntax.Insert, left: int, right: int) -> Finding | None:
    if left == right:
        return None
    here = counted(left, "channel or mix", "channels or mixes")
    message = (
        f"{here} on the left of `through`, and {counted(right, 'socket')} on the right: they are joined one by one"
    )
    place = Span(node.span.source, node.at[0].span.start, node.through[-1].span.end)
    help = "give both sides as many: `insert DESK.ch 3-4 through CP 1-2`"
    return fault("range-length", place, message, consequence=LEFT_OUT, help=help)


def _back(model: Model, send: Port) -> Port | None:
    """The output that an input's pass leads to; where the model has no pass, the same number of its one outputs."""
    number = send.number or 1
    for one in model.passes:
        offset = number - one.left_first
        if one.left == send.group and 0 <= offset < one.count and model.groups[one.right].role == "outputs":
            return _port(send.box, model.groups[one.right], one.right_first + offset)
    outputs = model.of_role("outputs")
    if model.passes or len(outputs) != 1 or number > outputs[0].count:
        return None
    return _port(send.box, outputs[0], number)


def _port(box: str, group: Group, number: int) -> Port:
    return Port(box, group.name, number if group.count > 1 else 0)


def _no_way_back(node: syntax.Insert, box: Box) -> Finding:
    place = Span(node.span.source, node.through[0].span.start, node.through[-1].span.end)
    message = f"nothing says which output of `{box.name}` it comes back from"
    help = (
        f"say in model `{box.model.name}` what leads where: `pass in -> out`; its groups are: {groups_text(box)}"
        if box.model.of_role("outputs")
        else f"`{box.name}` has no outputs; its groups are: {groups_text(box)}"
    )
    subject = as_laid_out(place)
    return fault("no-such-port", place, message, subject=subject, consequence=LEFT_OUT, help=help)
