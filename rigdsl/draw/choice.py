"""A part of a view: some zones, what goes to and from a desk, whole paths, or what is near a box.

Whatever is left out is said: the title block names the part, and each box that is not whole how much it has more.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Sequence
from dataclasses import replace
from itertools import takewhile

from rigdsl.draw.compared import LOOKS
from rigdsl.draw.offsheet import with_findings
from rigdsl.draw.shapes import Edge, End, Node, View
from rigdsl.draw.sizes import places
from rigdsl.draw.trim import trimmed
from rigdsl.draw.wanted import Choice
from rigdsl.finding import similar
from rigdsl.paths import Path, Paths
from rigdsl.rig import Leg
from rigdsl.rig.asked import asked

__all__ = ["EmptyPartError", "around_changes", "chosen"]


class EmptyPartError(LookupError):
    """What is asked for is there, and nothing of it is on this drawing."""


Order = dict[str, int]  # the sockets, sources and outputs of a path, each with its place along it


def chosen(view: View, paths: Paths, choice: Choice) -> View:
    """The part of a view that is asked for: of several wishes, what all of them show.

    LookupError for a name that the rig does not have, with near ones; EmptyPartError where nothing of it is on the
    drawing.
    """
    part = view
    if choice.zones:
        zones = [_known("zone", name, paths.rig.zones) for name in choice.zones]
        part = _near(part, {node.id for node in part.nodes if node.group in zones}, 0)
    if choice.desks:
        desks = {name: box for name, box in paths.rig.boxes.items() if box.mixes}
        part = _along(part, [path for name in choice.desks for path in paths.trace(_known("desk", name, desks))])
    if choice.only:
        part = _along(part, [path for name in choice.only for path in paths.trace(asked(paths.rig, name)[1])])
    for name, cables in choice.around:
        box = paths.rig.body(_known("box", name, paths.rig.boxes))
        part = _near(part, {node.id for node in part.nodes if box in _things(node)}, cables)
    if not choice:
        return view
    if not part.nodes:
        raise EmptyPartError(f"nothing of that is on the drawing `{view.which}`: {', '.join(_words(choice))}")
    what, *facts = view.facts
    return with_findings(replace(part, facts=(what, *_words(choice), *facts)), view)


def _known(what: str, name: str, there: Iterable[str]) -> str:
    names = sorted(there)
    if name in names:
        return name
    known = ", ".join(f"`{one}`" for one in names[:8]) + (" ..." if len(names) > 8 else "")
    hint = similar(what, name, names) or (f"there are: {known}" if names else f"the rig has no {what}")
    raise LookupError(f"there is no {what} called `{name}`; {hint}")


def _things(node: Node) -> set[str]:
    """All that a node stands for: of a zone's card the boxes are in its rows."""
    return {*node.things, *(thing for row in node.rows for thing in row.things)}


def _words(choice: Choice) -> list[str]:
    """What the title block says of the part."""
    said = [
        (f"zone {', '.join(choice.zones)} only", choice.zones),
        (f"desk {', '.join(choice.desks)} only", choice.desks),
    ]
    said += [(f"{', '.join(choice.only)} only", choice.only)]
    return [words for words, some in said if some] + [
        f"around {name}, {cables} cable{'' if cables == 1 else 's'} far" for name, cables in choice.around
    ]


# ---- near some nodes


def _near(view: View, starts: set[str], cables: int) -> View:
    """Nodes so many lines from some, whole; of what lies just beyond, the rows in which the lines end."""
    whole, edge_nodes = set(starts), set(starts)
    for _ in range(cables):
        edge_nodes = {
            far
            for edge in view.edges
            for near, far in ((edge.left.node, edge.right.node), (edge.right.node, edge.left.node))
            if near in edge_nodes
        } - whole
        whole |= edge_nodes
    edges = [edge for edge in view.edges if {edge.left.node, edge.right.node} & whole]
    ends = {(end.node, end.key) for edge in edges for end in (edge.left, edge.right)}
    rows = {node.id: _rows_at(node, ends) for node in view.nodes}
    return _part(view, edges, lambda node, row: node.id in whole or row in rows[node.id])


# ---- along some paths


def _along(view: View, some: Sequence[Path]) -> View:
    """The lines and rows that paths run through."""
    orders = [_order(path) for path in some]
    names = {name for order in orders for name in order}
    links = {hop.link.name for path in some for hop in path.hops if hop.link}
    edges = [edge for edge in view.edges if _runs(edge, orders, links)]
    ends = {(end.node, end.key) for edge in edges for end in (edge.left, edge.right)}
    nodes = {node for node, _ in ends}
    rows = {node.id: _rows_at(node, ends, names) for node in view.nodes}

    def keeps(node: Node, row: int) -> bool:
        alone = node.id in nodes or not edges  # on a plan a way within one zone has no line
        return row in rows[node.id] or (alone and bool(names.intersection(node.rows[row].things)))

    return _part(view, edges, keeps)


