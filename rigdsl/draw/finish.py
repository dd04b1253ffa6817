"""An engine's SVG made ready for readers: a title and a description, names for every part, no outside reference.

The engine's own text is XML that it has quoted itself; ours goes in through the XML writer, as data.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import replace
from xml.etree import ElementTree

from rigdsl.draw.caption import sample_id
from rigdsl.draw.compared import BANDS, COMPARED, FAINT
from rigdsl.draw.measure import cleaned
from rigdsl.draw.names import Named, names_of
from rigdsl.draw.patterns import INK, PATTERNS, Pattern
from rigdsl.draw.shapes import View
from rigdsl.draw.theme import PAINTED, THEMES

__all__ = ["FONTS", "drawing_title", "finished"]

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
XML = "http://www.w3.org/XML/1998/namespace"
TEXT, LINK, GROUP, TITLE, PATH, LINE = (f"{{{SVG}}}{name}" for name in ("text", "a", "g", "title", "path", "polyline"))
FONTS = "Arial, 'Liberation Sans', Arimo, Helvetica, sans-serif"

# For those who hear a drawing: it is one picture to them, and all that it shows stands in its text twin.
IN_WORDS = "The same in words: `rigdsl {} {}` with a file in .txt behind `--out`."

# So that a page can pick one path out of a drawing: it sets `lit` on parts and `dim` on the drawing.
STYLE = ".dim .node, .dim .edge { opacity: 0.25 } .dim .lit { opacity: 1 } .socket:hover text { font-weight: bold }"

# How the engine draws broken lines, by colour, weight and its own dashes; and what it calls the legend's samples.
ENGINE_DASHES = {"dashed": "5,2", "dotted": "1,5"}
DASHED = {
    (pattern.colour.lower(), f"{pattern.weight:g}", ENGINE_DASHES[pattern.style]): pattern
    for line in PATTERNS
    if line.dashes
    for pattern in (line, replace(line, colour=FAINT), replace(line, colour=INK))
}
SAMPLES = {sample_id(pattern): pattern for pattern in PATTERNS}

BAND_SAMPLES = {sample_id(band): band for band in BANDS.values()}

ElementTree.register_namespace("", SVG)


def finished(svg: bytes, view: View, theme: str = "print") -> bytes:
    """The SVG with role, title, description, ids, classes and a title for each part, in a theme's colours."""
    root = ElementTree.fromstring(svg)
    names = names_of(view)
    root.set("role", "img")  # one picture with a name and a description (WAI-ARIA 1.2; SVG 2, `title` and `desc`)
    own = f"{view.which.replace('/', '-')}-{view.sheet[0]}"
    root.set("aria-labelledby", f"title-{own} description-{own}")
    root.set("font-family", FONTS)
    for name, mark, text in (
        ("desc", f"description-{own}", f"{view.description} {_in_words(view)}"),
        ("title", f"title-{own}", drawing_title(view)),
    ):
        element = ElementTree.Element(f"{{{SVG}}}{name}", {"id": mark})
        element.text = cleaned(text)
        root.insert(0, element)
    style = ElementTree.Element(f"{{{SVG}}}style")
    style.text = STYLE
    root.insert(2, style)
    colours = {**THEMES[theme], **COMPARED[theme]}
    for element in root.iter():
        if element.tag in (GROUP, PATH):
            _dash(element)
        if element.tag == GROUP and view.compared:
            _lay_band(element)
        _mend(element, names)
        if colours:
            _paint(element, colours)
    graph = root.find(f"{{{SVG}}}g")
    if graph is not None:
        graph.set("id", f"sheet-{own}")
        _drop_title(graph)
    text = ElementTree.tostring(root, encoding="unicode")
    return ('<?xml version="1.0" encoding="UTF-8"?>\n' + re.sub(r"\n{2,}", "\n", text) + "\n").encode("utf-8")


def _in_words(view: View) -> str:
    return IN_WORDS.format("compare --draw" if view.compared else "draw --view", view.which)


def drawing_title(view: View) -> str:
    """What a drawing is called: the rig and the view."""
    return f"{view.title}: {view.facts[0]}" if view.facts else view.title


def _mend(element: ElementTree.Element, names: Mapping[str, Named]) -> None:
    """One element: what its part says instead of the engine's title, a group instead of a link that leads nowhere."""
    if element.tag == TEXT:
        element.attrib.pop("font-family", None)
    elif element.tag == LINK:
        element.tag = GROUP
        element.attrib.pop(f"{{{XLINK}}}title", None)
        element.attrib.pop(f"{{{XLINK}}}href", None)
    elif element.tag == GROUP:
        _name_part(element, names)


def _dash(element: ElementTree.Element) -> None:
    """A line, or the legend's sample of it, as its pattern says: the engine knows two kinds of dashes."""
    if element.tag == GROUP and element.get("id", "").removeprefix("a_") in SAMPLES:
        pattern = SAMPLES[element.get("id", "").removeprefix("a_")]
        for line in element.iter(LINE):
            line.set("points", " ".join(sorted(line.get("points", "").split())))  # dashes of two strands side by side
            _draw_like(line, pattern)
    elif element.tag == PATH:
        kind = tuple(element.get(name, "") for name in ("stroke", "stroke-width", "stroke-dasharray"))
        if kind in DASHED:
            _draw_like(element, DASHED[kind])


def _lay_band(group: ElementTree.Element) -> None:
    """A band below a line that came, went or changed, or below the legend's sample of one."""
    name = group.get("id", "").removeprefix("a_")
    kinds = group.get("class", "").split()
    band = BAND_SAMPLES.get(name) or next((BANDS[kind] for kind in kinds if "edge" in kinds and kind in BANDS), None)
    if band is None:
        return
    for parent in list(group.iter()):
        lines = [child for child in parent if child.tag in (PATH, LINE)]
        at = list(parent).index(lines[0]) if lines else 0
        for line in lines:
            under = deepcopy(line)
            under.attrib.pop("stroke-dasharray", None)
            under.set("class", "band")
            under.set("fill", "none")
            under.set("stroke", band.colour.lower())
            _draw_like(under, band)
            parent.insert(at, under)


def _draw_like(line: ElementTree.Element, pattern: Pattern) -> None:
    line.set("stroke-width", f"{pattern.weight:g}")
    if pattern.dashes:
        line.set("stroke-dasharray", ",".join(f"{length:g}" for length in pattern.dashes))


def _paint(element: ElementTree.Element, colours: Mapping[str, str]) -> None:
    for name in PAINTED:
        colour = element.get(name, "")
        if colour in colours:
            element.set(name, colours[colour])


def _name_part(element: ElementTree.Element, names: Mapping[str, Named]) -> None:
    name = element.get("id", "")
    inner = name.startswith("a_")  # how the engine names the group round a field
    named = names.get(name[2:] if inner else name)
    if named is None:
        return
    if inner:
        element.set("id", name[2:])
        element.set("class", named.kind)
        element.insert(0, ElementTree.Element(TITLE))
    title = next((child for child in element if child.tag == TITLE), None)
    if title is not None:
        title.text = cleaned(named.title)
    for key, value in named.data.items():
        element.set(key, cleaned(value))


def _drop_title(graph: ElementTree.Element) -> None:
    """The drawing's own title stands in the root; a second one would show up everywhere as a hint."""
    title = graph.find(f"{{{SVG}}}title")
    if title is not None:
        graph.remove(title)
