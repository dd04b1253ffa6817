"""An engine's SVG made ready for readers: a title and a description, names for every part, no outside reference.

The engine's own text is XML that it has quoted itself; ours goes in through the XML writer, as data.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree

from rigdsl.draw.measure import cleaned
from rigdsl.draw.shapes import View

__all__ = ["finished"]

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
XML = "http://www.w3.org/XML/1998/namespace"
FONTS = "Arial, 'Liberation Sans', Arimo, Helvetica, sans-serif"

# So that a page can pick one path out of a drawing: it sets `lit` on parts and `dim` on the drawing.
STYLE = ".dim .node, .dim .edge { opacity: 0.25 } .dim .lit { opacity: 1 } .socket:hover text { font-weight: bold }"

ElementTree.register_namespace("", SVG)


def finished(svg: bytes, view: View) -> bytes:
    """The SVG with role, title, description, ids, classes and a title for each node and line."""
    root = ElementTree.fromstring(svg)
    tips = _tips(view)
    root.set("role", "img")
    root.set("aria-labelledby", "sheet-title sheet-description")
    root.set("font-family", FONTS)
    for name, mark, text in (("desc", "sheet-description", view.description), ("title", "sheet-title", _name(view))):
        element = ElementTree.Element(f"{{{SVG}}}{name}", {"id": mark})
        element.text = cleaned(text)
        root.insert(0, element)
    style = ElementTree.Element(f"{{{SVG}}}style")
    style.text = STYLE
    root.insert(2, style)
    for element in root.iter():
        _mend(element, tips)
    graph = root.find(f"{{{SVG}}}g")
    if graph is not None:
        graph.set("id", f"sheet-{view.which}")
        _drop_title(graph)
    text = ElementTree.tostring(root, encoding="unicode")
    return ('<?xml version="1.0" encoding="UTF-8"?>\n' + re.sub(r"\n{2,}", "\n", text) + "\n").encode("utf-8")


def _name(view: View) -> str:
    return f"{view.title}: {view.facts[0]}" if view.facts else view.title


def _tips(view: View) -> dict[str, str]:
    """What each part says when it is pointed at, by its id."""
    tips = {group.id: group.tip or group.title for group in view.groups}
    for node in view.nodes:
        tips[node.id] = node.tip or node.title
        for row in node.rows:
            for cell in row.cells:
                if cell.key:
                    tips[f"{node.id}--{cell.key}"] = row.tip or row.cells[0].text
    for edge in view.edges:
        for name in (edge.id, f"{edge.id}--label", f"{edge.id}--from", f"{edge.id}--to"):
            tips[name] = edge.tip
    return tips


def _mend(element: ElementTree.Element, tips: dict[str, str]) -> None:
    """One element: a real title instead of the engine's, a group instead of a link that leads nowhere."""
    if element.tag == f"{{{SVG}}}text":
        element.attrib.pop("font-family", None)
    elif element.tag == f"{{{SVG}}}a":
        element.tag = f"{{{SVG}}}g"
        element.attrib.pop(f"{{{XLINK}}}title", None)
        element.attrib.pop(f"{{{XLINK}}}href", None)
    elif element.tag == f"{{{SVG}}}g":
        name = element.get("id", "")
        if name.startswith("a_"):
            name = name[2:]
            element.set("id", name)
            element.set("class", "socket")
            element.insert(0, ElementTree.Element(f"{{{SVG}}}title"))
        title = element.find(f"{{{SVG}}}title")
        if title is not None and name in tips:
            title.text = cleaned(tips[name])


def _drop_title(graph: ElementTree.Element) -> None:
    """The drawing's own title stands in the root; a second one would show up everywhere as a hint."""
    title = graph.find(f"{{{SVG}}}title")
    if title is not None:
        graph.remove(title)
