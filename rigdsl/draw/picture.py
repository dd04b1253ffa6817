"""A rig straight to a picture: view, DOT, engine, finish."""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from rigdsl.draw.dot import dot
from rigdsl.draw.finish import finished
from rigdsl.draw.named import NamedView
from rigdsl.draw.paper import on_paper, svg_size
from rigdsl.draw.render import DrawError, render
from rigdsl.draw.shapes import View
from rigdsl.draw.sheets import sheets
from rigdsl.draw.view import named_view, view
from rigdsl.draw.wanted import Wanted
from rigdsl.finding import Finding
from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["FORMATS", "Plates", "draw", "laid_out"]

AT_ONCE = min(os.cpu_count() or 1, 8)  # engines that draw at the same time, each a sheet
FORMATS = ("svg", "png", "gv")

# What the letters of the engine that comes along have, in a picture of dots: Latin, Greek, Cyrillic, Hebrew, signs.
DRAWN = ((0x20, 0x530), (0x590, 0x600), (0x1E00, 0x2000), (0x2000, 0x2070), (0x20A0, 0x20C0), (0x2190, 0x2196))


def _nobody(note: str) -> None:
    """Nobody is told."""


def draw(
    rig: Rig,
    paths: Paths,
    findings: Iterable[Finding],
    wanted: Wanted,
    format: str,
    engine: str = "embedded",
    *,
    say: Callable[[str], None] = _nobody,
    more: Mapping[str, NamedView] | None = None,
) -> tuple[bytes, ...]:
    """The sheets of one drawing, each a picture: `wanted.view` is a key of VIEWS or of `more` (those of packs).

    `format` is one of FORMATS, `engine` one of ENGINES.
    `say` is told what the reader should know about the picture: that lines had to be led in a simpler way, or that it
    has characters with no letters for them. DrawError where it cannot be made, with what to do.
    """
    if format not in FORMATS:
        raise DrawError(f"there is no drawing as `{format}`; there are: {', '.join(FORMATS)}")
    plates = Plates(engine, say)
    pages = laid_out(rig, paths, findings, wanted, plates, more)
    if format == "svg":
        plates.prepare(map(dot, pages))
    made = tuple(_page(page, format, engine, say, plates) for page in pages)
    if wanted.paper and format == "svg":
        _tell_small(pages, plates, say)
    return made


def laid_out(
    rig: Rig,
    paths: Paths,
    findings: Iterable[Finding],
    wanted: Wanted,
    plates: Plates,
    more: Mapping[str, NamedView] | None = None,
) -> tuple[View, ...]:
    """The sheets of one drawing before they become pictures: what is on each, split as they will be drawn."""
    whole = view(rig, paths, findings, wanted.view, more, wanted.revision)
    return sheets(whole, rig, named_view(wanted.view, more), wanted.paper, plates.sizes)


@dataclass
class Plates:
    """What an engine has drawn already, by its text: a sheet is measured, and then it is finished."""

    engine: str = "embedded"
    say: Callable[[str], None] = _nobody
    drawn: dict[str, bytes] = field(default_factory=dict)

    def svg(self, text: str) -> bytes:
        """The engine's SVG."""
        self.prepare([text])
        return self.drawn[text]

    def prepare(self, texts: Iterable[str]) -> None:
        """Draw those that are not there yet, several at once; what there is to say of them is said in their order."""
        missing = [text for text in dict.fromkeys(texts) if text not in self.drawn]
        notes: dict[str, list[str]] = {text: [] for text in missing}
        with ThreadPoolExecutor(AT_ONCE) as pool:
            svgs = pool.map(lambda text: render(text, "svg", self.engine, say=notes[text].append), missing)
            for text, svg in zip(missing, svgs, strict=True):
                self.drawn[text] = svg
                for note in notes[text]:
                    self.say(note)

    def sizes(self, pages: Sequence[View]) -> list[tuple[float, float]]:
        """How large sheets come out."""
        texts = [dot(page) for page in pages]
        self.prepare(texts)
        return [svg_size(self.drawn[text]) for text in texts]


def _page(sheet: View, format: str, engine: str, say: Callable[[str], None], plates: Plates) -> bytes:
    """One sheet."""
    text = dot(sheet)
    if format == "gv":
        return text.encode("utf-8")
    if format == "svg":
        svg = finished(plates.svg(text), sheet)
        return on_paper(svg, sheet.page) if sheet.page and sheet.page.framed else svg
    picture = render(text, format, engine, say=say)
    if engine == "embedded":
        _tell_missing(sheet, say)
    return picture


def _tell_small(pages: tuple[View, ...], plates: Plates, say: Callable[[str], None]) -> None:
    """Say that sheets are hard to read, where one box with its lines is too large for the paper."""
    rooms = [page.page.room for page in pages if page.page]
    small = sum(have[0] > room[0] or have[1] > room[1] for have, room in zip(plates.sizes(pages), rooms, strict=True))
    if small:
        where = f"{small} of {len(pages)} sheets of `{pages[0].which}`"
        say(f"text under 8 points on {where}: one box alone is too large for this paper")


def _tell_missing(sheet: View, say: Callable[[str], None]) -> None:
    """Say which characters a picture of dots cannot show; an SVG leaves them to the reader's own fonts."""
    texts = [sheet.title, *(group.title for group in sheet.groups), *(message for _, message in sheet.listed)]
    texts += [text for node in sheet.nodes for text in (node.title, node.subtitle)]
    texts += [cell.text for node in sheet.nodes for row in node.rows for cell in row.cells]
    texts += [line for edge in sheet.edges for line in edge.label]
    missing = sorted({char for text in texts for char in text if _is_missing(char)})
    if missing:
        shown = " ".join(missing[:8]) + (" ..." if len(missing) > 8 else "")
        say(f"the picture has no letters for: {shown}; draw it as SVG, which takes them from the reader's fonts")


def _is_missing(char: str) -> bool:
    if char == "\n" or unicodedata.category(char) in ("Mn", "Me", "Cf", "Cc"):
        return False
    return not any(first <= ord(char) < end for first, end in DRAWN)
