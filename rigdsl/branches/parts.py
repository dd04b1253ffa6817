"""A text cut into parts that know what they are called, nothing of it lost: lines with statements, facts, remarks.

A file is lines. A statement whose block goes over several lines is a first line, the lines of the block and a last
one. A line is fields: the name, the label, the sockets, each fact. The texts of the parts joined are the text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from rigdsl.branches.naming import INSIDE, Key, inner_of, joined, key_of, said
from rigdsl.syntax import nodes
from rigdsl.syntax.tokens import scan
from rigdsl.text import Span

__all__ = [
    "BLANK",
    "REMARK",
    "Part",
    "block_of",
    "fields_of",
    "has_block",
    "head_of",
    "lines_of",
    "outer_of",
]

BLANK: Key = ("blank",)
REMARK: Key = ("remark",)
HEAD: Key = ("first line",)
TAIL: Key = ("last line",)
OPEN: Key = ("{",)
CLOSE: Key = ("}",)
BESIDE: Key = ("beside",)  # what stands behind the last word of a line: its remark, its end

# Fields that are one thing to say: what is joined to what, or feeds what.
TOGETHER = {"left": "ends", "right": "ends", "at": "ends", "through": "ends", "arrow": "ends"}
HEADING = re.compile(r"\s*#+\s*[-=*~]{2}")


class Part(NamedTuple):
    """A stretch of a text; `nodes` are what is said in it, with their places in the whole text.

    `named`: the key is a name that others use, and not only all its words.
    """

    key: Key
    text: str
    start: int
    named: bool = False
    nodes: tuple[Any, ...] = ()

    @property
    def is_gap(self) -> bool:
        """Whether it is a line that says nothing: a remark of its own, or a blank."""
        return self.key in (BLANK, REMARK)

    @property
    def is_heading(self) -> bool:
        """Whether it is a remark over all that follows, `# ---- Strings`, and not only over the next thing."""
        return self.key == REMARK and HEADING.match(self.text) is not None

    @property
    def is_line(self) -> bool:
        """Whether it is one line, or less."""
        return self.text.find("\n") in (-1, len(self.text) - 1)


# ---- lines


def lines_of(text: str, found: Sequence[Any], start: int, end: int) -> list[Part]:
    """The lines of a stretch of a text: those of each node, several that share lines as one, and all other lines."""
    parts: list[Part] = []
    at = start
    for group, last in _sharing(text, sorted(found, key=_start)):
        first = text.rfind("\n", 0, _start(group[0])) + 1
        parts += _gaps(text, at, first)
        key, named = key_of(group[0]) if len(group) == 1 else (joined(group), False)
        parts.append(Part(key, text[first:last], first, named, group))
        at = last
    return [*parts, *_gaps(text, at, end)]


def _sharing(text: str, found: Sequence[Any]) -> Iterator[tuple[tuple[Any, ...], int]]:
    """Nodes that stand on the same lines, and where these lines end."""
    group: list[Any] = []
    last = 0
    for node in found:
        if group and _start(node) >= last:
            yield tuple(group), last
            group = []
        group.append(node)
        last = text.find("\n", node.span.end) + 1
    if group:
        yield tuple(group), last


def _gaps(text: str, start: int, end: int) -> Iterator[Part]:
    while start < end:
        behind = text.find("\n", start) + 1
        line = text[start:behind]
        yield Part(REMARK if "#" in line else BLANK, line, start)
        start = behind


def _start(node: Any) -> int:
    start: int = node.span.start
    return start


# ---- the parts of a statement


def block_of(part: Part, text: str) -> list[Part] | None:
    """A statement with a block over several lines: its first line, the lines of the block, its last line.

    None where it has none, or one that is laid out otherwise.
    """
    if len(part.nodes) != 1 or part.is_line:
        return None
    first = part.text.find("\n") + 1
    last = part.text.rfind("\n", 0, -1) + 1
    if said(part.text[:first])[-1:] != ("{",) or said(part.text[last:]) != ("}",):
        return None
    inside = [node for node in inner_of(part.nodes[0]) if _start(node) >= part.start + first]
    body = lines_of(text, inside, part.start + first, part.start + last)
    head = Part(HEAD, part.text[:first], part.start, nodes=part.nodes)
    return [head, *body, Part(TAIL, part.text[last:], part.start + last)]


def has_block(part: Part) -> bool:
    """Whether a statement has a block."""
    return "{" in said(part.text)


def head_of(part: Part) -> list[Part]:
    """A statement of one line as the first line of one that could have a block."""
    return [part._replace(key=HEAD, named=False)]


def fields_of(part: Part) -> list[Part] | None:
    """The fields of one line, each with the blanks, words and separators before it; None where it is one thing."""
    if not part.is_line or not part.nodes:
        return None
    if isinstance(part.nodes[0], nodes.Fact) and len(part.nodes) == 1:
        end = part.nodes[0].span.end - part.start
        fact = part._replace(text=part.text[:end], nodes=())
        return [fact, Part(BESIDE, part.text[end:], part.start + end)]
    ends = _ends(part) if len(part.nodes) == 1 else [(node.span.end, key_of(node), (node,)) for node in part.nodes]
    parts: list[Part] = []
    at = part.start
    for end, (key, named), found in sorted(ends, key=lambda field: field[0]):
        parts.append(Part(key, part.text[at - part.start : end - part.start], at, named, found))
        at = end
    return [*parts, Part(BESIDE, part.text[at - part.start :], at)]


Field = tuple[int, tuple[Key, bool], tuple[Any, ...]]


def _ends(part: Part) -> list[Field]:
    """Where each field of a statement of one line ends, and what it is."""
    node = part.nodes[0]
    braces = [token for token in scan(part.text) if token.kind in ("_OPEN", "_CLOSE")]
    opened = part.start + braces[0].start if braces else part.start + len(part.text)
    inner = [inside for inside in inner_of(node) if _start(inside) > opened]
    found: list[Field] = [(inside.span.end, key_of(inside), (inside,)) for inside in inner]
    found += [(end, ((name,), False), ()) for name, end in outer_of(node, opened).items()]
    if braces:
        found.append((opened + 1, (OPEN, False), ()))
    if len(braces) > 1:
        found.append((part.start + braces[-1].end, (CLOSE, False), ()))
    return [field for field in found if field[0] <= part.start + len(part.text)]


def outer_of(node: Any, opened: int) -> dict[str, int]:
    """The fields before the block, and where they end."""
    ends: dict[str, int] = {}
    for name in node._fields:
        value = getattr(node, name)
        if name not in INSIDE and name != "span" and value:
            end = _end(value)
            if 0 < end <= opened:
                field = TOGETHER.get(name, name)
                ends[field] = max(end, ends.get(field, 0))
    return ends


def _end(value: Any) -> int:
    """Where the last word of a value ends; 0 where it has no place."""
    if isinstance(value, nodes.Word | Span):
        return value.end
    return max(map(_end, value), default=0) if isinstance(value, tuple) else 0
