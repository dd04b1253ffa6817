"""What is not there: where a line ends too early, or goes on with what comes later."""

from __future__ import annotations

from rigdsl.syntax.forms import CLAUSES, GROUP_WORDS
from rigdsl.syntax.tokens import Token
from rigdsl.syntax.trouble import Trouble, named

__all__ = ["missing", "noun"]

TYPES = {
    "source": "the type of the source (`dynamic`, `condenser`, `di`, `line` ...)",
    "output": "the type of the output (`wedge`, `in-ear`, `main`, `fill` ...)",
}

# By what might stand here, the first that does: the word, and what would follow it.
BY_ACCEPTED = (
    ("_IS", "`is`", "the model"),
    ("_COLON", "`:`", "what it joins"),
    ("_ARROW", "`->`", "where it goes"),
    ("_JOIN", "`--`", "the other end"),
    ("_BY", "`by`", "the box that controls them"),
    ("_ON", "`on`", "what it is about"),
    ("_BECAUSE", "`because`", "the reason in quotes"),
    ("_X", "`x`", "the count"),
    ("_THROUGH", "`through`", "the outboard that it goes through"),
    ("_TAKES", "`takes`", "the form of card that fits it"),
    ("_TO", "`to` or `from`", "the sockets"),
    ("_FROM", "`from`", "the supply"),
    ("_RIGHT", "the closing `)`", ""),
    ("_LEFT", "the position, as `(0, 4) m`,", ""),
    ("_OPEN", "the block, `{ ... }`,", ""),
    ("NUMBER", "a number", ""),
)


def missing(trouble: Trouble) -> str:
    """The message: what is missing, and behind or before what."""
    what, more = noun(trouble)
    here, before = trouble.here, trouble.before
    behind = ""
    if here is not None and not _closes(here):
        behind = f" before {named(here)}"
        more = more if here.text in CLAUSES else ""
    elif before is not None and len(trouble.line) > 1 and before.text in CLAUSES and not more:
        behind = f" behind {named(before)}"
    if more:
        return f"{what} and {more} are missing"
    return f"{what} {'are' if what.startswith('the sockets') else 'is'} missing{behind}"


def _closes(here: Token) -> bool:
    return here.kind in ("_CLOSE", "_SEP")


def noun(trouble: Trouble) -> tuple[str, str]:
    """What is missing, in the words of the trade, and what would follow it."""
    before = trouble.before
    if before is None:
        return "the fact", ""
    if _opens(trouble, before):
        return _behind(trouble, before), ""
    if trouble.word in TYPES and not trouble.in_block and "WORD" in trouble.accepted:
        return TYPES[trouble.word], ""
    if trouble.accepted <= {"WORD", "RATIO"}:
        return "the unit", ""
    if trouble.word == "way" and "NUMBER" in trouble.accepted:
        return "the length of the way", ""
    if trouble.word == "supply" and "NUMBER" in trouble.accepted:
        return _figure(before)
    what, more = next(((what, more) for kind, what, more in BY_ACCEPTED if kind in trouble.accepted), ("something", ""))
    return (f"a comma or {what}" if _may_be_one_more(trouble) else what), more


def _may_be_one_more(trouble: Trouble) -> bool:
    """Whether what stands here may be one more of a list, with no comma before it."""
    here = trouble.here
    return "_COMMA" in trouble.accepted and here is not None and here.kind == "WORD"


def _figure(before: Token) -> tuple[str, str]:
    """What a supply still has to say: volts, amperes, or both."""
    if before.text in ("A", "mA"):
        return "the voltage", ""
    return ("the current", "") if before.text in ("V", "kV") else ("the voltage", "the current")


def _opens(trouble: Trouble, before: Token) -> bool:
    """Whether the word before this one wants something behind it, and is no name that looks so."""
    if trouble.takes_name:
        return len(trouble.line) == 1 or not before.text[0].isalpha() or before.text in CLAUSES
    if before.kind == "_MINUS":
        return True
    alone = len(trouble.accepted - {"STRING"}) <= 1 and "_OPEN" not in trouble.accepted
    return alone and (before.text in CLAUSES or len(trouble.line) == 1)


def _behind(trouble: Trouble, before: Token) -> str:
    if before.kind == "_DOT":
        return "the group behind the dot"
    if before.kind == "_MINUS":
        return "the last number of the range"
    if before.kind == "_COMMA":
        return "what follows the comma"
    if before.kind == "_COLON":
        return "the first end behind the `:`"
    if trouble.in_block and before.text in GROUP_WORDS and len(trouble.line) == 1:
        return "the name of the group"
    if len(trouble.line) == 1:
        return trouble.form.first.replace("its name", f"the name of {_the(trouble.what)}")
    if trouble.word == "power":
        return "the supply"
    if trouble.word == "way" and before.kind == "_JOIN":
        return "the zone at the other end"
    if before.text in CLAUSES:
        return CLAUSES[before.text]
    return "a name"


def _the(what: str) -> str:
    return "the " + what.split(" ", 1)[1] if what.startswith(("a ", "an ")) else what
