"""The changeover between two acts: what to unplug, what to plug where, what to move, zone by zone.

How many hands it takes is a rule of thumb (common practice, no source): so many plugs a minute, so many minutes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from rigdsl.draw.words import lead_text, leg_title
from rigdsl.lint.words import count
from rigdsl.papers.lines import lines_of, plugged_text, zone_text
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import Paths
from rigdsl.review.handwork import steps
from rigdsl.review.review import Review, Side, review
from rigdsl.rig import Port, Rig, natural

__all__ = ["NAME", "changeover", "changeover_paper", "hands"]

NAME = "changeover"

COLUMNS = ("zone", "do", "what", "off", "on", "cable", "note")
SHARED = ("zone", "what", "socket", "before", "after")
DESK = ("channel or mix", "before", "after")
PLUGS_A_MINUTE = 3  # one person, cables laid out and marked: common practice, no source
CAUTION = (
    "mute the channels and mixes of the lines that are touched, phantom off first;"
    " amplifiers off before a loudspeaker plug is touched"
)


def changeover_paper(before: Side, now: Side) -> Paper:
    """The changeover from one act to the next as one of the papers."""

    def make(_: Facts) -> tuple[Table, ...]:
        return changeover(before.paths, now.paths, review(before, now))

    return Paper(NAME, "Changeover", make, tuple(dict.fromkeys((*COLUMNS, *SHARED, *DESK))))


def changeover(old: Paths, new: Paths, found: Review) -> tuple[Table, ...]:
    """What the stage crew does, who shares a socket, and what is recalled at the desk."""
    todo = steps(old.rig, new.rig, found)
    people = hands(sum(step.do != "move" for step in todo), 5)
    notes = (
        f"{len(todo)} things to do; about {people} {'person' if people == 1 else 'people'} for five minutes",
        *_staying(old.rig, new.rig, found),
        CAUTION,
    )
    rows = tuple((step.zone, step.do, step.what, step.off, step.on, step.cable, step.note) for step in todo)
    stage = Table(COLUMNS, rows, notes, "On stage")
    shared = Table(SHARED, tuple(_shared(old.rig, new.rig)), (), "Who shares what")
    desk = Table(DESK, tuple(_at_desk(old, new)), (), "At the desk")
    return stage, *(table for table in (shared, desk) if table.rows)


def _staying(old: Rig, new: Rig, found: Review) -> Iterator[str]:
    """What both acts have alike, and nobody touches."""
    touched = {(change.what, change.name) for change in found.changes}
    same = [
        count(sum(name in before and (what, name) not in touched for name in after), what)
        for what, before, after in (("source", old.sources, new.sources), ("output", old.outputs, new.outputs))
    ]
    yield f"{' and '.join(same)} stay as they are"


def hands(plugs: int, minutes: float) -> int:
    """How many people it takes to pull or put so many plugs in so many minutes; at least one."""
    return max(1, math.ceil(plugs / (PLUGS_A_MINUTE * minutes)))


# ---- sockets that both acts use, and the desk


def _shared(old: Rig, new: Rig) -> Iterator[tuple[Cell, ...]]:
    """Sockets that stay plugged, with another source or output on them: the cable stays, what hangs on it changes."""
    for before, after in ((old.sources, new.sources), (old.outputs, new.outputs)):
        at = {port: thing for thing in before.values() for port in thing.ports}
        for name in sorted(after, key=natural):
            thing = after[name]
            for port in thing.ports:
                other = at.get(port)
                if other is not None and other.title != thing.title:
                    stays = "socket and cable" if lead_text(other.lead) == lead_text(thing.lead) else "socket"
                    yield zone_text(new, thing), stays, str(port), other.title, thing.title


def _at_desk(old: Paths, new: Paths) -> Iterator[tuple[Cell, ...]]:
    """Channels and mixes that have something else on them, or the same from another socket."""
    before, now = _on_desk(old), _on_desk(new)
    for port in sorted(before.keys() | now.keys(), key=lambda port: port.key):
        if before.get(port) != now.get(port):
            yield str(port), before.get(port, ""), now.get(port, "")


def _on_desk(paths: Paths) -> dict[Port, str]:
    """What comes to each channel and from which socket, and what each mix feeds."""
    found: dict[Port, list[str]] = {}
    for ports, leg in lines_of(paths, paths.rig.sources):
        source = paths.rig.sources[leg.name]
        for port in ports:
            parts = (leg_title(paths.rig, leg), plugged_text(source, leg))
            found.setdefault(port, []).append(", ".join(filter(None, parts)))
    for ports, leg in lines_of(paths, paths.rig.outputs):
        for port in ports:
            found.setdefault(port, []).append(leg_title(paths.rig, leg))
    return {port: "; ".join(titles) for port, titles in found.items()}
