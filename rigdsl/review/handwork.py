"""What hands do between two acts on one stage: unplug, swap, move, plug."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from rigdsl.draw.words import lead_text
from rigdsl.papers.lines import zone_text
from rigdsl.review.review import Review
from rigdsl.rig import Box, Link, Output, Rig, Source, natural, ports_text

__all__ = ["AWAY", "DOINGS", "Doing", "Step", "steps"]

Doing = Literal["unplug", "swap", "move", "plug"]
DOINGS: tuple[Doing, ...] = ("unplug", "swap", "move", "plug")  # in this order within a zone

AWAY = "away"  # where a box goes that is not on stage any more


@dataclass(frozen=True)
class Step:
    """One thing to do, in a zone by its label: from which socket or zone, into which, by which cable."""

    zone: str
    do: Doing
    what: str
    off: str = ""
    on: str = ""
    cable: str = ""
    note: str = ""


def steps(old: Rig, new: Rig, found: Review) -> tuple[Step, ...]:
    """All of them, in the order of the zones as the house lists them."""
    labels = [one.label or one.name for rig in (new, old) for one in rig.zones.values()]

    def order(step: Step) -> tuple[object, ...]:
        place = labels.index(step.zone) if step.zone in labels else len(labels)
        return place, step.zone, DOINGS.index(step.do), natural(step.what)

    return tuple(sorted(_swapped(tuple(_steps(old, new, found))), key=order))


def _swapped(found: tuple[Step, ...]) -> Iterator[Step]:
    """Where one thing leaves a socket and another comes into it by the same cable, the cable stays."""
    leaving = {(step.zone, step.off, step.cable) for step in found if step.do == "unplug"}
    coming = {(step.zone, step.on, step.cable): step for step in found if step.do == "plug" and not step.off}
    stay = leaving & coming.keys()
    for step in found:
        key = step.zone, step.off or step.on, step.cable
        if step.do == "unplug" and key in stay:
            now = coming[key]
            yield replace(
                now, do="swap", what=f"{now.what} instead of {step.what}", off="", cable=f"{step.cable}, stays"
            )
        elif step.do != "plug" or step.off or key not in stay:
            yield step


def _steps(old: Rig, new: Rig, found: Review) -> Iterator[Step]:
    for change in found.changes:
        before, after = _thing(old, change.what, change.old_name or change.name), _thing(new, change.what, change.name)
        if change.what in ("source", "output"):
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


def _plugs(old: Rig, new: Rig, before: Thing, after: Thing) -> Iterator[Step]:
    off = before if isinstance(before, Source | Output) else None
    on = after if isinstance(after, Source | Output) else None
    if all(_by_radio(rig, thing) for rig, thing in ((old, off), (new, on)) if thing):
        return
    if off and on and (off.ports, off.zone, lead_text(off.lead)) == (on.ports, on.zone, lead_text(on.lead)):
        if off.name != on.name and off.title != on.title and on.ports:
            yield _swap(new, off, on)
        return
    if off and on and on.ports:
        yield _elsewhere(old, new, off, on)
    elif off and off.ports:
        yield Step(zone_text(old, off), "unplug", off.title, ports_text(off.ports), "", lead_text(off.lead))
    elif on and on.ports:
        yield Step(zone_text(new, on), "plug", on.title, "", ports_text(on.ports), lead_text(on.lead), on.note)


def _elsewhere(old: Rig, new: Rig, off: Source | Output, on: Source | Output) -> Step:
    """The same thing into other sockets, in another zone, or with another lead."""
    zone, lead = zone_text(new, on), lead_text(on.lead)
    if off.ports != on.ports:
        return Step(zone, "plug", on.title, ports_text(off.ports), ports_text(on.ports), lead, on.note)
    if off.zone != on.zone:
        return Step(zone, "move", on.title, zone_text(old, off), zone, lead, on.note)
    return Step(zone, "swap", on.title, "", ports_text(on.ports), _instead(lead, lead_text(off.lead)), on.note)


def _instead(new: str, old: str) -> str:
    return f"{new or 'no lead'} instead of {old or 'no lead'}"


def _swap(rig: Rig, off: Source | Output, on: Source | Output) -> Step:
    """Another thing on the same lead, which stays."""
    what = f"{on.title} instead of {off.title}"
    return Step(zone_text(rig, on), "swap", what, "", ports_text(on.ports), f"{lead_text(on.lead)}, stays", on.note)


def _by_radio(rig: Rig, thing: Source | Output) -> bool:
    """Nothing to plug: it is sent, or it is a track inside a machine."""
    groups = [rig.group(port) for port in thing.ports]
    return bool(groups) and all(group.wireless or group.soft for group in groups)


def _links(old: Rig, new: Rig, before: Thing, after: Thing) -> Iterator[Step]:
    off = before if isinstance(before, Link) else None
    on = after if isinstance(after, Link) else None
    leads = (lead_text(off.lead) if off else ""), (lead_text(on.lead) if on else "")
    if off and on and off.joins == on.joins:
        if leads[0] != leads[1]:
            cable = _instead(leads[1], leads[0])
            yield Step(_link_zone(new, on), "swap", f"cable {on.name}", "", _ends(on), cable, on.note)
        return
    if off:
        yield Step(_link_zone(old, off), "unplug", f"cable {off.name}", _ends(off), "", leads[0])
    if on:
        yield Step(_link_zone(new, on), "plug", f"cable {on.name}", "", _ends(on), leads[1], on.note)


def _boxes(old: Rig, new: Rig, before: Thing, after: Thing) -> Iterator[Step]:
    off = before if isinstance(before, Box) else None
    on = after if isinstance(after, Box) else None
    if off and on and off.model.name != on.model.name:
        what = f"box {on.name}: {on.model.name} instead of {off.model.name}"
        yield Step(zone_text(new, on), "swap", what, "", "", "", on.note)
    box = on or off
    if box and not (off and on and off.zone == on.zone):
        was, now = (zone_text(old, off) if off else ""), (zone_text(new, on) if on else AWAY)
        yield Step(now if on else was, "move", f"box {box.name}", was, now, "", box.note)


def _ends(link: Link) -> str:
    return f"{ports_text(left for left, _ in link.joins)} -- {ports_text(right for _, right in link.joins)}"


def _link_zone(rig: Rig, link: Link) -> str:
    return zone_text(rig, rig.boxes[rig.body(link.joins[0][0].box)])
