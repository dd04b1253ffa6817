"""The engine's own markup for tables, and the one place where text is quoted."""

from __future__ import annotations

from rigdsl.draw.measure import cleaned

__all__ = ["escaped", "field", "small", "table"]


def escaped(text: str) -> str:
    """Text as data for the engine: nothing in it is markup or an escape any more. Nothing at all is a space."""
    text = cleaned(text)
    for plain, safe in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("\\", "\\\\")):
        text = text.replace(plain, safe)
    return text or "&#160;"


def small(markup: str, size: float, colour: str) -> str:
    """Markup in a size and colour."""
    return f'<FONT POINT-SIZE="{size:g}" COLOR="{colour}">{markup}</FONT>'


def table(rows: str, size: tuple[float, float] | None = None, *, spacing: int = 0, facts: str = "") -> str:
    """A table without lines. With a `size` it is just so large; then its fields must be `steady` and fill it.

    An engine stretches a table that stands in a field, if it has no size of its own.
    """
    fixed = "" if size is None else f' FIXEDSIZE="TRUE" WIDTH="{size[0]:.1f}" HEIGHT="{size[1]:.1f}"'
    return f'<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="{spacing}" CELLPADDING="0"{fixed}{facts}>{rows}</TABLE>'


def field(
    content: str,
    width: float,
    height: float | None = None,
    *,
    steady: bool = False,
    pad: float = 0.0,
    align: str = "center",
    facts: str = "",
) -> str:
    """A field of a table, at least so large; a `steady` one is just so large, whatever font the engine has."""
    high = "" if height is None else f' HEIGHT="{height:.1f}"'
    fixed = ' FIXEDSIZE="TRUE"' if steady else ""
    side = "" if align == "center" else f' ALIGN="{align.upper()}"'
    air = f' CELLPADDING="{pad:g}"' if pad else ""
    return f'<TD WIDTH="{width:.1f}"{high}{fixed}{side}{air}{facts}>{content}</TD>'
