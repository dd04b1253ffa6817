"""A view by its name: what a drawing is called, and the function that makes its sheet. Ours and a pack's are alike."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from rigdsl.draw.marks import marked
from rigdsl.draw.paper import Page
from rigdsl.draw.shapes import Edge, End, Node, View
from rigdsl.finding import Finding
from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["Fit", "NamedView", "Place", "Sheet", "faults", "head", "sheet"]

Sheet = Callable[[Rig, Paths, Sequence[Finding]], View]
Place = Callable[[View, Rig], View]
Fit = Callable[[View, Rig, tuple[Page, ...]], View]

ID = re.compile(r"[\w-]+")  # what `slug` makes: nothing in it can end the quotes that it stands in


@dataclass(frozen=True)
class NamedView:
    """What `rigdsl draw --view NAME` draws. `title` says what it shows: "signal flow".

    `sheet` makes it of a rig, its paths, and its findings in the order in which they are numbered. `place` puts what
    is on one sheet in its places; without it the layout engine does. `fit` is for a view that is always one sheet: it
    takes the ways in which the paper may lie, and gives the view in its places, with its page.
    """

    name: str
    title: str
    sheet: Sheet
    place: Place | None = None
    fit: Fit | None = None


def sheet(
    rig: Rig,
    findings: Sequence[Finding],
    name: str,
    title: str,
    parts: tuple[tuple[Node, ...], tuple[Edge, ...]],
    how: str = "",
) -> View:
    """A sheet of nodes and lines with the usual head, every finding marked at what it is about.

    `how` tells a reader who does not see it how it is laid out.
    """
    return marked(View(*head(rig, name, title, how), *parts), findings, lambda _: ())


def head(rig: Rig, name: str, title: str, how: str) -> tuple[str, str, tuple[str, ...], str]:
    """Name, title, the facts under it, and what a screen reader says of the sheet as a whole."""
    things = ((rig.sources, "source", "sources"), (rig.boxes, "box", "boxes"), (rig.links, "link", "links"))
    counts = ((len(some), one, many) for some, one, many in (*things, (rig.outputs, "output", "outputs")))
    said = ", ".join(f"{count} {one if count == 1 else many}" for count, one, many in counts)
    described = f"The {title} of {rig.head.title or 'a rig'}: {said}" + (f"; {how}." if how else ".")
    return name, rig.head.title or "a rig without a name", _facts(rig, title), described


def _facts(rig: Rig, title: str) -> tuple[str, ...]:
    """What stands under the title of every sheet."""
    head = rig.head
    return tuple(filter(None, [title, head.date, "lengths in metres", "demo data" if head.demo else ""]))


def faults(view: object) -> list[str]:
    """Why a sheet that a pack made cannot be drawn; nothing where it can."""
    if not isinstance(view, View):
        return [f"it gave {type(view).__name__} and no view"]
    keys = {node.id: {cell.key for row in node.rows for cell in row.cells if cell.key} for node in view.nodes}
    return [*_bad_ids(view), *(fault for edge in view.edges for fault in _loose_ends(edge, keys))]


def _bad_ids(view: View) -> Iterator[str]:
    nodes = [node.id for node in view.nodes]
    ids = [*nodes, *(edge.id for edge in view.edges), *(group.id for group in view.groups)]
    keys = [cell.key for node in view.nodes for row in node.rows for cell in row.cells if cell.key]
    for word in dict.fromkeys(word for word in [*ids, *keys] if not ID.fullmatch(word)):
        yield f"`{word}` is no name for a part of a drawing: letters, digits, `_` and hyphens"
    counts = Counter(ids)
    for word in (word for word in counts if counts[word] > 1):
        yield f"two parts of the drawing are called `{word}`"


def _loose_ends(edge: Edge, keys: dict[str, set[str]]) -> Iterator[str]:
    for end in (edge.left, edge.right):
        if not isinstance(end, End) or end.key not in keys.get(end.node, ()):
            yield f"the line `{edge.id}` ends in nothing that is drawn"
