"""The changeover between two acts: what to unplug, what to plug where, what to move, zone by zone.

How many hands it takes is a rule of thumb (common practice, no source): so many plugs a minute, so many minutes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rigdsl.draw.words import lead_text, leg_title
from rigdsl.lint.words import count
from rigdsl.papers.lines import lines_of, preamps_of, zone_text
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import Paths, keep_off
from rigdsl.review.effect import Fresh, named
from rigdsl.review.handwork import steps
from rigdsl.review.phantom import phantom_words
from rigdsl.review.review import Review, Side, review
from rigdsl.review.step import Step
from rigdsl.rig import Port, Rig, natural

__all__ = ["NAME", "changeover", "changeover_paper", "hands"]

NAME = "changeover"

COLUMNS = ("zone", "do", "what", "off", "on", "cable", "note")
SHARED = ("zone", "what", "socket", "before", "after")
PREAMPS = ("preamp", "before", "after", "phantom")
DESK = ("channel or mix", "before", "after")
MINUTES = 5
PLUGS_A_MINUTE = 3  # one person, cables laid out and marked: common practice, no source
CAUTION = (
    "mute the channels and mixes of the lines that are touched, phantom off first;"
    " amplifiers off before a loudspeaker plug is touched"
)


UNREAD = (
    "some of these acts cannot be read, and is missing here: do not hand this out; `rigdsl check` says what to mend"
)
GAIN = "set the gain of each anew"


def changeover_paper(before: Side, now: Side) -> Paper:
    """The changeover from one act to the next as one of the papers."""

    def make(_: Facts) -> tuple[Table, ...]:
        return changeover(before.paths, now.paths, review(before, now))

    return Paper(NAME, "Changeover", make, tuple(dict.fromkeys((*COLUMNS, *SHARED, *PREAMPS, *DESK))))


def changeover(old: Paths, new: Paths, found: Review) -> tuple[Table, ...]:
    """What the stage crew does, who shares a socket, what is switched at preamps and recalled at the desk."""
    fresh = {change.old_name: change.name for change in found.changes if change.kind == "renamed"}
    todo = steps(old.rig, new.rig, found)
    rows = tuple((step.zone, step.do, step.what, step.off, step.on, step.cable, step.note) for step in todo)
    stage = Table(COLUMNS, rows, tuple(_notes(old.rig, new.rig, found, todo)), "On stage")
    tables = (
        Table(SHARED, tuple(_shared(old.rig, new.rig, fresh)), (), "Who shares what"),
        Table(PREAMPS, tuple(_at_preamps(old, new, fresh)), (GAIN,), "At the preamps"),
        Table(DESK, tuple(_at_desk(old, new, fresh)), (), "At the desk"),
    )
    return stage, *(table for table in tables if table.rows)


def _notes(old: Rig, new: Rig, found: Review, todo: Sequence[Step]) -> Iterator[str]:
    if any(found.unread):
        yield UNREAD
    if todo:
        things = f"{len(todo)} {'thing' if len(todo) == 1 else 'things'} to do"
        plugs = sum(step.plugs for step in todo)
        people = hands(plugs, MINUTES)
        time = f"the plugging alone takes {people} {'person' if people == 1 else 'people'} about {MINUTES} minutes"
        yield f"{things}; {time}; boxes, looms and trunks come on top" if plugs else things
    else:
        yield "nothing to do on stage"
    yield _staying(old, new, found, todo)
    yield CAUTION


def _staying(old: Rig, new: Rig, found: Review, todo: Sequence[Step]) -> str:
    """What both acts have alike, and nobody touches."""
    touched = {(change.what, change.name) for change in found.changes}
    pulled = {name for step in todo for name in step.hanging}
    same = []
    for what, before, after in (("source", old.sources, new.sources), ("output", old.outputs, new.outputs)):
        stay = [thing for name, thing in after.items() if name in before and (what, name) not in touched]
        same.append(count(sum(thing.title not in pulled for thing in stay), what))
    return f"{' and '.join(same)} stay as they are"


def hands(plugs: int, minutes: float) -> int:
    """How many people it takes to pull or put so many plugs in so many minutes; at least one."""
    return max(1, math.ceil(plugs / (PLUGS_A_MINUTE * minutes)))


# ---- sockets that both acts use, and the desk


def _shared(old: Rig, new: Rig, fresh: Fresh) -> Iterator[tuple[Cell, ...]]:
    """Sockets that both acts use for different things; a cable stays that goes from the same zone, and is the same."""
    for before, after in ((old.sources, new.sources), (old.outputs, new.outputs)):
        was = {named(port, fresh): thing for thing in before.values() for port in thing.ports}
        now = {port: thing for thing in after.values() for port in thing.ports}
        for port in sorted(was.keys() & now.keys(), key=lambda port: port.key):
            other, thing = was[port], now[port]
            if other.title != thing.title:
                same = (other.zone, lead_text(other.lead)) == (thing.zone, lead_text(thing.lead))
                zone = zone_text(new, new.boxes[new.body(port.box)])
                yield zone, "socket and cable" if same else "socket", str(port), other.title, thing.title


def _at_preamps(old: Paths, new: Paths, fresh: Fresh) -> Iterator[tuple[Cell, ...]]:
    """Preamps to which something else comes, or whose phantom is switched."""
    before, now = _on_preamps(old, fresh), _on_preamps(new, {})
    was_on = {named(port, fresh) for port in old.phantom_on}
    for port in sorted(before.keys() | now.keys(), key=lambda port: port.key):
        was, is_now = port in was_on, port in new.phantom_on
        if before.get(port) != now.get(port) or was != is_now:
            ribbon = any(keep_off(new.rig.sources[leg.name]) for leg in new.sources_at(port)) if port in now else False
            words = phantom_words(was=was, now=is_now, ribbon=ribbon)
            yield str(port), before.get(port, ""), now.get(port, ""), f"{words}: ribbon" if ribbon else words


def _on_preamps(paths: Paths, fresh: Fresh) -> dict[Port, str]:
    """What comes to each preamp."""
    found: dict[Port, list[str]] = {}
    for leg in (leg for name in sorted(paths.rig.sources, key=natural) for leg in paths.legs_of(name)):
        for port in preamps_of(paths, leg):
            found.setdefault(named(port, fresh), []).append(leg_title(paths.rig, leg))
    return {port: "; ".join(titles) for port, titles in found.items()}


def _at_desk(old: Paths, new: Paths, fresh: Fresh) -> Iterator[tuple[Cell, ...]]:
    """Channels and mixes that have something else on them, or the same from another socket."""
    before, now = _on_desk(old, fresh), _on_desk(new, {})
    for port in sorted(before.keys() | now.keys(), key=lambda port: port.key):
        if before.get(port) != now.get(port):
            yield str(port), before.get(port, ""), now.get(port, "")


def _on_desk(paths: Paths, fresh: Fresh) -> dict[Port, str]:
    """What comes to each channel and from which socket, and what each mix feeds."""
    found: dict[Port, list[str]] = {}
    for ports, leg in lines_of(paths, paths.rig.sources):
        source = paths.rig.sources[leg.name]
        plug = str(named(source.ports[leg.index], fresh)) if leg.index < len(source.ports) else source.aimed
        for port in ports:
            told = ", ".join(filter(None, (leg_title(paths.rig, leg), plug)))
            found.setdefault(named(port, fresh), []).append(told)
    for ports, leg in lines_of(paths, paths.rig.outputs):
        for port in ports:
            found.setdefault(named(port, fresh), []).append(leg_title(paths.rig, leg))
    return {port: "; ".join(titles) for port, titles in found.items()}
