"""The lines of a drawing in both states: which are the same, which came, went or changed."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from rigdsl.both.rows import interleaved, one_line, was
from rigdsl.both.table import WAS
from rigdsl.draw.compared import signed, told
from rigdsl.draw.shapes import Edge, End, State

__all__ = ["Laid", "ended", "paired"]


@dataclass(frozen=True)
class Laid:
    """A line of the drawing of both states; `old` where its ends are those of the old drawing."""

    edge: Edge
    old: bool = False


def paired(
    old: Sequence[Edge],
    new: Sequence[Edge],
    relaid: Collection[str],
    said: Mapping[str, tuple[str, ...]],
    *,
    by_socket: bool,
) -> tuple[Laid, ...]:
    """All lines. `relaid` names cables that changed, and what has another cable; `said` has how things changed.

    `by_socket`: a line between other sockets is another line, and not the same one plugged otherwise.
    """
    ours, theirs = ({edge.id: edge for edge in edges} for edges in (old, new))
    made: list[Laid] = []
    for name in interleaved([*ours], [*theirs]):
        before, now = ours.get(name), theirs.get(name)
        if before is None and now is not None:
            made.append(Laid(_in_state(now, "added")))
        elif now is None and before is not None:
            made.append(Laid(_in_state(before, "removed"), old=True))
        elif before is not None and now is not None:
            if by_socket and _elsewhere(before, now):
                made.append(Laid(_in_state(now, "added")))
                made.append(Laid(replace(_in_state(before, "removed"), id=f"{name}{WAS}"), old=True))
            else:
                made.append(Laid(_changed(before, now, relaid, said)))
    return tuple(made)


def ended(laid: Laid, keys: Mapping[str, Mapping[str, str]]) -> Edge:
    """A line of old with its ends in the merged rows: `keys` has for each node those that are called otherwise."""
    if not laid.old:
        return laid.edge

    def end(one: End) -> End:
        return replace(one, key=keys.get(one.node, {}).get(one.key, one.key))

    return replace(laid.edge, left=end(laid.edge.left), right=end(laid.edge.right))


def _elsewhere(old: Edge, new: Edge) -> bool:
    """It joins nothing that it joined, or ends in another place."""
    nodes = (old.left.node, old.right.node) != (new.left.node, new.right.node)
    return nodes or (bool(old.joins) and not set(old.joins) & set(new.joins))


def _in_state(edge: Edge, state: State) -> Edge:
    """A line with its sign, where it has words; its cables' names stay in bold."""
    if not edge.label or state == "same":
        return replace(edge, state=state, tip=told(state, edge.tip))
    label = (signed(state, edge.label[0]), *edge.label[1:])
    bold = len(label[0]) - len(edge.label[0]) + edge.bold
    return replace(edge, state=state, label=label, bold=bold, tip=told(state, edge.tip))


def _changed(old: Edge, new: Edge, relaid: Collection[str], said: Mapping[str, tuple[str, ...]]) -> Edge:
    """The same line, or the line with what it was."""
    touched = [name for name in (*new.cables, *(name for pair in new.joins for name in pair)) if name in relaid]
    otherwise = set(old.joins) != set(new.joins) or old.pattern != new.pattern or old.stops != new.stops
    words = was("\n".join(old.label), "\n".join(new.label))
    if not words and new.label:
        words = "; ".join(one_line(line) for name in new.cables for line in said.get(name, ()))
    if not (touched or otherwise):
        if not words:
            return _in_state(new, "same")
        return replace(_in_state(replace(new, label=(*new.label, words)), "changed"), state="same", worded="changed")
    label = (*new.label, words) if words else new.label
    return _in_state(replace(new, label=label), "changed")
