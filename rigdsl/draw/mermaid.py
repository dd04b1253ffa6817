"""A drawing as Mermaid text, for places that take nothing but text: an excerpt within the limits of its hosts.

The library refuses more than 500 lines (`maxEdges`) and 50,000 characters (`maxTextSize`), by its own defaults.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rigdsl.draw.compared import signed
from rigdsl.draw.measure import cleaned
from rigdsl.draw.shapes import Edge, Node, State, View
from rigdsl.lint.words import count

__all__ = ["MOST_CHARACTERS", "MOST_LINES", "mermaid"]

MOST_LINES = 500
MOST_CHARACTERS = 50_000
ROOM = 400  # characters, for what is left out
LONGEST = 120  # characters, of the words of one box or line
PLAIN = frozenset(" ,.:-+/'")  # with letters and digits, all that stands as it is


def mermaid(view: View, say: Callable[[str], None]) -> str:
    """The text, boxes without their sockets and cables between two of them as one; `say` is told what is left out."""
    names = {node.id: f"n{at}" for at, node in enumerate(view.nodes, 1)}
    boxes = {node.id: f"  {names[node.id]}[{_quoted(_words(node))}]" for node in view.nodes}
    shown: set[str] = set()
    lines: list[str] = []
    size = len(_head(view)) + ROOM
    left_out = 0
    for (left, right, _), edges in _bunches(view).items():
        line = f"  {names[left]} {_arrow(edges)}|{_quoted(_label(edges))}| {names[right]}"
        new = [boxes[end] for end in dict.fromkeys((left, right)) if end not in shown]
        more = sum(len(text) + 1 for text in (line, *new))
        if len(lines) + 2 > MOST_LINES or size + more > MOST_CHARACTERS:
            left_out += 1
            continue
        size += more
        shown.update((left, right))
        lines.append(line)
    missing = [node for node in view.nodes if node.id not in shown]
    for node in list(missing):
        if size + len(boxes[node.id]) + 1 <= MOST_CHARACTERS:
            size += len(boxes[node.id]) + 1
            shown.add(node.id)
            missing.remove(node)
    said = _left_out(left_out, missing)
    rest = [f"  left[{_quoted(said)}]"] if said else []
    if said:
        say(f"the text {said}: a drawing in SVG or PDF has everything")
    return "\n".join([_head(view), *(boxes[node.id] for node in view.nodes if node.id in shown), *lines, *rest]) + "\n"


def _head(view: View) -> str:
    """The kind of diagram, and its title as a remark; a remark must not hold what the library reads as settings."""
    title = "".join(char if char.isalnum() or char in PLAIN else " " for char in cleaned(view.title))
    return f"flowchart LR\n  %% {title}"


def _words(node: Node) -> str:
    marks = sorted({mark.number for marks in (node.marks, *(row.marks for row in node.rows)) for mark in marks})
    found = f"findings {', '.join(map(str, marks))}" if marks else ""
    about = node.subtitle.split("\n")[0]
    name = node.tip if node.kind in ("sources", "outputs") else node.title or node.tip
    return ", ".join(filter(None, [name, about, found]))


def _bunches(view: View) -> dict[tuple[str, str, State], list[Edge]]:
    """The lines between two boxes that fared alike."""
    bunches: dict[tuple[str, str, State], list[Edge]] = {}
    for edge in (edge for edge in view.edges if edge.joins):
        bunches.setdefault((edge.left.node, edge.right.node, edge.state), []).append(edge)
    return bunches


def _arrow(edges: Sequence[Edge]) -> str:
    """Thick for digital links, dashed where no sound gets through, with a head where sound goes one way."""
    first = edges[0]
    if any(edge.stops for edge in edges):
        return "-.->" if first.forward else "-.-"
    if first.pattern.strands > 1:
        return "==>" if first.forward else "==="
    return "-->" if first.forward else "---"


def _label(edges: Sequence[Edge]) -> str:
    """The names of the cables, else how many lines there are, and the findings at them."""
    ids = list(dict.fromkeys(edge.label[0][: edge.bold] for edge in edges if edge.label and edge.bold))
    marks = sorted({mark.number for edge in edges for mark in edge.marks})
    words = ", ".join(ids) or signed(edges[0].state, count(sum(len(edge.joins) for edge in edges), "line"))
    return words + (f", findings {', '.join(map(str, marks))}" if marks else "")


def _left_out(lines: int, nodes: Sequence[Node]) -> str:
    said = [count(lines, "cable")] if lines else []
    said += [count(len(nodes), "box", "boxes")] if nodes else []
    return f"leaves out {' and '.join(said)}" if said else ""


def _quoted(text: str) -> str:
    """Words as data: whatever is no letter, digit or plain sign stands as its number in Unicode."""
    whole = cleaned(text).replace("\n", " ")
    short = whole if len(whole) <= LONGEST else whole[: LONGEST - 3] + "..."
    return '"' + "".join(char if char.isalnum() or char in PLAIN else f"#{ord(char)};" for char in short) + '"'
