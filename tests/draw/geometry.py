"""A finished SVG read back: where its nodes, sockets, words and lines really are."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from lxml import etree

from rigdsl.draw.measure import text_width

SVG = "{http://www.w3.org/2000/svg}"

Point = tuple[float, float]
Box = tuple[float, float, float, float]  # left, top, right, bottom


@dataclass
class Sheet:
    """Boxes by id, and the corners of each line's curve by id."""

    nodes: dict[str, Box] = field(default_factory=dict)
    sockets: dict[str, Box] = field(default_factory=dict)
    labels: dict[str, Box] = field(default_factory=dict)
    captions: dict[str, Box] = field(default_factory=dict)
    edges: dict[str, list[Point]] = field(default_factory=dict)
    whole: Box = (0.0, 0.0, 0.0, 0.0)


def read(svg: bytes) -> Sheet:
    """Where everything is, in the drawing's own points."""
    root = etree.fromstring(svg)
    sheet = Sheet()
    graph = root.find(f"{SVG}g")
    polygon = graph.find(f"{SVG}polygon")
    sheet.whole = box(points(polygon.get("points")))
    for group in graph.iter(f"{SVG}g"):
        kinds = (group.get("class") or "").split()
        name = group.get("id") or ""
        if "node" in kinds and "label" in kinds:
            sheet.labels[name] = words(group)
        elif "node" in kinds and "caption" in kinds:
            sheet.captions[name] = words(group)
        elif {"ground", "point"} & set(kinds):
            continue  # what lies under a plan, and the exact places on it
        elif "node" in kinds:
            sheet.nodes[name] = box(points(group.find(f"{SVG}polygon").get("points")))
        elif "socket" in kinds:
            sheet.sockets[name] = box(points(group.find(f".//{SVG}polygon").get("points")))
        elif "edge" in kinds:
            strands = [curve(path.get("d")) for path in group.findall(f"{SVG}path")]
            sheet.edges[name] = [middle(here) for here in zip(*strands, strict=True)]
    return sheet


def points(text: str) -> list[Point]:
    """Numbers in pairs."""
    return [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", text)]


def curve(d: str) -> list[Point]:
    """The points of a path of cubic curves, sampled."""
    corners = points(re.sub(r"([MC ])(-?[\d.]+)[ ,](-?[\d.]+)", r"\1\2,\3", d))
    sampled = [corners[0]]
    for at in range(0, len(corners) - 1, 3):
        a, b, c, e = corners[at : at + 4]
        for step in range(1, 13):
            t = step / 12
            u = 1 - t
            x, y = (u**3 * a[i] + 3 * u * u * t * b[i] + 3 * u * t * t * c[i] + t**3 * e[i] for i in (0, 1))
            sampled.append((x, y))
    return sampled


def middle(some: tuple[Point, ...]) -> Point:
    """The middle of strands that run side by side."""
    return sum(x for x, _ in some) / len(some), sum(y for _, y in some) / len(some)


def box(some: list[Point]) -> Box:
    """The box round points."""
    xs, ys = [x for x, _ in some], [y for _, y in some]
    return min(xs), min(ys), max(xs), max(ys)


def words(group: etree._Element) -> Box:
    """The box round a group's text, as wide as the engine took it to be (Helvetica's widths), and its frames."""
    boxes: list[Box] = []
    for text in group.iter(f"{SVG}text"):
        size = float(text.get("font-size"))
        width = text_width(text.text or "", size, bold=text.get("font-weight") == "bold") * 0.95
        x, y = float(text.get("x")), float(text.get("y"))
        left = x - width / 2 if text.get("text-anchor") == "middle" else x
        boxes.append((left, y - size * 0.75, left + width, y + size * 0.2))
    boxes += [box(points(one.get("points"))) for one in group.iter(f"{SVG}polygon")]
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def overlap(one: Box, other: Box, by: float = 0.5) -> bool:
    """They share more than a hair."""
    return min(one[2], other[2]) - max(one[0], other[0]) > by and min(one[3], other[3]) - max(one[1], other[1]) > by


def inside(point: Point, area: Box, slack: float = 1.5) -> bool:
    """The point is in the box, or on its edge."""
    return area[0] - slack <= point[0] <= area[2] + slack and area[1] - slack <= point[1] <= area[3] + slack


def crossings(line: list[Point], area: Box, by: float = 1.0) -> Iterator[Point]:
    """The points of a line that are inside a box, deeper than its edge."""
    for (ax, ay), (bx, by_) in pairwise(line):
        for step in range(9):
            point = (ax + (bx - ax) * step / 8, ay + (by_ - ay) * step / 8)
            if area[0] + by < point[0] < area[2] - by and area[1] + by < point[1] < area[3] - by:
                yield point
