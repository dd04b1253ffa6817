"""`rigdsl compare`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from rigdsl.cli.compare_drawing import draw_review, drawing_options, refuse_idle
from rigdsl.cli.reading import ended, found_packs, pack_option
from rigdsl.cli.streams import colour, columns, document, shown, write
from rigdsl.cli.trouble import Trouble
from rigdsl.cli.versions import Pair, pairs_of
from rigdsl.config.keys import NEVER
from rigdsl.finding import Level
from rigdsl.lint.order import worst_first
from rigdsl.lint.settings import LEVELS
from rigdsl.packs import Packs
from rigdsl.reports.look import Look
from rigdsl.reports.review_json import review_json, reviews_json
from rigdsl.reports.review_md import review_md
from rigdsl.reports.review_text import review_text
from rigdsl.review import Review, review
from rigdsl.review.review import Side
from rigdsl.show import Show

__all__ = ["command"]

MOST_DRAWN = 8  # things whose ways are drawn in a comment


@click.command("compare")
@click.argument("states", nargs=-1, required=True, metavar="OLD [NEW] [RIG]")
@click.option(
    "--as",
    "form",
    type=click.Choice(["text", "json", "md", "changeover"]),
    default="text",
    help="Markdown is a comment; changeover is a sheet for the crew.",
)
@click.option("--out", metavar="FILE", help="Where to; else it is printed.")
@click.option("--fail-on", type=click.Choice([*LEVELS, NEVER]), default=NEVER, help="Of what is newly found.")
@drawing_options
@pack_option
def command(
    states: tuple[str, ...],
    form: str,
    out: str | None,
    fail_on: str,
    view: str | None,
    pack_files: tuple[str, ...],
    **drawing: Any,
) -> int:
    """Say what a change means on the night.

    OLD and NEW are two rig files, two folders, or two commits of the git repository, with RIG or for every rig of the
    project; with one commit, it is held against the files as they are. The checkout is not touched: gear and venue
    files are read as each side has them. Levels and options of rules are those of the project as it is. Two acts of
    one night make a changeover: what to unplug, to plug and to move, zone by zone. --draw puts both states on one
    drawing: what came has a `+`, what went a `-`, what is otherwise a `~`, and what is as it was is pale.

    Example: rigdsl compare main HEAD shows/friday.rig --as md
    """
    packs = found_packs(pack_files)
    pairs = pairs_of(states, packs)
    found = [(pair, review(_side(pair.old), _side(pair.new))) for pair in pairs]
    if view is None:
        refuse_idle(drawing)
    elif form != "text":
        raise Trouble(f"`--draw` makes a drawing and `--as {form}` a text: ask for one, then for the other")
    else:
        draw_review(found, out, view, **drawing)
        return _status(packs, found, fail_on)
    made = _made([(pair, one) for pair, one in found if len(found) == 1 or not one.nothing], form, len(found))
    if out is None:
        document(made)
    else:
        write(Path(out), made)
    return _status(packs, found, fail_on)


def _status(packs: Packs, found: list[tuple[Pair, Review]], fail_on: str) -> int:
    worst = max((finding.level or Level.WARNING for _, one in found for finding in one.new), default=None)
    failed = fail_on != NEVER and worst is not None and worst >= Level[fail_on.upper()]
    return ended(packs, int(failed))


def _side(show: Show) -> Side:
    return Side(show.rig, show.paths, show.sources, worst_first(show.findings()))


def _made(found: list[tuple[Pair, Review]], form: str, looked_at: int) -> bytes:
    if form == "json":
        one_rig = found[0][1] if looked_at == 1 else None
        return review_json(one_rig) if one_rig else reviews_json([(pair.title, one) for pair, one in found])
    if form == "changeover":
        sheets = (_changeover(pair, one) for pair, one in found)
        return "\n".join(sheets).encode("utf-8", "replace")
    if form == "md":
        parts = [review_md(one, _title(pair), _excerpt(pair.new, one)) for pair, one in found]
        nothing = f"**{looked_at} rigs**: nothing changes on stage.\n"
        return ("\n\n".join(parts) or nothing).encode("utf-8", "replace") + b"\n"
    look = Look(colour(), columns(), shown)
    texts = [(f"{_title(pair)}\n" if looked_at > 1 else "") + review_text(one, look) for pair, one in found]
    return ("\n".join(texts) or "nothing changes on stage\n").encode("utf-8", "replace")


def _excerpt(show: Show, found: Review) -> str:
    """The whole ways of what changed, as text that hosts draw; nothing where none of it is on a drawing."""
    from rigdsl.draw import Choice, EmptyPartError, Wanted

    rig = show.rig
    there = (rig.sources, rig.outputs, rig.links, rig.boxes)
    names = [change.name for change in found.changes if any(change.name in some for some in there)][:MOST_DRAWN]
    if not names:
        return ""
    try:
        return show.draw(Wanted("flow", Choice(only=tuple(names))), "mmd").data.decode("utf-8")
    except (EmptyPartError, LookupError):
        return ""


def _changeover(pair: Pair, found: Review) -> str:
    """The sheet as Markdown, from the first act to the second."""
    from rigdsl.papers import Printed
    from rigdsl.reports.paper_md import paper_md
    from rigdsl.review.changeover import changeover

    tables = changeover(pair.old.paths, pair.new.paths, found)
    return paper_md(Printed("changeover", "Changeover", tables), pair.new.rig)


def _title(pair: Pair) -> str:
    if not pair.old_there:
        return f"{pair.title} (a new rig)"
    return pair.title if pair.new_there else f"{pair.title} (no longer there)"
