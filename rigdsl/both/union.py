"""One drawing of a rig in two states: each is drawn by itself, and the two drawings become one.

So each state's words are its own: what a cable carries, which way sound goes, what is free. Nothing is worked out of a
rig that has both a socket's old plug and its new one, for there is no such rig.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from rigdsl.both.lines import ended, paired
from rigdsl.both.rows import Both, interleaved, one_line
from rigdsl.both.summed_up import summed_up
from rigdsl.both.table import WAS, joined
from rigdsl.draw.cables import Cabling
from rigdsl.draw.cabling import unplaced
from rigdsl.draw.compared import signed, told
from rigdsl.draw.cuts import cut
from rigdsl.draw.flow import uncut
from rigdsl.draw.named import head
from rigdsl.draw.shapes import Cell, Edge, Group, Node, Row, State, View
from rigdsl.draw.stands import Flow
from rigdsl.draw.view import VIEWS
from rigdsl.draw.words import leg_title
from rigdsl.paths import Paths
from rigdsl.review.changes import Change
from rigdsl.rig import Leg, Rig

__all__ = ["DRAWN", "News", "ground_of", "union"]

DRAWN = ("flow", "cabling")
THINGS = ("box", "link", "source", "output")
BLOCKS = ("sources", "outputs")
HOW = {"flow": "left to right as the signal goes", "cabling": "every box in its zone and every cable once"}
Parts = tuple[Sequence[Node], Sequence[Edge], Sequence[Group]]


@dataclass(frozen=True)
class News:
    """What a review says: its changes, and for each thing that is otherwise how, line by line, by its new name."""

    changes: tuple[Change, ...]
    said: Mapping[str, tuple[str, ...]]

    @property
    def renamed(self) -> dict[tuple[str, str], str]:
        """New names, by what it is and its old one."""
        return {(one.what, one.old_name): one.name for one in self.changes if one.kind == "renamed"}

    @property
    def things(self) -> frozenset[str]:
        """All that is drawn by its name and changed."""
        return frozenset(change.name for change in self.changes if change.what in THINGS)

    @property
    def relaid(self) -> frozenset[str]:
        """Cables that changed in more than what they join, and sources and outputs that have another cable."""
        return frozenset(
            change.name
            for change in self.changes
            if change.kind not in ("added", "removed")
            and (change.fields.keys() - {"name", "id", "joins"} if change.what == "link" else "lead" in change.fields)
        )


def ground_of(old: Rig, new: Rig) -> Rig:
    """The zones and boxes of both states, for the place of what stands in them."""
    return replace(new, zones={**old.zones, **new.zones}, boxes={**old.boxes, **new.boxes})


def union(old: Paths, new: Paths, which: str, news: News) -> View:
    """The drawing `which` of DRAWN; both rigs call one thing by one name, as `with_new_names` makes them.

    Where nothing on it changed it is that of the new state.
    """
    before, now = _parts(old, new, which, news)
    laid = paired(before[1], now[1], news.relaid, news.said, by_socket=which == "flow")
    wanted: dict[str, set[str]] = {}
    for one in laid:
        if one.old:
            for end in (one.edge.left, one.edge.right):
                wanted.setdefault(end.node, set()).add(end.key)
    nodes, keys = _nodes(before, now, _Pair(old, new, which, news, wanted))
    edges = [ended(one, keys) for one in laid]
    drawn = cut(nodes, edges) if which == "flow" else (tuple(nodes), tuple(edges))
    groups = tuple(_groups(before[2], now[2], new.rig, old.rig))
    there = new.rig if new.rig.head.title is not None else old.rig  # the rig itself may have come or gone
    plain = View(*head(there, which, VIEWS[which].title, HOW[which]), *drawn, groups)
    revisions = dict.fromkeys(filter(None, (new.rig.head.revision, old.rig.head.revision)))
    view = replace(plain, revision=", was ".join(revisions))
    return summed_up(view, news.changes, (old.rig, new.rig))


def _parts(old: Paths, new: Paths, which: str, news: News) -> tuple[Parts, Parts]:
    """Nodes, lines and zones of both, split alike: what one has a row of its own for has one in the other too."""
    if which == "cabling":
        return unplaced(Cabling(old, news.things)), unplaced(Cabling(new, news.things))
    apart = Flow(old).alone | Flow(new).alone
    return (*uncut(Flow(old, apart)), ()), (*uncut(Flow(new, apart)), ())


# ---- nodes


@dataclass(frozen=True)
class _Pair:
    """Both states, and what is known of them."""

    old: Paths
    new: Paths
    which: str
    news: News
    wanted: Mapping[str, Collection[str]]

    def box_state(self, node: Node) -> State:
        """What became of the box, or of the bunch of sources, that a node of one state only is."""
        if not node.kind.startswith("box"):
            return ""
        here = [name in rig.boxes for rig in (self.old.rig, self.new.rig) for name in node.things[:1]]
        return "same" if all(here) else "added" if here[1] else "removed"

    def sockets(self, names: Collection[str], *roles: str) -> frozenset[str]:
        """The sockets of these roles of boxes."""
        rigs = (self.old.rig, self.new.rig)
        boxes = (rig.boxes[name] for rig in rigs for name in names if name in rig.boxes)
        groups = ((box, group) for box in boxes for group in box.model.of_role(*roles))
        return frozenset(str(port) for box, group in groups for port in box.ports(group))

    def counted(self, names: Collection[str]) -> frozenset[str]:
        """The sockets of boxes whose row is known by their group: the drawing has one row for many of them."""
        some = ("inputs", "outputs", "digital", "data") if self.which == "cabling" else ()
        return self.sockets(names, "channels", "mixes", *some)

    def titles(self) -> dict[str, str]:
        """What lines of sources and outputs are called now, by what they were called."""
        found = {}
        rigs = (self.old.rig, self.new.rig)
        for ours, theirs in ((rigs[0].sources, rigs[1].sources), (rigs[0].outputs, rigs[1].outputs)):
            for name in ours.keys() & theirs.keys():
                for index in range(min(len(ours[name].ports), len(theirs[name].ports))):
                    was, now = (leg_title(rig, Leg(name, index)) for rig in rigs)
                    found[was] = now
        return found


def _nodes(before: Parts, now: Parts, pair: _Pair) -> tuple[list[Node], dict[str, Mapping[str, str]]]:
    """The nodes of both states, and for each the keys that are called otherwise in it."""
    ours, theirs = ({node.id: node for node in parts[0]} for parts in (before, now))
    titles = pair.titles()
    made: list[Node] = []
    keys: dict[str, Mapping[str, str]] = {}
    for name in interleaved([*ours], [*theirs]):
        old, new = ours.get(name), theirs.get(name)
        one = old or new
        assert one is not None
        state = "same" if old and new else pair.box_state(one)
        if state in ("added", "removed"):
            made.append(_whole(one, state))
            continue
        rows = joined(
            Both(
                old or replace(one, rows=()),
                new or replace(one, rows=()),
                _row_names(old, before[1], pair),
                _row_names(new, now[1], pair),
                pair.news.said,
                titles,
                pair.wanted.get(name, ()),
                pair.sockets(one.things, "inputs", "outputs") if pair.which == "flow" else (),
            )
        )
        keys[name] = rows.keys
        made += _both(old or one, new or one, rows.rows, pair)
    return made, keys


def _row_names(node: Node | None, edges: Sequence[Edge], pair: _Pair) -> list[Hashable]:
    """A name for each row of a node, the same in both states where it is the row of the same thing."""
    if node is None:
        return []
    lines: dict[str, list[str]] = {}
    for edge in edges if pair.which == "cabling" and node.kind not in BLOCKS else ():
        for end in (edge.left, edge.right):
            if end.node == node.id:
                lines.setdefault(end.key, []).append(edge.id)
    counts: Counter[Hashable] = Counter()
    names: list[Hashable] = []
    by_group = frozenset[str]() if node.kind in BLOCKS else pair.counted(node.things)
    for row in node.rows:
        first = row.things[0] if row.things else ""
        ends = tuple(edge for cell in row.cells for edge in lines.get(cell.key, ()))
        name = ("line", *ends) if ends else first.rpartition(" ")[0] if first in by_group else first
        names.append((name, counts[name]))
        counts[name] += 1
    return names


def _whole(node: Node, state: State) -> Node:
    """A box that is in one state only: its heading has the sign for all of it."""
    rows = tuple(replace(row, state=state, tip=told(state, row.tip)) for row in node.rows)
    return replace(node, title=signed(state, node.title), tip=told(state, node.tip), rows=rows, state=state)


def _both(old: Node, new: Node, rows: tuple[Row, ...], pair: _Pair) -> Iterator[Node]:
    """A node that is in both states. Where it stood before, its heading alone."""
    how = "; ".join(one_line(line) for name in new.things for line in pair.news.said.get(name, ()))
    if not new.kind.startswith("box") or not how:
        yield replace(new, rows=rows, state="same")
        return
    subtitle = "\n".join(filter(None, (new.subtitle, how)))
    title = signed("changed", new.title)
    yield replace(new, title=title, subtitle=subtitle, tip=told("changed", new.tip), rows=rows, state="changed")
    if old.group != new.group and pair.which == "cabling":
        zone = pair.new.rig.zones.get(new.group)
        there = f"now in {(zone.label or zone.name) if zone else 'no zone'}"
        rows = (Row((Cell(there),)),)
        yield _whole(replace(old, id=f"{old.id}{WAS}", rows=rows, things=()), "removed")


def _groups(old: Sequence[Group], new: Sequence[Group], now: Rig, before: Rig) -> Iterator[Group]:
    ours, theirs = ({group.id: group for group in groups} for groups in (old, new))
    for name in interleaved([*ours], [*theirs]):
        group = theirs.get(name) or ours[name]
        known = [not name or name in rig.zones for rig in (before, now)]
        state: State = "same" if all(known) else "added" if known[1] else "removed"
        yield replace(group, title=signed(state, group.title), state=state)
