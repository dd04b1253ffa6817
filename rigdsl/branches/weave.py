"""The parts of two changed texts in one order, each once: ours first, then theirs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from rigdsl.branches.naming import words
from rigdsl.branches.parts import Part, block_of, fields_of, has_block, head_of
from rigdsl.branches.remarks import last_remarks, shared, with_others
from rigdsl.branches.sides import Both, Side, held, taken_in

__all__ = ["Clash", "Made", "Texts", "weave"]


class Clash(NamedTuple):
    """What both sides changed, each otherwise, and what it was; nothing where it is not there."""

    base: str
    ours: str
    theirs: str


Made = str | Clash


class Texts(NamedTuple):
    """The three whole texts that parts are cut from."""

    base: str
    ours: str
    theirs: str


def weave(texts: Texts, base: list[Part], ours: list[Part], theirs: list[Part]) -> Iterator[Made]:
    """The parts of both sides in one order. What stands in the same order on both is settled one by one."""
    both = held(base, ours, theirs)
    remarks = with_others(both)
    at_ours = at_theirs = 0
    for end_ours, end_theirs in [*both.in_step, (len(ours), len(theirs))]:
        mine = [number for number in range(at_ours, end_ours) if number not in remarks.ours]
        other = [number for number in range(at_theirs, end_theirs) if number not in remarks.theirs]
        first, last = shared(both, mine, other)
        mine, other = mine[: len(mine) - last], other[first:]
        split = len(mine) - (0 if last else last_remarks(both, mine, other, end_ours))
        yield from _of_ours(texts, both, mine[:split], remarks.above_ours)
        yield from _of_theirs(texts, both, other, remarks.above_theirs)
        yield from _of_ours(texts, both, mine[split:], remarks.above_ours)
        if end_ours < len(ours):
            was = both.ours.known.was[end_ours]
            if was is None:
                yield _new_on_both(both, end_ours, end_theirs)
            else:
                yield from _settled(texts, base[was], ours[end_ours], theirs[end_theirs])
        at_ours, at_theirs = end_ours + 1, end_theirs + 1


def _of_ours(texts: Texts, both: Both, run: Sequence[int], above: Mapping[int, str]) -> Iterator[Made]:
    """What our side has in a stretch in which the sides differ: new there, moved there, or taken away by them."""
    base, ours, theirs, twins, _ = both
    for number in run:
        part, was, remarks = ours.parts[number], ours.known.was[number], above.get(number, "")
        if was is None:
            yield remarks
            twin = twins.get(number)
            yield _new_on_one(both, ours, theirs, part) if twin is None else _new_on_both(both, number, twin)
        elif was not in theirs.known.at:
            if remarks or not _same(base[was], part):
                yield Clash(base[was].text, remarks + part.text, "")
        elif was not in ours.known.stay:
            yield remarks
            yield from _settled(texts, base[was], part, theirs.parts[theirs.known.at[was]])


def _of_theirs(texts: Texts, both: Both, run: Sequence[int], above: Mapping[int, str]) -> Iterator[Made]:
    """What their side has there and ours has not: what is on both sides stands where ours has it."""
    base, ours, theirs, twins, _ = both
    told = set(twins.values()) if run else set()
    for number in run:
        part, was, remarks = theirs.parts[number], theirs.known.was[number], above.get(number, "")
        if was is None:
            if number not in told:
                yield _new_on_one(both, theirs, ours, part)
        elif was not in ours.known.at:
            if remarks or not _same(base[was], part):
                yield Clash(base[was].text, "", remarks + part.text)
        elif was not in theirs.known.stay and was in ours.known.stay:
            yield remarks
            yield from _settled(texts, base[was], ours.parts[ours.known.at[was]], part)


def _new_on_one(both: Both, side: Side, other: Side, part: Part) -> Made:
    """A new line of one side; a clash where it has taken in what the other took out, beside what stayed there."""
    old = taken_in(both.base, side, part)
    there = {one for new in other.new for one in taken_in(both.base, other, other.parts[new])} if old else set()
    if all(one in other.known.at or one in there for one in old):
        return part.text
    texts = part.text, _beside(other, old)
    return Clash("".join(both.base[one].text for one in old), *(texts if side is both.ours else reversed(texts)))


def _new_on_both(both: Both, ours: int, theirs: int) -> Made:
    """A new line of both sides. What one took into its line, the other has beside its own."""
    mine, other = both.ours.parts[ours], both.theirs.parts[theirs]
    if _same(mine, other):
        return mine.text
    by_us, by_them = taken_in(both.base, both.ours, mine), taken_in(both.base, both.theirs, other)
    base = "".join(both.base[old].text for old in sorted({*by_us, *by_them}))
    return Clash(base, _beside(both.ours, by_them) + mine.text, _beside(both.theirs, by_us) + other.text)


def _beside(side: Side, old: Sequence[int]) -> str:
    return "".join(side.parts[side.known.at[one]].text for one in old if one in side.known.at)


# ---- one part on both sides


def _same(one: Part, other: Part) -> bool:
    """Whether two parts say the same in the same words, however they are laid out."""
    return one.text == other.text or words(one.text) == words(other.text)


def _settled(texts: Texts, base: Part, ours: Part, theirs: Part) -> Iterator[Made]:
    """What becomes of one thing that is on both sides."""
    if ours.text == base.text:
        yield theirs.text
    elif theirs.text == base.text or _same(ours, theirs):
        yield ours.text
    elif _same(ours, base):
        yield theirs.text
    elif _same(theirs, base):
        yield ours.text
    else:
        yield from _inside(texts, base, ours, theirs)


def _inside(texts: Texts, base: Part, ours: Part, theirs: Part) -> Iterator[Made]:
    """The parts of a thing that both sides changed; one clash where it has none."""
    clash = Clash(base.text, ours.text, theirs.text)
    if base.named and not base.key == ours.key == theirs.key:
        yield clash
        return
    three = (base, ours, theirs)
    blocks = [block_of(part, text) for part, text in zip(three, texts, strict=True)]
    if any(blocks):
        if any(
            block is None and (has_block(part) or not part.is_line) for block, part in zip(blocks, three, strict=True)
        ):
            yield clash
            return
        found = [block or head_of(part) for block, part in zip(blocks, three, strict=True)]
        yield from weave(texts, found[0], found[1], found[2])
        return
    fields = [fields_of(part) for part in three]
    if any(part is None for part in fields):
        yield clash
        return
    found = [part for part in fields if part is not None]
    yield _line(texts, found[0], found[1], found[2]) or clash


def _line(texts: Texts, base: list[Part], ours: list[Part], theirs: list[Part]) -> str | None:
    """One line from its fields; None where two of them clash."""
    made = [one for one in weave(texts, base, ours, theirs) if one]
    if any(isinstance(one, Clash) for one in made):
        return None
    several = len(ours) > 1 and all(part.nodes for part in ours[:-1])
    return "".join(_separated([one for one in made if isinstance(one, str)], several))


def _separated(fields: Sequence[str], several: bool) -> Iterator[str]:
    """Fields with a `;` between facts, and none where a line or a block begins. `several`: they are statements."""
    apart = several
    first = True
    for field in fields:
        bare = field.lstrip(" \t;")
        lead = field[: len(field) - len(bare)]
        if bare.startswith("}"):
            apart = False
        if not apart or not bare.strip() or bare.startswith("#"):
            yield field
        elif first:
            yield lead.replace(";", "") + bare
        else:
            yield field if ";" in lead else f"; {bare}"
        first = False
        if bare == "{":
            apart = first = True
