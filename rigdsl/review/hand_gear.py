"""What hands do with cables between boxes, boxes, mains and outboard."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from rigdsl.draw.words import lead_text, pieces_count
from rigdsl.papers.lines import zone_text
from rigdsl.review.changes import Change
from rigdsl.review.review import Review
from rigdsl.review.step import Doing, Step, instead
from rigdsl.rig import Box, Link, Output, Port, Rig, Source, Zone, natural, ports_text, shown

__all__ = ["boxes", "inserts", "links", "mains", "places"]

SWITCH_OFF = "switch it off first; mains that are more than a plug are for licensed people"


def links(old: Rig, new: Rig, off: Link | None, on: Link | None, change: Change) -> Iterator[Step]:
    """What is done with one cable between boxes, as it was and as it is; None where it is not there."""
    leads = (_leads(off) if off else ""), (_leads(on) if on else "")
    if off and on and "joins" not in change.fields:
        if leads[0] != leads[1]:
            cable = instead(leads[1], leads[0])
            yield Step(_zone(new, on.joins[0][0]), "swap", f"cable {on.name}", "", _ends(on), cable, on.note)
        return
    other = _other_end(off, on) if off and on and leads[0] == leads[1] else None
    if on and other:
        was, now = (ports_text(ports) for ports in other)
        yield Step(_zone(new, other[1][0]), "replug", f"cable {on.name}", was, now, leads[1], on.note)
        return
    if off:
        yield Step(_zone(old, off.joins[0][0]), "unplug", f"cable {off.name}", _ends(off), "", leads[0])
    if on:
        yield Step(_zone(new, on.joins[0][0]), "plug", f"cable {on.name}", "", _ends(on), leads[1], on.note)


def _leads(link: Link) -> str:
    """Its cable, and how many of it there are where it is not one."""
    text, count = lead_text(link.lead), pieces_count(link)
    return f"{count} x {text}" if text and count > 1 else text


def _other_end(off: Link, on: Link) -> tuple[list[Port], list[Port]] | None:
    """The sockets of the end that is elsewhere, as they were and as they are, where the other end stays plugged."""
    was, now = ([sorted(join, key=lambda port: port.key) for join in link.joins] for link in (off, on))
    for stays, goes in ((0, 1), (1, 0)):
        if [join[stays] for join in was] == [join[stays] for join in now]:
            return [join[goes] for join in was], [join[goes] for join in now]
    return None


def boxes(
    old: Rig, new: Rig, off: Box | None, on: Box | None, change: Change, touched: Collection[str]
) -> Iterator[Step]:
    """The same of a box, with what has to be pulled out of it first, but for what is `touched` and told by itself."""
    if off is None or on is None:
        box, rig = (on, new) if on else (off, old)
        if box:
            zone = zone_text(rig, box)
            yield Step(zone, "bring" if on else "take away", f"box {box.name}", "", zone if on else "", "", box.note)
        return
    hanging = _hanging(old, off.name, touched)
    notes = (f"first pull, then put back: {'; '.join(hanging)}" if hanging else "", on.note)
    step = Step(zone_text(new, on), "swap", f"box {on.name}", note="; ".join(filter(None, notes)), hanging=hanging)
    step = replace(step, plugs=2 * len(hanging))
    if "model" in change.fields:
        yield replace(step, what=f"box {on.name}: {on.model.name} instead of {off.model.name}")
    elif "zone" in change.fields:
        yield replace(step, do="move", off=zone_text(old, off), on=step.zone)
    elif "serial" in change.fields and off.serial and on.serial:
        yield replace(step, what=f"box {on.name}: number {on.serial} instead of {off.serial}")


def mains(old: Rig, new: Rig, change: Change) -> Iterator[Step]:
    """A box that is there before and after and gets its mains from another supply."""
    was, now = change.fields.get("supply", (None, None))
    if change.name in old.boxes and change.name in new.boxes:
        do: Doing = "replug" if was and now else "plug" if now else "unplug"
        zone = zone_text(new, new.boxes[change.name])
        yield Step(zone, do, f"mains of {change.name}", was or "", now or "", "", SWITCH_OFF, 1)


def inserts(old: Rig, new: Rig, found: Review) -> Iterator[Step]:
    """Outboard that hangs on another channel or mix: each box once, however many lines it has."""
    touched = {change.name for change in found.changes if change.what == "insert"}
    was, now = (_outboard(rig, touched) for rig in (old, new))
    for box in sorted(was.keys() | now.keys(), key=natural):
        off, on = ports_text(was.get(box, ())), ports_text(now.get(box, ()))
        if off != on:
            rig = new if box in new.boxes else old
            do: Doing = "replug" if off and on else "plug" if on else "unplug"
            yield Step(
                zone_text(rig, rig.boxes[rig.body(box)]),
                do,
                f"insert of {box}",
                off,
                on,
                "",
                "",
                len(was.get(box, now.get(box, ()))),
            )


def _outboard(rig: Rig, touched: Collection[str]) -> dict[str, list[Port]]:
    """Where the outboard hangs that is inserted at these sockets."""
    found: dict[str, list[Port]] = {}
    for insert in rig.inserts:
        if str(insert.at) in touched:
            found.setdefault(insert.send.box, []).append(insert.at)
    return found


def _hanging(rig: Rig, box: str, touched: Collection[str]) -> tuple[str, ...]:
    """What is plugged into a box and stays so: sources and outputs by their labels, cables by their names."""

    def there(ports: Sequence[Port]) -> bool:
        return any(rig.body(port.box) == box and not _by_radio(rig, port) for port in ports)

    things: tuple[Source | Output, ...] = (*rig.sources.values(), *rig.outputs.values())
    plugged = [thing.title for thing in things if thing.name not in touched and there(thing.ports)]
    links = (link for link in rig.links.values() if link.name not in touched)
    return (*plugged, *(f"cable {link.name}" for link in links if any(there(join) for join in link.joins)))


def _by_radio(rig: Rig, port: Port) -> bool:
    return rig.group(port).wireless or rig.group(port).soft


def places(off: Zone | None, on: Zone | None) -> Iterator[Step]:
    """A zone that is elsewhere, and all that stands in it."""
    if off and on and off.position_m and on.position_m and off.position_m != on.position_m:
        zone = on.label or on.name
        yield Step(zone, "move", "all that stands here", _place(off.position_m), _place(on.position_m))


def _place(position_m: tuple[float, float, float]) -> str:
    *flat, up = position_m
    return f"({', '.join(shown(metres) for metres in (flat if not up else position_m))}) m"


def _ends(link: Link) -> str:
    return f"{ports_text(left for left, _ in link.joins)} -- {ports_text(right for _, right in link.joins)}"


def _zone(rig: Rig, port: Port) -> str:
    return zone_text(rig, rig.boxes[rig.body(port.box)])
