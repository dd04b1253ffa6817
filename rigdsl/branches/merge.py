"""Two changed texts of one rig file and the text both came from, to one text: by what things are called.

Everything stays as it was written, and in its order. What one side changed is taken; what both changed is taken from
both where it is about different facts, and is a clash where it is about the same one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from rigdsl.branches.likeness import TooMuchError
from rigdsl.branches.naming import Key, all_names
from rigdsl.branches.parts import Part, lines_of
from rigdsl.branches.weave import Clash, Made, Texts, weave
from rigdsl.syntax import parse
from rigdsl.text import Source

__all__ = ["MARKS", "Marks", "Merged", "by_lines", "merged", "sound"]


class Marks(NamedTuple):
    """The marks that git sets around a clash: what the sides are called, how long marks are, if the base is shown."""

    ours: str = "ours"
    theirs: str = "theirs"
    base: str = "base"
    size: int = 7
    shows_base: bool = False


MARKS = Marks()


class Merged(NamedTuple):
    """The texts of a merge, one behind the other, and what clashes between them."""

    made: tuple[Made, ...]

    @property
    def clashes(self) -> tuple[Clash, ...]:
        """What a person must settle."""
        return tuple(one for one in self.made if isinstance(one, Clash))

    def text(self, marks: Marks = MARKS) -> str:
        """All of it, with marks around what clashes."""
        return "".join(one if isinstance(one, str) else _marked(one, marks) for one in self.made)


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
        done = Merged(tuple(weave(Texts(base, ours, theirs), lines[0], lines[1], lines[2])))
    except TooMuchError:
        return None
    if done.clashes or sound(done.text(), ours, theirs):
        return done
    return _twice(done.text(), base, ours, theirs)


def _cut(text: str) -> list[Part] | None:
    read = parse(Source("", text))
    return None if read.findings else lines_of(text, read.statements, 0, len(text))


def _twice(text: str, base: str, ours: str, theirs: str) -> Merged | None:
    """A merge in which something is named more often than on either side: the last to name it is left to a person."""
    parts, too_often = _cut(text) or [], _too_often(text, ours, theirs)
    found = [at for at, part in enumerate(parts) if not too_often.isdisjoint(all_names(part.nodes))]
    if not found:
        return None
    at, texts = found[-1], [part.text for part in parts]
    sides = [_one_with(_cut(one) or [], parts[at], too_often) for one in (base, ours, theirs)]
    clash = Clash(*sides) if any(sides[1:]) else Clash("", texts[at], "")
    return Merged(("".join(texts[:at]), clash, "".join(texts[at + 1 :])))


def _one_with(side: Sequence[Part], part: Part, besides: set[Key]) -> str:
    """The text of a part that gives one of the names of another part, or is just like it; nothing if there is none."""
    names = set(all_names(part.nodes)) - besides
    return next((one.text for one in side if one.key == part.key or not names.isdisjoint(all_names(one.nodes))), "")


def by_lines(done: Merged, lines: str, ours: str, theirs: str) -> bool:
    """Whether a clean merge of lines is as good an answer where things clash by name: in a block laid out oddly, say.

    Not where one side took away what the other has changed: to a merge of lines it may only have moved. Nor where both
    moved and changed one thing: the lines have it twice.
    """
    one_sided = any(not clash.ours or not clash.theirs for clash in done.clashes)
    twice = any(clash.ours in lines and clash.theirs in lines for clash in done.clashes)
    return not one_sided and not twice and sound(lines, ours, theirs)


def sound(text: str, ours: str, theirs: str) -> bool:
    """Whether a merged text can be read, and no name or fact is given more often in it than on either side."""
    return _cut(text) is not None and not _too_often(text, ours, theirs)


def _too_often(text: str, ours: str, theirs: str) -> set[Key]:
    counts = [Counter(all_names(parse(Source("", one)).statements)) for one in (text, ours, theirs)]
    most = counts[1] | counts[2]
    return {name for name, count in counts[0].items() if count > most[name]}


def _marked(clash: Clash, marks: Marks) -> str:
    size = marks.size
    was = f"{'|' * size} {marks.base}\n{clash.base}" if marks.shows_base else ""
    between = f"{was}{'=' * size}\n"
    return f"{'<' * size} {marks.ours}\n{clash.ours}{between}{clash.theirs}{'>' * size} {marks.theirs}\n"
