"""Two changed texts of one rig file and the text both came from, to one text: by what things are called.

Everything stays as it was written, and in its order. What one side changed is taken; what both changed is taken from
both where it is about different facts, and is a clash where it is about the same one.
"""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

from rigdsl.branches.identity import TooMuchError
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
    return done if done.clashes or sound(done.text(), ours, theirs) else None


def _cut(text: str) -> list[Part] | None:
    read = parse(Source("", text))
    return None if read.findings else lines_of(text, read.statements, 0, len(text))


def by_lines(done: Merged, lines: str, ours: str, theirs: str) -> bool:
    """Whether a clean merge of lines is as good an answer where things clash by name: in a block laid out oddly, say.

    Not where one side took away what the other has changed: to a merge of lines it may only have moved.
    """
    return all(clash.ours and clash.theirs for clash in done.clashes) and sound(lines, ours, theirs)


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
