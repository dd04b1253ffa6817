"""Colours that can be read, in both themes, by computation on what is really drawn."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np
import pytest
import wcag_contrast_ratio
from daltonlens import simulate
from lxml import etree

from rigdsl.draw import Wanted, draw
from rigdsl.draw.patterns import PATTERNS
from rigdsl.draw.theme import THEMES, css
from rigdsl.paths import Paths
from tests.draw.geometry import box, points
from tests.draw.made import SHAPES, example, findings

SVG = "{http://www.w3.org/2000/svg}"
VIEWS = ["flow", "cabling", "plan"]
# The three common kinds: red-, green- and blue-blind.
KINDS = [simulate.Deficiency.PROTAN, simulate.Deficiency.DEUTAN, simulate.Deficiency.TRITAN]


def root_of(name: str, which: str, theme: str) -> etree._Element:
    rig = example(name)
    return etree.fromstring(draw(rig, Paths(rig), findings(rig), Wanted(which, theme=theme), "svg")[0])


def rgb(colour: str) -> tuple[float, float, float]:
    """A colour's parts, from 0 to 1."""
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return red, green, blue


def contrast(one: str, other: str) -> float:
    return float(wcag_contrast_ratio.rgb(rgb(one), rgb(other)))


def grounds(root: etree._Element) -> Iterator[tuple[etree._Element, str]]:
    """Each text with the colour of what was painted last under its first letter."""
    painted: list[tuple[tuple[float, float, float, float], str]] = []
    for element in root.iter(f"{SVG}polygon", f"{SVG}text"):
        if element.tag == f"{SVG}polygon":
            if element.get("fill") != "none":
                painted.append((box(points(element.get("points"))), element.get("fill")))
            continue
        x, y = float(element.get("x")) + 1, float(element.get("y")) - 2
        under = [colour for (left, top, right, low), colour in painted if left <= x <= right and top <= y <= low]
        yield element, under[-1]


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("name", SHAPES)
def test_all_text_can_be_read_on_what_lies_under_it(name: str, which: str, theme: str) -> None:
    """4.5:1 (W3C, WCAG 2.2, success criterion 1.4.3, text of this size)."""
    pairs = {(text.get("fill"), ground) for text, ground in grounds(root_of(name, which, theme))}
    assert pairs
    assert {pair: contrast(*pair) for pair in pairs if contrast(*pair) < 4.5} == {}


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("name", SHAPES)
def test_all_lines_can_be_seen_on_the_sheet(name: str, which: str, theme: str) -> None:
    """3:1 (W3C, WCAG 2.2, success criterion 1.4.11, graphics that are needed to understand)."""
    root = root_of(name, which, theme)
    sheet = root.find(f"{SVG}g/{SVG}polygon").get("fill")
    lines = root.xpath("//*[contains(@class, 'edge')]//*[@stroke and @stroke != 'none' and @stroke != 'transparent']")
    colours = {line.get("stroke") for line in lines}
    assert colours or not root.xpath("//*[contains(@class, 'edge')]")
    assert {colour: contrast(colour, sheet) for colour in colours if contrast(colour, sheet) < 3} == {}


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_lines_can_be_seen_by_colour_blind_readers(kind: simulate.Deficiency, theme: str) -> None:
    """As they see it, each line still stands out 3:1 from its sheet, by the models of Vienot 1999 and Brettel 1997."""
    model = simulate.Simulator_AutoSelect()
    sheet = seen(model, kind, THEMES[theme].get("#ffffff", "#ffffff"))
    for pattern in PATTERNS:
        colour = THEMES[theme].get(pattern.colour.lower(), pattern.colour)
        assert wcag_contrast_ratio.rgb(seen(model, kind, colour), sheet) >= 3, pattern.name


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_no_meaning_hangs_on_a_colour_that_is_not_seen(kind: simulate.Deficiency) -> None:
    """Two patterns of unlike colour that a colour-blind reader sees alike differ in how they are drawn."""
    model = simulate.Simulator_AutoSelect()
    for one, other in combinations(PATTERNS, 2):
        alike = one.colour != other.colour and np.allclose(
            seen(model, kind, one.colour), seen(model, kind, other.colour), atol=0.15
        )
        drawn = [(p.strands, p.style, p.weight) for p in (one, other)]
        assert not alike or drawn[0] != drawn[1], (one.name, other.name)


def seen(model: object, kind: simulate.Deficiency, colour: str) -> tuple[float, float, float]:
    """A colour as a reader with this deficiency sees it."""
    pixel = np.array([[[round(part * 255) for part in rgb(colour)]]], dtype=np.uint8)
    red, green, blue = model.simulate_cvd(pixel, kind, severity=1.0)[0, 0] / 255  # type: ignore[attr-defined]
    return float(red), float(green), float(blue)


@pytest.mark.parametrize("which", VIEWS)
def test_a_page_turns_a_drawing_dark_as_the_theme_does(which: str) -> None:
    """Every colour that the theme changes has its rule, and no colour of print is left over."""
    dark = root_of("club/friday", which, "screen")
    left = {element.get(name) for element in dark.iter() for name in ("fill", "stroke")} & THEMES["screen"].keys()
    assert left == set()
    rules = css("screen", ".dark")
    for colour, other in THEMES["screen"].items():
        assert f'.dark [fill="{colour}"] {{ fill: {other} }}' in rules
