"""The drawing of `rigdsl compare`: both states of one rig on one sheet, in a file."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from rigdsl.cli.streams import notice, write
from rigdsl.cli.trouble import Trouble
from rigdsl.cli.versions import Pair, side_of
from rigdsl.cli.wanted import PAPERS, THEMES
from rigdsl.finding import Finding
from rigdsl.show import FORMATS, sheet_paths

__all__ = ["VIEWS", "draw_review", "drawing_options", "refuse_idle"]

VIEWS = ("flow", "cabling")

OPTIONS = (
    click.option("--draw", "view", type=click.Choice(VIEWS), help="Both states on one drawing, in the file of --out."),
    click.option("--only-changed", is_flag=True, help="Of the drawing only what changed, and where its lines go."),
    click.option("--paper", type=click.Choice(PAPERS, case_sensitive=False), help="Sheets that fit this paper."),
    click.option(
        "--theme",
        type=click.Choice(THEMES, case_sensitive=False),
        help="Of the drawing: dark on white, or light on dark.",
    ),
)


def drawing_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options of the drawing."""
    for option in reversed(OPTIONS):
        command = option(command)
    return command


def refuse_idle(drawing: Mapping[str, Any]) -> None:
    """Options of the drawing ask for one: without it they would do nothing, and nobody would know."""
    given = next((name for name, value in drawing.items() if value), None)
    if given is not None:
        raise Trouble(f"`--{given.replace('_', '-')}` is about the drawing: `--draw {VIEWS[0]} --out FILE` makes it")


def draw_review(
    pairs: Sequence[Pair],
    out: str | None,
    view: str,
    *,
    only_changed: bool,
    paper: str | None,
    theme: str | None,
) -> tuple[Finding, ...]:
    """Draw the one rig that there is, and say to which file; what is newly found in it."""
    from rigdsl.cli.draw import tell_stale
    from rigdsl.draw import DrawError, Wanted
    from rigdsl.reports.review_drawing import review_drawing

    format = Path(out).suffix.lower().removeprefix(".") if out else ""
    if out is None or format not in FORMATS or Path(out).is_dir():
        raise Trouble(f"`--draw {view}` takes a file: `--out FILE`, in {', '.join(f'.{name}' for name in FORMATS)}")
    if len(pairs) != 1:
        several = f"`--draw {view}` draws one rig, and here are {len(pairs) or 'none'}"
        raise Trouble(f"{several}: name two files, or one rig behind the commits")
    (pair,) = pairs
    wanted = Wanted(view, paper=paper or "", theme=theme or THEMES[0])
    try:
        paths = side_of(pair.old).paths, side_of(pair.new).paths
        sheets = review_drawing(*paths, pair.review, wanted, format, only_changed=only_changed, say=notice)
    except DrawError as trouble:
        raise Trouble(str(trouble.args[0])) from None
    for sheet, path in zip(sheets, sheet_paths(Path(out), len(sheets)), strict=True):
        write(path, sheet)
        click.echo(f"{view}: {path}")
    tell_stale(Path(out), len(sheets))
    return pair.review.new
