"""The colours of a finished drawing: dark on white for paper, light on dark for a screen in the wing.

A drawing is made in the colours of print; another theme says what each of them becomes. Colours of lines and marks are
of the set that Okabe and Ito published for colour-blind readers ("Color Universal Design", 2008).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from rigdsl.draw.patterns import BLUE, GROUND, INK, PAPER, QUIET, RULING

__all__ = ["PAINTED", "THEMES", "css"]

PAINTED = ("fill", "stroke")  # what has a colour in an SVG of ours

SCREEN = {
    PAPER: "#14171c",
    GROUND: "#262b33",
    RULING: "#3b424d",
    INK: "#ece9e2",
    QUIET: "#b4b0a7",
    BLUE: "#56b4e9",  # the sky blue of the set: its blue is too dark on a dark ground
}

THEMES: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {"print": {}, "screen": {dark.lower(): light for dark, light in SCREEN.items()}}
)


def css(theme: str, within: str) -> str:
    """The theme as style rules for drawings that stand in a page, all of them inside of what `within` selects."""
    return "\n".join(
        f'{within} [{name}="{colour}"] {{ {name}: {other} }}'
        for colour, other in THEMES[theme].items()
        for name in PAINTED
    )
