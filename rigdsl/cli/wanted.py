"""The options of `rigdsl draw` that say what is wanted of a drawing, and the value that they make."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from rigdsl.cli.trouble import Trouble

if TYPE_CHECKING:  # help does not wait for what draws
    from rigdsl.draw import Wanted

__all__ = ["PAPERS", "THEMES", "wanted", "wanted_options"]

PAPERS = ("a4", "a3", "letter")
THEMES = ("print", "screen")

OPTIONS = (
    click.option("--zone", "zones", metavar="NAME[,NAME]", multiple=True, help="Only what stands in these zones."),
    click.option("--desk", "desks", metavar="NAME[,NAME]", multiple=True, help="Only what goes to and from a desk."),
    click.option(
        "--only", metavar="NAME[,NAME]", multiple=True, help="Only the paths of sources, outputs, cables or sockets."
    ),
    click.option(
        "--around",
        metavar="BOX N",
        nargs=2,
        type=(str, click.IntRange(0)),
        multiple=True,
        help="A box and N cables far.",
    ),
    click.option(
        "--paper", type=click.Choice(PAPERS), help="Sheets that fit this paper, with marks from one to another."
    ),
    click.option("--theme", type=click.Choice(THEMES), default="print", help="Dark on white, or light on dark."),
    click.option("--revision", metavar="TEXT", help="For the title block; else the rig's own, else the git commit."),
)


def wanted_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options."""
    for option in reversed(OPTIONS):
        command = option(command)
    return command


def wanted(
    view: str,
    zones: tuple[str, ...],
    desks: tuple[str, ...],
    only: tuple[str, ...],
    around: tuple[tuple[str, int], ...],
    paper: str | None,
    theme: str,
    revision: str | None,
) -> Wanted:
    """What the options ask for."""
    from rigdsl.draw import Choice, Wanted

    choice = Choice(_names(zones, "--zone"), _names(desks, "--desk"), _names(only, "--only"), around)
    return Wanted(view, choice, paper or "", theme, revision or "")


def _names(given: tuple[str, ...], option: str) -> tuple[str, ...]:
    """The names of an option, which may be given several times, or several names with commas between."""
    names = tuple(dict.fromkeys(name.strip() for text in given for name in text.split(",") if name.strip()))
    if given and not names:
        raise Trouble(f"`{option}` takes a name, or several with commas between")
    return names
