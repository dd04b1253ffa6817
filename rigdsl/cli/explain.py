"""`rigdsl explain`."""

from __future__ import annotations

import click

from rigdsl.cli.entries import listed
from rigdsl.cli.reading import found_packs, here
from rigdsl.cli.streams import colour, columns, shown
from rigdsl.cli.trouble import Trouble
from rigdsl.config import config_of
from rigdsl.finding import similar
from rigdsl.reports.look import Look
from rigdsl.reports.rule_list import page_text

__all__ = ["command"]


@click.command("explain")
@click.argument("rule", metavar="RULE")
def command(rule: str) -> int:
    """Explain a rule: what it checks, why, and an example of each kind.

    Example: rigdsl explain protocol-mismatch
    """
    packs = found_packs()
    entries = {entry.name: entry for entry in listed(packs, config_of(here(), packs))}
    if rule not in entries:
        hint = similar("rule", rule, entries) or "`rigdsl rules` lists them all"
        raise Trouble(f"there is no rule called `{rule}`; {hint}")
    click.echo(page_text(entries[rule], Look(colour(), columns(), shown)), nl=False, color=colour())
    return 0
