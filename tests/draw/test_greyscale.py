"""A drawing in black and white, small and coarse: which line is which is measured on the picture, not on the plan.

Every pattern is drawn once as a line and once as the legend's sample, made into a picture of dots at the smallest
scale that paper has (8/9: text of 9 points is 8 there), and turned to grey.
"""

from __future__ import annotations

import io
import re
from dataclasses import dataclass
from functools import cache
from itertools import combinations, groupby

import numpy as np
import pytest
from lxml import etree
from PIL import Image

from rigdsl.draw import Edge, End, Node, View, dot, render
from rigdsl.draw.finish import finished
from rigdsl.draw.patterns import PATTERNS
from rigdsl.draw.theme import THEMES
from rigdsl.draw.typeset import DPI, png

SVG = "{http://www.w3.org/2000/svg}"
SMALLEST = 8 / 9
DOTS = DPI / 72 * SMALLEST  # of the picture for a point of the drawing
LENGTH, APART = 120.0, 30.0  # points
TOLD_APART = 1.5  # how many times as thick, or as long, a stroke is: common practice, no source


@dataclass(frozen=True)
class Seen:
    """What there is to see of a line: strands, thickness and the longest dash in points, 0 where it is unbroken."""

    strands: int
    thick: float
    dash: float

    def unlike(self, other: Seen) -> bool:
        """Somebody tells them apart at a glance."""
        if self.strands != other.strands or bool(self.dash) != bool(other.dash):
            return True
        pairs = ((self.thick, other.thick), (self.dash, other.dash))
        return any(max(pair) >= TOLD_APART * min(pair) > 0 for pair in pairs)


def all_patterns() -> View:
    """A sheet with a line of each pattern, one above the other."""
    nodes, edges = [], []
    for index, pattern in enumerate(PATTERNS):
        y = index * APART
        for side, x in (("a", 0.0), ("b", LENGTH)):
            nodes.append(Node(f"{side}{index}", "point", "", at=(x, y)))
        ends = End(f"a{index}", "", "e"), End(f"b{index}", "", "w")
        edges.append(Edge(pattern.name, *ends, pattern, tip=pattern.means, points=((6.0, y), (LENGTH - 6, y))))
    size = (LENGTH, APART * len(PATTERNS))
    return View("flow", "All", ("signal flow",), "every pattern", tuple(nodes), tuple(edges), size=size)


@cache
def picture(theme: str) -> tuple[etree._Element, np.ndarray]:
    """The sheet and its picture: how far each dot is from the colour of the sheet, 0 to 255."""
    view = all_patterns()
    sheet = finished(render(dot(view), "svg"), view, theme)
    (data,) = png([sheet], "All", lambda _: None)
    with Image.open(io.BytesIO(data)) as whole:
        size = round(whole.width * SMALLEST), round(whole.height * SMALLEST)
        grey = np.asarray(whole.convert("L").resize(size, Image.Resampling.BOX), dtype=float)
    return etree.fromstring(sheet), np.abs(grey - grey[0, 0])


def seen(theme: str, name: str) -> Seen:
    """What is to be seen of the part of this name, between its ends."""
    root, dots = picture(theme)
    moved = re.search(r"translate\(([-\d.]+)[ ,]([-\d.]+)\)", root.find(f"{SVG}g").get("transform"))
    assert moved
    part = root.xpath(f'//*[@id="{name}"]')[0]
    drawn = " ".join(line.get("d") or line.get("points") for line in part.iter(f"{SVG}path", f"{SVG}polyline"))
    numbers = [float(number) for number in re.findall(r"-?\d+\.?\d*", drawn)]
    xs = [(x + float(moved[1])) * DOTS for x in numbers[::2]]
    ys = [(y + float(moved[2])) * DOTS for y in numbers[1::2]]
    return measured(dots[round(min(ys) - 6 * DOTS) : round(max(ys) + 6 * DOTS), round(min(xs)) : round(max(xs))])


def measured(dots: np.ndarray) -> Seen:
    """Strands across, thickness in the middle of a dash, and the longest dash that has gaps on both sides."""
    full = dots.max()
    across = [key for key, _ in groupby(dots.max(axis=1) > full * 0.4) if key]
    columns = dots.sum(axis=0) / full / DOTS
    columns = columns[1:-1]
    runs = [(key, len(list(some))) for key, some in groupby(columns > columns.max() / 2)]
    dashes = [length for key, length in runs[1:-1] if key]
    thick = float(np.median(columns[columns > columns.max() * 0.8])) / len(across)
    return Seen(len(across), thick, max(dashes, default=0) / DOTS)


@pytest.mark.parametrize("theme", sorted(THEMES))
def test_any_two_lines_are_told_apart_in_grey(theme: str) -> None:
    """By the number of strands, by being broken or not, or by strokes half as thick or half as long again."""
    lines = {pattern.name: seen(theme, pattern.name) for pattern in PATTERNS}
    alike = {(one, other) for one, other in combinations(lines, 2) if not lines[one].unlike(lines[other])}
    assert alike == set()


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("name", [pattern.name for pattern in PATTERNS])
def test_the_legend_shows_a_line_as_it_is_drawn(name: str, theme: str) -> None:
    """The sample is like its own line, to a dot of the picture, and like no other."""
    sample, line = seen(theme, f"sample--{name}"), seen(theme, name)
    assert sample.strands == line.strands
    assert sample.thick == pytest.approx(line.thick, abs=1 / DOTS)
    assert sample.dash == pytest.approx(line.dash, abs=1.01 / DOTS)
    assert all(sample.unlike(seen(theme, other.name)) for other in PATTERNS if other.name != name)
