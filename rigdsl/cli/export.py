"""`rigdsl export`."""

from __future__ import annotations

from pathlib import Path

import click

from rigdsl.cli.reading import STDIN, ended, found_packs, one, pack_option
from rigdsl.cli.streams import document, notice, write
from rigdsl.finding import Level
from rigdsl.reports.export import export
from rigdsl.reports.report import counted

__all__ = ["command"]


@click.command("export")
@click.argument("rig", metavar="RIG")
@click.option("--out", metavar="FILE", help="Write it to a file, whole or not at all.")
@pack_option
def command(rig: str, out: str | None, pack_files: tuple[str, ...]) -> int:
    """Write the resolved rig as JSON, for other programs.

    Every box, cable, source and patch as rigdsl understands it, by a published schema; no lines, no order of the
    file. RIG is a rig file or `-` for standard input.

    Example: rigdsl export shows/friday.rig --out friday.json
    """
    packs = found_packs(pack_files)
    show = one(rig, packs)
    data = export(show.rig, show.sources)
    if out is None or out == STDIN:
        document(data)
    else:
        write(Path(out), data)
    errors = sum(finding.level == Level.ERROR for finding in show.rig.findings)
    if errors:
        said = f"what could not be read is left out: {counted([(errors, 'error')])}"
        notice(f"{said}; `rigdsl check {show.path}` says how to mend {'it' if errors == 1 else 'them'}")
    return ended(packs)
