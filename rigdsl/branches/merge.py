"""Two changed texts of one rig file and the text both came from, to one text: by what things are called.

Everything stays as it was written, and in its order. What one side changed is taken; what both changed is taken from
both where it is about different facts, and is a clash where it is about the same one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rigdsl.branches.identity import Known, TooMuchError, known
from rigdsl.branches.parts import (
    BLANK,
    REMARK,
    Key,
    Part,
    block_of,
    fields_of,
    has_block,
    head_of,
    lines_of,
    words,
)
from rigdsl.syntax import parse
from rigdsl.text import Source

__all__ = ["MARKS", "Clash", "Marks", "Merged", "merged", "sound"]


class Clash(NamedTuple):
    """What both sides changed, each otherwise, and what it was; nothing where it is not there."""

    base: str
    ours: str
    theirs: str


class Marks(NamedTuple):
    """The marks that git sets around a clash: what the sides are called, how long marks are, if the base is shown."""

    ours: str = "ours"
    theirs: str = "theirs"
    base: str = "base"
    size: int = 7
    shows_base: bool = False


MARKS = Marks()


Made = str | Clash


class Merged(NamedTuple):
    """The texts of a merge, one behind the other, and what clashes between them."""

    made: tuple[Made, ...]

    @property
    def clashes(self) -> int:
        """How many places a person must settle."""
        return sum(isinstance(one, Clash) for one in self.made)

    def text(self, marks: Marks = MARKS) -> str:
        """All of it, with marks around what clashes."""
        return "".join(one if isinstance(one, str) else _marked(one, marks) for one in self.made)


class Texts(NamedTuple):
    """The three whole texts that parts are cut from."""

    base: str
    ours: str
    theirs: str


def merged(base: str, ours: str, theirs: str) -> Merged | None:
    """The merge of three texts that end in a line end, or are empty.

    None where one cannot be read, or it is in doubt what became of what.
    """
    for one, other, same in ((ours, base, theirs), (theirs, base, ours), (ours, theirs, ours)):
        if one == other:
            return Merged((same,))
    cut = [_cut(text) for text in (base, ours, theirs)]
    if not all(isinstance(parts, list) for parts in cut):
        return None
    lines = [parts for parts in cut if parts is not None]
    try:
        done = Merged(tuple(_weave(Texts(base, ours, theirs), lines[0], lines[1], lines[2])))
    except TooMuchError:
        return None
    return done if done.clashes or sound(done.text(), ours, theirs) else None


def _cut(text: str) -> list[Part] | None:
    read = parse(Source("", text))
    return None if read.findings else lines_of(text, read.statements, 0, len(text))


def sound(text: str, ours: str, theirs: str) -> bool:
    """Whether a merged text can be read, and no name is given more often in it than on either side."""
    cut = [_cut(one) for one in (text, ours, theirs)]
    counts = [Counter(part.key for part in parts or () if part.named) for parts in cut]
    most = counts[1] | counts[2]
    return cut[0] is not None and all(count <= most[key] for key, count in counts[0].items())


def _marked(clash: Clash, marks: Marks) -> str:
    size = marks.size
    was = f"{'|' * size} {marks.base}\n{clash.base}" if marks.shows_base else ""
    between = f"{was}{'=' * size}\n"
    return f"{'<' * size} {marks.ours}\n{clash.ours}{between}{clash.theirs}{'>' * size} {marks.theirs}\n"


# ---- the order of parts


def _weave(texts: Texts, base: list[Part], ours: list[Part], theirs: list[Part]) -> Iterator[Made]:
    """The parts of both sides in one order. What stands in the same order on both is settled one by one."""
    added = _new_keys(base, ours) & _new_keys(base, theirs)
    sides = known(base, ours, added), known(base, theirs, added)
    at_ours = at_theirs = 0
    for number in [*sorted(sides[0].stay & sides[1].stay), None]:
        end_ours = len(ours) if number is None else sides[0].at[number]
        end_theirs = len(theirs) if number is None else sides[1].at[number]
        between = range(at_ours, end_ours), range(at_theirs, end_theirs)
        yield from _between(texts, (base, ours, theirs), sides, between)
        if number is not None:
            yield from _settled(texts, base[number], ours[end_ours], theirs[end_theirs])
        at_ours, at_theirs = end_ours + 1, end_theirs + 1


def _new_keys(base: Sequence[Part], side: Sequence[Part]) -> set[Key]:
    return {part.key for part in side if not part.is_gap} - {part.key for part in base}


def _between(
    texts: Texts,
    parts: tuple[list[Part], list[Part], list[Part]],
    sides: tuple[Known, Known],
    runs: tuple[range, range],
) -> Iterator[Made]:
    """A stretch in which the sides differ: ours first, then theirs, each thing once."""
    base, ours, theirs = parts
    mine, other = sides
    new_ours = {part.key: number for number, part in enumerate(ours) if mine.was[number] is None and not part.is_gap}
    new_theirs = {part.key: at for at, part in enumerate(theirs) if other.was[at] is None and not part.is_gap}
    for number in runs[0]:
        part, was = ours[number], mine.was[number]
        if was is None:
            twin = new_theirs.get(part.key)
            yield from [part.text] if twin is None else _settled(texts, None, part, theirs[twin])
        elif was not in other.at:
            if not _same(base[was], part):
                yield Clash(base[was].text, part.text, "")
        elif was not in mine.stay:
            yield from _settled(texts, base[was], part, theirs[other.at[was]])
    twice = _twice([ours[at] for at in runs[0]], [theirs[at] for at in runs[1]])
    for place, number in enumerate(runs[1]):
        part, was = theirs[number], other.was[number]
        if was is None:
            if part.key not in new_ours and place not in twice:
                yield part.text
        elif was not in mine.at:
            if not _same(base[was], part):
                yield Clash(base[was].text, "", part.text)
        elif was not in other.stay and was in mine.stay:
            yield from _settled(texts, base[was], ours[mine.at[was]], part)


def _twice(ours: Sequence[Part], theirs: Sequence[Part]) -> set[int]:
    """The places of their remarks and blank lines with which both stretches begin, or end, in the same way."""
    shorter = min(len(ours), len(theirs))
    first = 0
    while first < shorter and ours[first].text == theirs[first].text:
        first += 1
    last = 0
    while last < shorter - first and ours[-1 - last].text == theirs[-1 - last].text:
        last += 1
    rest = theirs[first : len(theirs) - last]
    places = {*range(first), *range(len(theirs) - last, len(theirs))}
    headed = bool(rest) and rest[0].key == REMARK  # a heading of theirs stays apart from what is above it
    return {at for at in places if theirs[at].is_gap and not (at >= first and headed and theirs[at].key == BLANK)}


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
        yield from _weave(texts, found[0], found[1], found[2])
        return
    fields = [fields_of(part) for part in three]
    if any(part is None for part in fields):
        yield clash
        return
    found = [part for part in fields if part is not None]
    yield _line(texts, found[0], found[1], found[2]) or clash


def _line(texts: Texts, base: list[Part], ours: list[Part], theirs: list[Part]) -> str | None:
    """One line from its fields; None where two of them clash."""
    made = [one for one in _weave(texts, base, ours, theirs) if one]
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
