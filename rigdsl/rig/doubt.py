"""One cause, one finding: what a mistake leaves in doubt, so that nothing else is said of it until it is mended."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from rigdsl.finding import Finding, Related
from rigdsl.syntax import nodes as syntax
from rigdsl.text import Source, Span

__all__ = ["Doubts", "folded", "meant", "one_sided", "wording"]

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


_SAID_ASIDE = re.compile(r'"(?:[^"\\\n]|\\[^\n])*"|#[^\n]*')
MOST_READ = 4000  # characters of a statement that names are looked for in


def wording(statement: syntax.Statement) -> str:
    """What a statement says in words of its own, names among them: without quoted texts and comments."""
    return _SAID_ASIDE.sub(" ", statement.span.text[:MOST_READ])


def meant(statement: syntax.Statement) -> tuple[str, ...]:
    """What a line that could not be read began with, also where that word is lost: `link` where there is a `--`."""
    if not isinstance(statement, syntax.Broken):
        return ()
    text = wording(statement)
    return tuple(word for sign, word in (("--", "link"), ("->", "patch")) if sign in text)


def one_sided(statement: syntax.Broken, known: Iterable[str]) -> bool:
    """A cable or a patch that could not be read and names fewer than two of the known things: it may be anyone's."""
    if not meant(statement) and (statement.word is None or statement.word.text not in ("link", "patch")):
        return False
    words = set(wording(statement).replace(".", " ").replace(":", " ").split())
    return len(words.intersection(known)) < 2


# How it is said that no zone, box, link, source, output or supply has a name: these are one set.
NO_SUCH_THING = tuple(f"there is no {what}" for what in ("zone", "box", "link", "source", "output", "supply"))
NO_SUCH_NAME = (*NO_SUCH_THING, "nothing is called", "no used file has")


def _same(finding: Finding, models: Mapping[str, str]) -> tuple[str, str]:
    """What findings have in common that miss one and the same thing: a name, or a group of one model's."""
    if (
        finding.message.startswith(NO_SUCH_NAME)
        and " called `" in finding.message
        and " type of " not in finding.message
    ):
        return "name", finding.subject
    box = finding.subject.partition(".")[0]
    if finding.rule == "no-such-port" and box in models and "` has no group `" in finding.message:
        return models[box], finding.place.text
    return "", finding.message


def folded(findings: Iterable[Finding], models: Mapping[str, str]) -> list[Finding]:
    """One finding for each name or socket that is not there, at the first of its places; the others beside it.

    `models` are the names of boxes' models by the boxes' names.
    """
    kept: list[Finding] = []
    first: dict[tuple[str, str], int] = {}
    others: dict[int, list[Related]] = defaultdict(list)
    for finding in findings:
        if finding.rule in ("unknown-name", "no-such-port"):
            same = _same(finding, models)
            if same in first:
                others[first[same]].append(Related(finding.place, "it is named here too"))
                continue
            first[same] = len(kept)
        kept.append(finding)
    for at, related in others.items():
        kept[at] = replace(kept[at], related=(*kept[at].related, *related[:MOST_RELATED]))
    return kept
