"""A plan on its sheets: of the ways to write it, the one that can be read best on the paper."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from rigdsl.draw.curves import Point
from rigdsl.draw.offsheet import with_findings
from rigdsl.draw.paper import Page
from rigdsl.draw.plan_lists import bare, shortened
from rigdsl.draw.plan_place import Laid, largest, lists, lists_size, only_lists, put, room_for_lists
from rigdsl.draw.shapes import Node, View
from rigdsl.draw.sizes import node_size
from rigdsl.rig import Rig

__all__ = ["fitted"]

# In points of distance, what has to be spared by: a list of cables beside the plan, one on another sheet, and the
# zones' lists there as well, with the marks of findings in them.
TURNED = (0.0, 100.0, 200.0, 700.0)


@dataclass(frozen=True)
class Try:
    """One way to write a plan: laid out for a page, with the lists that come on sheets of their own."""

    laid: Laid
    page: Page
    apart: tuple[Node, ...]
    effort: int

    @property
    def paid(self) -> float:
        """The less the better: what stands far off or over lines, and lists to turn to."""
        return self.laid.paid + TURNED[self.effort]


def fitted(view: View, rig: Rig, pages: Sequence[Page]) -> tuple[View, ...]:
    """The plan on one sheet, true to its scale, and on others behind it the lists that it has no room for."""
    here = {node.group: rig.zones[node.group].position_m for node in view.nodes if node.kind == "point"}
    points = {name: (at[0], at[1]) for name, at in here.items() if at is not None}
    tries = list(_tries(view, rig, points, pages)) if points else []
    if not tries:
        return _numbered(_on_lists(view, lists(bare(shortened(view, rig)) if points else view), pages[0]), view)
    best = min(tries, key=lambda one: one.paid)
    first = put(best.laid)
    behind = _on_lists(replace(view, facts=first.facts), best.apart, best.page) if best.apart else ()
    return _numbered((replace(first, page=best.page), *behind), view)


def _tries(view: View, rig: Rig, points: Mapping[str, Point], pages: Sequence[Page]) -> Iterator[Try]:
    """From everything where it is to names only, with the rest in lists on sheets of their own."""
    short = shortened(view, rig)
    for page in (replace(page, least_scale=1.0) for page in pages):  # smaller, and its scale would not be true
        inner = page.inner if page.framed else None
        for effort, one in enumerate((view, short)):
            yield from _made(one, rig, points, page, (), effort)
        if inner is not None:
            for effort, one in enumerate((short, bare(short)), 2):
                listed = tuple(lists(one))
                kept = replace(one, nodes=tuple(node for node in one.nodes if node not in listed))
                yield from _made(kept, rig, points, page, listed, effort)


def _made(
    view: View, rig: Rig, points: Mapping[str, Point], page: Page, apart: tuple[Node, ...], effort: int
) -> Iterator[Try]:
    laid = largest(replace(view, page=page), points, rig, page.inner if page.framed else None)
    if laid is not None:
        yield Try(laid, page, apart, effort)


def _on_lists(view: View, nodes: Sequence[Node], page: Page) -> tuple[View, ...]:
    """Sheets of lists, as many beside each other as a page has room for."""
    plain = replace(view, nodes=(), edges=(), page=page)
    room = room_for_lists(plain, page.inner)[0] if page.framed else float("inf")
    sheets: list[list[Node]] = [[]]
    wide = 0.0
    for node in nodes:
        if sheets[-1] and wide + node_size(node)[0] > room:
            sheets.append([])
            wide = 0.0
        sheets[-1].append(node)
        wide += lists_size(replace(plain, nodes=(node,)))[0]
    return tuple(only_lists(replace(plain, nodes=tuple(some))) for some in sheets)


def _numbered(sheets: Sequence[View], whole: View) -> tuple[View, ...]:
    """Each with its number, and with the findings that are marked on it."""
    count = len(sheets)
    return tuple(replace(with_findings(one, whole), sheet=(at, count)) for at, one in enumerate(sheets, 1))
