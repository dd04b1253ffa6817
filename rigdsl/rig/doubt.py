"""One cause, one finding: what a mistake leaves in doubt, so that nothing else is said of it until it is mended."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from rigdsl.finding import Finding, Related
from rigdsl.syntax import nodes as syntax
from rigdsl.text import Source, Span

__all__ = ["Doubts", "folded", "meant", "one_sided"]

# Facts that nothing else is worked out from: a mistake in one leaves no other answer in doubt.
HARMLESS = frozenset(("address", "firmware", "label", "mic", "note", "poe", "power", "serial", "stand", "weight"))
MOST_RELATED = 12


class Doubts:
    """Where the findings of a rig are, for asking which statements have one in them."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        places: dict[Source, list[int]] = defaultdict(list)
        for finding in findings:
            places[finding.place.source].append(finding.place.start)
        self._places = {source: sorted(starts) for source, starts in places.items()}

    def about(self, statement: syntax.Statement) -> bool:
        """Whether a finding stands in a statement, other than in a fact that matters to nothing else."""
        inside = self._inside(statement.span)
        if not inside:
            return False
        harmless = [fact.span for fact in _facts(statement) if fact.name.text in HARMLESS]
        return any(not any(span.start <= start <= span.end for span in harmless) for start in inside)

    def _inside(self, span: Span) -> Sequence[int]:
        starts = self._places.get(span.source, [])
        return starts[bisect_left(starts, span.start) : bisect_left(starts, span.end + 1)]


def _facts(statement: syntax.Statement) -> Iterator[syntax.Fact]:
    yield from getattr(statement, "facts", ())
    for group in getattr(statement, "groups", ()):
        yield from group.facts


def meant(statement: syntax.Statement) -> tuple[str, ...]:
    """What a line that could not be read began with, also where that word is lost: `link` where there is a `--`."""
    if not isinstance(statement, syntax.Broken):
        return ()
    text = statement.span.text[:4000]
    return tuple(word for sign, word in (("--", "link"), ("->", "patch")) if sign in text)


def one_sided(statement: syntax.Broken, known: Iterable[str]) -> bool:
    """A cable or a patch that could not be read and names fewer than two of the known things: it may be anyone's."""
    if not meant(statement) and (statement.word is None or statement.word.text not in ("link", "patch")):
        return False
    words = set(statement.span.text.replace(".", " ").replace(":", " ").split())
    return len(words.intersection(known)) < 2


def folded(findings: Iterable[Finding]) -> list[Finding]:
    """One finding for each name or socket that is not there, at the first of its places; the others beside it."""
    kept: list[Finding] = []
    first: dict[str, int] = {}
    others: dict[int, list[Related]] = defaultdict(list)
    for finding in findings:
        if finding.rule in ("unknown-name", "no-such-port"):
            if finding.message in first:
                others[first[finding.message]].append(Related(finding.place, "it is named here too"))
                continue
            first[finding.message] = len(kept)
        kept.append(finding)
    for at, related in others.items():
        kept[at] = replace(kept[at], related=(*kept[at].related, *related[:MOST_RELATED]))
    return kept
