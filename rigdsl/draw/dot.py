"""A view as DOT text, in canonical order: the same view, the same bytes.

Every name in it is one that we made (letters, digits and hyphens); what the user wrote stands only inside
tables, through `escaped`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rigdsl.draw.caption import notes_size, notes_table, title_size, title_table
from rigdsl.draw.compared import drawn_in, inks
from rigdsl.draw.curves import Point, corners, curve
from rigdsl.draw.markup import escaped, field, small, table
from rigdsl.draw.measure import text_width
from rigdsl.draw.patterns import INK, PAPER, QUIET, SILENT, Pattern
from rigdsl.draw.shapes import Edge, End, Ground, Group, Node, View
from rigdsl.draw.sizes import LINE_HEIGHT, SMALL, label_size
from rigdsl.draw.tables import label_table, node_table

__all__ = ["NODE_SEP", "PLACED", "RANK_SEP", "dot"]

PLACED = "// every place is set: draw with `neato -n2`"
LAID_OUT = "// draw with `dot`"
FONT = "Arial"
RANK_SEP, NODE_SEP = 0.35, 0.22  # inches between ranks, and between the nodes of one


def dot(view: View) -> str:
    """The DOT text of a view."""
    return "\n".join(_lines(view)) + "\n"


def _lines(view: View) -> Iterator[str]:
    yield PLACED if view.placed else LAID_OUT
    yield "digraph rig {"
    yield _graph(view)
    yield f'node [shape=plain fontname="{FONT}" fontsize=10 fontcolor="{INK}"]'
    yield f'edge [fontname="{FONT}" fontsize={SMALL:g} fontcolor="{INK}" arrowsize=0.6]'
    if view.placed:
        yield from _placed(view)
    else:
        yield from _laid_out(view)
    yield "}"


def _graph(view: View) -> str:
    facts = f'bgcolor="{PAPER}" fontname="{FONT}" fontsize=10 fontcolor="{INK}" outputorder=nodesfirst'
    if view.placed:
        return f"graph [layout=neato {facts}]"
    gaps = f"ranksep={RANK_SEP} nodesep={NODE_SEP}"
    return f"graph [rankdir=LR {facts} {gaps} labelloc=t labeljust=l label=<{title_table(view)}>]"


def _laid_out(view: View) -> Iterator[str]:
    """Everything in one frame without a line, whose label at the foot is the legend."""
    notes = notes_table(view)
    if notes:
        yield f'subgraph "cluster_sheet" {{ peripheries=0 margin=4 labelloc=b labeljust=l label=<{notes}>'
    for node in view.nodes:
        yield _node(node)
    for edge in view.edges:
        yield from _edge(edge)
    if notes:
        yield "}"


def _placed(view: View) -> Iterator[str]:
    wide, high = title_size(view)
    yield _caption("title", title_table(view), 0, view.size[1] + 12, wide, high)
    notes = notes_table(view)
    if notes:
        wide, high = notes_size(view)
        yield _caption("notes", notes, 0, -high - 6, wide, high)
    for ground in view.grounds:
        yield _ground(ground)
    for group in view.groups:
        yield _group(group)
    for node in view.nodes:
        yield _point(node) if node.kind == "point" else _node(node)
    for edge in view.edges:
        yield from _placed_edge(edge)


def _caption(name: str, table: str, left: float, bottom: float, wide: float, high: float) -> str:
    at = f"{left + wide / 2:.2f},{bottom + high / 2:.2f}"
    return f'"{name}" [id="caption-{name}" class="caption" pos="{at}" label=<{table}>]'


def _node(node: Node) -> str:
    at = "" if node.at is None else f' pos="{node.at[0]:.2f},{node.at[1]:.2f}"'
    return f'"{node.id}" [id="{node.id}" class="{_kinds(node.kind, node.state)}"{at} label=<{node_table(node)}>]'


def _kinds(*words: str) -> str:
    """The classes of a part."""
    return " ".join(filter(None, words))


def _point(node: Node) -> str:
    """The mark at an exact place."""
    assert node.at is not None
    facts = f'pos="{node.at[0]:.2f},{node.at[1]:.2f}" shape=circle style=filled fillcolor="{INK}" color="{PAPER}"'
    return f'"{node.id}" [id="{node.id}" class="point" {facts} fixedsize=true width=0.11 height=0.11 label=""]'


def _ground(ground: Ground) -> str:
    left, bottom, right, top = ground.box
    place = f'pos="{(left + right) / 2:.2f},{(bottom + top) / 2:.2f}" fixedsize=true'
    size = f'width="{(right - left) / 72:.4f}" height="{(top - bottom) / 72:.4f}"'
    if ground.words:
        words = field(small(escaped(ground.words), SMALL, QUIET), right - left, top - bottom, steady=True)
        look = f"shape=plain label=<{table(f'<TR>{words}</TR>', (right - left, top - bottom))}>"
    else:
        look = f'shape=box style=filled fillcolor="{ground.colour}" color="{ground.colour}" penwidth=0 label=""'
    return f'"{ground.id}" [id="{ground.id}" class="ground" {place} {size} {look}]'


def _group(group: Group) -> str:
    assert group.box is not None
    left, bottom, right, top = group.box
    lines = group.title.split("\n")
    wide, high = max(text_width(line, bold=True) for line in lines) + 4, LINE_HEIGHT * len(lines)
    words = "".join(f'<B>{escaped(line)}</B><BR ALIGN="LEFT"/>' for line in lines)
    words = f'<FONT COLOR="{inks("same").ink}">{words}</FONT>' if group.state == "same" else words
    label = table(f"<TR>{field(words, wide, high, steady=True, align='left')}</TR>", (wide, high))
    kinds = _kinds("zone", group.state)
    return (
        f'subgraph "cluster_{group.id}" {{ graph [id="{group.id}" class="{kinds}" '
        f'style="rounded,dashed" color="{QUIET}" '
        f'bb="{left:.2f},{bottom:.2f},{right:.2f},{top:.2f}" label=<{label}> '
        f'lp="{left + 8 + wide / 2:.2f},{top - 5 - high / 2:.2f}"] }}'
    )


def _style(pattern: Pattern, *, arrow: bool = False) -> str:
    colour = ":invis:".join([pattern.colour] * pattern.strands)
    weight = f"penwidth={pattern.weight:g}"
    style = "" if pattern.style == "solid" else f" style={pattern.style}"
    size = f" arrowsize={0.3 if pattern.weight > 3 else 0.6:g}" if arrow else ""
    return f'color="{colour}" {weight}{style} arrowhead={"normal" if arrow else "none"}{size}'


def _end(end: End) -> str:
    """A field of a node, or the whole node where no field is named."""
    if not end.key:
        return f'"{end.node}"'
    return f'"{end.node}":"{end.key}":{end.side}'


def _edge(edge: Edge) -> Iterator[str]:
    """A line with words is two lines with the words between them, so that nothing runs through the words.

    Its arrow points at the words: at the socket it would stand off by the thickness of its own outline.
    """
    kinds = _kinds(edge.pattern.name, "stops" if edge.stops else "", edge.state)
    after = _style(drawn_in(SILENT if edge.stops else edge.pattern, edge.state))
    if not edge.label and not edge.marks:
        yield f'{_end(edge.left)} -> {_end(edge.right)} [id="{edge.id}" class="{kinds}" {after}]'
        return
    middle = f"{edge.id}--label"
    before = _style(drawn_in(edge.pattern, edge.state), arrow=edge.forward and not edge.stops)
    yield f'"{middle}" [{_words(edge)}]'
    yield f'{_end(edge.left)} -> "{middle}":w [id="{edge.id}--from" class="{kinds}" {before}]'
    yield f'"{middle}":e -> {_end(edge.right)} [id="{edge.id}--to" class="{kinds}" {after}]'


def _words(edge: Edge, at: Point | None = None) -> str:
    """What makes a node of the words on a line."""
    kinds = _kinds("label", edge.worded or edge.state)
    place = f' pos="{at[0]:.2f},{at[1]:.2f}"' if at else ""
    return f'id="{edge.id}--label" class="{kinds}"{place} label=<{label_table(edge)}>'


def _placed_edge(edge: Edge) -> Iterator[str]:
    """A line with its corners. Its words stand beside one of its ends, and the line is cut there as well."""
    if edge.label_at is None:
        facts = f'id="{edge.id}" class="{_kinds(edge.pattern.name, edge.state)}" {_led(edge, edge.points)}'
        yield f"{_end(edge.left)} -> {_end(edge.right)} [{facts}]"
        return
    middle = f"{edge.id}--label"
    half = label_size(edge)[0] / 2
    x, y = edge.label_at
    if edge.words_at == "beside":
        yield from _placed_edge(replace(edge, label_at=None))
        yield f'"{middle}" [{_words(edge, (x, y))}]'
        return
    at_left = edge.words_at == "left"
    inward = (x - half, x + half) if edge.points[0 if at_left else -1][0] < x else (x + half, x - half)
    near, far = (inward[0], y), (inward[1], y)
    first = (edge.points[0], near) if at_left else (*edge.points[:-1], far)
    last = (far, *edge.points[1:]) if at_left else (near, edge.points[-1])
    sides = ("w", "e") if first[-1][0] <= last[0][0] else ("e", "w")
    yield f'"{middle}" [{_words(edge, (x, y))}]'
    for name, ends, points in (
        ("from", f'{_end(edge.left)} -> "{middle}":{sides[0]}', first),
        ("to", f'"{middle}":{sides[1]} -> {_end(edge.right)}', last),
    ):
        yield f'{ends} [id="{edge.id}--{name}" class="{_kinds(edge.pattern.name, edge.state)}" {_led(edge, points)}]'


def _led(edge: Edge, points: tuple[Point, ...]) -> str:
    return f'{_style(drawn_in(edge.pattern, edge.state))} pos="{curve(corners(points))}"'
