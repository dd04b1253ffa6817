"""Sheets on paper read back: how large they are, how small their text is, which letters stand where."""

from __future__ import annotations

import re
from dataclasses import dataclass

from lxml import etree

from tests.draw import geometry
from tests.draw.geometry import SVG, Box

__all__ = ["OnPaper", "letters", "on_paper"]

MARK = re.compile(r"([A-Z]\d*): ")


@dataclass(frozen=True)
class OnPaper:
    """One sheet: its sides as the file says, what is drawn and the frame in points of the paper, its smallest text."""

    width: str
    height: str
    page: tuple[float, float]
    drawn: Box
    frame: Box
    smallest_pt: float
    letters: tuple[str, ...]


def on_paper(svg: bytes) -> OnPaper:
    """A sheet from its SVG."""
    root = etree.fromstring(svg)
    graph = root.find(f"{SVG}g")
    left, top, scale, x, y = _transform(graph.get("transform"))
    area = geometry.read(svg).whole
    drawn = (
        left + scale * (x + area[0]),
        top + scale * (y + area[1]),
        left + scale * (x + area[2]),
        top + scale * (y + area[3]),
    )
    frame = next(one for one in root.iter(f"{SVG}rect") if one.get("class") == "sheet-frame")
    at = [float(frame.get(name)) for name in ("x", "y", "width", "height")]
    sizes = [float(text.get("font-size")) for text in root.iter(f"{SVG}text")]
    _, _, wide, high = map(float, root.get("viewBox").split())
    edges = (at[0], at[1], at[0] + at[2], at[1] + at[3])
    return OnPaper(root.get("width"), root.get("height"), (wide, high), drawn, edges, scale * min(sizes), letters(svg))


def letters(svg: bytes) -> tuple[str, ...]:
    """The letters of the marks on a sheet, each as often as it stands there."""
    groups = [one for one in etree.fromstring(svg).iter(f"{SVG}g") if (one.get("class") or "").startswith("node mark")]
    texts = [text.text or "" for group in groups for text in group.iter(f"{SVG}text")]
    return tuple(found[1] for found in map(MARK.match, texts) if found)


def _transform(text: str) -> tuple[float, float, float, float, float]:
    """Where the paper puts the drawing and how large, and where the engine has put it in its own."""
    number = r"(-?[\d.]+)"
    found = re.fullmatch(
        rf"translate\({number} {number}\) scale\({number}\) scale\(1 1\) rotate\(0\) translate\({number} {number}\)",
        text,
    )
    assert found, text
    left, top, scale, x, y = map(float, found.groups())
    return left, top, scale, x, y
