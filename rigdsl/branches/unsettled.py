"""What a merge leaves to a person, in words: which things clash, and what the branches did to them."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.branches.merge import Merged
from rigdsl.branches.weave import Clash
from rigdsl.syntax.forms import FORMS
from rigdsl.syntax.tokens import SILENT, Token, scan

__all__ = ["unsettled"]

SHOWN = 4  # so many are named before "and 3 more"
NAMELESS = ("use", "rig", "patch", "unpatch", "clock", "control", "power", "way", "keep", "accept", "stock", "insert")


def unsettled(done: Merged) -> str:
    """One sentence: "`keys` is not settled: both branches changed it otherwise". Nothing where nothing clashes."""
    by_reason: dict[tuple[str, str], list[str]] = {}
    for name, clash in _named(done):
        names = by_reason.setdefault(_reason(clash), [])
        if name not in names:
            names.append(name)
    return "; ".join(
        f"{_listed(names)} {'is' if len(names) == 1 else 'are'} not settled: {reason[len(names) > 1]}"
        for reason, names in by_reason.items()
    )


def _listed(names: list[str]) -> str:
    more = f" and {len(names) - SHOWN} more" if len(names) > SHOWN + 1 else ""
    return ", ".join(names[: SHOWN if more else None]) + more


def _reason(clash: Clash) -> tuple[str, str]:
    """What the branches did to one thing, and the same of several."""
    if not clash.ours or not clash.theirs:
        return ("one branch took out what the other changed",) * 2
    if not clash.base:
        return "both branches added it, each otherwise", "both branches added them, each otherwise"
    return "both branches changed it otherwise", "both branches changed them otherwise"


def _named(done: Merged) -> Iterator[tuple[str, Clash]]:
    """Each clash with what it is about: a thing by its name, or a line inside the block of one."""
    around = ""
    for made in done.made:
        if isinstance(made, str):
            around = _last_thing(made) or around
            continue
        line = next(filter(None, map(_words, (made.base or made.ours or made.theirs).split("\n"))), None)
        if line is None:
            yield "a remark", made
        elif line[0].start == 0 and line[0].text in FORMS:
            around = _name(line)
            yield around, made
        else:
            yield f"`{line[0].text}`" + (f" of {around}" if around else ""), made


def _last_thing(text: str) -> str:
    """The last thing that begins at the margin of a text."""
    for line in reversed(text.split("\n")):
        if line.partition(" ")[0] in FORMS:
            return _name(_words(line))
    return ""


def _words(line: str) -> list[Token]:
    return [token for token in scan(line) if token.kind not in SILENT and token.kind != "_SEP"]


def _name(line: list[Token]) -> str:
    """The name of a statement; where it has none, its first words."""
    if len(line) > 1 and line[0].text not in NAMELESS:
        return f"`{line[1].text}`"
    return f"`{' '.join(token.text for token in line[:2])}`"
