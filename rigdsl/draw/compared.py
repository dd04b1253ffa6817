"""How a drawing of two states shows what became of a part: by a sign in its words, by a pattern, last by a colour.

What is the same is pale. A line that came, went or changed keeps the pattern of its kind and lies on a band; a band has
a pattern of its own, so that it needs no colour.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from rigdsl.draw.patterns import GROUND, INK, PAPER, QUIET, RULING, Pattern
from rigdsl.draw.shapes import Edge, State, View

__all__ = [
    "BANDS",
    "COMPARED",
    "FAINT",
    "LOOKS",
    "PALE",
    "Inks",
    "Look",
    "bands_of",
    "drawn_in",
    "inks",
    "signed",
    "states_of",
    "told",
]

PALE = "#6b6b6b"  # words about what is the same: 5.3:1 on white
FAINT = "#949494"  # its lines and frames: 3.0:1 on white


@dataclass(frozen=True)
class Look:
    """A sign, what the legend says of it, the ground of fields with it, how a frame with it is drawn, and its band."""

    sign: str
    means: str
    ground: str
    frame: str
    band: Pattern


# Bands are wide and lie under a thin line: unbroken, in rungs across it, and in long dashes. Colours of lines are of
# the set of Okabe and Ito, as everywhere; grounds are light tints of them.
LOOKS: Mapping[State, Look] = MappingProxyType(
    {
        "added": Look("+", "added", "#d3efe4", "", Pattern("added", "added line", weight=7.0, colour="#009E73")),
        "removed": Look(
            "-",
            "removed",
            "#fbdfd0",
            "dashed",
            Pattern("removed", "removed line", weight=9.0, style="dashed", colour="#D55E00", dashes=(2.2, 3.4)),
        ),
        "changed": Look(
            "~",
            "otherwise than it was",
            "#f5e1ed",
            "",
            Pattern(
                "changed", "line otherwise than it was", weight=7.0, style="dashed", colour="#CC79A7", dashes=(11, 5)
            ),
        ),
    }
)
BANDS: Mapping[str, Pattern] = MappingProxyType({look.band.name: look.band for look in LOOKS.values()})

# What the colours of a comparison become in a theme, beside those of every drawing.
COMPARED: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "print": {},
        "screen": {
            PALE: "#96928a",
            FAINT: "#6d6a65",
            "#d3efe4": "#11392d",
            "#fbdfd0": "#4a2410",
            "#f5e1ed": "#43253a",
        },
    }
)


@dataclass(frozen=True)
class Inks:
    """The colours of one part: words, what explains them, rules, frame, the grounds of its heading and its fields."""

    ink: str = INK
    quiet: str = QUIET
    rule: str = RULING
    frame: str = INK
    head: str = GROUND
    ground: str = PAPER


PLAIN = Inks()


def inks(state: State, *, filled: bool = True) -> Inks:
    """The colours of a part; `filled` is whether its heading has a ground."""
    head = GROUND if filled else PAPER
    if state == "same":
        return Inks(PALE, PALE, RULING, FAINT, PAPER)
    look = LOOKS.get(state)
    return Inks(head=look.ground, ground=look.ground) if look else replace(PLAIN, head=head)


def drawn_in(pattern: Pattern, state: State) -> Pattern:
    """How a line is drawn: in its own colour where nothing is compared, else pale, or dark on its band."""
    if not state:
        return pattern
    return replace(pattern, colour=FAINT if state == "same" else INK)


def signed(state: State, words: str) -> str:
    """Words with the sign before them."""
    look = LOOKS.get(state)
    return f"{look.sign} {words}".rstrip() if look else words


def bands_of(view: View) -> tuple[State, ...]:
    """The bands on a sheet, in the legend's order."""
    return tuple(state for state in LOOKS if any(edge.state == state for edge in view.edges))


def states_of(view: View) -> tuple[State, ...]:
    """The signs on a sheet, in the legend's order."""
    used: set[State] = {node.state for node in view.nodes} | {row.state for node in view.nodes for row in node.rows}
    used |= {state for edge in view.edges for state in _words(edge)} | {group.state for group in view.groups}
    return tuple(state for state in LOOKS if state in used)


def _words(edge: Edge) -> tuple[State, ...]:
    return (edge.state, edge.worded) if edge.label else ()


def told(state: State, words: str) -> str:
    """Words that say in words what became of a part: for who points at it, or hears it."""
    look = LOOKS.get(state)
    return f"{look.means}: {words}" if look else words
