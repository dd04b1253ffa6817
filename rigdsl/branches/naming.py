"""What a statement, or a line of its block, is called: by its name, else by all its words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from rigdsl.syntax import nodes
from rigdsl.syntax.tokens import SILENT, scan

__all__ = ["INSIDE", "Key", "all_names", "inner_of", "joined", "key_of", "names_of", "said", "words"]

Key = tuple[str, ...]

INSIDE = ("facts", "groups", "passes", "slots")  # fields that stand in a block


def words(text: str) -> tuple[str, ...]:
    """The words of a text and its remarks, without blanks and line ends."""
    return tuple(token.text.rstrip() for token in scan(text) if token.kind not in ("BLANK", "_SEP"))


def said(text: str) -> tuple[str, ...]:
    """The words of a text without its remarks."""
    return tuple(token.text for token in scan(text) if token.kind not in SILENT and token.kind != "_SEP")


def inner_of(node: Any) -> list[Any]:
    """What may stand in the block of a statement: facts, groups, joins."""
    fields = [*INSIDE, "joins"]
    return [inside for name in fields if name in node._fields for inside in getattr(node, name)]


def joined(group: Sequence[Any]) -> Key:
    """What nodes that share their lines are called together."""
    return ("line", *(word for node in group for word in key_of(node)[0]))


def key_of(node: Any) -> tuple[Key, bool]:
    """What a statement or a line of a block is called, and whether that is a name: else it is all its words."""
    kind = type(node).__name__.lower()
    name = _name(node)
    if name is not None:
        return (getattr(node, "word", kind), *name), True
    return (kind, *said(node.span.text)), False


def _name(node: Any) -> Key | None:
    match node:
        case nodes.RigHead():
            return ()
        case nodes.Use():
            return (node.path.text,)
        case nodes.Way():
            return tuple(sorted((node.left.text, node.right.text)))
        case nodes.Accept():
            on = (node.on,) if isinstance(node.on, nodes.Word) else node.on
            return (node.rule.text, *(end.span.text for end in on))
        case nodes.Stock():
            return (node.cable.text, node.length.number.text, node.length.unit.text)
        case nodes.Group():
            return (node.role.text, *(head.name.text for head in node.heads))
        case nodes.Slot():
            return (node.head.name.text,)
        case _:
            name = getattr(node, "name", None)
            return (name.text,) if isinstance(name, nodes.Word) else None


def names_of(node: Any) -> tuple[Key, ...]:
    """The names that a statement gives, or a line of a block: a line of sockets may give several."""
    if isinstance(node, nodes.Group):
        return tuple((node.role.text, head.name.text) for head in node.heads)
    key, named = key_of(node)
    return (key,) if named else ()


def all_names(found: Sequence[Any], inside: Key = ()) -> Iterator[Key]:
    """Every name that nodes give, and those in their blocks behind the name of what they stand in, each as often."""
    for node in found:
        for name in names_of(node):
            yield (*inside, *name)
            yield from all_names(inner_of(node), (*inside, *name))
