"""A review as a drawing: both states of a rig on one sheet, what came, went and changed marked."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rigdsl.both.union import THINGS, News, ground_of, union
from rigdsl.draw import Plates, View, Wanted, around_changes, drawn
from rigdsl.paths import Paths
from rigdsl.reports.review_values import differences
from rigdsl.review import Change, Review
from rigdsl.review.renamed_rig import with_new_names
from rigdsl.rig import Rig

__all__ = ["both_states", "review_drawing"]

# What somebody does with hands, or looks for by name; of other fields there are too many for a row.
FOR_THE_CREW = ("name", "label", "model", "zone", "slot", "ports", "aimed", "lead", "type", "stand", "mic")
MOST = 2  # of other fields


def review_drawing(
    old: Paths,
    new: Paths,
    found: Review,
    wanted: Wanted,
    format: str,
    *,
    only_changed: bool = False,
    say: Callable[[str], None],
) -> tuple[bytes, ...]:
    """The sheets of the drawing `wanted.view`, one of DRAWN; its choice of a part is not looked at.

    `format` is one of FORMATS; `say` is told what there is to say of the picture. DrawError as in `draw`.
    """
    view, ground = both_states(old, new, found, wanted.view)
    part = around_changes(view) if only_changed and view.compared else view
    return drawn(part, ground, wanted, format, Plates(say=say))


def both_states(old: Paths, new: Paths, found: Review, which: str) -> tuple[View, Rig]:
    """The drawing `which` of DRAWN before it is laid out, and a rig with all zones and boxes that are on it."""
    news = News(found.changes, {change.name: _how(change) for change in found.changes if _is_otherwise(change)})
    before = with_new_names(old.rig, news.renamed)
    return union(Paths(before), new, which, news), ground_of(before, new.rig)


def _is_otherwise(change: Change) -> bool:
    return change.what in THINGS and change.kind not in ("added", "removed")


def _how(change: Change) -> tuple[str, ...]:
    """`was sn`, or `plugged into SL.mic 4` and `was SL.mic 3`: what the crew has to do, else what else there is.

    What a cable joins stands on the drawing.
    """
    names = [name for name in change.fields if name not in ("joins", "id")]
    told = [name for name in names if name in FOR_THE_CREW] or names[:MOST]
    return tuple(_words(name, *change.fields[name]) for name in told)


def _words(name: str, old: Any, new: Any) -> str:
    if name in ("name", "label"):
        return f"was {old or 'without a label'}"
    return "\n".join(f"{what} {now}\nwas {was}" for what, was, now in differences(name, old, new))
