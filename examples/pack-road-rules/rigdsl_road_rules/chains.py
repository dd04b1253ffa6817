"""A drawing of nothing but the chains: which box hangs on which."""

from __future__ import annotations

from collections.abc import Sequence

from rigdsl.draw import Cell, Edge, End, NamedView, Node, Row, View, sheet, slug
from rigdsl.draw.patterns import DIGITAL
from rigdsl.finding import Finding
from rigdsl.paths import Paths
from rigdsl.rig import Rig, natural

__all__ = ["CHAINS"]

NAME, TITLE = "road-rules/chains", "chains"


def _sheet(rig: Rig, paths: Paths, findings: Sequence[Finding]) -> View:
    chains = [paths.chains[name] for name in sorted(paths.chains, key=natural)]
    names = sorted({box for chain in chains for box in (chain.box, chain.before)}, key=natural)
    nodes = tuple(_node(rig, name, {c.box: c.position for c in chains}.get(name, 0)) for name in names)
    edges = tuple(
        Edge(
            slug("chain", chain.box),
            End(slug(chain.before), "out", "e"),
            End(slug(chain.box), "in", "w"),
            DIGITAL,
            label=(chain.run.name,),
            about=(chain.run.name,),
            tip=f"{chain.before} to {chain.box}",
        )
        for chain in chains
    )
    return sheet(rig, findings, NAME, TITLE, (nodes, edges), "boxes left to right as they are chained")


def _node(rig: Rig, name: str, position: int) -> Node:
    box = rig.boxes[name]
    place = f"box {position} of its chain" if position else "the chain begins here"
    row = Row((Cell(key="in"), Cell(place), Cell(key="out")), tip=f"{box.title}, {place}")
    return Node(slug(name), box.kind, box.title, name, (row,), about=(name,), tip=box.title)


CHAINS = NamedView(NAME, TITLE, _sheet)
