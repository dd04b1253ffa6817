"""`rigdsl lose`."""

from __future__ import annotations

from collections.abc import Callable

import click

from rigdsl.cli.reading import ended, found_packs, one, pack_option
from rigdsl.cli.streams import colour, columns, document, notice, shown
from rigdsl.cli.trouble import Trouble
from rigdsl.finding import Level
from rigdsl.paths.failure import Failures
from rigdsl.plan.lose import asked_to_fail, loss
from rigdsl.reports.look import Look
from rigdsl.reports.lose import lose_json, lose_text, ranking_json, ranking_text

__all__ = ["command"]


@click.command("lose")
@click.argument("rig", metavar="RIG")
@click.argument("name", nargs=-1, metavar="[NAME ...]")
@click.option("--top", type=click.IntRange(1), metavar="N", help="Without a name: only the N worst.")
@click.option("--as", "form", type=click.Choice(["text", "json"]), default="text", help="For people, or for programs.")
@pack_option
def command(rig: str, name: tuple[str, ...], top: int | None, form: str, pack_files: tuple[str, ...]) -> int:
    """Tell what falls silent if cables or boxes fail.

    RIG is a rig file or `-` for standard input. NAME is a cable, a box, a source or output (its own cable), a supply
    (every box on it), or a loom: `loom T1`. Several fail together. What has another way that works, a second half of
    a pair or a second desk, stands. Without a name, every cable and box is ranked, the worst first.

    Example: rigdsl lose shows/friday.rig C01
    """
    packs = found_packs(pack_files)
    show = one(rig, packs)
    try:
        names = asked_to_fail(show.rig, name)
    except LookupError as trouble:
        raise Trouble(str(trouble.args[0])) from None
    if names and top is not None:
        raise Trouble("`--top` is for the ranking of all cables and boxes, which takes no names")
    failures, look = Failures(show.paths), Look(colour(), columns(), shown)
    if names:
        told = loss(failures, names)
        _say(form, lambda: lose_json(told), lambda: lose_text(told, look))
    else:
        ranking = failures.ranking
        _say(form, lambda: ranking_json(ranking[:top]), lambda: ranking_text(ranking, show.rig, look, top))
    if any(finding.level == Level.ERROR for finding in show.rig.findings):
        notice(f"some of the rig could not be read: `rigdsl check {show.path}` says what")
    return ended(show.config.installed)


def _say(form: str, as_json: Callable[[], bytes], as_text: Callable[[], str]) -> None:
    if form == "json":
        document(as_json())
    else:
        click.echo(as_text(), nl=False, color=colour())
