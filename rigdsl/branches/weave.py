"""The parts of two changed texts in one order, each once: ours first, then theirs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rigdsl.branches.identity import Known, by_key, known
from rigdsl.branches.parts import REMARK, Key, Part, block_of, fields_of, has_block, head_of, words

__all__ = ["Clash", "Made", "Texts", "weave"]


class Clash(NamedTuple):
    """What both sides changed, each otherwise, and what it was; nothing where it is not there."""

    base: str
    ours: str
    theirs: str


Made = str | Clash
Name = tuple[Key, int]  # a key, and which of several of one key it is


class Texts(NamedTuple):
    """The three whole texts that parts are cut from."""

    base: str
    ours: str
    theirs: str


class Side(NamedTuple):
    """The parts of a changed text, which of the old ones they were, and the names of those that are new."""

    parts: list[Part]
    known: Known
    new: dict[int, Name]


class Both(NamedTuple):
    """Both sides, the old parts, and the texts that all are cut from."""

    texts: Texts
    base: list[Part]
    ours: Side
    theirs: Side
    twins: dict[int, int]  # what is new on both: from its number on our side to that on theirs


def _side(base: Sequence[Part], parts: list[Part], added: set[Key]) -> Side:
    found = known(base, parts, added)
    new = [number for number, was in enumerate(found.was) if was is None]
    names = by_key([parts[number] for number in new])
    return Side(parts, found, {new[number]: name for name, number in names.items()})


def _new_keys(base: Sequence[Part], side: Sequence[Part]) -> set[Key]:
    return {part.key for part in side if not part.is_gap} - {part.key for part in base}


def weave(texts: Texts, base: list[Part], ours: list[Part], theirs: list[Part]) -> Iterator[Made]:
    """The parts of both sides in one order. What stands in the same order on both is settled one by one."""
    added = _new_keys(base, ours) & _new_keys(base, theirs)
    sides = _side(base, ours, added), _side(base, theirs, added)
    there = {name: number for number, name in sides[1].new.items()}
    both = Both(texts, base, *sides, {at: there[name] for at, name in sides[0].new.items() if name in there})
    at_ours = at_theirs = 0
    for end_ours, end_theirs in [*_in_step(both), (len(ours), len(theirs))]:
        runs = range(at_ours, end_ours), range(at_theirs, end_theirs)
        first, last = _shared(both, *runs)
        yield from _of_ours(both, runs[0][: len(runs[0]) - last])
        yield from _of_theirs(both, runs[1][first:])
        if end_ours < len(ours):
            was = sides[0].known.was[end_ours]
            yield from _settled(texts, None if was is None else base[was], ours[end_ours], theirs[end_theirs])
        at_ours, at_theirs = end_ours + 1, end_theirs + 1


def _in_step(both: Both) -> Iterator[tuple[int, int]]:
    """The numbers of what is on both sides in one order: old parts that nobody moved, and new ones between them."""
    ours, theirs = both.ours.known, both.theirs.known
    stay = [(ours.at[number], theirs.at[number]) for number in sorted(ours.stay & theirs.stay)]
    new = sorted(both.twins.items())
    at, last = 0, -1
    for end_ours, end_theirs in [*stay, (len(ours.was), len(theirs.was))]:
        while at < len(new) and new[at][0] < end_ours:
            if last < new[at][1] < end_theirs:
                yield new[at]
                last = new[at][1]
            at += 1
        if end_ours < len(ours.was):
            yield end_ours, end_theirs
        last = end_theirs


def _of_ours(both: Both, run: range) -> Iterator[Made]:
    """What our side has in a stretch in which the sides differ: new there, moved there, or taken away by them."""
    texts, base, ours, theirs, twins = both
    for number in run:
        part, was = ours.parts[number], ours.known.was[number]
        if was is None:
            twin = twins.get(number)
            yield from [part.text] if twin is None else _settled(texts, None, part, theirs.parts[twin])
        elif was not in theirs.known.at:
            if not _same(base[was], part):
                yield Clash(base[was].text, part.text, "")
        elif was not in ours.known.stay:
            yield from _settled(texts, base[was], part, theirs.parts[theirs.known.at[was]])


def _of_theirs(both: Both, run: range) -> Iterator[Made]:
    """What their side has there and ours has not: what is on both sides stands where ours has it."""
    texts, base, ours, theirs, twins = both
    told = set(twins.values()) if run else set()
    for number in run:
        part, was = theirs.parts[number], theirs.known.was[number]
        if was is None:
            if number not in told:
                yield part.text
        elif was not in ours.known.at:
            if not _same(base[was], part):
                yield Clash(base[was].text, "", part.text)
        elif was not in theirs.known.stay and was in ours.known.stay:
            yield from _settled(texts, base[was], ours.parts[ours.known.at[was]], part)


def _shared(both: Both, ours: range, theirs: range) -> tuple[int, int]:
    """With how many new remarks and blank lines both stretches begin, and end, in the same way: they come in once."""
    mine, other = _new_lines(both.ours, ours), _new_lines(both.theirs, theirs)
    shorter = min(len(mine), len(other))
    first = 0
    while first < shorter and mine[first] and mine[first] == other[first]:
        first += 1
    last = 0
    while last < shorter - first and mine[-1 - last] and mine[-1 - last] == other[-1 - last]:
        last += 1
    rest = both.theirs.parts[theirs.start + first : theirs.stop - last]
    if len(mine) > first + last and rest[:1] and rest[0].key == REMARK:  # a heading of theirs stays apart from ours
        first = first if any(map(str.strip, other[:first])) else 0
        last = last if any(map(str.strip, other[len(other) - last :])) else 0
    return first, last


def _new_lines(side: Side, run: range) -> list[str]:
    """The remarks and blank lines of a stretch that are new; nothing for each other part of it."""
    pairs = ((side.parts[number], side.known.was[number]) for number in run)
    return [part.text if part.is_gap and was is None else "" for part, was in pairs]


# ---- one part on both sides


def _same(one: Part, other: Part) -> bool:
    """Whether two parts say the same in the same words, however they are laid out."""
    return one.text == other.text or words(one.text) == words(other.text)


def _settled(texts: Texts, base: Part | None, ours: Part, theirs: Part) -> Iterator[Made]:
    """What becomes of one thing that is on both sides."""
    if base is not None and ours.text == base.text:
        yield theirs.text
    elif (base is not None and theirs.text == base.text) or _same(ours, theirs):
        yield ours.text
    elif base is not None and _same(ours, base):
        yield theirs.text
    elif base is not None and _same(theirs, base):
        yield ours.text
    else:
        yield from _inside(texts, base, ours, theirs)


def _inside(texts: Texts, base: Part | None, ours: Part, theirs: Part) -> Iterator[Made]:
    """The parts of a thing that both sides changed; one clash where it has none."""
    clash = Clash(base.text if base else "", ours.text, theirs.text)
    renamed = base is not None and base.named and not base.key == ours.key == theirs.key
    if base is None or renamed:
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
