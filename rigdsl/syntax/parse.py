"""A source to its statements: all of it at once, or, where that fails, statement by statement."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from rigdsl.finding import Finding
from rigdsl.syntax.build import Builder
from rigdsl.syntax.nodes import Statement
from rigdsl.syntax.tokens import scan
from rigdsl.syntax.walk import Stuck, actions, walk
from rigdsl.text import Source

__all__ = ["MARKS", "Parsed", "no_collector", "parse"]

MARKS = "<<<<<<<"  # what a merge begins with where it is not settled


@dataclass(frozen=True)
class Parsed:
    """The statements of a source, and a finding for each that could not be read; of those a Broken is left."""

    source: Source
    statements: tuple[Statement, ...]
    findings: tuple[Finding, ...]


def parse(source: Source) -> Parsed:
    """The statements of a source. Nothing that a text holds makes it raise."""
    with no_collector():
        return _unsettled(source) if MARKS in source.text else _read(source, source.text)


def _read(source: Source, text: str) -> Parsed:
    """The statements of a text that has the offsets of its source."""
    rules = actions(Builder(source))
    whole = walk(scan(text), rules)
    if not isinstance(whole, Stuck):
        return Parsed(source, whole, ())
    from rigdsl.syntax.piecewise import in_pieces  # and with it all the messages: a clean file needs none

    return Parsed(source, *in_pieces(source, text, rules))


def _unsettled(source: Source) -> Parsed:
    """A source with the marks of a merge in it: what stands in the first text of each, the others as lost."""
    from rigdsl.syntax.marks import clashes, first_text, lost, told

    found = clashes(source.text)
    read = _read(source, first_text(source.text, found))
    statements = sorted((*read.statements, *lost(source, found)), key=lambda one: one.span.start)
    findings = sorted((*read.findings, *told(source, found)), key=lambda one: one.place.start)
    return Parsed(source, tuple(statements), tuple(findings))


@contextmanager
def no_collector() -> Iterator[None]:
    """Nodes by the thousand and no garbage: the collector would look through them again and again in vain."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
