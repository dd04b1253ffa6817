"""`rigdsl trace`."""

from __future__ import annotations

import click

from rigdsl.cli.reading import ended, found_packs, one, pack_option
from rigdsl.cli.streams import colour, columns, document, notice, shown
from rigdsl.cli.trouble import Trouble
from rigdsl.finding import Level
from rigdsl.reports.look import Look
from rigdsl.reports.trace import Traced, trace_json, trace_text
from rigdsl.rig.asked import asked

__all__ = ["command"]


@click.command("trace")
@click.argument("rig", metavar="RIG")
@click.argument("name", nargs=-1, required=True, metavar="NAME")
@click.option("--as", "form", type=click.Choice(["text", "json"]), default="text", help="For people, or for programs.")
@pack_option
def command(rig: str, name: tuple[str, ...], form: str, pack_files: tuple[str, ...]) -> int:
    """Follow a source, output, socket or cable, hop by hop.

    It tells where the signal comes from and where it goes to, or where it stops and why. RIG is a rig file or `-`
    for standard input. NAME is a source, an output, the id of a cable, a box, or one socket, channel or mix, as
    the rig has it.

    Example: rigdsl trace shows/friday.rig SL.mic 3
    """
    packs = found_packs(pack_files)
    show = one(rig, packs)
    try:
        kind, what = asked(show.rig, " ".join(name))
    except LookupError as trouble:
        raise Trouble(str(trouble.args[0])) from None
    traced = Traced(str(what), kind, show.paths.trace(what), show.rig)
    if form == "json":
        document(trace_json(traced))
    else:
        click.echo(trace_text(traced, Look(colour(), columns(), shown)), nl=False, color=colour())
    if any(finding.level == Level.ERROR for finding in show.rig.findings):
        notice(f"some of the rig could not be read: `rigdsl check {show.path}` says what")
    return ended(show.config.installed)
