"""What hands do with the plugs of sources and outputs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rigdsl.draw.words import lead_text
from rigdsl.papers.lines import zone_text
from rigdsl.paths import keep_off
from rigdsl.review.step import Step, instead
from rigdsl.rig import Output, Rig, Source, ports_text

__all__ = ["Plugged", "plugs"]

Plugged = Source | Output
RIBBON = "ribbon: phantom of its preamp off first"


def plugs(old: Rig, new: Rig, off: Plugged | None, on: Plugged | None) -> Iterator[Step]:
    """What is done with one source or output, as it was and as it is; None where it is not there."""
    if all(_by_radio(rig, thing) for rig, thing in ((old, off), (new, on)) if thing):
        return
    if off and on and off.ports and on.ports:
        yield from _still_plugged(old, new, off, on)
    elif off and off.ports:
        count = len(off.ports)
        yield Step(zone_text(old, off), "unplug", off.title, ports_text(off.ports), "", _leads(off), "", count)
    elif on and on.ports:
        count, note = len(on.ports), _joined(_ribbon(on), _kind(on), on.note)
        yield Step(zone_text(new, on), "plug", on.title, "", ports_text(on.ports), _leads(on), note, count)


def _still_plugged(old: Rig, new: Rig, off: Plugged, on: Plugged) -> Iterator[Step]:
    """The same thing into other sockets, in another zone, with another lead; or another thing on the same lead."""
    leads = _leads(off), _leads(on)
    what = on.title + (f": {_kind(on)} instead of {_kind(off)}" if _kind(off) != _kind(on) else "")
    if off.name != on.name and off.title != on.title:
        what = f"{on.title} ({_kind(on)}) instead of {off.title}"
    cable = leads[1] if leads[0] == leads[1] else instead(leads[1], leads[0])
    note = _joined(_ribbon(on), on.note)
    step = Step(zone_text(new, on), "swap", what, "", ports_text(on.ports), cable, note, len(on.ports))
    if off.ports != on.ports:
        yield replace(step, do="replug", off=ports_text(off.ports))
    elif off.zone != on.zone:
        yield replace(step, do="move", off=zone_text(old, off), on=step.zone)
    elif leads[0] != leads[1]:
        yield step
    elif what != on.title:
        yield replace(step, cable=f"{cable}, stays" if cable else "")


def _leads(thing: Plugged) -> str:
    """Its lead, and how many of it there are: `2 x xlr 6 m`."""
    text = lead_text(thing.lead)
    return f"{len(thing.ports)} x {text}" if text and len(thing.ports) > 1 else text


def _ribbon(thing: Plugged) -> str:
    """Phantom may damage a ribbon (common practice, no source)."""
    return RIBBON if isinstance(thing, Source) and keep_off(thing) else ""


def _joined(*notes: str) -> str:
    return "; ".join(filter(None, notes))


def _kind(thing: Plugged) -> str:
    """The microphone or box that somebody puts there, and what it stands on."""
    if isinstance(thing, Output):
        return thing.type
    return " on ".join(filter(None, (thing.mic or thing.type, thing.stand)))


def _by_radio(rig: Rig, thing: Plugged) -> bool:
    """Nothing to plug: it is sent, or it is a track inside a machine."""
    groups = [rig.group(port) for port in thing.ports]
    return bool(groups) and all(group.wireless or group.soft for group in groups)
