"""What a change means, as a comment on a request to merge it: short first, details folded, good on a phone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigdsl.finding import Finding, Level
from rigdsl.reports.paper_md import markdown_words as _words
from rigdsl.reports.review_runs import in_runs
from rigdsl.reports.review_text import summary
from rigdsl.reports.review_words import change_words, field_words, total_words
from rigdsl.review import Change, Review

__all__ = ["LARGEST", "fitted", "review_md"]

LARGEST = 60_000  # characters: hosts take 65,536 in a comment, and say nothing where there are more
MARKER = "<!-- rigdsl compare -->"  # by which a later run finds the comment that it made
MARGIN = 2_000  # of characters: lines ends, and what stands around a drawing
PLUGS = ("source", "output", "link", "insert")


def review_md(found: Review, title: str, excerpt: str = "") -> str:
    """The comment. What has no room is counted; `excerpt` is a drawing of what changed, in Mermaid."""
    head = [MARKER, f"**{_words(title)}**: {_words(summary(found))}.", ""]
    if found.nothing:
        return "\n".join(head)
    if found.whole:
        return fitted([*head, *_findings("Found in it", found.new, shut=False), *_totals(found)])
    parts = [*_replug(found.changes), *_findings("Found now, and not before", found.new, shut=False)]
    parts += [*_details(found), *_findings("No longer found", found.gone, shut=True), *_totals(found)]
    drawn = len(excerpt) + sum(map(len, parts)) < LARGEST - MARGIN
    return fitted([*head, *parts, *(_drawing(excerpt) if excerpt and drawn else ())])


def _drawing(excerpt: str) -> Iterator[str]:
    yield ""
    yield "<details><summary>The ways that changed, as they are now</summary>"
    yield ""
    yield from ("```mermaid", excerpt.rstrip("\n"), "```", "", "</details>")


def fitted(lines: Sequence[str]) -> str:
    """As many lines as hosts take; what has no room is counted."""
    kept: list[str] = []
    size = 0
    for at, line in enumerate(lines):
        size += len(line) + 1
        if size > LARGEST:
            shut = "</details>" if "</details>" in lines[at:] and "<details>" in "".join(kept) else ""
            more = f"\n{len(lines) - at} more lines have no room here: `rigdsl compare` tells them."
            return "\n".join([*kept, shut, more])
        kept.append(line)
    return "\n".join(kept)


def _replug(changes: Sequence[Change]) -> Iterator[str]:
    """What hands must do otherwise, in the order of the things on stage."""
    todo = [
        change
        for change in changes
        if change.what in PLUGS and (change.kind in ("added", "removed", "moved") or "lead" in change.fields)
    ]
    if todo:
        yield "To do otherwise on stage:"
        yield ""
        for change in todo:
            yield f"- [ ] {_words(_by_hand(change))}"
        yield ""


def _by_hand(change: Change) -> str:
    if change.kind in ("added", "removed"):
        return change_words(change)
    some = [field_words(name, *values) for name, values in change.fields.items() if name in ("ports", "lead", "joins")]
    return f"{change.what} {change.name}: {'; '.join(some)}" if some else change_words(change)


def _details(found: Review) -> Iterator[str]:
    if not found.changes and not found.more:
        return
    yield f"<details><summary>All changes ({len(found.changes)})</summary>"
    yield ""
    for change in in_runs(found.changes):
        yield f"- {_words(change_words(change))}"
        yield from (f"  - {_words(effect)}" for effect in change.effects)
    yield from (f"- {_words(words)}" for words in found.more)
    yield ""
    yield "</details>"
    yield ""


def _findings(head: str, findings: Sequence[Finding], *, shut: bool) -> Iterator[str]:
    if not findings:
        return
    yield f"<details{'' if shut else ' open'}><summary>{head} ({len(findings)})</summary>"
    yield ""
    for finding in sorted(findings, key=lambda one: -(one.level or Level.WARNING)):
        night = f" On the night: {_words(finding.consequence)}." if finding.consequence else ""
        yield f"- {finding.level or Level.WARNING}: {_words(finding.message)} ({finding.rule}).{night}"
    yield ""
    yield "</details>"
    yield ""


def _totals(found: Review) -> Iterator[str]:
    changed = [total for total in found.totals if total.was != total.now]
    if changed:
        yield ", ".join(_words(total_words(total.name, total.was, total.now)) for total in changed) + "."
