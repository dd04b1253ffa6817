"""`rigdsl compare`."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from rigdsl.cli.compare_drawing import draw_review, drawing_options, refuse_idle
from rigdsl.cli.reading import ended, found_packs, pack_option
from rigdsl.cli.streams import colour, columns, document, shown, write
from rigdsl.cli.trouble import Trouble
from rigdsl.cli.versions import Pair, pairs_of
from rigdsl.config.keys import NEVER
from rigdsl.finding import Finding, Level
from rigdsl.lint.settings import LEVELS
from rigdsl.lint.words import count
from rigdsl.packs import Packs
from rigdsl.reports.look import Look
from rigdsl.reports.review_json import review_json, reviews_json
from rigdsl.reports.review_text import review_text
from rigdsl.show import Show

if TYPE_CHECKING:  # only a comment waits for what hands do
    from rigdsl.review.step import Step

__all__ = ["command"]

MOST_DRAWN = 8  # things whose ways are drawn in a comment


@click.command("compare")
@click.argument("states", nargs=-1, metavar="OLD [NEW] [RIG]")
@click.option(
    "--as",
    "form",
    type=click.Choice(["text", "json", "md", "changeover"]),
    help="Markdown is a comment; changeover is a sheet for the crew. Else as the file of --out is called.",
)
@click.option("--merge", is_flag=True, help="What a merge makes that none of its branches has: --merge [COMMIT] [RIG].")
@click.option("--out", metavar="FILE", help="Where to; else it is printed.")
@click.option("--fail-on", type=click.Choice([*LEVELS, NEVER]), default=NEVER, help="Of what is newly found.")
@drawing_options
@pack_option
def command(
    states: tuple[str, ...],
    form: str | None,
    merge: bool,
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

    Two branches may each be well, and wrong together: --merge tells what only the merge makes, and which
    commit of which branch has a part in it. It is of the merge that is under way, of the last commit, or of COMMIT.

    Example: rigdsl compare main HEAD shows/friday.rig --as md
    """
    packs = found_packs(pack_files)
    form = form or _form_of(out if view is None else None)
    new: Sequence[Finding]
    if view is None:
        refuse_idle(drawing)
        made, new = _merged(states, form, packs) if merge else _compared(states, form, packs)
        document(made) if out is None else write(Path(out), made)
    elif merge or form != "text":
        other = "--merge" if merge else f"--as {form}"
        raise Trouble(f"`--draw` makes a drawing and `{other}` a text: ask for one, then for the other")
    else:
        new = draw_review(_pairs(states, packs), out, view, **drawing)
    worst = max((finding.level or Level.WARNING for finding in new), default=None)
    failed = fail_on != NEVER and worst is not None and worst >= Level[fail_on.upper()]
    return ended(packs, int(failed))


def _form_of(out: str | None) -> str:
    """The form that a file's name asks for, else text."""
    suffix = Path(out).suffix.lower().removeprefix(".") if out else ""
    return suffix if suffix in ("json", "md") else "text"


def _pairs(states: Sequence[str], packs: Packs) -> list[Pair]:
    if not states:
        raise Trouble("OLD is missing: name two files, two folders, or one or two commits; or a merge by --merge")
    return pairs_of(states, packs)


def _compared(states: Sequence[str], form: str, packs: Packs) -> tuple[bytes, list[Finding]]:
    """The document, and what is newly found."""
    pairs = _pairs(states, packs)
    told = [pair for pair in pairs if len(pairs) == 1 or not pair.review.nothing]
    return _made(told, form, len(pairs)), [finding for pair in pairs for finding in pair.review.new]


def _merged(states: Sequence[str], form: str, packs: Packs) -> tuple[bytes, list[Finding]]:
    """The same of a merge."""
    from rigdsl.cli.merges import findings_of, merge_of
    from rigdsl.reports.merge_json import merge_json
    from rigdsl.reports.merge_md import merge_md
    from rigdsl.reports.merge_text import merge_text

    words = list(states)
    commit = words.pop(0) if words and not os.path.exists(words[0]) else ""
    if form == "changeover":
        raise Trouble("a merge has no changeover: `--merge` tells what only the merge makes, as text, JSON or Markdown")
    if len(words) > 1:
        raise Trouble(
            "`--merge` takes a commit and then a rig, or one of them: `rigdsl compare --merge HEAD night.rig`"
        )
    rig = words[0] if words else ""
    which = merge_of(commit, rig)
    found = list(findings_of(which, rig, packs))
    new = [one.finding for _, some in found for one in some]
    if form == "json":
        return merge_json(found, which.names), new
    if form == "md":
        return (merge_md(found, which.names) + "\n").encode("utf-8", "replace"), new
    return merge_text(found, which.names, Look(colour(), columns(), shown)).encode("utf-8", "replace"), new


def _made(pairs: Sequence[Pair], form: str, looked_at: int) -> bytes:
    if form == "json":
        one_rig = pairs[0].review if looked_at == 1 else None
        return review_json(one_rig) if one_rig else reviews_json([(pair.title, pair.review) for pair in pairs])
    if form == "changeover":
        sheets = [_changeover(pair.old, pair.new) for pair in pairs if pair.old and pair.new]
        if pairs and not sheets:
            raise Trouble("a changeover is from one act to the next, and here is no rig that both states have")
        return "\n".join(sheets).encode("utf-8", "replace")
    if form == "md":
        from rigdsl.reports.review_md import review_md, reviews_md

        parts = [review_md(pair.review, _title(pair), _steps(pair), _excerpt(pair)) for pair in pairs]
        nothing = [f"**{count(looked_at, 'rig')}**: nothing changes on stage."]
        return reviews_md(parts or [nothing]).encode("utf-8", "replace")
    look = Look(colour(), columns(), shown)
    texts = [(f"{_title(pair)}\n" if looked_at > 1 else "") + review_text(pair.review, look) for pair in pairs]
    return ("\n".join(texts) or "nothing changes on stage\n").encode("utf-8", "replace")


def _steps(pair: Pair) -> Sequence[Step]:
    """What hands do, where there is a rig on both sides."""
    from rigdsl.review.handwork import steps

    return steps(pair.old.rig, pair.new.rig, pair.review) if pair.old and pair.new else ()


def _excerpt(pair: Pair) -> str:
    """The whole ways of what changed, as text that hosts draw; nothing where none of it is on a drawing."""
    from rigdsl.draw import Choice, EmptyPartError, Wanted

    if pair.new is None or pair.old is None:
        return ""
    rig = pair.new.rig
    there = (rig.sources, rig.outputs, rig.links, rig.boxes)
    names = [change.name for change in pair.review.changes if any(change.name in some for some in there)][:MOST_DRAWN]
    if not names:
        return ""
    try:
        return pair.new.draw(Wanted("flow", Choice(only=tuple(names))), "mmd").data.decode("utf-8")
    except (EmptyPartError, LookupError):
        return ""


def _changeover(old: Show, new: Show) -> str:
    """The sheet as Markdown, from the first act to the second."""
    from rigdsl.papers import printed
    from rigdsl.reports.paper_md import paper_md
    from rigdsl.review.changeover import changeover_paper

    return paper_md(printed(changeover_paper(old.side, new.side), new.facts()), new.rig)


def _title(pair: Pair) -> str:
    if pair.old is None:
        return f"{pair.title} (a new rig)"
    return pair.title if pair.new else f"{pair.title} (no longer there)"
