"""`rigdsl draw`."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from rigdsl.cli.reading import STDIN, ended, found_packs, one, pack_option
from rigdsl.cli.revision import revision_of
from rigdsl.cli.streams import document, notice, write
from rigdsl.cli.trouble import CANNOT, Trouble
from rigdsl.cli.wanted import wanted, wanted_options
from rigdsl.finding import Level
from rigdsl.lint.words import together
from rigdsl.packs import PackError, Packs
from rigdsl.reports.report import counted
from rigdsl.show import FORMATS, VIEWS, Drawing, Show, sheet_paths

if TYPE_CHECKING:
    from rigdsl.draw import Wanted

__all__ = ["command", "tell_stale"]

ALL = "all"
OURS = b'<meta name="generator" content="rigdsl">'


@click.command("draw")
@click.argument("rig", metavar="RIG")
@click.option("--view", metavar="NAME", help="flow, cabling, plan, a pack's view, or all; our three if not said.")
@click.option("--out", metavar="FILE|FOLDER", help="A folder, `-`, or a file: .svg .pdf .png .txt .mmd .gv.")
@click.option(
    "--engine",
    type=click.Choice(["embedded", "system"]),
    default="embedded",
    help="The layout engine that comes along, or an installed `dot`.",
)
@wanted_options
@pack_option
def command(rig: str, view: str | None, out: str | None, engine: str, pack_files: tuple[str, ...], **asked: Any) -> int:
    """Draw a rig: its signal flow, its cabling, its plan.

    `flow` reads from left to right as the signal goes, `cabling` has every box where it stands and every cable,
    `plan` is to scale. RIG is a rig file or `-` for standard input. Without --out the drawings are put into the
    current folder, and none that is there already is written over. A folder gets a page with all of them too,
    `index.html`; a file holds one drawing, `flow` where --view says nothing else. --zone, --desk, --only and --around
    draw a part; of several, what all of them show.

    Example: rigdsl draw shows/friday.rig --out drawings/
    """
    packs = found_packs(pack_files)
    show = one(rig, packs)
    views = _views(view, show.packs)
    asked["revision"] = revision_of(show, asked["revision"] or "")
    if view == ALL and out is not None and _format(Path(out)) == "pdf":
        _bind(show, views, wanted("", **asked), Path(out), engine)
        return ended(show.config.installed)
    targets = _targets(rig, views, out, chosen=view)
    made = {name: _draw(show, wanted(name, **asked), target, engine) for name, target in targets}
    drawn = {name: drawing for name, drawing in made.items() if drawing is not None and drawing.sheets}
    whole = drawn and all(drawing is not None for drawing in made.values())
    if whole and _is_folder(out):
        _write_page(show, wanted("", **asked), drawn, Path(str(out)))
    if view is None and not _is_folder(out) and out is not None:
        _tell_left_out(list(drawn))
    _tell_errors(show, list(drawn))
    return ended(show.config.installed) if whole else CANNOT


def _views(view: str | None, packs: Packs) -> list[str]:
    """The views that are asked for: ours where nothing is said, those of packs too where it is all of them."""
    there = [*VIEWS, *sorted(packs.views)]
    if view in (None, ALL):
        return there if view else list(VIEWS)
    if view not in there:
        raise Trouble(f"`--view` takes {', '.join(f'`{name}`' for name in [*there, ALL])}")
    return [str(view)]


def _tell_left_out(drawn: list[str]) -> None:
    """Say which views one file has no room for, where nobody asked for one of them."""
    left_out = [name for name in VIEWS if name not in drawn]
    if drawn and left_out:
        options = " or ".join(f"`--view {name}`" for name in left_out)
        notice(f"one file holds one drawing, here `{drawn[0]}`: {options} draws another, `--out FOLDER` draws all")


def _tell_errors(show: Show, views: list[str]) -> None:
    """Say how many errors there are, and how many of them a reader looks for in vain on a drawing."""
    errors = sum(finding.level == Level.ERROR for finding in show.findings())
    if not errors or not views:
        return
    said = counted([(errors, "error")])
    off = [(show.errors_off(view), view) for view in views]
    if not any(count for count, _ in off):
        said += f" {'is' if errors == 1 else 'are'} marked on the {'drawing' if len(views) == 1 else 'drawings'}"
    elif len(views) == 1:
        said += f", {_of_them(off[0][0], errors)}not on the drawing"
    else:
        said += ", " + " and ".join(f"{_of_them(count, errors)}not on `{view}`" for count, view in off if count)
    notice(f"{said}; `rigdsl check {show.path}` says how to mend {'it' if errors == 1 else 'them'}")


def _of_them(count: int, errors: int) -> str:
    return "" if errors == 1 else f"{count} of them "


def _targets(rig: str, views: list[str], out: str | None, chosen: str | None) -> list[tuple[str, Path | None]]:
    """Each view to draw, and the file it goes to (None: standard output)."""
    if out is not None and (out == STDIN or _format(Path(out)) is not None):
        if chosen == ALL:
            raise Trouble(f"`all` makes {len(views)} drawings, and `{out}` is one file: name a folder, or a PDF")
        return [(views[0], None if out == STDIN else Path(out))]
    stem = "rig" if rig == STDIN else Path(rig).stem
    targets = [(name, Path(out or os.curdir) / f"{stem}-{name.replace('/', '-')}.svg") for name in views]
    if out is None:
        _refuse_to_overwrite(targets)
    elif Path(out).suffix and not out.endswith(("/", os.sep)) and not Path(out).is_dir():
        raise Trouble(f"`{out}` is neither a folder nor a file in {', '.join(f'.{name}' for name in FORMATS)}")
    return list(targets)


def _refuse_to_overwrite(targets: list[tuple[str, Path]]) -> None:
    for _, target in targets:
        for path in (target, *sheet_paths(target, 2)):
            if path.exists():
                raise Trouble(f"`{path}` is there already: `--out .` writes over it, another folder leaves it alone")


def _format(target: Path) -> str | None:
    """The form that a file's name asks for."""
    suffix = target.suffix.lower().removeprefix(".")
    return suffix if suffix in FORMATS and not target.is_dir() else None


