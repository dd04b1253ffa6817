"""What hands do between two acts on one stage, in the order of its zones."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rigdsl.review.changes import Change
from rigdsl.review.hand_gear import boxes, inserts, links, mains, places
from rigdsl.review.hand_plugs import plugs
from rigdsl.review.review import Review
from rigdsl.review.step import DOINGS, Step
from rigdsl.rig import Rig, natural

__all__ = ["steps"]


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
    """A socket that something else leaves has to be free first."""
    leaving = {step.off: step for step in found if step.do in ("unplug", "replug")}
    for step in found:
        other = leaving.get(step.on) if step.do in ("plug", "replug") else None
        if other is None or other is step:
            yield step
        elif other.on and other.on == step.off:
            yield replace(step, note="; ".join(filter(None, (f"pull {other.what} too, then put both", step.note))))
        elif other.zone == step.zone and other.do == "unplug":
            yield step  # what is unplugged comes first within a zone
        else:
            yield replace(step, note="; ".join(filter(None, (f"when {other.what} is out", step.note))))


def _steps(old: Rig, new: Rig, found: Review) -> Iterator[Step]:
    touched = {change.old_name or change.name for change in found.changes if _is_pulled(change)}
    for change in found.changes:
        was = change.old_name or change.name
        match change.what:
            case "source":
                yield from plugs(old, new, old.sources.get(was), new.sources.get(change.name))
            case "output":
                yield from plugs(old, new, old.outputs.get(was), new.outputs.get(change.name))
            case "link":
                yield from links(old, new, old.links.get(was), new.links.get(change.name), change)
            case "box":
                yield from boxes(old, new, old.boxes.get(was), new.boxes.get(change.name), change, touched)
            case "zone":
                yield from places(old.zones.get(was), new.zones.get(change.name))
            case "power":
                yield from mains(old, new, change)
    yield from inserts(old, new, found)


def _is_pulled(change: Change) -> bool:
    """Whether a plug or cable comes out for its own sake; it does not where it only has another name or label."""
    other = change.kind in ("added", "removed") or change.fields.keys() & {"ports", "joins", "lead", "aimed"}
    return change.what in ("source", "output", "link") and bool(other)
