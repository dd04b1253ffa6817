"""Finished sheets as PDF and PNG, with letters that come along: the same look on every machine.

Texts of the user never become source: they stand in the SVG, and in values that are handed over beside it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from importlib import util
from pathlib import Path
from typing import TYPE_CHECKING

from rigdsl.draw.finish import FONTS
from rigdsl.draw.letters import missing
from rigdsl.draw.render import DrawError

if TYPE_CHECKING:
    import typst

__all__ = ["FONT", "Typeset", "compiled", "lettered", "pdf", "png", "size_pt", "texts_of"]

FONT = "Source Sans Pro"  # under the SIL Open Font License 1.1
PACKAGE = "font_source_sans_pro"
DPI = 144  # of a picture in dots: text of 8 points is then 16 dots high
MOST_DOTS = 100_000_000  # of one picture: it takes 8 bytes of memory for each dot; A0 has 32 million
SIZE = re.compile(rb'<svg [^>]*?width="([\d.]+)(pt|mm)" height="([\d.]+)(pt|mm)"')
POINTS = {b"pt": 1.0, b"mm": 72 / 25.4}
TEXTS = re.compile(r"<(?:text|title)[^>]*>([^<]*)<")

Say = Callable[[str], None]
Typeset = Callable[[Sequence[bytes], str, Say], tuple[bytes, ...]]


def pdf(sheets: Sequence[bytes], title: str, say: Say) -> tuple[bytes, ...]:
    """One PDF of finished sheets, each a page of its own size."""
    return (_compiled(sheets, title, "pdf", say),)


def png(sheets: Sequence[bytes], title: str, say: Say) -> tuple[bytes, ...]:
    """A picture of dots of each sheet. DrawError where one would be too large."""
    for sheet in sheets:
        wide, high = (side / 72 * DPI for side in size_pt(sheet))
        if wide * high > MOST_DOTS:
            size = f"{wide:,.0f} x {high:,.0f} dots"
            raise DrawError(f"the picture would be {size}; draw it on sheets (`--paper a3`), or as SVG or PDF")
    return tuple(_compiled([sheet], title, "png", say) for sheet in sheets)


def size_pt(sheet: bytes) -> tuple[float, float]:
    """Width and height of a finished sheet in points."""
    found = SIZE.search(sheet)
    assert found is not None, "a finished sheet says its size"
    return float(found[1]) * POINTS[found[2]], float(found[3]) * POINTS[found[4]]


def _compiled(sheets: Sequence[bytes], title: str, form: str, say: Say) -> bytes:
    files = {f"{number}.svg": lettered(sheet) for number, sheet in enumerate(sheets, 1)}
    files["main.typ"] = _source(sheets).encode("utf-8")
    return compiled(files, form, {"title": title}, texts_of(sheets), say)


def texts_of(sheets: Sequence[bytes]) -> str:
    """All words that stand on finished sheets."""
    return "".join(text for sheet in sheets for text in TEXTS.findall(sheet.decode("utf-8")))


def compiled(files: dict[str, bytes], form: str, inputs: dict[str, str], words: str, say: Say) -> bytes:
    """What `main.typ` makes of files beside it: `inputs` are values, never source; `words` all that it will print.

    DrawError where what it takes is not installed.
    """
    try:
        import typst
    except ImportError:
        raise _lacking("typst") from None
    letters = missing(words)
    _tell(letters, say)
    fonts = _fonts(typst, system=bool(letters))
    # Which file is the main one goes by its name.
    made = typst.compile(files, font_paths=fonts, format=form, ppi=DPI, sys_inputs=inputs)  # type: ignore
    assert isinstance(made, bytes)
    return made


def _source(sheets: Sequence[bytes]) -> str:
    """A page for each sheet, without a date: the same sheets, the same bytes."""
    lines = ["#set document(title: sys.inputs.title, date: none)", '#set text(lang: "en")']
    for number, sheet in enumerate(sheets, 1):
        wide, high = size_pt(sheet)
        lines.append(
            f"#page(width: {wide:.2f}pt, height: {high:.2f}pt, margin: 0pt)"
            f'[#image("{number}.svg", width: 100%, height: 100%, alt: sys.inputs.title)]'
        )
    return "\n".join(lines) + "\n"


def lettered(sheet: bytes) -> bytes:
    """The sheet in the letters that come along, the reader's own only behind them."""
    return sheet.replace(f'font-family="{FONTS}"'.encode(), f'font-family="{FONT}"'.encode(), 1)


def _fonts(typst_module: object, *, system: bool) -> typst.Fonts:
    """The letters that come along; those of this machine only where a letter is not among them."""
    import typst

    found = util.find_spec(PACKAGE)
    if found is None or found.origin is None:
        raise _lacking(PACKAGE.replace("_", "-"))
    files = Path(found.origin).parent / "files"
    return typst.Fonts(include_system_fonts=system, include_embedded_fonts=False, font_paths=[str(files)])


def _lacking(package: str) -> DrawError:
    return DrawError(
        f"PDF and PNG need `{package}`, which is not installed: `pip install 'rigdsl[papers]'`; SVG does without"
    )


def _tell(letters: Sequence[str], say: Say) -> None:
    """Say which characters come from the machine's own fonts, if at all."""
    if letters:
        shown = " ".join(letters[:8]) + (" ..." if len(letters) > 8 else "")
        say(f"these letters are this machine's own, if it has them: {shown}; look whether they are there, or take SVG")
