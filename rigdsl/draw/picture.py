"""A rig straight to a picture: view, sheets, DOT, engine, finish, paper."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from rigdsl.draw.choice import chosen
from rigdsl.draw.dot import dot
from rigdsl.draw.finish import drawing_title, finished
from rigdsl.draw.mermaid import mermaid
from rigdsl.draw.named import NamedView
from rigdsl.draw.paper import on_paper
from rigdsl.draw.patterns import QUIET
from rigdsl.draw.plates import Layouts, Plates
from rigdsl.draw.render import DrawError
from rigdsl.draw.shapes import View
from rigdsl.draw.sheets import sheets
from rigdsl.draw.theme import THEMES
from rigdsl.draw.twin import twin
from rigdsl.draw.typeset import Typeset, pdf, png
from rigdsl.draw.view import named_view, view
from rigdsl.draw.wanted import Wanted
from rigdsl.finding import Finding
from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["FORMATS", "PDF_PAPER", "Layouts", "Plates", "draw", "drawn", "laid_out"]

WRITTEN: dict[str, Callable[[View, Callable[[str], None]], str]] = {
    "mmd": mermaid,
    "txt": lambda part, say: twin(part),
}
TYPESET: dict[str, Typeset] = {"png": png, "pdf": pdf}
FORMATS = ("svg", *TYPESET, "gv", *WRITTEN)
PDF_PAPER = "a3"  # a PDF always has a paper: this one, where none is named


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
    layouts: Layouts | None = None,
) -> tuple[bytes, ...]:
    """The sheets of one drawing, each a picture: `wanted.view` is a key of VIEWS or of `more` (those of packs).

    `format` is one of FORMATS, `engine` one of ENGINES; a PDF has all sheets in one.
    `layouts` are those of earlier drawings: what has not changed is not laid out again.
    `say` is told what the reader should know about the picture: that lines had to be led in a simpler way, or that it
    has characters with no letters for them. DrawError where it cannot be made, with what to do; LookupError where
    `wanted` asks for a part that there is not.
    """
    if format not in FORMATS:
        raise DrawError(f"there is no drawing as `{format}`; there are: {', '.join(FORMATS)}")
    part = _part(rig, paths, findings, wanted, more)
    return drawn(part, rig, wanted, format, Plates(engine, say, layouts or Layouts()), more)


def drawn(
    part: View,
    rig: Rig,
    wanted: Wanted,
    format: str,
    plates: Plates,
    more: Mapping[str, NamedView] | None = None,
) -> tuple[bytes, ...]:
    """The sheets of a view that is there already, in one of FORMATS; `rig` has the zones and boxes on it."""
    if format in WRITTEN:
        return (WRITTEN[format](part, plates.say).encode("utf-8"),)
    paper = wanted.paper or (PDF_PAPER if format == "pdf" else "")
    pages = sheets(part, rig, named_view(wanted.view, more), paper, plates.sizes)
    texts = [dot(page) for page in pages]
    if format == "gv":
        return tuple(text.encode("utf-8") for text in texts)
    plates.prepare(texts)
    if paper:
        _tell_small(pages, plates)
    svgs = tuple(_finished(page, plates.drawn[text], wanted.theme) for page, text in zip(pages, texts, strict=True))
    return svgs if format == "svg" else TYPESET[format](svgs, drawing_title(pages[0]), plates.say)


def laid_out(
    rig: Rig,
    paths: Paths,
    findings: Iterable[Finding],
    wanted: Wanted,
    plates: Plates,
    more: Mapping[str, NamedView] | None = None,
) -> tuple[View, ...]:
    """The sheets of one drawing before they become pictures: what is on each, split as they will be drawn."""
    part = _part(rig, paths, findings, wanted, more)
    return sheets(part, rig, named_view(wanted.view, more), wanted.paper, plates.sizes)


def _part(
    rig: Rig,
    paths: Paths,
    findings: Iterable[Finding],
    wanted: Wanted,
    more: Mapping[str, NamedView] | None,
) -> View:
    """What is wanted of a view."""
    return chosen(view(rig, paths, findings, wanted.view, more, wanted.revision), paths, wanted.choice)


def _finished(sheet: View, drawn: bytes, theme: str) -> bytes:
    svg = finished(drawn, sheet, theme)
    return on_paper(svg, sheet.page, THEMES[theme].get(QUIET, QUIET)) if sheet.page and sheet.page.framed else svg


def _tell_small(pages: Sequence[View], plates: Plates) -> None:
    """Say that sheets are hard to read, where one box with its lines is too large for the paper."""
    rooms = [page.page.room for page in pages if page.page]
    small = sum(have[0] > room[0] or have[1] > room[1] for have, room in zip(plates.sizes(pages), rooms, strict=True))
    if small:
        where = f"{small} of {len(pages)} sheets of `{pages[0].which}`"
        plates.say(f"text under 8 points on {where}: one box alone is too large for this paper")
