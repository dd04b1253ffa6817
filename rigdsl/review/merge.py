"""What is found in a merged rig and in none of its branches: each is well alone."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from rigdsl.finding import Finding
from rigdsl.review.changes import Change
from rigdsl.review.found import only_here
from rigdsl.review.items import items_of, place_of
from rigdsl.review.renames import renames
from rigdsl.review.review import Review, Side, review
from rigdsl.rig import Rig
from rigdsl.text import Span

__all__ = ["ByRig", "MergeFinding", "Part", "merge_findings"]

ON = ("box", "model", "cable", "protocol")
FEW = 3  # so many changes of a branch are named with a finding; more are counted


@dataclass(frozen=True)
class Part:
    """A change that a branch brought; `place` is where it stands in the merged files, None where it took away.

    `commit` and `summary` are filled in by whoever can ask git.
    """

    branch: int
    change: Change
    place: Span | None
    commit: str = ""
    summary: str = ""


@dataclass(frozen=True)
class MergeFinding:
    """A finding that only the merge has, and what each branch did to bring it about; `more` counts what is left out."""

    finding: Finding
    parts: tuple[Part, ...]
    more: int = 0


ByRig = Sequence[tuple[str, Sequence[MergeFinding]]]  # of each rig by its file


def merge_findings(base: Side, branches: Sequence[Side], merged: Side) -> tuple[MergeFinding, ...]:
    """The findings of the merged rig that no branch has, in their order."""
    now = items_of(merged.rig, merged.own)
    found = only_here(
        merged.findings,
        ((branch.findings, renames(items_of(branch.rig, branch.own), now)) for branch in branches),
    )
    if not found:
        return ()
    brought = [review(base, branch) for branch in branches]
    return tuple(_with_parts(finding, brought, merged) for finding in found)


def _with_parts(finding: Finding, brought: Sequence[Review], merged: Side) -> MergeFinding:
    near, far = _names(finding, merged.rig)
    parts: list[Part] = []
    more = 0
    for branch, one in enumerate(brought):
        rated = [(_nearness(change, near, far), at) for at, change in enumerate(one.changes)]
        bearing = sorted((item for item in rated if item[0]), key=lambda item: (-item[0], item[1]))
        some = [one.changes[at] for _, at in bearing[:FEW]]
        parts += [Part(branch, change, _place(merged, change)) for change in some]
        more += len(bearing) - len(some)
    return MergeFinding(finding, tuple(parts), more)


def _place(merged: Side, change: Change) -> Span | None:
    """Where what a branch brought stands in the merged files."""
    fields = {key: now for key, (_, now) in change.fields.items() if now is not None and key != "name"}
    return place_of(merged.rig, merged.own, change.what, change.name, fields)


def _names(finding: Finding, rig: Rig) -> tuple[Collection[str], Collection[str]]:
    """The names that a finding is about, and those of what it stands on: box, model, cable, protocol."""
    subjects = re.split(r" -- |\+", finding.subject)
    near = {name for name in (finding.subject, *subjects, *finding.ports, *finding.silent) if name}
    boxes = {finding.box, *(name.partition(".")[0] for name in near)} & rig.boxes.keys()
    links = [rig.links[name] for name in near if name in rig.links]
    ends = [rig.group(port) for link in links for join in link.joins for port in join]
    far = {*boxes, *(rig.boxes[box].model.name for box in boxes)}
    far |= {name for group in ends for name in group.protocols}
    far |= {link.lead.cable.name for link in links if link.lead}
    return near, far - near


def _nearness(change: Change, near: Collection[str], far: Collection[str]) -> int:
    """How much a change bears on names: it is of one, it speaks of one, it has an effect on one; or not at all."""
    if change.name in near or change.old_name in near:
        return 4
    if any(text in near for pair in change.fields.values() for text in _texts(pair)):
        return 3
    if any(word in near for effect in change.effects for word in re.split(r"[\s,:;]+", effect)):
        return 2
    return 1 if change.name in far and change.what in ON else 0


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | tuple):
        for item in value:
            yield from _texts(item)
