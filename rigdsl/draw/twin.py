"""The text twin of a drawing: everything that is on it, in words, for a terminal or a reader who does not see it."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.draw.compared import signed
from rigdsl.draw.measure import cleaned
from rigdsl.draw.shapes import CROSSINGS, Edge, Node, Row, View

__all__ = ["twin"]

RULE = "-"


def twin(view: View) -> str:
    """A drawing as text: its title block, each box with its rows, each line with what it joins, the findings."""
    lines = [*_title(view), *_nodes(view), *_edges(view), *_findings(view)]
    return "\n".join(cleaned(line).replace("\n", " ").rstrip() for line in lines) + "\n"


def _heading(text: str) -> list[str]:
    return ["", text, RULE * len(text)]


def _title(view: View) -> Iterator[str]:
    what, *facts = view.facts or (view.which,)
    yield view.title
    revision = f"revision {view.revision}" if view.revision else ""
    yield ", ".join(filter(None, [what, revision, *facts]))


def _nodes(view: View) -> Iterator[str]:
    yield from _heading("What stands there")
    zones = {group.id: group.title for group in view.groups}
    for node in (node for node in view.nodes if node.title):
        yield ""
        yield _named(node, zones)
        yield from _rows(node)


def _named(node: Node, zones: dict[str, str]) -> str:
    place = zones.get(node.group, "")
    crossings = [CROSSINGS[way] for way in node.crosses if CROSSINGS[way] not in node.subtitle]
    said = [node.title, *node.subtitle.split("\n"), *crossings, f"in {place}" if place else ""]
    return ", ".join(filter(None, said)) + _marks(node)


def _rows(node: Node) -> Iterator[str]:
    """Each row's words in columns, as wide as the widest of this node."""
    rows = [
        [cell.text.replace("\n", ", ") for cell in row.cells if not (cell.key and not cell.text)] for row in node.rows
    ]
    count = max(map(len, rows), default=0)
    wide = [max((len(row[at]) for row in rows if at < len(row)), default=0) for at in range(count)]
    for row, cells in zip(node.rows, rows, strict=True):
        said = "  ".join(text.ljust(width) for text, width in zip(cells, wide, strict=False)).rstrip()
        yield f"  {said}{_marks(row)}"


def _edges(view: View) -> Iterator[str]:
    """Each line: what it is, then every pair that it joins."""
    titles = {node.id: node.title for node in view.nodes}
    lines = [edge for edge in view.edges if edge.joins]
    if not lines:
        return
    yield from _heading("What joins what")
    for edge in lines:
        yield ""
        words = ", ".join(edge.label) or signed(edge.state, f"{titles[edge.left.node]} to {titles[edge.right.node]}")
        stops = ", no sound gets through" if edge.stops else ""
        yield f"{words} ({edge.pattern.means}{stops}){_marks(edge)}"
        for left, right in edge.joins:
            yield f"  {left} {'->' if edge.forward else '--'} {right}"


def _marks(part: Node | Row | Edge) -> str:
    """The numbers of the findings at a part."""
    return "".join(f"  [{mark.number}]" for mark in part.marks)


def _findings(view: View) -> Iterator[str]:
    if view.listed:
        yield from _heading("What is found here, by its number in the list of `rigdsl check`")
        for mark, message in view.listed:
            yield f"[{mark.number}] {mark.level}: {message}"
    if view.elsewhere:
        yield f"{view.elsewhere} more not marked here"
