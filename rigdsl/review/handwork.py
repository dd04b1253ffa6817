"""What hands do between two acts on one stage: unplug, take away, swap, move, bring, replug, plug."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from rigdsl.draw.words import lead_text
from rigdsl.papers.lines import some_of, zone_text
from rigdsl.review.review import Review
from rigdsl.rig import Box, Link, Output, Port, Rig, Source, natural, ports_text

__all__ = ["DOINGS", "Doing", "Step", "steps"]

Doing = Literal["unplug", "take away", "swap", "move", "bring", "replug", "plug"]
DOINGS: tuple[Doing, ...] = ("unplug", "take away", "swap", "move", "bring", "replug", "plug")  # so within a zone
PLUGGED = ("source", "output")


@dataclass(frozen=True)
class Step:
    """One thing to do, in a zone by its label: from which socket or zone, into which, by which cable.

    `plugs` are pulled or put; `hanging` names what comes out of a box first, and goes back into it.
    """

    zone: str
    do: Doing
    what: str
    off: str = ""
    on: str = ""
    cable: str = ""
    note: str = ""
    plugs: int = 0
    hanging: tuple[str, ...] = ()


def steps(old: Rig, new: Rig, found: Review) -> tuple[Step, ...]:
    """All of them, in the order of the zones as the house lists them."""
    labels = [one.label or one.name for rig in (new, old) for one in rig.zones.values()]

    def order(step: Step) -> tuple[object, ...]:
        place = labels.index(step.zone) if step.zone in labels else len(labels)
        return place, step.zone, DOINGS.index(step.do), natural(step.what)

    return tuple(sorted(_after_others(_swapped(tuple(_steps(old, new, found)))), key=order))


def _swapped(found: Sequence[Step]) -> tuple[Step, ...]:
    """Where one thing leaves a socket and another comes into it by the same cable, the cable stays."""
    leaving = {(step.zone, step.off, step.cable): step for step in found if step.do == "unplug"}
    coming = {(step.zone, step.on, step.cable): step for step in found if step.do == "plug"}
    stay = leaving.keys() & coming.keys()
    told = [step for step in found if (step.zone, step.off or step.on, step.cable) not in stay or step.do == "replug"]
    for key in stay:
        now = coming[key]
        what = f"{now.what} instead of {leaving[key].what}"
        told.append(replace(now, do="swap", what=what, cable=f"{now.cable}, stays"))
    return tuple(told)


def _after_others(found: Sequence[Step]) -> Iterator[Step]:
    """A socket that something in another zone leaves has to be free first."""
    leaving = {step.off: step for step in found if step.do in ("unplug", "replug")}
    for step in found:
        other = leaving.get(step.on) if step.do in ("plug", "replug") else None
        if other is None or other.zone == step.zone:
            yield step
        else:
            yield replace(step, note="; ".join(filter(None, (f"when {other.what} is out", step.note))))


def _steps(old: Rig, new: Rig, found: Review) -> Iterator[Step]:
    for change in found.changes:
        before, after = _thing(old, change.what, change.old_name or change.name), _thing(new, change.what, change.name)
        if change.what in PLUGGED:
            yield from _plugs(old, new, before, after)
        elif change.what == "link":
            yield from _links(old, new, before, after)
        elif change.what == "box" and (change.kind in ("added", "removed", "moved") or "model" in change.fields):
            yield from _boxes(old, new, before, after)


Thing = Source | Output | Link | Box | None


def _thing(rig: Rig, what: str, name: str) -> Thing:
    things: Mapping[str, Mapping[str, Source | Output | Link | Box]] = {
        "source": rig.sources,
        "output": rig.outputs,
        "link": rig.links,
        "box": rig.boxes,
    }
    return things.get(what, {}).get(name)


# ---- sources and outputs


def _plugs(old: Rig, new: Rig, before: Thing, after: Thing) -> Iterator[Step]:
    off = before if isinstance(before, Source | Output) else None
    on = after if isinstance(after, Source | Output) else None
    if all(_by_radio(rig, thing) for rig, thing in ((old, off), (new, on)) if thing):
        return
    if off and on and off.ports and on.ports:
        yield from _still_plugged(old, new, off, on)
    elif off and off.ports:
        plugs = len(off.ports)
        yield Step(zone_text(old, off), "unplug", off.title, ports_text(off.ports), "", lead_text(off.lead), "", plugs)
    elif on and on.ports:
        plugs = len(on.ports)
        yield Step(zone_text(new, on), "plug", on.title, "", ports_text(on.ports), lead_text(on.lead), on.note, plugs)


def _still_plugged(old: Rig, new: Rig, off: Source | Output, on: Source | Output) -> Iterator[Step]:
    """The same thing into other sockets, in another zone, with another lead; or another thing on the same lead."""
    leads = lead_text(off.lead), lead_text(on.lead)
    what = on.title + (f": {_kind(on)} instead of {_kind(off)}" if _kind(off) != _kind(on) else "")
    if off.name != on.name and off.title != on.title:
        what = f"{on.title} instead of {off.title}"
    cable = leads[1] if leads[0] == leads[1] else _instead(leads[1], leads[0])
    step = Step(zone_text(new, on), "swap", what, "", ports_text(on.ports), cable, on.note, len(on.ports))
    if off.ports != on.ports:
        yield replace(step, do="replug", off=ports_text(off.ports))
    elif off.zone != on.zone:
        yield replace(step, do="move", off=zone_text(old, off), on=step.zone)
    elif leads[0] != leads[1]:
        yield step
    elif what != on.title:
        yield replace(step, cable=f"{cable}, stays" if cable else "")


def _kind(thing: Source | Output) -> str:
    """The microphone or box that somebody puts there."""
    return (thing.mic if isinstance(thing, Source) else "") or thing.type


def _instead(new: str, old: str) -> str:
    return f"{new or 'no lead'} instead of {old or 'no lead'}"


def _by_radio(rig: Rig, thing: Source | Output) -> bool:
    """Nothing to plug: it is sent, or it is a track inside a machine."""
    groups = [rig.group(port) for port in thing.ports]
    return bool(groups) and all(group.wireless or group.soft for group in groups)


# ---- cables and boxes


def _links(old: Rig, new: Rig, before: Thing, after: Thing) -> Iterator[Step]:
    off = before if isinstance(before, Link) else None
    on = after if isinstance(after, Link) else None
    leads = (lead_text(off.lead) if off else ""), (lead_text(on.lead) if on else "")
    if off and on:
        other = _other_end(off, on) if leads[0] == leads[1] else None
        if off.joins == on.joins and leads[0] != leads[1]:
            cable = _instead(leads[1], leads[0])
            yield Step(_zone(new, on.joins[0][0]), "swap", f"cable {on.name}", "", _ends(on), cable, on.note)
            return
        if off.joins == on.joins:
            return
        if other:
            was, now = (ports_text(ports) for ports in other)
            yield Step(_zone(new, other[1][0]), "replug", f"cable {on.name}", was, now, leads[1], on.note)
            return
    if off:
        yield Step(_zone(old, off.joins[0][0]), "unplug", f"cable {off.name}", _ends(off), "", leads[0])
    if on:
        yield Step(_zone(new, on.joins[0][0]), "plug", f"cable {on.name}", "", _ends(on), leads[1], on.note)


def _other_end(off: Link, on: Link) -> tuple[list[Port], list[Port]] | None:
    """The sockets of the end that is elsewhere, as they were and as they are, where the other end stays plugged."""
    for stays, goes in ((0, 1), (1, 0)):
        if [pair[stays] for pair in off.joins] == [pair[stays] for pair in on.joins]:
            return [pair[goes] for pair in off.joins], [pair[goes] for pair in on.joins]
    return None


def _boxes(old: Rig, new: Rig, before: Thing, after: Thing) -> Iterator[Step]:
    off = before if isinstance(before, Box) else None
    on = after if isinstance(after, Box) else None
    if off is None or on is None:
        box, rig = (on, new) if on else (off, old)
        if box:
            zone = zone_text(rig, box)
            yield Step(zone, "bring" if on else "take away", f"box {box.name}", "", zone if on else "", "", box.note)
        return
    hanging = _hanging(old, off.name)
    notes = (f"first pull, then put back: {some_of(hanging)}" if hanging else "", on.note)
    step = Step(zone_text(new, on), "swap", f"box {on.name}", note="; ".join(filter(None, notes)), hanging=hanging)
    step = replace(step, plugs=2 * len(hanging))
    if off.model.name != on.model.name:
        yield replace(step, what=f"box {on.name}: {on.model.name} instead of {off.model.name}")
    elif off.zone != on.zone:
        yield replace(step, do="move", off=zone_text(old, off), on=step.zone)


def _hanging(rig: Rig, box: str) -> tuple[str, ...]:
    """What is plugged into a box: sources and outputs by their labels, cables by their names."""

    def there(ports: Sequence[Port]) -> bool:
        return any(rig.body(port.box) == box for port in ports)

    plugged = [thing.title for some in (rig.sources, rig.outputs) for thing in some.values() if there(thing.ports)]
    cables = [link.name for link in rig.links.values() if any(there(join) for join in link.joins)]
    return (*plugged, *(f"cable {name}" for name in cables))


def _ends(link: Link) -> str:
    return f"{ports_text(left for left, _ in link.joins)} -- {ports_text(right for _, right in link.joins)}"


def _zone(rig: Rig, port: Port) -> str:
    return zone_text(rig, rig.boxes[rig.body(port.box)])
