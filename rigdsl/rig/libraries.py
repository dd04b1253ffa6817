"""A pack's file of gear, held to what such a file may be: it reads without a fault, and holds gear alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigdsl.rig.load import load
from rigdsl.rig.readers import DictReader
from rigdsl.syntax import nodes as syntax
from rigdsl.syntax import parse
from rigdsl.text import Source

__all__ = ["library_faults"]

NAME = "gear.rig"
GEAR = (syntax.Model, syntax.Cable, syntax.Protocol, syntax.Broken)  # what is broken is told by its own finding


def library_faults(source: Source, others: Iterable[Source] = ()) -> list[str]:
    """What is wrong with a file of gear, each with its line; `others` are those that come with it."""
    return [f"`{source.path}`, line {line}: {words}" for line, words in sorted(set(_faults(source, others)))]


def _faults(source: Source, others: Iterable[Source]) -> Iterator[tuple[int, str]]:
    for said in parse(source).statements:
        if not isinstance(said, GEAR):
            yield said.span.from_position.line, "a pack's gear has models, cables and protocols, and nothing else"
    rig = load(NAME, DictReader({NAME: source.text}), others).rig
    for finding in rig.findings:
        if finding.place.source.path == NAME:
            yield finding.place.from_position.line, finding.message
