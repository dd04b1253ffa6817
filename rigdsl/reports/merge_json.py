"""What a merge makes, for programs: one JSON document, by `grammar/compare.schema.json`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rigdsl.reports.check_json import dumped
from rigdsl.reports.review_json import change_record, finding_record
from rigdsl.review.merge import ByRig, MergeFinding, Part

__all__ = ["merge_json"]


def merge_json(found: ByRig, branches: Sequence[str]) -> bytes:
    """The document of all rigs, in UTF-8. `branches` are named as a part counts them."""
    told = [_record(rig, one, branches) for rig, some in found for one in some]
    return dumped({"branches": list(branches), "findings": told})


def _record(rig: str, one: MergeFinding, branches: Sequence[str]) -> dict[str, Any]:
    return {
        "rig": rig,
        "finding": finding_record(one.finding),
        "parts": [_part(part, branches) for part in one.parts],
        "more": one.more,
    }


def _part(part: Part, branches: Sequence[str]) -> dict[str, Any]:
    return {
        "branch": branches[part.branch],
        "change": change_record(part.change),
        "file": part.place.source.path if part.place else None,
        "line": part.place.from_position.line if part.place else None,
        "commit": part.commit or None,
        "summary": part.summary or None,
    }
