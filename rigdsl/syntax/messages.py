"""What is said about a place that does not read: the first case that fits it, as a finding.

A message names nothing of the grammar's: it says what is wrong in the words of
the trade, and its help shows how the statement should read.
"""

from __future__ import annotations

from itertools import takewhile

from rigdsl.finding import Finding, Level
from rigdsl.syntax.cases import CASES, RULES, Said, broken_over, date, gap, odd_character, unit
from rigdsl.syntax.oddities import oddity
from rigdsl.syntax.tokens import Token
from rigdsl.syntax.trouble import Trouble, named
from rigdsl.text import Source, Span

__all__ = ["LOST", "and_more", "early_end", "explained", "unclosed"]

SYNTAX = "syntax-error"

# What a mistake costs.
LOST = {
    "nothing": "",
    "line": "this line is left out: nothing that it says is checked, drawn or printed",
    "statement": "this statement is left out: nothing that it says is checked, drawn or printed",
    "whole": "without this line the whole statement is left out: nothing of it is checked, drawn or printed",
}


def explained(trouble: Trouble, lost: str) -> Finding:
    """The finding about a place where a statement does not read on; `lost` is a key of LOST."""
    rule, (place, message, help) = _said(trouble)
    subject = trouble.subject if rule == SYNTAX else place.text[:80]
    return _finding(place, subject, message, LOST[lost], help, rule)


def _said(trouble: Trouble) -> tuple[str, Said]:
    """The rule that the first fitting case is of, and what it says."""
    here = trouble.tokens[0] if trouble.at == 0 else trouble.here
    if _lone_brace(trouble):
        return SYNTAX, _brace(trouble)
    if here is None:
        return _cut_short(trouble)
    for case in CASES:
        said = case(trouble, here)
        if said:
            whole = case is odd_character or not trouble.at or (case is date and trouble.in_block)
            return RULES.get(case, SYNTAX), said if whole else _with_form(trouble, said)
    return SYNTAX, (trouble.span(here), f"{named(here)} cannot stand here", trouble.help)


def _cut_short(trouble: Trouble) -> tuple[str, Said]:
    """What is said where a line ends too early."""
    if said := unit(trouble, None):
        return RULES[unit], said
    said = broken_over(trouble) or gap(trouble, None)
    return SYNTAX, said or (trouble.behind(), "something is missing here", trouble.help)


def _with_form(trouble: Trouble, said: Said) -> Said:
    """Help shows the statement as it should be, whatever else it says."""
    place, message, help = said
    return place, message, help if trouble.form.example in help else f"{help}; {trouble.help}"


def _lone_brace(trouble: Trouble) -> bool:
    at, tokens = trouble.at, trouble.tokens
    return 1 < at < len(tokens) and tokens[at].kind == "_OPEN" and tokens[at - 1].kind == "_SEP"


def _brace(trouble: Trouble) -> Said:
    before = trouble.tokens[trouble.at - 2]
    line = trouble.source.line(trouble.source.position(before.start).line)
    head = line[: before.end - trouble.source.line_starts[trouble.source.position(before.start).line - 1]].strip()
    help = f"put it at the end of the line that it opens: `{head[:60]} {{`"
    return trouble.span(trouble.tokens[trouble.at]), "a `{` cannot stand on a line of its own", help


def unclosed(source: Source, tokens: list[Token], brace: Token) -> Finding:
    """The finding about a `{` without its `}`."""
    subject = Trouble(source, tokens, 0, (0,)).subject
    behind = takewhile(lambda token: token.text != "\n", tokens[tokens.index(brace) :])
    quote = next((token for token in behind if token.kind == "OPEN_QUOTE"), None)
    if quote is not None:  # whatever was to close the block stands inside it
        start, end, message, help = oddity(quote)
        return _finding(Span(source, start, end), subject, message, LOST["statement"], help)
    return _finding(
        Span(source, brace.start, brace.end),
        subject,
        f"the `{{` of `{subject}` is never closed",
        "where it ends is a guess: what follows may be taken for a part of it",
        "put a `}` behind the last fact that belongs to it",
    )


def early_end(source: Source, tokens: list[Token], brace: Token, lost: str) -> Finding:
    """The finding about a `}` that ends a block before its last lines; `lost` is a key of LOST."""
    subject = Trouble(source, tokens, 0, (0,)).subject
    return _finding(
        Span(source, brace.start, brace.end),
        subject,
        f"this `}}` ends `{subject}` too early: the lines behind it belong to it too",
        LOST[lost] or "they are read as if it were not there",
        "take one `}` away, so that the last one ends it",
    )


def and_more(last: Finding) -> Finding:
    """The one that stands for all that come after the most that are told."""
    return _finding(
        last.place,
        "and more",
        "there is more behind this that cannot be read",
        "what cannot be read is left out",
        "mend the first mistakes and check again",
    )


def _finding(place: Span, subject: str, message: str, consequence: str, help: str, rule: str = SYNTAX) -> Finding:
    return Finding(
        rule=rule,
        level=Level.ERROR,
        place=place,
        subject=subject,
        message=message,
        consequence=consequence,
        help=help,
    )
