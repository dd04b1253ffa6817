"""Changes of neighbouring sockets told as one: `patch DESK.ch 1-16 added: SL.mic 1-16`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rigdsl.review import Change

__all__ = ["in_runs"]

SINGLE = re.compile(r"(.* )([0-9]{1,6})")  # a socket, or a line of a source, and its number
BY_SOCKET = frozenset({"patch", "keep", "control", "insert"})  # what is called by the socket that it is at

Steps = tuple[bool, ...]  # of each value of a change, whether it goes up with the socket


@dataclass(frozen=True)
class _Run:
    """Changes that are alike but for their numbers, each one more than the one before."""

    first: Change
    last: Change
    effects: tuple[str, ...]
    steps: Steps | None = None

    def with_next(self, change: Change) -> _Run | None:
        """With one more, if that goes on as the run does."""
        steps = _steps(self.last, change)
        if steps is None or self.steps not in (None, steps):
            return None
        return _Run(self.first, change, self.effects + change.effects, steps)

    @property
    def told(self) -> Change:
        """As one change."""
        if self.first is self.last:
            return self.first
        fields = {key: _spread(self.first.fields[key], self.last.fields[key]) for key in self.first.fields}
        return replace(self.first, name=_range(self.first.name, self.last.name), fields=fields, effects=self.effects)


def in_runs(changes: Sequence[Change]) -> Iterator[Change]:
    """The changes in their order, neighbours of one kind together."""
    run: _Run | None = None
    for change in changes:
        longer = run.with_next(change) if run else None
        if run and longer is None:
            yield run.told
        run = longer or _Run(change, change, change.effects)
    if run:
        yield run.told


def _steps(before: Change, after: Change) -> Steps | None:
    """How a change goes on from the one before, one socket further; None where it does not."""
    if (before.kind, before.what) != (after.kind, after.what) or before.what not in BY_SOCKET:
        return None
    if before.fields.keys() != after.fields.keys() or not _next(before.name, after.name):
        return None
    pairs = [pair for key in before.fields for pair in zip(before.fields[key], after.fields[key], strict=True)]
    steps = tuple(_next(one, other) for one, other in pairs)
    return steps if all(step or one == other for step, (one, other) in zip(steps, pairs, strict=True)) else None


def _next(one: Any, other: Any) -> bool:
    """Whether a name is another with its number one higher."""
    if not isinstance(one, str) or not isinstance(other, str):
        return False
    first, second = SINGLE.fullmatch(one), SINGLE.fullmatch(other)
    return bool(first and second and first[1] == second[1] and int(second[2]) == int(first[2]) + 1)


def _spread(first: tuple[Any, Any], last: tuple[Any, Any]) -> tuple[Any, Any]:
    was, now = (_range(one, other) for one, other in zip(first, last, strict=True))
    return was, now


def _range(first: Any, last: Any) -> Any:
    """`SL.mic 1-16` of the first and the last."""
    if first == last:
        return first
    match = SINGLE.fullmatch(last)
    return f"{first}-{match[2]}" if match else first
