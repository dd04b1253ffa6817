"""The changeover between two acts: what to unplug, what to plug where, what to move, zone by zone.

How many hands it takes is a rule of thumb (common practice, no source): so many plugs a minute, so many minutes.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence

from rigdsl.draw.words import lead_text, leg_title
from rigdsl.finding import Level
from rigdsl.lint.words import count
from rigdsl.papers.lines import lines_of, preamps_of, zone_text
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import Paths, gain_owners, keep_off
from rigdsl.review.handwork import steps
from rigdsl.review.phantom import phantom_words
from rigdsl.review.renamed_rig import with_new_names
from rigdsl.review.review import IDLE, Review, Side, review
from rigdsl.review.step import Step
from rigdsl.rig import Port, Rig, natural

__all__ = ["NAME", "changeover", "changeover_paper", "hands"]

NAME = "changeover"

COLUMNS = ("zone", "do", "what", "off", "on", "cable", "note")
SHARED = ("zone", "what", "socket", "before", "after")
WRONG = ("what is wrong", "on the night", "to mend it")
PREAMPS = ("preamp", "before", "after", "phantom", "gain by")
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

    after = before.rig.head.title
    title = f"Changeover after {after}" if after else "Changeover"
    return Paper(NAME, title, make, tuple(dict.fromkeys((*WRONG, *COLUMNS, *SHARED, *PREAMPS, *DESK))))


def changeover(old: Paths, new: Paths, found: Review) -> tuple[Table, ...]:
    """What the stage crew does, who shares a socket, what is switched at preamps and recalled at the desk."""
    todo = steps(old.rig, new.rig, found)
    names = {(change.what, change.old_name): change.name for change in found.changes if change.kind == "renamed"}
    old = Paths(with_new_names(old.rig, names)) if names else old
    rows = tuple((step.zone, step.do, step.what, step.off, step.on, step.cable, step.note) for step in todo)
    stage = Table(COLUMNS, rows, tuple(_notes(old, new, found, todo)), "On stage")
    wrong = tuple((one.message, one.consequence, one.help) for one in found.new if one.level == Level.ERROR)
    tables = (
        Table(SHARED, tuple(_shared(old.rig, new.rig)), (), "Who shares what"),
        Table(PREAMPS, tuple(_at_preamps(old, new, _exchanged(found))), (GAIN,), "At the preamps"),
        Table(DESK, tuple(_at_desk(old, new)), (), "At the desk"),
    )
    first = (Table(WRONG, wrong, (), "Wrong with the act that comes: mend this first"),) if wrong else ()
    return *first, stage, *(table for table in tables if table.rows)


def _exchanged(found: Review) -> frozenset[str]:
    """Boxes in whose place another one stands, that comes out of its case with nothing set."""
    fields = frozenset({"model", "serial"})
    return frozenset(one.name for one in found.changes if one.what == "box" and one.fields.keys() & fields)


def _notes(old: Paths, new: Paths, found: Review, todo: Sequence[Step]) -> Iterator[str]:
    if any(found.unread):
        yield UNREAD
    if todo:
        things = f"{len(todo)} {'thing' if len(todo) == 1 else 'things'} to do"
        plugs = sum(step.plugs for step in todo)
        people, alone = hands(plugs, MINUTES), math.ceil(plugs / PLUGS_A_MINUTE)
        time = f"{count(plugs, 'plug')} to pull or put: about {count(alone, 'minute')} for one person"
        time += f", {MINUTES} for {people}" if people > 1 else ""
        yield f"{things}; {time}; boxes, looms and trunks come on top" if plugs else things
    else:
        yield "nothing to do on stage"
    yield _staying(old, new, found)
    yield CAUTION


def _staying(old: Paths, new: Paths, found: Review) -> str:
    """What both acts have alike, and nobody touches: neither it nor what it goes through."""
    touched = {change.name for change in found.changes if change.fields.keys() - (IDLE - {"mic", "stand"})}
    same: list[int] = []
    for before, after in (
        (old.rig.sources, new.rig.sources),
        (old.rig.outputs, new.rig.outputs),
    ):
        names = (name for name in after if name in before and name not in touched)
        same.append(sum(touched.isdisjoint(_way(new, name)) for name in names))
    if not any(same):
        return "nothing stays wholly as it is"
    return f"{count(same[0], 'source')} and {count(same[1], 'output')} stay as they are"


def _way(paths: Paths, name: str) -> set[str]:
    """The cables and boxes that a source or output goes through."""
    hops = [hop for path in paths.paths_of(name) for hop in path.hops]
    links = {hop.link.name for hop in hops if hop.link}
    return links | {paths.rig.body(end.box) for hop in hops for end in (hop.left, hop.right) if isinstance(end, Port)}


def hands(plugs: int, minutes: float) -> int:
    """How many people it takes to pull or put so many plugs in so many minutes; at least one."""
    return max(1, math.ceil(plugs / (PLUGS_A_MINUTE * minutes)))


# ---- sockets that both acts use, and the desk


def _shared(old: Rig, new: Rig) -> Iterator[tuple[Cell, ...]]:
    """Sockets that both acts use for different things; a cable stays that goes from the same zone, and is the same."""
    for before, after in ((old.sources, new.sources), (old.outputs, new.outputs)):
        was, now = ({port: thing for thing in some.values() for port in thing.ports} for some in (before, after))
        for port in sorted(was.keys() & now.keys(), key=lambda port: port.key):
            other, thing = was[port], now[port]
            if other.title != thing.title:
                same = (other.zone, lead_text(other.lead)) == (thing.zone, lead_text(thing.lead))
                alone = other.name not in after and thing.name not in before  # else each takes its lead along
                same = same and (alone or other.name == thing.name)
                zone = zone_text(new, new.boxes[new.body(port.box)])
                yield zone, "socket and cable" if same else "socket", str(port), other.title, thing.title


def _at_preamps(old: Paths, new: Paths, exchanged: Collection[str]) -> Iterator[tuple[Cell, ...]]:
    """Preamps to which something else comes, that are set by somebody else, or whose phantom is switched."""
    before, now = _on_preamps(old), _on_preamps(new)
    was_on = {port for port in old.phantom_on if port.box not in exchanged}
    was_by, now_by = gain_owners(old), gain_owners(new)
    for port in sorted(before.keys() | now.keys(), key=lambda port: port.key):
        was, is_now, by = port in was_on, port in new.phantom_on, now_by.get(port, "")
        told, fresh_box = (before.get(port), was, was_by.get(port, by)), port.box in exchanged
        if port not in now or fresh_box or told != (now[port], is_now, by):
            ribbon = port in now and any(keep_off(new.rig.sources[leg.name]) for leg in new.sources_at(port))
            words = phantom_words(was=was, now=is_now, ribbon=ribbon)
            yield str(port), before.get(port, ""), now.get(port, ""), f"{words}: ribbon" if ribbon else words, by


def _on_preamps(paths: Paths) -> dict[Port, str]:
    """What comes to each preamp."""
    found: dict[Port, list[str]] = {}
    for leg in (leg for name in sorted(paths.rig.sources, key=natural) for leg in paths.legs_of(name)):
        for port in preamps_of(paths, leg):
            found.setdefault(port, []).append(leg_title(paths.rig, leg))
    return {port: "; ".join(titles) for port, titles in found.items()}


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
        plug = str(source.ports[leg.index]) if leg.index < len(source.ports) else source.aimed
        for port in ports:
            told = ", ".join(filter(None, (leg_title(paths.rig, leg), plug)))
            found.setdefault(port, []).append(told)
    for ports, leg in lines_of(paths, paths.rig.outputs):
        for port in ports:
            found.setdefault(port, []).append(leg_title(paths.rig, leg))
    return {port: "; ".join(titles) for port, titles in found.items()}
