"""The text of a band's sources: a remark with the row of the list, the source, its patch."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from rigdsl.start.columns import FIELDS
from rigdsl.start.listed import Item
from rigdsl.start.quoted import quoted, written_cells

__all__ = ["HEADER", "channels_text", "entry", "fact_text", "gone_line", "listed_text", "patch_line"]

HEADER = """\
# The sources of the band, from the input list that it sent: `rigdsl start FOLDER --from LIST`.
# Yours to change: plug in (`to SL 3 via xlr 10 m`), name the zone (`in stage`), mend a type, add notes, move lines.
# A newer list changes only what has changed in its rows, and nothing that you have changed. For that it goes by the
# remarks that begin with `# listed`: leave them as they are.
# What was guessed says so: look at each once, and take the remark away.
"""
TEXTS = frozenset({"stand", "mic", "note"})


def entry(item: Item, name: str, partner: str, desk: str) -> str:
    """All lines of a new source, behind an empty one."""
    facts = [*item.facts, *([("with", partner)] if partner else [])]
    block = f" {{ {'; '.join(fact_text(*fact) for fact in facts)} }}" if facts else ""
    remark = f"  {item.guess.remark}" if item.guess.remark else ""
    source = f"source {name} {quoted(item.label)} {item.guess.type}{block}{remark}\n"
    patch = patch_line(name, desk, item.channels) if item.channels else ""
    return f"\n{listed_text(item, name)}\n{source}{patch}"


def listed_text(item: Item, name: str) -> str:
    """The remark that keeps a row, and the one of what in it is not understood."""
    remark = f"# listed {name}: {written_cells(item.cells, FIELDS)}"
    unclear = f"\n# not understood: {written_cells(item.unclear, FIELDS)}" if item.unclear else ""
    return remark + unclear


def fact_text(name: str, value: str) -> str:
    """One fact of a block."""
    return f"{name} {quoted(value)}" if name in TEXTS else f"{name} {value}".rstrip()


def patch_line(name: str, desk: str, channels: Iterable[int]) -> str:
    """Where a source is wanted."""
    return f"patch {name} -> {desk} {channels_text(channels)}\n"


def gone_line(name: str) -> str:
    """The remark over a source that the list has no more."""
    return f"# gone {name}: not in the list any more\n"


def channels_text(channels: Iterable[int]) -> str:
    """Numbers as a rig has them: `7`, `7-8`, `7,9-10`."""
    return ",".join(f"{first}" if first == last else f"{first}-{last}" for first, last in _rows(tuple(channels)))


def _rows(channels: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    """Numbers that follow each other, as first and last."""
    breaks = [at + 1 for at, (one, two) in enumerate(pairwise(channels)) if two != one + 1]
    edges = [0, *breaks, len(channels)]
    for start, end in pairwise(edges):
        yield channels[start], channels[end - 1]
