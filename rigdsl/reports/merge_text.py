"""What a merge makes, for a terminal: each finding, and under it what each branch did to bring it about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigdsl.lint.words import count
from rigdsl.reports.core_rules import CORE_PAGES, CORE_WARNINGS
from rigdsl.reports.look import Look
from rigdsl.reports.review_words import change_words
from rigdsl.reports.text import whole
from rigdsl.review.merge import ByRig, MergeFinding, Part

__all__ = ["merge_summary", "merge_text", "merge_unread", "part_words"]

SHORT = 9  # characters of a commit's name, as git itself shortens it in a large repository


def merge_text(found: ByRig, branches: Sequence[str], look: Look) -> str:
    """One sentence, then the findings by rig. `branches` are named as a part counts them."""
    lines = [look.paint(look.text(merge_summary(found, branches)), "bold")]
    for rig, some in found:
        if some and len(found) > 1:
            lines += ["", look.paint(f"{look.text(rig)}:", "bold")]
        for one in some:
            lines += ["", *_one(one, branches, look)]
    if unread := merge_unread(found):
        lines += ["", *look.hanging("", unread, "")]
    return "\n".join(lines) + "\n"


def merge_unread(found: ByRig) -> str:
    """That a line could not be read, and so more may be wrong; nothing where all could."""
    core = CORE_PAGES.keys() - CORE_WARNINGS
    if any(one.finding.rule in core for _, some in found for one in some):
        return "some of what was merged cannot be read, so this may not be all: mend that first, and ask again"
    return ""


def merge_summary(found: ByRig, branches: Sequence[str]) -> str:
    """The merge in one sentence."""
    number = sum(len(some) for _, some in found)
    rigs = sum(bool(some) for _, some in found)
    who = f"{', '.join(branches[:-1])} and {branches[-1]}"
    alone = "neither of them has alone" if len(branches) == 2 else "none of them has alone"
    if not found:
        return f"{who}: there is no rig in it"
    if not number:
        return f"{who} go together: nothing new is wrong in {count(len(found), 'rig')}"
    where = f" in {count(rigs, 'rig')}" if rigs > 1 else ""
    return f"{who} together: {count(number, 'finding')}{where} that {alone}"


def _one(one: MergeFinding, branches: Sequence[str], look: Look) -> Iterator[str]:
    yield from [line for line in whole(one.finding, look) if line]
    for part in one.parts:
        yield from look.hanging(f"{look.text(branches[part.branch])}: ", part_words(part))
    if one.more:
        yield f"  and {count(one.more, 'more change')}"


def part_words(part: Part) -> str:
    """`source vox added: ... (shows/friday.rig:12, commit 3f2a1c9b1 "Second singer")`."""
    place = part.place
    where = f"{place.source.path}:{place.from_position.line}" if place else ""
    commit = f'commit {part.commit[:SHORT]} "{part.summary}"' if part.commit else ""
    known = ", ".join(filter(None, (where, commit)))
    return change_words(part.change) + (f" ({known})" if known else "")
