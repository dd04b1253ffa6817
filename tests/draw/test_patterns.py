"""Lines that can be told apart without colour, and inks that can be read."""

from __future__ import annotations

from itertools import combinations

import pytest

from rigdsl.draw.patterns import BLACK, GROUND, INK, ORANGE, PAPER, PATTERNS, QUIET, VERMILLION, Pattern

# Patterns that no sheet has both of: the flow has no control data, the cabling nothing inside a box.
APART = {frozenset(("inside", "control"))}


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours (WCAG 2.1, 1.4.3: relative luminance of sRGB)."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def luminance(colour: str) -> float:
    """Relative luminance of a colour."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize(
    ("ink", "ground"),
    [(INK, PAPER), (INK, GROUND), (QUIET, PAPER), (QUIET, GROUND), (BLACK, ORANGE), (BLACK, VERMILLION)],
)
def test_text_can_be_read(ink: str, ground: str) -> None:
    """4.5:1, as WCAG 2.1 asks of text of this size."""
    assert contrast(ink, ground) >= 4.5


@pytest.mark.parametrize("pattern", PATTERNS, ids=lambda pattern: pattern.name)
def test_lines_can_be_seen(pattern: Pattern) -> None:
    """3:1 on the sheet, as WCAG 2.1 asks of graphics."""
    assert contrast(pattern.colour, PAPER) >= 3


@pytest.mark.parametrize(("one", "other"), list(combinations(PATTERNS, 2)), ids=lambda pattern: pattern.name)
def test_lines_differ_without_colour(one: Pattern, other: Pattern) -> None:
    """By their strands, by how they are broken, or at least twice as thick."""
    thick = max(one.weight, other.weight) / min(one.weight, other.weight) >= 2
    differ = one.strands != other.strands or one.style != other.style or thick
    assert differ or frozenset((one.name, other.name)) in APART