def _is_folder(out: str | None) -> bool:
    """Whether the drawings go into a folder that was named: the page goes there too."""
    return out is not None and out != STDIN and _format(Path(out)) is None


def _write_page(show: Show, asked: Wanted, drawn: dict[str, Drawing], folder: Path) -> None:
    """The page beside the drawings; a page that somebody else made is left alone."""
    target = folder / "index.html"
    if target.exists() and OURS not in target.read_bytes()[:2000]:
        notice(f"`{target}` is not a page of rigdsl and is left alone: another folder gets the page too")
        return
    write(target, show.page(drawn, asked))
    click.echo(f"page: {target}")


def _bind(show: Show, views: list[str], asked: Wanted, target: Path, engine: str) -> None:
    """All views in one PDF."""
    from rigdsl.draw import DrawError

    try:
        drawing = show.bound(views, asked, engine)
    except (DrawError, LookupError, PackError) as trouble:
        raise Trouble(str(trouble.args[0])) from None
    for note in drawing.notes:
        notice(note)
    write(target, drawing.data)
    click.echo(f"{', '.join(views)}: {target}")
    _tell_errors(show, views)


def _draw(show: Show, asked: Wanted, target: Path | None, engine: str) -> Drawing | None:
    """Draw one view: no sheets where nothing of what is asked for is on it, None where it breaks down.

    Either is said, and the others go on.
    """
    from rigdsl.draw import DrawError, EmptyPartError

    form = "svg" if target is None else _format(target) or "svg"
    try:
        drawing = show.draw(asked, form, engine)
    except EmptyPartError as empty:
        notice(str(empty.args[0]))
        return Drawing(())
    except (DrawError, LookupError) as trouble:
        raise Trouble(str(trouble.args[0])) from None
    except PackError as crash:
        notice(str(crash))
        return None
    for note in drawing.notes:
        notice(note)
    if target is None:
        if len(drawing.sheets) > 1:
            raise Trouble(f"the drawing has {len(drawing.sheets)} sheets, and `-` takes one: name a file or a folder")
        document(drawing.data)
        return drawing
    for sheet, path in zip(drawing.sheets, sheet_paths(target, len(drawing.sheets)), strict=True):
        write(path, sheet)
        click.echo(f"{asked.view}: {path}")
    tell_stale(target, len(drawing.sheets))
    return drawing


def tell_stale(target: Path, count: int) -> None:
    """Say which files beside the sheets are left from an earlier drawing: they look like sheets of this one."""
    new = {path.name for path in sheet_paths(target, count)}
    named = re.compile(re.escape(target.stem) + r"(-[1-9]\d*)?" + re.escape(target.suffix))
    old = [path.name for path in target.parent.iterdir() if named.fullmatch(path.name) and path.name not in new]
    if old:
        old.sort(key=lambda name: (len(name), name))
        kept = "is no sheet" if len(old) == 1 else "are no sheets"
        notice(f"in `{target.parent}` {together(old)} {kept} of this drawing, but left from an earlier one")
