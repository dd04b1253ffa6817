"""`rigdsl explain`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from rigdsl.cli.entries import listed
from rigdsl.cli.reading import ended, found_packs, pack_option, settled
from rigdsl.cli.streams import colour, columns, document, shown, write
from rigdsl.cli.trouble import Trouble
from rigdsl.finding import similar
from rigdsl.reports.look import Look
from rigdsl.reports.rule_list import Entry, page_text
from rigdsl.reports.rule_pages import index_md, page_md, page_name

__all__ = ["command"]

INDEX = "README.md"  # what a folder shows first wherever code is kept


@click.command("explain")
@click.argument("rule", required=False, metavar="RULE")
@click.option("--all", "all_", is_flag=True, help="Every rule's page; with --out, and an index of them.")
@click.option("--as", "form", type=click.Choice(["text", "md"]), default="text", help="For a terminal, or Markdown.")
@click.option("--out", metavar="FOLDER", help="Where to: a Markdown file for each page, in place of printing them.")
@pack_option
def command(rule: str | None, all_: bool, form: str, out: str | None, pack_files: tuple[str, ...]) -> int:
    """Explain a rule: what it checks, why, and an example of each kind.

    Example: rigdsl explain protocol-mismatch
    """
    if (rule is None) != all_:
        raise Trouble(
            "a rule and `--all` say two things: one of them is enough"
            if rule
            else "no rule is named: name one, or `--all`"
        )
    if out is not None and form != "md":
        raise Trouble("pages are written as Markdown: `--as md --out FOLDER`")
    config = settled(found_packs(pack_files))
    entries = listed(config.installed, config)
    chosen = entries if rule is None else [_named(rule, entries)]
    if out is not None:
        _write(Path(out), chosen, index=rule is None)
    elif form == "md":
        document("\n".join(map(page_md, chosen)).encode("utf-8", "replace"))
    else:
        look = Look(colour(), columns(), shown)
        click.echo("\n".join(page_text(entry, look) for entry in chosen), nl=False, color=colour())
    return ended(config.installed)


def _named(rule: str, entries: Sequence[Entry]) -> Entry:
    by_name = {entry.name: entry for entry in entries}
    if rule not in by_name:
        hint = similar("rule", rule, by_name) or "`rigdsl rules` lists them all"
        raise Trouble(f"there is no rule called `{rule}`; {hint}")
    return by_name[rule]


def _write(folder: Path, entries: Sequence[Entry], *, index: bool) -> None:
    for entry in entries:
        write(folder / page_name(entry), page_md(entry).encode("utf-8", "replace"))
    if index:
        write(folder / INDEX, index_md(entries).encode("utf-8", "replace"))
    pages = "1 page" if len(entries) == 1 else f"{len(entries)} pages"
    click.echo(f"{pages}: {folder}")
