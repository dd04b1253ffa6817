"""What each part of a drawing says of itself in the SVG, by its id: its class, its title, and `data-` names.

| name | on | what it is |
|---|---|---|
| `data-things` | boxes, fields of rows | the boxes, sockets, sources or outputs that it stands for |
| `data-zone` | boxes | the zone that it stands in |
| `data-joins` | lines, their words | pairs of sockets, or of a source or output and its socket, the left end first |
| `data-cables` | lines and their words | the links that it is made of |
| `data-between` | lines and their words | the ids of the two boxes where it ends |
| `data-one-way` | lines and their words | sound goes from the left end to the right one |
| `data-finding`, `data-level` | marks | the finding's number in the list, and how bad it is |

All but zone, number and level are lists, written as JSON.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from rigdsl.draw.caption import patterns_of, sample_id, sign_id
from rigdsl.draw.compared import LOOKS, bands_of, states_of
from rigdsl.draw.shapes import CROSSINGS, Edge, Mark, Node, View
from rigdsl.draw.sizes import places
from rigdsl.draw.tables import cell_id, crossing_id, mark_id, row_id

__all__ = ["Named", "names_of"]


@dataclass(frozen=True)
class Named:
    """What is said of one part: `kind` is its class where the engine gives it none, `title` shows when pointed at."""

    title: str
    kind: str = ""
    data: dict[str, str] = field(default_factory=dict)


def names_of(view: View) -> dict[str, Named]:
    """What is said of every part of a sheet, by its id."""
    messages = {mark.number: message for mark, message in view.listed}
    named = {group.id: Named(group.tip or group.title) for group in view.groups}
    named |= {sample_id(pattern): Named(pattern.means, "sample") for pattern in patterns_of(view)}
    named |= {sample_id(LOOKS[state].band): Named(LOOKS[state].band.means, "sample") for state in bands_of(view)}
    named |= {sign_id(state): Named(LOOKS[state].means, "sample") for state in states_of(view)}
    for node in view.nodes:
        named.update(_node(node, messages))
    for edge in view.edges:
        named.update(_edge(edge, messages))
    return named


def _list(key: str, items: Iterable[object]) -> dict[str, str]:
    some = list(items)
    return {f"data-{key}": json.dumps(some, ensure_ascii=False)} if some else {}


def _node(node: Node, messages: dict[int, str]) -> Iterator[tuple[str, Named]]:
    zone = {"data-zone": node.group} if node.group else {}
    yield node.id, Named(node.tip or node.title or node.kind, data=_list("things", node.things) | zone)
    for crossing in node.crosses:
        yield crossing_id(node.id, crossing), Named(CROSSINGS[crossing], "crossing")
    yield from _marks(node.id, node.marks, messages)
    for index, (row, placed) in enumerate(zip(node.rows, places(node), strict=True)):
        data = _list("things", row.things)
        for column, cell in placed:
            title = row.tip or " ".join(cell.text for cell in row.cells if cell.text)
            kind = f"socket {row.state}" if row.state else "socket"
            yield cell_id(node, index, column, cell), Named(title, kind, data)
        yield from _marks(row_id(node, index), row.marks, messages)


def _edge(edge: Edge, messages: dict[int, str]) -> Iterator[tuple[str, Named]]:
    between = _list("between", (edge.left.node, edge.right.node))
    one_way = {"data-one-way": "yes"} if edge.forward else {}
    said = Named(edge.tip, data=_list("joins", edge.joins) | _list("cables", edge.cables) | between | one_way)
    for name in (edge.id, f"{edge.id}--label", f"{edge.id}--from", f"{edge.id}--to"):
        yield name, said
    yield from _marks(edge.id, edge.marks, messages)


def _marks(part: str, marks: Iterable[Mark], messages: dict[int, str]) -> Iterator[tuple[str, Named]]:
    for mark in marks:
        data = {"data-finding": str(mark.number), "data-level": str(mark.level)}
        yield mark_id(part, mark), Named(f"{mark.number}, {mark.level}: {messages[mark.number]}", "finding", data)
