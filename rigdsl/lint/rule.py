"""A rule is a value: a function from the rig, its paths and options to findings, with its documentation."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from rigdsl.finding import Finding, Level
from rigdsl.paths import Paths
from rigdsl.rig import Port, Rig

__all__ = ["NoOptions", "PackedRule", "Rule", "Sockets", "Told", "rule"]


@dataclass(frozen=True)
class NoOptions:
    """The options of a rule that has none."""


@dataclass(frozen=True)
class Sockets:
    """One finding about several sockets, any of which the user may have accepted.

    `tell` words the finding for the sockets that it is given: all of `ports` at first, then those
    that no `accept` line takes out. It must give the same subject for any of them.
    """

    ports: tuple[Port, ...]
    tell: Callable[[tuple[Port, ...]], Finding]


Options = TypeVar("Options")
Told = Finding | Sockets


@dataclass(frozen=True)
class Rule(Generic[Options]):
    """`check` yields findings; `doc` is the help page (Markdown); `on` false: only where it is asked for.

    `edition` is the edition of its pack's rule set that it came with: a project that pins an earlier one is told
    of the rule and not judged by it.
    """

    name: str
    level: Level
    check: Callable[[Rig, Paths, Options], Iterable[Told]]
    options: type[Options]
    doc: str
    on: bool = True
    edition: int = 1

    @property
    def summary(self) -> str:
        """The first line of the help page."""
        return self.doc.partition("\n")[0]


@dataclass(frozen=True)
class PackedRule:
    """A rule with the name and version of the pack that it came in."""

    rule: Rule[Any]
    pack: str
    version: str

    @property
    def name(self) -> str:
        """The rule's name."""
        return self.rule.name


def rule(
    name: str, level: Level, options: type[Options], *, on: bool = True, edition: int = 1
) -> Callable[[Callable[[Rig, Paths, Options], Iterable[Told]]], Rule[Options]]:
    """Make a rule of a function; its docstring is the help page. Nothing is registered: a pack lists its rules."""

    def made(check: Callable[[Rig, Paths, Options], Iterable[Told]]) -> Rule[Options]:
        return Rule(name, level, check, options, inspect.getdoc(check) or "", on, edition)

    return made
