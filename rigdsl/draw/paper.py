"""Sheets of paper, and a finished drawing put on one: true size in millimetres, a thin frame, nothing under 8 points.

Sizes are those of ISO 216 (A0, A3, A4) and ANSI/ASME Y14.1 (letter, 8.5 by 11 inches of 25.4 mm).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree

__all__ = ["LEAST_SCALE", "MARGIN_MM", "PAPERS", "POSTER", "Page", "on_paper", "pages", "svg_size"]

PT_PER_MM = 72 / 25.4
PAPERS = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "letter": (8.5 * 25.4, 11 * 25.4)}  # width, height upright
POSTER = (1189.0, 841.0)  # A0: nobody reads a larger one, so without a paper a sheet is no larger either
MARGIN_MM = 6.0  # what ordinary printers leave white, and a little more
FRAME_PAD = 5.0  # points between the frame and what is in it
LEAST_SCALE = 8 / 9  # the smallest text of a drawing has 9 points; on paper it keeps 8
SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Page:
    """A sheet as it lies before the reader; `framed` where it is paper and not only a limit.

    `least_scale` is how small a drawing may come out on it.
    """

    width_mm: float
    height_mm: float
    framed: bool = True
    least_scale: float = LEAST_SCALE

    @property
    def inner(self) -> tuple[float, float]:
        """Width and height inside the frame, in points of the paper."""
        edge = 2 * (MARGIN_MM * PT_PER_MM + FRAME_PAD) if self.framed else 0.0
        return self.width_mm * PT_PER_MM - edge, self.height_mm * PT_PER_MM - edge

    @property
    def room(self) -> tuple[float, float]:
        """How large a drawing may be, in its own points."""
        wide, high = self.inner
        return (wide / self.least_scale, high / self.least_scale) if self.framed else (wide, high)


def pages(paper: str) -> tuple[Page, ...]:
    """The ways in which a paper may lie, the one to take where both serve first; without one, the largest sheet."""
    if not paper:
        return (Page(*POSTER, framed=False),)
    wide, high = PAPERS[paper]
    return Page(high, wide), Page(wide, high)


def on_paper(svg: bytes, page: Page, frame_colour: str) -> bytes:
    """A finished SVG on its page: as large as the paper, the drawing at the top left of a thin frame."""
    ElementTree.register_namespace("", SVG[1:-1])
    root = ElementTree.fromstring(svg)
    wide, high = (float(number) for number in root.get("viewBox", "0 0 1 1").split()[2:])
    scale = min(1.0, page.inner[0] / wide, page.inner[1] / high)
    width, height = page.width_mm * PT_PER_MM, page.height_mm * PT_PER_MM
    root.set("width", f"{page.width_mm:g}mm")
    root.set("height", f"{page.height_mm:g}mm")
    root.set("viewBox", f"0 0 {width:.2f} {height:.2f}")
    graph = root.find(f"{SVG}g")
    if graph is None:
        return svg
    edge = MARGIN_MM * PT_PER_MM
    left, top = edge + FRAME_PAD, edge + FRAME_PAD
    graph.set("transform", f"translate({left:.2f} {top:.2f}) scale({scale:.4f}) {graph.get('transform', '')}".strip())
    at = list(root).index(graph)
    ground = graph.find(f"{SVG}polygon")
    fill = ground.get("fill", "white") if ground is not None else "white"
    sides = {"class": "sheet-paper", "width": f"{width:.2f}", "height": f"{height:.2f}", "fill": fill}
    root.insert(at, ElementTree.Element(f"{SVG}rect", sides))
    frame = {"class": "sheet-frame", "x": f"{edge:.2f}", "y": f"{edge:.2f}", "fill": "none", "stroke": frame_colour}
    frame |= {"width": f"{width - 2 * edge:.2f}", "height": f"{height - 2 * edge:.2f}", "stroke-width": "0.6"}
    root.insert(at + 1, ElementTree.Element(f"{SVG}rect", frame))
    text = ElementTree.tostring(root, encoding="unicode")
    return ('<?xml version="1.0" encoding="UTF-8"?>\n' + text + "\n").encode("utf-8")


def svg_size(svg: bytes) -> tuple[float, float]:
    """Width and height of an engine's drawing in points, read from the beginning of its SVG."""
    found = re.search(rb'viewBox="0\.00 0\.00 ([\d.]+) ([\d.]+)"', svg[:4000])
    return (float(found[1]), float(found[2])) if found else (0.0, 0.0)
