"""What is found in a merged rig and in none of its branches: each is well alone."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from rigdsl.finding import Finding
from rigdsl.review.changes import Change
from rigdsl.review.found import only_here
from rigdsl.review.items import Standing, items_of, place_of, standing
from rigdsl.review.renames import renames
from rigdsl.review.review import Review, Side, review
from rigdsl.rig import Rig
from rigdsl.text import Span

__all__ = ["ByRig", "MergeFinding", "Part", "merge_findings", "new_fields"]

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
    there = standing(merged.rig, merged.own)
    return tuple(_with_parts(finding, brought, merged.rig, there) for finding in found)


def _with_parts(finding: Finding, brought: Sequence[Review], rig: Rig, there: Standing) -> MergeFinding:
    near, far = _names(finding, rig)
    near |= _on_its_lines(finding, there)
    parts: list[Part] = []
    more = 0
    for branch, one in enumerate(brought):
        rated = [(_nearness(change, near, far), at) for at, change in enumerate(one.changes)]
        bearing = sorted((item for item in rated if item[0]), key=lambda item: (-item[0], item[1]))
        some = [one.changes[at] for _, at in bearing[:FEW]]
        parts += [
            Part(branch, change, place_of(there, change.what, change.name, new_fields(change))) for change in some
        ]
        more += len(bearing) - len(some)
    return MergeFinding(finding, tuple(parts), more)


def new_fields(change: Change) -> dict[str, Any]:
    """What a thing says after a change, of that which the change is about."""
    return {key: now for key, (_, now) in change.fields.items() if now is not None and key != "name"}


def _on_its_lines(finding: Finding, there: Standing) -> set[str]:
    """The names of what stands where a finding is, or where it points to."""
    lines = {_line(place) for place in (finding.place, *(other.place for other in finding.related))}
    return {name for (_, name), some in there.items() if name and any(_line(place) in lines for _, place in some)}


def _line(place: Span) -> tuple[str, int]:
    return place.source.path, place.from_position.line


def _names(finding: Finding, rig: Rig) -> tuple[set[str], set[str]]:
    """The names that a finding is about, and those of what it stands on: box, model, cable, protocol."""
    subjects = re.split(r" -- |\+", finding.subject)
    near = {name for name in (finding.subject, *subjects, *finding.ports, *finding.silent) if name}
    boxes = {finding.box, *(re.split(r"[.\s]", name)[0] for name in near)} & rig.boxes.keys()
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
