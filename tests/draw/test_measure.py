"""Measuring text: never less than the engine allows for it, and broken where it may be."""

from __future__ import annotations

import re

import pytest

from rigdsl.draw import render
from rigdsl.draw.markup import escaped, field, small, table
from rigdsl.draw.measure import text_width, wrapped
from rigdsl.draw.patterns import INK

CHARACTERS = [*map(chr, range(33, 127)), *"éñßØЖжαΩ·–→×“€日한🎤אبﬁ▲"]


@pytest.mark.parametrize("bold", [False, True])
def test_no_character_is_wider_than_measured(bold: bool) -> None:
    """Twenty of each in a field that fits them: the engine makes none of the fields wider."""
    tables = ""
    for index, character in enumerate(CHARACTERS):
        text = escaped(character * 20)
        words = small(f"<B>{text}</B>" if bold else text, 10, INK)
        one = field(words, text_width(character * 20, bold=bold), facts=' BGCOLOR="red"')
        tables += f"n{index} [label=<{table(f'<TR>{one}</TR>')}>]\n"
    drawn = render(f'digraph {{ node [shape=plain fontname="Arial"]\n{tables}}}').decode()
    fields = re.findall(r'<polygon fill="red"[^>]*points="([^"]*)"', drawn)
    assert len(fields) == len(CHARACTERS)
    for character, corners in zip(CHARACTERS, fields, strict=True):
        across = [float(corner.split(",")[0]) for corner in corners.split()]
        allowed = text_width(character * 20, bold=bold)
        narrow = bold and character in "filjrt!'\"()[]{}.,:;-`|I^"  # over a word they even out
        assert max(across) - min(across) <= allowed * (1.3 if narrow else 1.01) + 1, character


WRAPPED = [
    ("", 50, [""]),
    ("one two", 200, ["one two"]),
    ("one two three", 40, ["one two", "three"]),
    ("two\nlines", 200, ["two", "lines"]),
    ("xxxxxxxxxx", 26, ["xxxxx", "xxxxx"]),
    ("ab xxxxxxxxxx", 26, ["ab", "xxxxx", "xxxxx"]),
    ("日本語日本語", 31, ["日本語", "日本語"]),
    ("tab\there", 200, ["tab here"]),
    ("bell\a", 200, ["bell\ufffd"]),
]


@pytest.mark.parametrize(("text", "limit", "expected"), WRAPPED)
def test_wrapped(text: str, limit: float, expected: list[str]) -> None:
    """At spaces, else inside a word that is too wide alone."""
    assert list(wrapped(text, limit)) == expected


@pytest.mark.parametrize("whole", ["e\u0301", "👩\u200d👩\u200d👧", "👍🏽"])
def test_what_is_one_to_the_reader_is_not_broken(whole: str) -> None:
    """A letter with its accent, a joined picture, a hand with its colour."""
    lines = wrapped(whole * 30, 60)
    assert len(lines) > 1
    assert all(line == whole * (len(line) // len(whole)) for line in lines)
