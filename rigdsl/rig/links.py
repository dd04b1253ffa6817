"""Cables: the lead of a plug or link, and links with the sockets that they join."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from rigdsl.finding import Finding
from rigdsl.rig import words
from rigdsl.rig.amounts import amount, as_laid_out, clipped, fault
from rigdsl.rig.gear import Cable, Group
from rigdsl.rig.names import Gear, Notes, unknown
from rigdsl.rig.night import Said
from rigdsl.rig.port import Port, ports_text
from rigdsl.rig.rig import Rig
from rigdsl.rig.sockets import Named, Sockets, Use, cordless, sockets, twice
from rigdsl.rig.stage import Lead, Link
from rigdsl.rig.things import facts_of
from rigdsl.rig.units import counted
from rigdsl.syntax import nodes as syntax
from rigdsl.syntax.forms import JOIN

__all__ = ["JOINED", "lead_of", "links"]

JOINED = Use("sockets", lambda group: group.role not in ("channels", "mixes"))


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
            unknown("cable", said.cable, gear.cables, notes)
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
    seen: Counter[str] = Counter()
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Link):
            continue
        fields = facts_of(one, node.facts, words.LINK, "a link", notes)
        joins: list[tuple[Port, Port]] = []
        if not node.joins:
            notes.findings.append(_joins_nothing(node))
        for join in node.joins:
            joins += _joined(join, names[one.file.key], node, notes)
        if not joins:
            if node.name:
                notes.incomplete.add(node.name.text)
            continue
        ident = node.name.text if node.name else ""
        ends = (rig.boxes[joins[0][0].box].zone, rig.boxes[joins[0][1].box].zone)
        lead = lead_of(node.lead, "", gear, rig, ends, notes)
        name = ident or _unnamed(joins, seen)
        place = node.name.span if node.name else node.joins[0].span
        made[name] = Link(name, ident, tuple(joins), lead, place, **fields)
    return made


def _joins_nothing(node: syntax.Link) -> Finding:
    name = clipped(node.name.text) if node.name else ""
    return fault(
        "syntax-error",
        node.name.span if node.name else node.span,
        f"link `{name}` joins nothing to nothing",
        subject=f"link {name}",
        consequence="the cable is left out",
        help=f"its block says what it joins, line by line: `{JOIN.example}`",
    )


def _unnamed(joins: list[tuple[Port, Port]], seen: Counter[str]) -> str:
    """A link without an id goes by its ends; the second one between them is `#2`."""
    left, right = sorted(([a for a, _ in joins], [b for _, b in joins]), key=lambda side: side[0].key)
    name = f"{ports_text(left)} -- {ports_text(right)}"
    seen[name] += 1
    return name if seen[name] == 1 else f"{name} #{seen[name]}"


def _no_socket(end: syntax.End, found: Sockets, names: Named) -> Finding | None:
    """Channels and mixes are inside a desk, and a wireless line has no plug: no cable goes into one."""
    box = names.boxes.get(end.name.text)
    if box is None or found.gone or not found.ports:
        return None
    group = box.model.groups[found.ports[0].group]
    real = [f"`{box.name}.{g.name}`" for g in box.model.groups.values() if JOINED.fits(g) and not _no_plug(g)]
    help = f"its sockets are: {', '.join(real) or 'none'}"
    if not JOINED.fits(group):
        message = f"`{box.name}.{group.name}` are {group.role} inside `{box.name}`: no cable goes in there"
        help += "; channels and mixes are reached by `patch`"
    elif _no_plug(group):
        message = cordless(box, group)
    else:
        return None
    subject = as_laid_out(end.span)
    return fault("no-such-port", end.span, message, subject=subject, consequence="the cable is left out", help=help)


def _no_plug(group: Group) -> bool:
    """Wireless or inside a computer; ports for data and the network may be joined without a cable."""
    return group.analogue and (group.wireless or group.soft)


def _joined(join: syntax.Join, names: Named, node: syntax.Link, notes: Notes) -> list[tuple[Port, Port]]:
    sides = [[sockets(end, JOINED, names, notes.findings) for end in side] for side in (join.left, join.right)]
    if any(found.gone for side in sides for found in side) and not all(f.ports for side in sides for f in side):
        return []
    unfit = [
        _no_socket(end, found, names)
        for ends, side in zip((join.left, join.right), sides, strict=True)
        for end, found in zip(ends, side, strict=True)
    ]
    notes.findings.extend(told for told in unfit if told)
    if any(unfit) or any(not found.known for side in sides for found in side):
        notes.left_out(node)
        return []
    left, right = ([(port, found.gone) for found in side for port in found.ports] for side in sides)
    if again := _repeated(join, left, right):
        notes.findings.append(again)
        notes.left_out(node)
        return []
    if len(left) != len(right):
        here = counted(len(left), "socket")
        message = f"{here} on the left of `--`, and {len(right)} on the right: they are joined one by one"
        form = "give both sides as many sockets"
        notes.findings.append(fault("range-length", join.span, message, consequence="the cable is left out", help=form))
        notes.left_out(node)
        return []
    return [(a, b) for (a, a_gone), (b, b_gone) in zip(left, right, strict=True) if not a_gone and not b_gone]


Side = list[tuple[Port, bool]]


def _repeated(join: syntax.Join, left: Side, right: Side) -> Finding | None:
    """The finding about a socket that is named twice on one side, or joined to itself."""
    for ends, side in ((join.left, left), (join.right, right)):
        if len(ends) > 1 and (again := twice(ends, (port for port, _ in side))):
            return again
    same = next((a for (a, _), (b, _) in zip(left, right, strict=False) if a == b), None)
    if same is None:
        return None
    help = "name the socket at the other end of the cable"
    message = f"`{same}` is joined to itself"
    return fault("range-length", join.span, message, consequence="the cable is left out", help=help)
