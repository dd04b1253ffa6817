"""A review as a drawing: both states of a rig on one sheet, what came, went and changed marked."""

from __future__ import annotations

from collections.abc import Callable

from rigdsl.draw import Plates, Wanted, around_changes, drawn
from rigdsl.paths import Paths
from rigdsl.reports.review_words import field_words
from rigdsl.review import Change, Review
from rigdsl.review.renamed_rig import with_new_names
from rigdsl.review.union import THINGS, News, ground_of, union

__all__ = ["review_drawing"]


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
    news = News(found.changes, {change.name: _how(change) for change in found.changes if _is_otherwise(change)})
    before = with_new_names(old.rig, news.renamed)
    view = union(Paths(before), new, wanted.view, news)
    part = around_changes(view) if only_changed and view.compared else view
    return drawn(part, ground_of(before, new.rig), wanted, format, Plates(say=say))


def _is_otherwise(change: Change) -> bool:
    return change.what in THINGS and change.kind not in ("added", "removed")


def _how(change: Change) -> tuple[str, ...]:
    """`was sn`, `plugged into SL.mic 4, was SL.mic 3`; what a cable joins stands on the drawing."""
    fields = ((name, values) for name, values in change.fields.items() if name != "joins")
    return tuple(f"was {values[0]}" if name == "name" else field_words(name, *values) for name, values in fields)
