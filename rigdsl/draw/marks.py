"""Findings on a drawing: each with its number where the thing is that it is about."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from rigdsl.draw.shapes import Edge, Mark, Node, Row, View
from rigdsl.finding import Finding, Level

__all__ = ["marked"]

Part = Node | Row | Edge
Spots = dict[str, list[tuple[str, int]]]  # an identity, and the parts that are about it: node or line id, row or -1


def marked(view: View, findings: Iterable[Finding], stops: Callable[[Finding], Iterable[str]]) -> View:
    """The view with every finding marked at its subject, else at its sockets, else at its box; the rest is counted.

    `stops` names the sockets where the sound stops that a finding is about: it is marked there as well.
    """
    spots = _spots(view)
    marks: dict[tuple[str, int], list[Mark]] = {}
    listed: list[tuple[Mark, str]] = []
    elsewhere = 0
    for number, finding in enumerate(findings, 1):
        mark = Mark(number, finding.level or Level.WARNING)
        found = _found(spots, finding)
        found += [spot for spot in _first(spots, stops(finding)) if spot not in found]
        for spot in found:
            marks.setdefault(spot, []).append(mark)
        if found:
            listed.append((mark, finding.message))
        else:
            elsewhere += 1
    nodes = tuple(_node(node, marks) for node in view.nodes)
    edges = tuple(replace(edge, marks=tuple(marks.get((edge.id, -1), ()))) for edge in view.edges)
    return replace(view, nodes=nodes, edges=edges, listed=tuple(listed), elsewhere=elsewhere)


def _spots(view: View) -> Spots:
    spots: Spots = {}
    for node in view.nodes:
        for name in node.about:
            spots.setdefault(name, []).append((node.id, -1))
        for index, row in enumerate(node.rows):
            for name in row.about:
                spots.setdefault(name, []).append((node.id, index))
    for edge in view.edges:
        for name in edge.about:
            spots.setdefault(name, []).append((edge.id, -1))
    return spots


def _found(spots: Spots, finding: Finding) -> list[tuple[str, int]]:
    """Where a finding is shown; at most once in each node and on each line.

    Where its subject is a whole group, it is shown in the row of the sockets that it is about.
    """
    at_ports = dict(_first(spots, finding.ports))
    for names in ((finding.subject,), finding.ports, (finding.box,)):
        found = _first(spots, names)
        if found:
            return [(part, at_ports.get(part, row)) for part, row in found]
    return []


def _first(spots: Spots, names: Iterable[str]) -> list[tuple[str, int]]:
    first: dict[str, tuple[str, int]] = {}
    for name in names:
        for spot in spots.get(name, ()) if name else ():
            first.setdefault(spot[0], spot)
    return list(first.values())


def _node(node: Node, marks: dict[tuple[str, int], list[Mark]]) -> Node:
    rows = tuple(replace(row, marks=tuple(marks.get((node.id, index), ()))) for index, row in enumerate(node.rows))
    return replace(node, rows=rows, marks=tuple(marks.get((node.id, -1), ())))
