"""`rigdsl check`."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence

import click

from rigdsl.cli.reading import Entry, entries, found_packs, pack_option
from rigdsl.cli.streams import colour, columns, document, notice, shown
from rigdsl.cli.trouble import CANNOT
from rigdsl.finding import Level
from rigdsl.packs import Packs
from rigdsl.reports.look import Look
from rigdsl.reports.report import Checked, Report
from rigdsl.reports.text import text
from rigdsl.show import today

__all__ = ["command"]

FAILING = {"error": Level.ERROR, "warning": Level.WARNING, "note": Level.NOTE}
MANY = 8  # rigs, from which on a progress bar is worth its line


@click.command("check")
@click.argument("paths", nargs=-1, metavar="[PATH ...]")
@click.option("--as", "form", type=click.Choice(["text", "json"]), default="text", help="For people, or for programs.")
@click.option(
    "--fail-on",
    type=click.Choice([*FAILING, "never"]),
    default="error",
    help="The mildest finding that makes the exit status 1.",
)
@click.option("--accepted", is_flag=True, help="List the accepted findings too.")
@pack_option
def command(paths: tuple[str, ...], form: str, fail_on: str, accepted: bool, pack_files: tuple[str, ...]) -> int:
    """Tell what is wrong with rigs, and how to mend it.

    PATH is a rig file, a folder, or `-` for standard input; without one, every rig of the project is checked.
    The exit status is 0 where nothing is wrong, 1 where something is, and 2 where the check could not be done.

    Example: rigdsl check shows/friday.rig --fail-on warning
    """
    packs = found_packs(pack_files)
    report = _report(entries(paths), packs)
    if form == "json":
        from rigdsl.reports.check_json import check_json  # people need not wait for what only programs read

        document(check_json(report, accepted))
    else:
        click.echo(text(report, Look(colour(), columns(), shown), accepted), nl=False, color=colour())
    if not report.rigs:
        notice("without a `rig` head a file is only complete inside a rig that uses it, and is checked there")
    if packs.refused or any(checked.verdict.crashed for checked in report.files):
        return CANNOT
    threshold = FAILING.get(fail_on)
    return int(threshold is not None and (report.worst or 0) >= threshold)


def _report(found: Sequence[Entry], packs: Packs) -> Report:
    from importlib.metadata import version

    rigs = tuple(_checked(found, packs))
    names = tuple((item.pack.name, item.version) for item in packs.installed)
    return Report(tuple(sorted(rigs, key=lambda checked: checked.path)), names, version("rigdsl"))


def _checked(found: Sequence[Entry], packs: Packs) -> Iterator[Checked]:
    """Rigs first, then those libraries that none of them uses: a head that cannot be read must not hide a rig."""
    day = today()
    used: set[str] = set()
    for entry in _watched(sorted(found, key=lambda entry: not entry.is_rig)):
        key = entry.reader.same(entry.path)
        if key not in used or entry.is_rig:
            show = entry.opened(packs, day)
            used.update(entry.reader.same(source.path) for source in show.sources)
            yield Checked(show.path, show.is_rig, show.rig, show.verdict)


def _watched(found: Sequence[Entry]) -> Iterator[Entry]:
    """The same entries, with a progress bar where there are many and somebody is looking."""
    if len(found) < MANY or not sys.stderr.isatty():
        yield from found
        return
    with click.progressbar(found, label="checking", file=sys.stderr) as bar:
        yield from bar
