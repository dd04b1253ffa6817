"""What a change means, for a terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from rigdsl.finding import Finding, Level
from rigdsl.lint.words import count
from rigdsl.reports.look import Look
from rigdsl.reports.review_runs import in_runs
from rigdsl.reports.review_words import change_words, differs, total_words
from rigdsl.review import Review

__all__ = ["NOTHING", "review_text", "summary", "unread_words"]

NOTHING = "nothing changes on stage"
MANY = {"box": "boxes", "patch": "patches", "stock": "lengths of stock", "supply": "supplies"}


def review_text(found: Review, look: Look) -> str:
    """One sentence, the changes with their effects, findings that came and went, totals."""
    return "\n".join(_lines(found, look)) + "\n"


def summary(found: Review) -> str:
    """The change in one sentence."""
    if found.nothing:
        return NOTHING
    if found.whole == "removed":
        return "the rig as it is now cannot be read" if found.unread[1] else "the rig is no longer there"
    counts = Counter((change.kind, change.what) for change in found.changes)
    told = [(kind, count(number, what, MANY.get(what, ""))) for (kind, what), number in counts.items()]
    kinds = [[words for kind, words in told if kind == wanted] for wanted in _KINDS]
    said = ", ".join(f"{_and(things)} {kind}" for kind, things in zip(_KINDS, kinds, strict=True) if things)
    said = said or "no thing changed"
    errors = sum(one.level == Level.ERROR for one in found.new)
    worse = f"; {len(found.new)} new findings" if len(found.new) != 1 else "; 1 new finding"
    worse += f", {errors} of them errors" if errors > 1 else ", an error" if errors else ""
    better = f"; {len(found.gone)} gone" if found.gone else ""
    return said + (worse if found.new else "") + better


def unread_words(found: Review) -> str:
    """That not all of it could be read, and what to do; nothing where all could."""
    if not any(found.unread):
        return ""
    which = "in both states" if all(found.unread) else "as it was" if found.unread[0] else "as it is now"
    return f"some of the rig {which} cannot be read, and is missing here: `rigdsl check` says what; mend that first"


def _and(things: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(things[:-1]), *things[-1:])))


_KINDS = ("added", "removed", "renamed", "moved", "changed")


def _lines(found: Review, look: Look) -> Iterator[str]:
    yield look.paint(look.text(summary(found)), "bold")
    if found.nothing:
        return
    if unread := unread_words(found):
        yield from look.hanging("", unread, "")
    for change in () if found.whole else in_runs(found.changes):
        yield from look.hanging("", change_words(change), "  ")
        for effect in change.effects:
            yield from look.hanging("-> ", effect, "    ")
    for words in found.more:
        yield from look.hanging("-> ", words, "  ")
    yield from _findings("found now, and not before", found.new, look)
    if not found.whole and not found.unread[1]:  # else it may only be out of sight
        yield from _findings("no longer found", found.gone, look)
    changed = [total for total in found.totals if differs(total.was, total.now)]
    if changed:
        yield ""
        yield from (look.text(total_words(total.name, total.was, total.now)) for total in changed)


def _findings(head: str, findings: Sequence[Finding], look: Look) -> Iterator[str]:
    if findings:
        yield ""
        yield look.paint(f"{head}:", "bold")
    for finding in findings:
        level = finding.level or Level.WARNING
        yield from look.hanging(f"{look.level(level)}: ", f"{finding.message} [{finding.rule}]", "  ")
        if finding.consequence:
            yield from look.hanging("on the night: ", finding.consequence, "    ")
