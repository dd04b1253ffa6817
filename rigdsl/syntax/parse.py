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

__all__ = ["Parsed", "no_collector", "parse"]


@dataclass(frozen=True)
class Parsed:
    """The statements of a source, and a finding for each that could not be read; of those a Broken is left."""

    source: Source
    statements: tuple[Statement, ...]
    findings: tuple[Finding, ...]


def parse(source: Source) -> Parsed:
    """The statements of a source. Nothing that a text holds makes it raise."""
    rules = actions(Builder(source))
    with no_collector():
        whole = walk(scan(source.text), rules)
        if not isinstance(whole, Stuck):
            return Parsed(source, whole, ())
        from rigdsl.syntax.piecewise import in_pieces  # and with it all the messages: a clean file needs none

        return Parsed(source, *in_pieces(source, rules))


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
