"""Two states of a rig held against each other: changes with their effects, findings, totals."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from rigdsl.finding import Finding, Level
from rigdsl.paths import Paths, schedule
from rigdsl.review.changes import Change, changes
from rigdsl.review.effect import Effect
from rigdsl.review.effects import effects
from rigdsl.review.found import come_and_gone
from rigdsl.review.items import items_of
from rigdsl.review.renamed_rig import with_new_names
from rigdsl.review.renames import renames
from rigdsl.rig import Rig
from rigdsl.rig.rig import Head
from rigdsl.syntax.parse import no_collector
from rigdsl.text import Source

__all__ = ["ABSENT", "IDLE", "Review", "Side", "Total", "review", "texts_of"]


@dataclass(frozen=True)
class Side:
    """One state of a rig: with its paths, its files, and what is found in it."""

    rig: Rig
    paths: Paths
    own: tuple[Source, ...]
    findings: tuple[Finding, ...]


# What a thing is called or carries with it changes nothing that sounds.
IDLE = frozenset({"address", "firmware", "label", "mic", "name", "note", "serial", "stand"})
CARRIERS = ("zone", "box")
GEAR = frozenset({"model", "cable", "protocol"})
ABSENT = Side(Rig(Head()), Paths(Rig(Head())), (), ())  # where there is no rig in one of two states


@dataclass(frozen=True)
class Total:
    """A number that a crew plans by, as it was and as it is; None where nobody knows."""

    name: str
    was: float | None
    now: float | None


@dataclass(frozen=True)
class Review:
    """What a change means. `more` are effects that hang on no single change.

    `unread` says whether some of the rig could not be read in the old state and in the new one, where they differ.
    """

    changes: tuple[Change, ...]
    more: tuple[str, ...]
    new: tuple[Finding, ...]
    gone: tuple[Finding, ...]
    totals: tuple[Total, ...]
    unread: tuple[bool, bool] = (False, False)

    @property
    def nothing(self) -> bool:
        """Nothing changes on stage."""
        return not (self.changes or self.more or self.new or self.gone or any(self.unread))

    @property
    def whole(self) -> Literal["", "added", "removed"]:
        """The rig as a whole came or went, with all that is in it."""
        for change in self.changes:
            if change.what == "rig" and change.kind in ("added", "removed"):
                return "added" if change.kind == "added" else "removed"
        return ""


def review(old: Side, new: Side) -> Review:
    """What is otherwise in the new state, and what follows from it."""
    with no_collector():  # many small values are made, and none of them is in a circle
        before, now = items_of(old.rig, old.own), items_of(new.rig, new.own)
        names = renames(before, now)
        found = changes(before, now, names)
        told = effects(old.paths if not names else Paths(with_new_names(old.rig, names)), new.paths) if found else ()
        hung, more = _hung(found, told)
        come, went = come_and_gone(old.findings, new.findings, names)
        differs = texts_of(old.own) != texts_of(new.own)
        unread = differs and _unread(old), differs and _unread(new)
        return Review(hung, more, come, went, _totals(old, new), unread)


def _likely(found: Sequence[Change]) -> int | None:
    """The cause of what hangs on no name: all is one kind of change, or is about one zone or box that is another."""
    if len({(change.kind, change.what) for change in found}) == 1:
        return 0
    zones, boxes = ([at for at, one in enumerate(found) if one.what == what and _is_another(one)] for what in CARRIERS)
    carriers = zones or boxes
    if len(carriers) != 1:
        return None
    name = found[carriers[0]].name
    others = (one for at, one in enumerate(found) if at != carriers[0] and one.what not in GEAR)
    return carriers[0] if all(_speaks_of(one, name) for one in others) else None


def _is_another(change: Change) -> bool:
    """It came, went, or is of another kind or elsewhere; a card goes with the box that it sits in."""
    other = change.kind in ("added", "removed") or change.fields.keys() & {"model", "zone"}
    return bool(other) and "slot" not in change.fields


def _speaks_of(change: Change, name: str) -> bool:
    """Whether a change names a box or zone, alone or with a socket."""
    told = json.dumps([change.name, *change.fields.values()])
    return re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", told) is not None


def texts_of(own: Iterable[Source]) -> list[tuple[str, str]]:
    """Files by their paths, to see whether anything in them differs."""
    return sorted((source.path, source.text) for source in own)


def _unread(side: Side) -> bool:
    return any(finding.level == Level.ERROR for finding in side.rig.findings)


def _hung(found: tuple[Change, ...], told: Sequence[Effect]) -> tuple[tuple[Change, ...], tuple[str, ...]]:
    """Each effect on the change that is nearest to it: the first of its names that something changed at."""
    by_name: dict[str, int] = {}
    for at, change in enumerate(found):
        for name in (change.name, change.old_name) if change.fields.keys() - IDLE else ():
            by_name.setdefault(name, at) if name else None
    likely = _likely(found)
    at_change: dict[int, list[str]] = {}
    more = []
    for effect in told:
        cause = next((by_name[name] for name in effect.about if name in by_name), likely)
        if cause is None:
            more.append(effect.words)
        else:
            at_change.setdefault(cause, []).append(effect.words)
    hung = (replace(change, effects=tuple(at_change.get(at, ()))) for at, change in enumerate(found))
    return tuple(hung), tuple(more)


# ---- totals


def _totals(old: Side, new: Side) -> tuple[Total, ...]:
    ours, theirs = _figures(old), _figures(new)
    return tuple(Total(name, ours[name], theirs[name]) for name in ours)


def _figures(side: Side) -> dict[str, float | None]:
    rows = schedule(side.rig)
    delays = [side.paths.delay_of(name) for name in side.rig.outputs]
    return {
        "cables": sum(row.count for row in rows),
        "cable_m": round(sum(row.length_m * row.count for row in rows if row.length_m is not None), 3),
        "weight_kg": round(sum(box.weight_kg or 0.0 for box in side.rig.boxes.values()), 3),
        "power_w": round(sum(box.power_w or 0.0 for box in side.rig.boxes.values()), 3),
        "free_inputs": _free_inputs(side),
        "latency_ms": round(max((delay.latency_s for delay in delays if delay), default=0.0) * 1e3, 3),
    }


def _free_inputs(side: Side) -> int:
    """Inputs that take a cable and have none, of boxes that have preamps there."""
    ports = (
        port
        for box in side.rig.boxes.values()
        for group in box.model.of_role("inputs")
        if group.preamp and group.pluggable and not group.wireless
        for port in box.ports(group)
    )
    return sum(port not in side.paths.plugs and port not in side.paths.pieces for port in ports)
