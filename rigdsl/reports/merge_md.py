"""What a merge makes, as a comment on a request to merge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigdsl.finding import Level
from rigdsl.lint.words import count
from rigdsl.reports.merge_text import merge_summary, merge_unread, part_words
from rigdsl.reports.review_md import comment_words, fitted
from rigdsl.review.merge import ByRig, MergeFinding

__all__ = ["merge_md"]

MARKER = "<!-- rigdsl compare merge -->"  # by which a later run finds the comment that it made


def merge_md(found: ByRig, branches: Sequence[str]) -> str:
    """The comment, within the room that hosts give."""
    lines = [MARKER, f"**{comment_words(merge_summary(found, branches))}.**"]
    for rig, some in found:
        if some and len(found) > 1:
            lines += ["", f"{comment_words(rig)}:"]
        for one in some:
            lines += ["", *_one(one, branches)]
    if unread := merge_unread(found):
        lines += ["", f"{comment_words(unread[:1].upper() + unread[1:])}."]
    return fitted(lines)


def _one(one: MergeFinding, branches: Sequence[str]) -> Iterator[str]:
    finding = one.finding
    night = f" On the night: {comment_words(finding.consequence)}." if finding.consequence else ""
    yield f"- {finding.level or Level.WARNING}: {comment_words(finding.message)} ({finding.rule}).{night}"
    for part in one.parts:
        yield f"  - {comment_words(branches[part.branch])}: {comment_words(part_words(part))}"
    if one.more:
        yield f"  - and {count(one.more, 'more change')}"
