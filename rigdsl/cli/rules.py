"""`rigdsl rules`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import click

from rigdsl.cli.entries import listed
from rigdsl.cli.reading import ended, found_packs, here, one, pack_option
from rigdsl.cli.streams import colour, columns, document, notice, shown
from rigdsl.config import config_of
from rigdsl.packs import Packs
from rigdsl.reports.look import Look
from rigdsl.reports.rule_list import Entry, rules_json, rules_text

__all__ = ["command"]


@click.command("rules")
@click.option("--as", "form", type=click.Choice(["text", "json"]), default="text", help="For people, or for programs.")
@click.option("--newer", is_flag=True, help="Only those later than the edition that the project keeps to.")
@click.option("--timing", metavar="RIG", help="Run every rule over this rig, and tell what each takes, longest first.")
@pack_option
def command(form: str, newer: bool, timing: str | None, pack_files: tuple[str, ...]) -> int:
    """List every rule that is checked.

    Each line has its name, level (and whether it is off), pack, version, edition, and what it is about.

    Example: rigdsl rules --timing shows/friday.rig
    """
    packs = found_packs(pack_files)
    config = config_of(here(), packs)
    entries: Sequence[Entry] = listed(packs, config)
    if newer:
        names = {packed.name for packed in config.newer}
        entries = [entry for entry in entries if entry.name in names]
    if timing is not None:
        entries = _timed(entries, packs, timing)
    if form == "json":
        document(rules_json(entries))
    else:
        click.echo(rules_text(entries, Look(colour(), columns(), shown)), nl=False, color=colour())
    return ended(packs)


def _timed(entries: Sequence[Entry], packs: Packs, path: str) -> list[Entry]:
    """The rules with what each took, those that took longest first; rules of reading have no time of their own."""
    from rigdsl.lint.timing import costs

    show = one(path, packs)
    found = costs(show.rig, packs.rules)
    notice(
        f"every rule was run over {show.path} and timed once what they share of its paths was worked out"
        f" ({found.shared_s * 1e3:.1f} ms); all of them together took {found.total_s * 1e3:.1f} ms"
    )
    taken = {name: round(seconds * 1e3, 3) for name, seconds in found.by_rule.items()}
    timed = [replace(entry, took_ms=taken.get(entry.name)) for entry in entries]
    return sorted(timed, key=lambda entry: -1.0 if entry.took_ms is None else entry.took_ms, reverse=True)