def _order(path: Path) -> Order:
    order: Order = {}
    for end in (path.start, *(end for hop in path.hops for end in (hop.left, hop.right)), path.end):
        order.setdefault(end.name if isinstance(end, Leg) else str(end), len(order))
    return order


def _runs(edge: Edge, orders: Sequence[Order], links: set[str]) -> bool:
    """Whether a path takes a line: in its direction, where the line has one."""
    if edge.cables and not links.intersection(edge.cables):
        return False
    for left, right in edge.joins:
        for order in orders:
            if left in order and right in order and (not edge.forward or order[left] < order[right]):
                return True
    return False


# ---- round what changed


def around_changes(view: View) -> View:
    """Of a drawing of two states what changed, and where the lines of it go."""

    def stands_out(node: Node, row: int) -> bool:
        return node.state in LOOKS or any(node.rows[at].state in LOOKS for at in _bunch(node, row))

    keys = {
        (node.id, cell.key)
        for node in view.nodes
        for row, placed in enumerate(places(node))
        for _, cell in placed
        if cell.key and any(stands_out(node, at) for at in range(row, row + cell.rows))
    }
    ends = {edge.id: [(end.node, end.key) for end in (edge.left, edge.right)] for edge in view.edges}
    edges = [edge for edge in view.edges if edge.state in LOOKS or edge.worded or keys.intersection(ends[edge.id])]
    ended = {end for edge in edges for end in ends[edge.id]}
    things = {thing for node in view.nodes for row in node.rows if row.state in LOOKS for thing in row.things}
    rows = {node.id: _rows_at(node, ended, things) for node in view.nodes}
    part = _part(view, edges, lambda node, row: stands_out(node, row) or row in rows[node.id])
    what, *facts = view.facts
    return with_findings(replace(part, facts=(what, "only what changed", *facts)), view)


def _bunch(node: Node, row: int) -> Iterable[int]:
    """The rows for which a line ends in this one: itself, and in a bunch of sources those below without a field."""
    yield row
    if node.kind in ("sources", "outputs") and any(cell.key for cell in node.rows[row].cells):
        yield from takewhile(
            lambda at: not any(cell.key for cell in node.rows[at].cells), range(row + 1, len(node.rows))
        )


# ---- what stays


def _rows_at(node: Node, ends: set[tuple[str, str]], names: Container[str] | None = None) -> set[int]:
    """The rows that lines end in: of an end that spans several, all, or those of some names (else the first)."""
    found: set[int] = set()
    for index, row in enumerate(node.rows):
        for cell in row.cells:
            if cell.key and (node.id, cell.key) in ends:
                spanned = range(index, min(index + cell.rows, len(node.rows)))
                named = [at for at in spanned if names is None or any(thing in names for thing in node.rows[at].things)]
                found.update(named or spanned[:1])
    return found


def _part(view: View, edges: Sequence[Edge], keeps: Callable[[Node, int], bool]) -> View:
    """The view with these lines, and the rows that stay; a node without any goes, unless a whole line ends at it.

    A line that joins nothing, as that from a card to its place, goes with either of its ends.
    """
    rows = {node.id: [index for index in range(len(node.rows)) if keeps(node, index)] for node in view.nodes}
    here = {node for node, some in rows.items() if some} | {end.node for edge in edges for end in _whole(edge)}
    pointers = [edge for edge in view.edges if not edge.joins and {edge.left.node, edge.right.node} & here]
    here |= {end.node for edge in pointers for end in (edge.left, edge.right)}
    nodes = (_said(trimmed(node, rows[node.id]), len(node.rows) - len(rows[node.id])) for node in view.nodes)
    names = {edge.id for edge in (*edges, *pointers) if {edge.left.node, edge.right.node} <= here}
    return replace(
        view,
        nodes=tuple(node for node in nodes if node.id in here),
        edges=tuple(edge for edge in view.edges if edge.id in names),
    )


def _whole(edge: Edge) -> list[End]:
    """The ends of a line that are a whole node, and no field of it."""
    return [end for end in (edge.left, edge.right) if not end.key]


def _said(node: Node, missing: int) -> Node:
    """A node that is not whole says so."""
    if not missing:
        return node
    return replace(
        node,
        subtitle="\n".join(filter(None, [node.subtitle, f"{missing} more row{'' if missing == 1 else 's'} not shown"])),
    )
