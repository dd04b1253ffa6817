"""`rigdsl papers`."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

import click

from rigdsl.cli.reading import STDIN, ended, found_packs, one, pack_option
from rigdsl.cli.streams import document, notice, write
from rigdsl.cli.trouble import CANNOT, Trouble
from rigdsl.finding import Level, similar
from rigdsl.packs import PackError, Packs
from rigdsl.papers import PAPERS, Paper
from rigdsl.reports.paper import paper_csv, paper_md
from rigdsl.show import Show

__all__ = ["command"]

STDOUT = "-"


@click.command("papers")
@click.argument("rig", metavar="RIG")
@click.argument("names", nargs=-1, metavar="[NAME ...]")
@click.option("--as", "form", type=click.Choice(["md", "csv"]), default="md", help="Markdown to read, CSV to work on.")
@click.option("--out", metavar="FOLDER", help="Where to: a file for each paper; else they are printed.")
@pack_option
def command(rig: str, names: tuple[str, ...], form: str, out: str | None, pack_files: tuple[str, ...]) -> int:
    """Print the lists that a crew works from.

    NAME is `input-list` or `output-list`, or a paper of a pack; without one, all of them. RIG is a rig file or `-`
    for standard input. The files in FOLDER are called after the rig and the paper, and written over. CSV leaves out
    the notes at the foot.

    Example: rigdsl papers shows/friday.rig input-list --as csv --out papers
    """
    packs = found_packs(pack_files)
    papers = _chosen(names, packs)
    if form == "csv" and out in (None, STDOUT) and len(papers) > 1:
        raise Trouble("CSV holds one table: name one paper, or a folder with --out")
    show = one(rig, packs)
    made = [(paper, _made(show, paper, form)) for paper in papers]
    whole = [(paper, data) for paper, data in made if data is not None]
    if out in (None, STDOUT):
        document(b"\n".join(data for _, data in whole))
    else:
        _write(Path(str(out)), "rig" if rig == STDIN else Path(rig).stem, form, whole)
    if any(finding.level == Level.ERROR for finding in show.rig.findings):
        notice(f"some of the rig could not be read: `rigdsl check {show.path}` says what")
    return ended(packs) if len(whole) == len(made) else CANNOT


def _chosen(names: Sequence[str], packs: Packs) -> list[Paper]:
    """The papers of these names, each once; all where nobody chose."""
    there = {**packs.papers, **PAPERS}
    for name in names:
        if name not in there:
            known = f"there are: {', '.join(f'`{name}`' for name in _in_order(there))}"
            raise Trouble(f"there is no paper called `{name}`; {similar('paper', name, there) or known}")
    return [there[name] for name in dict.fromkeys(names or _in_order(there))]


def _in_order(names: dict[str, Paper]) -> list[str]:
    """Ours first, then those of packs."""
    return [*PAPERS, *sorted(names.keys() - PAPERS.keys())]


def _made(show: Show, paper: Paper, form: str) -> bytes | None:
    """One paper; nothing where it breaks down, which is said, and the others go on."""
    try:
        table = paper.table(show.rig, show.paths)
    except PackError as crash:
        notice(str(crash))
        return None
    return paper_csv(table) if form == "csv" else paper_md(paper.title, show.rig, table).encode("utf-8", "replace")


def _write(folder: Path, stem: str, form: str, papers: Sequence[tuple[Paper, bytes]]) -> None:
    if os.path.exists(folder) and not folder.is_dir():
        raise Trouble(f"`{folder}` is a file: --out names a folder")
    for paper, data in papers:
        target = folder / f"{stem}-{paper.name.replace('/', '-')}.{form}"
        write(target, data)
        click.echo(f"{paper.name}: {target}")
