"""`rigdsl rules`."""

from __future__ import annotations

import click

from rigdsl.cli.entries import listed
from rigdsl.cli.reading import found_packs, here
from rigdsl.cli.streams import colour, columns, document, shown
from rigdsl.config import config_of
from rigdsl.reports.look import Look
from rigdsl.reports.rule_list import rules_json, rules_text

__all__ = ["command"]


@click.command("rules")
@click.option("--as", "form", type=click.Choice(["text", "json"]), default="text", help="For people, or for programs.")
@click.option("--newer", is_flag=True, help="Only those later than the edition that the project keeps to.")
def command(form: str, newer: bool) -> int:
    """List every rule that is checked.

    Each line has its name, level, pack and version, and what it is about.

    Example: rigdsl rules
    """
    packs = found_packs()
    config = config_of(here(), packs)
    entries = listed(packs, config)
    if newer:
        names = {packed.name for packed in config.newer}
        entries = [entry for entry in entries if entry.name in names]
    if form == "json":
        document(rules_json(entries))
    else:
        click.echo(rules_text(entries, Look(colour(), columns(), shown)), nl=False, color=colour())
    return 0
