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
MOST_CABLES = 1000  # further is everything

OPTIONS = (
    click.option("--zone", "zones", metavar="NAME[,NAME]", multiple=True, help="Only what stands in these zones."),
    click.option("--desk", "desks", metavar="NAME[,NAME]", multiple=True, help="Only what goes to and from a desk."),
    click.option(
        "--only", metavar="NAME[,NAME]", multiple=True, help="Only the paths of sources, outputs, cables or sockets."
    ),
    click.option("--around", metavar="BOX N", nargs=2, multiple=True, help="A box, and what is N cables far."),
    click.option(
        "--paper",
        type=click.Choice(PAPERS, case_sensitive=False),
        help="Sheets that fit this paper, with marks from one to another.",
    ),
    click.option(
        "--theme",
        type=click.Choice(THEMES, case_sensitive=False),
        default="print",
        help="Dark on white, or light on dark.",
    ),
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
    around: tuple[tuple[str, str], ...],
    paper: str | None,
    theme: str,
    revision: str | None,
) -> Wanted:
    """What the options ask for."""
    from rigdsl.draw import Choice, Wanted

    choice = Choice(_names(zones, "--zone"), _names(desks, "--desk"), _names(only, "--only"), _around(around))
    return Wanted(view, choice, paper or "", theme, revision or "")


def _around(given: tuple[tuple[str, str], ...]) -> tuple[tuple[str, int], ...]:
    """Boxes, each with how many cables far."""
    for box, cables in given:
        if not (cables.isascii() and cables.isdigit()):
            raise Trouble(f"`--around` takes a box and a number of cables: `--around {box} 2`; `{cables}` is no number")
    return tuple((box, min(int(cables), MOST_CABLES)) for box, cables in given)


def _names(given: tuple[str, ...], option: str) -> tuple[str, ...]:
    """The names of an option, which may be given several times, or several names with commas between."""
    names = tuple(dict.fromkeys(name.strip() for text in given for name in text.split(",") if name.strip()))
    if given and not names:
        raise Trouble(f"`{option}` takes a name, or several with commas between")
    return names
