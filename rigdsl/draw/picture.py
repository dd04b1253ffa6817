"""A rig straight to a picture: view, DOT, engine, finish."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from rigdsl.draw.dot import dot
from rigdsl.draw.finish import drawing_title, finished
from rigdsl.draw.named import NamedView
from rigdsl.draw.render import DrawError, render
from rigdsl.draw.sheets import sheets
from rigdsl.draw.typeset import Typeset, pdf, png
from rigdsl.draw.view import named_view, view
from rigdsl.draw.wanted import Wanted
from rigdsl.finding import Finding
from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["FORMATS", "draw"]

TYPESET: dict[str, Typeset] = {"png": png, "pdf": pdf}
FORMATS = ("svg", *TYPESET, "gv")
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
) -> tuple[bytes, ...]:
    """The sheets of one drawing, each a picture: `wanted.view` is a key of VIEWS or of `more` (those of packs).

    `format` is one of FORMATS, `engine` one of ENGINES.
    `say` is told what the reader should know about the picture: that lines had to be led in a simpler way, or that it
    has characters with no letters for them. DrawError where it cannot be made, with what to do.
    """
    if format not in FORMATS:
        raise DrawError(f"there is no drawing as `{format}`; there are: {', '.join(FORMATS)}")
    whole = view(rig, paths, findings, wanted.view, more, wanted.revision)
    paper = wanted.paper or (PDF_PAPER if format == "pdf" else "")
    pages = sheets(whole, rig, named_view(wanted.view, more), paper)
    if format == "gv":
        return tuple(dot(page).encode("utf-8") for page in pages)
    svgs = tuple(finished(render(dot(page), engine, say=say), page, wanted.theme) for page in pages)
    return svgs if format == "svg" else TYPESET[format](svgs, drawing_title(whole), say)
