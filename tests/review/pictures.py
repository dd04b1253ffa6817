"""Two states of a rig on one drawing, read by another reader of SVG than its writer."""

from __future__ import annotations

from lxml import etree

from rigdsl.draw import View, Wanted
from rigdsl.reports.review_drawing import both_states, review_drawing
from rigdsl.review import review
from tests.review.made import side

__all__ = ["STATES", "SVG", "both", "marks", "picture", "states"]

SVG = "{http://www.w3.org/2000/svg}"
STATES = ("added", "removed", "changed")


def both(old: str, new: str, which: str) -> View:
    """The drawing before it is laid out."""
    before, now = side(old), side(new)
    return both_states(before.paths, now.paths, review(before, now), which)[0]


def picture(old: str, new: str, which: str, *, theme: str = "print", only_changed: bool = False) -> etree._Element:
    """The drawing as SVG."""
    before, now = side(old), side(new)
    sheets = review_drawing(
        before.paths,
        now.paths,
        review(before, now),
        Wanted(which, theme=theme),
        "svg",
        only_changed=only_changed,
        say=lambda _: None,
    )
    return etree.fromstring(sheets[0])


def states(element: etree._Element) -> set[str]:
    """What its class says became of a part."""
    return {*STATES, "same"} & set((element.get("class") or "").split())


def marks(root: etree._Element) -> dict[str, str]:
    """The parts that stand out, by their ids: what became of them and what they say when pointed at.

    Of rows only the first field, of lines only the half that begins.
    """
    found = {}
    for part in root.iter(f"{SVG}g"):
        title = part.find(f"{SVG}title")
        for state in states(part) & set(STATES):
            assert title is not None
            found[part.get("id")] = f"{state} | {title.text}"
    return found
