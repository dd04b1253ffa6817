"""`rigdsl check`."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from rigdsl.cli.forms import FORMS, made
from rigdsl.cli.project import Projects, announce, in_ci, keep_up, known_now
from rigdsl.cli.reading import STDIN, Entry, entries, found_packs, pack_option, whole_project
from rigdsl.cli.streams import colour, columns, document, notice, shown, write
from rigdsl.cli.trouble import CANNOT, Trouble
from rigdsl.config import Config
from rigdsl.config.keys import NEVER
from rigdsl.finding import Level
from rigdsl.lint import Verdict
from rigdsl.lint.settings import LEVELS
from rigdsl.reports.look import PLAIN, Look
from rigdsl.reports.report import Checked, Report
from rigdsl.reports.text import text
from rigdsl.rig import Head, Rig
from rigdsl.show import Show, today

__all__ = ["command"]

MANY = 8  # rigs, from which on a progress bar is worth its line


@click.command("check")
@click.argument("paths", nargs=-1, metavar="[PATH ...]")
@click.option(
    "--as",
    "form",
    type=click.Choice(["text", *FORMS]),
    default="text",
    help="For people, or for programs: JSON by a schema, SARIF 2.1.0 for code scanning, annotations of a workflow, "
    "JUnit XML for dashboards.",
)
@click.option(
    "--fail-on",
    type=click.Choice([*LEVELS, NEVER]),
    help="The mildest finding that makes the exit status 1; `error` where neither this nor rig.toml says one.",
)
@click.option("--accepted", is_flag=True, help="List the accepted findings too.")
@click.option("--out", metavar="FILE", help="Write it to a file, whole or not at all.")
@click.option("--known", is_flag=True, help="List the known findings too.")
@click.option("--remember", is_flag=True, help="Put all that is open on the list of known findings.")
@click.option("--keep-known", is_flag=True, help="Leave the list of known findings as it is.")
@click.option("--why", metavar="RULE", help="Tell what set a rule's level and options for each rig, and check nothing.")
@pack_option
def command(
    paths: tuple[str, ...],
    form: str,
    fail_on: str | None,
    accepted: bool,
    out: str | None,
    known: bool,
    remember: bool,
    keep_known: bool,
    why: str | None,
    pack_files: tuple[str, ...],
) -> int:
    """Tell what is wrong with rigs, and how to mend it.

    PATH is a rig file, a folder, or `-` for standard input; without one, every rig of the project is checked.
    The exit status is 0 where nothing is wrong, 1 where something is, and 2 where the check could not be done.

    Example: rigdsl check shows/friday.rig --fail-on warning
    """
    _refuse(remember=remember, keep=keep_known, why=why, form=form, out=out)
    packs = found_packs(pack_files)
    projects = Projects(packs)
    root = whole_project(paths)
    found = entries(paths, projects.of(root) if root else Config())
    if root:
        projects.judge(root, [entry.path for entry in found])
    if why is not None:
        return _tell_why(why, found, projects, fail_on)
    shows = tuple(_shows(found, projects))
    report = _report(shows, projects, fail_on, remember)
    failing = [checked.failing for checked in report.files if checked.failing is not None]
    if form != "text":
        _put(made(form, report, projects.loaded, accepted, known, min(failing, default=None)), out)
    elif out not in (None, STDIN):
        _put(text(report, PLAIN, accepted, known).encode("utf-8", "replace"), out)
    else:
        click.echo(text(report, Look(colour(), columns(), shown), accepted, known), nl=False, color=colour())
    if not report.rigs:
        notice("without a `rig` head a file is only complete inside a rig that uses it, and is checked there")
    _tell_projects(shows, projects, remember=remember, keep=keep_known)
    return CANNOT if packs.refused or not report.whole else int(report.fails)


def _refuse(*, remember: bool, keep: bool, why: str | None, form: str, out: str | None) -> None:
    """Options that contradict each other."""
    if remember and keep:
        raise Trouble("`--remember` puts findings on the list, and `--keep-known` leaves it alone: choose one")
    if why is not None and (remember or form != "text" or out is not None):
        raise Trouble("`--why` checks nothing and is for people: leave `--as`, `--out` and `--remember` away")


def _tell_projects(shows: Sequence[Show], projects: Projects, *, remember: bool, keep: bool) -> None:
    """What each project has to be told, and its list of known findings."""
    for config in projects.found.values():
        announce(config)
        theirs = [(show.path, show.verdict) for show in shows if show.config is config and _listed(show)]
        keep_up(config, theirs, remember=remember, keep=keep or (in_ci() and not remember))


def _tell_why(rule: str, found: Sequence[Entry], projects: Projects, fail_on: str | None) -> int:
    """What set a rule's level and options."""
    from rigdsl.reports.why import Asked, why_text

    asked = [Asked(entry.path, projects.of(entry.root), fail_on) for entry in found if entry.is_rig]
    try:
        click.echo(why_text(rule, asked, Look(colour(), columns(), shown)), nl=False, color=colour())
    except LookupError as trouble:
        raise Trouble(str(trouble.args[0])) from None
    return CANNOT if any(config.findings for config in projects.found.values()) else 0


def _put(data: bytes, out: str | None) -> None:
    """To a file, or to standard output."""
    if out is None or out == STDIN:
        document(data)
    else:
        write(Path(out), data)


def _report(shows: Sequence[Show], projects: Projects, fail_on: str | None, remember: bool) -> Report:
    """The report of rigs, and of the projects' own files where something is wrong with them."""
    from importlib.metadata import version

    checked = [
        Checked(show.path, show.is_rig, show.rig, _verdict(show, remember), _failing(show.config, fail_on))
        for show in shows
    ]
    for config in projects.found.values():
        for path in sorted({finding.place.source.path for finding in config.findings}):
            own = tuple(finding for finding in config.findings if finding.place.source.path == path)
            checked.append(Checked(path, False, Rig(Head()), Verdict(own), _failing(config, fail_on)))
    used = {(item.pack.name, item.version) for config in projects.found.values() for item in config.packs.installed}
    return Report(tuple(sorted(checked, key=lambda one: one.path)), tuple(sorted(used)), version("rigdsl"))


def _verdict(show: Show, remember: bool) -> Verdict:
    """What is said of a show: what is put on its project's list now is known already."""
    can = remember and _listed(show) and show.config.known is not None
    return known_now(show.verdict) if can else show.verdict


def _listed(show: Show) -> bool:
    """Whether a show can be on a list: it is a rig, and a file."""
    return show.is_rig and show.path != STDIN


def _failing(config: Config, fail_on: str | None) -> Level | None:
    """The mildest level that fails: the command's, else the project's, else `error`."""
    said = fail_on or (config.fail_on.value if config.fail_on else "error")
    return LEVELS.get(said)


def _shows(found: Sequence[Entry], projects: Projects) -> Iterator[Show]:
    """Rigs first, then those libraries that none of them uses: a head that cannot be read must not hide a rig."""
    day = today()
    used: set[str] = set()
    for entry in _watched(sorted(found, key=lambda entry: not entry.is_rig)):
        key = entry.reader.same(entry.path)
        if key not in used or entry.is_rig:
            show = entry.opened(projects.packs, day, projects.of(entry.root))
            used.update(entry.reader.same(source.path) for source in show.sources)
            yield show


def _watched(found: Sequence[Entry]) -> Iterator[Entry]:
    """The same entries, with a progress bar where there are many and somebody is looking."""
    if len(found) < MANY or not sys.stderr.isatty():
        yield from found
        return
    with click.progressbar(found, label="checking", file=sys.stderr) as bar:
        yield from bar
