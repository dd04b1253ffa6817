"""Drawings and papers of packs, whose faults are told with the name of the pack."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING, ParamSpec, TypeVar

from rigdsl.finding import Finding
from rigdsl.lint.words import one_line
from rigdsl.paths import Paths
from rigdsl.rig import Rig

if TYPE_CHECKING:  # a check makes no drawing and prints no paper, and does not wait for what does
    from rigdsl.draw import NamedView, View
    from rigdsl.papers import Facts, Paper, Table

__all__ = ["PackError", "guarded_paper", "guarded_view"]


Given = ParamSpec("Given")
Made = TypeVar("Made")


class PackError(Exception):
    """A view or paper of a pack broke down; the text names the pack, in one line."""


def guarded_view(view: NamedView, by: str) -> NamedView:
    """The view, its faults told with the pack's name, also a sheet that no engine could draw."""

    def sheet(rig: Rig, paths: Paths, findings: Sequence[Finding]) -> View:
        from rigdsl.draw import faults

        with _blamed("view", view.name, by):
            made = view.sheet(rig, paths, findings)
            wrong = faults(made)
            if wrong:
                raise ValueError(wrong[0])
            return made

    place = None if view.place is None else _step(view.place, view.name, by)
    fit = None if view.fit is None else _step(view.fit, view.name, by)
    return replace(view, sheet=sheet, place=place, fit=fit)


def _step(step: Callable[Given, Made], name: str, by: str) -> Callable[Given, Made]:
    """A step of a view that puts things in their places."""

    def run(*args: Given.args, **named: Given.kwargs) -> Made:
        with _blamed("view", name, by):
            return step(*args, **named)

    return run


def guarded_paper(paper: Paper, by: str) -> Paper:
    """The paper, its faults told with the pack's name."""

    def make(facts: Facts) -> tuple[Table, ...]:
        from rigdsl.papers import Table

        with _blamed("paper", paper.name, by):
            made = paper.make(facts)
            tables = (made,) if isinstance(made, Table) else made
            if not isinstance(tables, tuple) or not tables or not all(isinstance(one, Table) for one in tables):
                raise TypeError(f"it gave {type(made).__name__} and no table")
            return tables

    return replace(paper, make=make)


@contextmanager
def _blamed(what: str, name: str, by: str) -> Iterator[None]:
    try:
        yield
    except Exception as error:
        words = f"the {what} `{name}` broke down: {one_line(error)}"
        raise PackError(f"{words}; tell the makers of the pack {by}, with this rig") from error
