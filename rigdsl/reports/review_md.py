"""What a change means, as a comment on a request to merge it: short first, details folded, good on a phone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from rigdsl.finding import Finding, Level
from rigdsl.reports.paper_md import markdown_words
from rigdsl.reports.review_runs import in_runs
from rigdsl.reports.review_text import summary, unread_words
from rigdsl.reports.review_words import change_words, differs, total_words
from rigdsl.review import Review
from rigdsl.review.step import Step

__all__ = ["LARGEST", "MARKER", "comment_words", "fitted", "review_md", "reviews_md"]

NOBODY = "\u2060"  # a joiner without width: a host calls nobody by what stands behind `@`
LARGEST = 60_000  # characters: hosts take 65,536 in a comment, and say nothing where there are more
MARKER = "<!-- rigdsl compare -->"  # by which a later run finds the comment that it made


def reviews_md(parts: Iterable[Sequence[str]]) -> str:
    """The comment of one rig or of several, each as `review_md` gives it."""
    lines = [MARKER]
    for part in parts:
        lines += [*part, ""]
    return fitted(lines) + "\n"


def review_md(found: Review, title: str, steps: Sequence[Step] = (), excerpt: str = "") -> list[str]:
    """The lines for one rig; `steps` are for hands, `excerpt` the ways that changed, in Mermaid."""
    head = [f"**{comment_words(title)}**: {comment_words(summary(found))}.", ""]
    if found.nothing:
        return head
    if unread := unread_words(found):
        head += [f"**{comment_words(unread[:1].upper() + unread[1:])}.**", ""]
    if found.whole:
        return [*head, *_findings("Found in it", found.new, shut=False), *_totals(found)]
    parts = [*_todo(steps), *_findings("Found now, and not before", found.new, shut=False)]
    gone = () if found.unread[1] else found.gone  # else it may only be out of sight
    parts += [*_details(found), *_findings("No longer found", gone, shut=True), *_totals(found)]
    return [*head, *parts, *(_drawing(excerpt) if excerpt else ())]


def _drawing(excerpt: str) -> Iterator[str]:
    """The drawing as one line of the comment: half of it would be none."""
    head = "<details><summary>The ways that changed, as they are now</summary>"
    yield "\n".join(("", head, "", "```mermaid", excerpt.rstrip("\n"), "```", "", "</details>"))


def comment_words(text: str) -> str:
    """Text that a comment prints as it stands, on one line."""
    return markdown_words(text).replace("@", f"@{NOBODY}")


def fitted(lines: Sequence[str]) -> str:
    """As many lines as hosts take; what has no room is counted, a drawing first."""
    drawings = [at for at, line in enumerate(lines) if "```mermaid" in line]
    size = sum(len(line) + 1 for line in lines)
    left_out: set[int] = set()
    while size > LARGEST and drawings:
        at = drawings.pop()
        left_out.add(at)
        size -= len(lines[at]) + 1
    kept: list[str] = []
    size = 0
    for at, line in enumerate(lines):
        if at in left_out:
            continue
        size += len(line) + 1
        if size > LARGEST:
            open_ones = sum(one.count("<details") - one.count("</details>") for one in kept)
            more = f"\n{len(lines) - at} more lines have no room here: `rigdsl compare` tells them."
            return "\n".join([*kept, *["</details>"] * open_ones, more])
        kept.append(line)
    return "\n".join(kept)


def _todo(steps: Sequence[Step]) -> Iterator[str]:
    """What hands must do otherwise, zone by zone."""
    if not steps:
        return
    yield "To do otherwise on stage:"
    yield ""
    for zone, some in groupby(steps, key=lambda step: step.zone):
        yield f"**{comment_words(zone or 'in no zone')}**"
        yield ""
        yield from (f"- [ ] {comment_words(_by_hand(step))}" for step in some)
        yield ""


def _by_hand(step: Step) -> str:
    """`replug Snare from SL.mic 2 into SL.mic 4 (xlr 6 m)`."""
    known = "; ".join(filter(None, (step.cable, step.note)))
    known = f" ({known})" if known else ""
    match step.do:
        case "unplug":
            return f"unplug {step.what} from {step.off}{known}"
        case "swap":
            return f"swap: {step.what}{', ' if step.on else ''}{step.on}{known}"
        case "plug":
            return f"plug {step.what} into {step.on}{known}"
        case "replug":
            return f"replug {step.what} from {step.off} into {step.on}{known}"
        case "move":
            return f"move {step.what} from {step.off} to {step.on}{known}"
        case "bring":
            return f"bring {step.what}{known}"
        case "take away":
            return f"take {step.what} away{known}"


def _details(found: Review) -> Iterator[str]:
    if not found.changes and not found.more:
        return
    yield f"<details><summary>All changes ({len(found.changes)})</summary>"
    yield ""
    for change in in_runs(found.changes):
        yield f"- {comment_words(change_words(change))}"
        yield from (f"  - {comment_words(effect)}" for effect in change.effects)
    yield from (f"- {comment_words(words)}" for words in found.more)
    yield ""
    yield "</details>"
    yield ""


def _findings(head: str, findings: Sequence[Finding], *, shut: bool) -> Iterator[str]:
    if not findings:
        return
    yield f"<details{'' if shut else ' open'}><summary>{head} ({len(findings)})</summary>"
    yield ""
    for finding in sorted(findings, key=lambda one: -(one.level or Level.WARNING)):
        night = f" On the night: {comment_words(finding.consequence)}." if finding.consequence else ""
        yield f"- {finding.level or Level.WARNING}: {comment_words(finding.message)} ({finding.rule}).{night}"
    yield ""
    yield "</details>"
    yield ""


def _totals(found: Review) -> Iterator[str]:
    changed = [total for total in found.totals if differs(total.was, total.now)]
    if changed:
        yield ", ".join(comment_words(total_words(total.name, total.was, total.now)) for total in changed) + "."
