"""What a file says, one thing and one fact of it a line, in the order of their names.

Only of the file itself: what it uses is not read, so rows of sockets stay as they are written.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from rigdsl.branches.naming import inner_of
from rigdsl.branches.parts import outer_of
from rigdsl.rig import natural
from rigdsl.syntax import nodes, parse
from rigdsl.syntax.forms import FORMS
from rigdsl.syntax.tidy import tidy
from rigdsl.syntax.tokens import scan
from rigdsl.text import Source

__all__ = ["meaning"]

ORDER = {word: number for number, word in enumerate(FORMS)}


def meaning(source: Source) -> str | None:
    """The lines, or None where the file cannot be read. Remarks, layout and the order of statements leave no trace."""
    done = tidy(source)
    read = parse(Source(source.path, done.text))
    if read.findings or done.doubt:
        return None
    lines = [line for node in read.statements for line in _lines(node, read.source.text, "")]
    return "".join(f"{line}\n" for line in sorted(lines, key=_rank))


def _lines(node: Any, text: str, inside: str) -> Iterator[str]:
    """A statement, or a line of a block that has one: what it is called, then each thing that is said of it."""
    start, end = node.span.start, node.span.end
    brace = next((token.start for token in scan(text[start:end]) if token.kind == "_OPEN"), end - start)
    ends = sorted((end, field) for field, end in outer_of(node, start + brace).items())
    named = isinstance(getattr(node, "name", None), nodes.Word) and not isinstance(node, nodes.Fact)
    title = inside + text[start : ends[0][0] if named else start + brace].strip()
    fields = [text[at:end].strip(" :") for (at, _), (end, _) in pairwise(ends)] if named else []
    inner = [one for one in inner_of(node) if one.span.start > start + brace]
    if not fields and not (named and inner):
        yield title
    yield from (f"{title}: {field}" for field in fields)
    owner = "rig" if isinstance(node, nodes.RigHead) else title
    for one in inner:
        if isinstance(one, nodes.Fact):
            yield f"{owner}: {one.span.text}"
        else:
            yield from _lines(one, text, f"{owner}: ")


def _rank(line: str) -> tuple[int, object]:
    word = line.partition(" ")[0]
    return ORDER.get(word.rstrip(":"), len(ORDER)), natural(line)
