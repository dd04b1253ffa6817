"""Lists beside a plan: what its lines and cards say where there is no room for it at the lines and in the cards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rigdsl.draw.plan_names import point_id, zone_label
from rigdsl.draw.segments import slug
from rigdsl.draw.shapes import Cell, Edge, Node, Row, View
from rigdsl.draw.sizes import row_height
from rigdsl.rig import Rig

__all__ = ["bare", "shortened"]

ZONES = "plan-zones"  # the list of what is in the zones
CABLES = "plan-cables"  # the list of what lies between them
COLUMN = 400.0  # points, how high a list gets


def shortened(view: View, rig: Rig) -> View:
    """The view with nothing but names and lengths at its lines; what they say otherwise stands in a list."""
    rows: list[Row] = []
    zones = {point_id(name): zone_label(rig, name) for name in rig.zones}
    pair = ("", "")
    for edge in (edge for edge in view.edges if edge.label):
        if pair != (edge.left.node, edge.right.node):
            pair = (edge.left.node, edge.right.node)
            between = f"{zones[pair[0]]} to {zones[pair[1]]}"
            rows.append(Row((Cell("\n".join((between, edge.label[-1])), tone="quiet"),), tip=between))
        words = edge.label[:-1] if _says_way(edge) else edge.label
        rows.append(Row((Cell("\n".join(words)),), tip=edge.tip, things=edge.cables))
    lists = _in_columns(CABLES, "Cables between zones", rows)
    edges = tuple(replace(edge, label=_in_short(edge)) for edge in view.edges)
    return replace(view, nodes=(*view.nodes, *lists), edges=edges)


def bare(view: View) -> View:
    """The view with nothing but names in the cards; what is in the zones stands in a list."""
    rows: list[Row] = []
    for node in (node for node in view.nodes if node.kind == "zone" and node.rows):
        rows.append(Row((Cell(node.title, tone="quiet"),), tip=node.title))
        rows += node.rows
    nodes = tuple(replace(node, rows=()) if node.kind == "zone" else node for node in view.nodes)
    return replace(view, nodes=(*nodes, *_in_columns(ZONES, "In the zones", rows)))


def _in_columns(name: str, title: str, rows: Sequence[Row]) -> tuple[Node, ...]:
    """The list in columns that are no higher than a sheet is; it goes on only where another two zones begin."""
    columns: list[list[Row]] = [[]]
    high = 0.0
    for index, row in enumerate(rows):
        begins = row.cells[0].tone == "quiet" and index > 0
        block = sum(map(row_height, _block(rows, index))) if begins else 0.0
        if begins and high + block > COLUMN:
            columns.append([])
            high = 0.0
        columns[-1].append(row)
        high += row_height(row)
    return tuple(
        Node(slug(name, at), "list", title, "", tuple(some), tip=title.lower()) for at, some in enumerate(columns, 1)
    )


def _block(rows: Sequence[Row], start: int) -> Sequence[Row]:
    """A heading and the rows below it."""
    end = next((at for at in range(start + 1, len(rows)) if rows[at].cells[0].tone == "quiet"), len(rows))
    return rows[start:end]


def _says_way(edge: Edge) -> bool:
    """Whether the last of a line's words say how far it is: those of the first line between two zones do."""
    return edge.label[-1].endswith(" straight")


def _in_short(edge: Edge) -> tuple[str, ...]:
    """The names of a line's cables, else how many there are of what."""
    if not edge.label:
        return ()
    ids = edge.label[0][: edge.bold]
    return (ids or " ".join(edge.label[0].split(" of ")[0].split()),)
