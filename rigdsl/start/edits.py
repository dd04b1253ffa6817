"""Changes to single places of a text, so that all that nobody asked to change stays as it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from rigdsl.start.write import fact_text
from rigdsl.syntax import nodes
from rigdsl.syntax.tokens import scan
from rigdsl.text import Span

__all__ = ["Change", "applied", "fact_changes", "line_end", "line_start"]


class Change(NamedTuple):
    """What stands between two offsets, and what is to stand there; changes at one place keep their order."""

    start: int
    end: int
    text: str


def applied(text: str, changes: Iterable[Change]) -> str:
    """The text with all changes made."""
    parts: list[str] = []
    at = 0
    for change in sorted(changes, key=lambda change: (change.start, change.end)):
        parts += [text[at : change.start], change.text]
        at = max(at, change.end)
    return "".join([*parts, text[at:]])


def line_start(text: str, at: int) -> int:
    """Where the line of an offset begins."""
    return text.rfind("\n", 0, at) + 1


def line_end(text: str, at: int) -> int:
    """Where the next line begins, or the text ends."""
    found = text.find("\n", at)
    return len(text) if found < 0 else found + 1


def fact_changes(plug: nodes.Plug, wanted: Mapping[str, str | None]) -> list[Change]:
    """What to change in a source's block, so that each of these facts says this, or is gone where it is None."""
    if not wanted:
        return []
    block = _block(plug)
    if block is None or "\n" not in block.text:
        return [_written_anew(plug, block, wanted)]
    there = {fact.name.text: fact for fact in plug.facts}
    changes = []
    for name, value in wanted.items():
        if (fact := there.get(name)) is not None:
            said = Change(fact.span.start, fact.span.end, fact_text(name, value or ""))
            changes.append(said if value is not None else _taken_out(block, fact.span))
    added = [fact_text(name, value) for name, value in wanted.items() if value is not None and name not in there]
    end = plug.facts[-1].span.end if plug.facts else block.start + 1
    sign = "; " if plug.facts else " "
    return [*changes, *([Change(end, end, f"{sign}{'; '.join(added)}")] if added else [])]


def _block(plug: nodes.Plug) -> Span | None:
    """The braces of a source and what is between them."""
    opens = next((token.start for token in scan(plug.span.text) if token.kind == "_OPEN"), None)
    return None if opens is None else Span(plug.span.source, plug.span.start + opens, plug.span.end)


def _written_anew(plug: nodes.Plug, block: Span | None, wanted: Mapping[str, str | None]) -> Change:
    """A block that stands on its line: there is no remark in it that could be lost."""
    facts = {fact.name.text: fact.span.text for fact in plug.facts}
    for name, value in wanted.items():
        if value is None:
            facts.pop(name, None)
        else:
            facts[name] = fact_text(name, value)
    start = len(plug.span.source.text[plug.span.start : block.start].rstrip(" \t")) if block else 0
    said = f" {{ {'; '.join(facts.values())} }}" if facts else ""
    return Change(plug.span.start + start if block else plug.span.end, plug.span.end, said)


def _taken_out(block: Span, fact: Span) -> Change:
    """A fact with the sign that parts it from its neighbour; remarks beside it stay."""
    text = block.source.text
    behind, before = text[fact.end : block.end], text[block.start : fact.start]
    bare = behind.lstrip(" \t")
    if bare.startswith(";"):
        return Change(fact.start, block.end - len(bare[1:].lstrip(" \t")), "")
    if before.rstrip(" \t").endswith(";"):
        return Change(block.start + len(before.rstrip(" \t")) - 1, fact.end, "")
    return Change(fact.start, fact.end, "")
