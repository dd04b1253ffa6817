"""`rigdsl papers`."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import click

from rigdsl.cli.reading import STDIN, ended, found_packs, one, pack_option
from rigdsl.cli.revision import revision_of
from rigdsl.cli.streams import document, notice, write
from rigdsl.cli.trouble import CANNOT, Trouble
from rigdsl.finding import Level, similar
from rigdsl.packs import PackError, Packs
from rigdsl.papers import PAPERS, Facts, Paper, Printed, printed, unknown_columns
from rigdsl.printing import BOUND, FORMS, Form, Made, bound, lists
from rigdsl.rig.asked import asked
from rigdsl.show import Show

__all__ = ["command"]

STDOUT = "-"
CHANGEOVER = "changeover"  # the one paper that takes two rigs
BINARY = ("xlsx", "pdf")


@click.command("papers")
@click.argument("rig", metavar="RIG")
@click.argument("names", nargs=-1, metavar="[NAME ...]")
@click.option("--as", "form", type=click.Choice(FORMS), help="Markdown to read, CSV or XLSX to work on, HTML, PDF.")
@click.option("--out", metavar="FOLDER|FILE", help="Where to; without it, and without PDF or XLSX, they are printed.")
@click.option(
    "--paper",
    type=click.Choice(["a4", "a3", "letter"], case_sensitive=False),
    help="What PDF, XLSX and HTML are printed on.",
)
@click.option("--guest", metavar="NAMES", help="Whom a guest's sheet is for: sources, outputs, zones, a desk or a box.")
@click.option("--after", metavar="RIG", help="The act before this one, for the changeover between them.")
@click.option("--revision", metavar="TEXT", help="For the show book; else the rig's own, else the git commit.")
@pack_option
def command(
    rig: str,
    names: tuple[str, ...],
    form: str | None,
    out: str | None,
    paper: str | None,
    guest: str | None,
    after: str | None,
    revision: str | None,
    pack_files: tuple[str, ...],
) -> int:
    """Print the lists that a crew works from, or the whole show book.

    NAME is a paper: cautions, findings, input-list, output-list, box-sheets, cable-schedule, kit-list, control-sheet,
    tonight, guest-sheet, label-strips, changeover (with --after), or one of a pack; without one, all of them. As PDF
    all of them are the show book, with a cover and the drawings. RIG is a rig file or `-` for standard input. The
    files in FOLDER are called after the rig and the paper, and written over; XLSX, HTML and PDF are one file.

    Example: rigdsl papers shows/friday.rig --as pdf --out friday.pdf
    """
    packs = found_packs(pack_files)
    show = one(rig, packs)
    there = _there(show, after, packs)
    chosen = _chosen(names, there)
    form = form or _form_of(out)
    facts = show.facts(_guests(show, guest))
    made = [_made(one_paper, facts) for one_paper in chosen]
    whole = [done for done in made if done is not None]
    faults = [*_unknown_papers(show, there), *_unknown_columns(chosen, made, facts)]
    for said in faults:
        notice(said)
    stem = "rig" if rig == STDIN else Path(rig).stem
    if form in BOUND:
        size = paper or show.paper_settings.paper
        asked_for = Form(form, size, book=not names and form == "pdf", revision=revision_of(show, revision or ""))
        _write_bound(show, whole, asked_for, out, stem)
    else:
        _write_lists(show, whole, form, out, stem)
    if any(finding.level == Level.ERROR for finding in show.rig.findings):
        notice(f"some of the rig could not be read: `rigdsl check {show.path}` says what")
    return ended(show.config.installed) if len(whole) == len(made) and not faults else CANNOT


def _there(show: Show, after: str | None, packs: Packs) -> dict[str, Paper]:
    """All papers by their names: ours first, then those of packs; the changeover where there is an act before."""
    ours = {**PAPERS, **({} if after is None else {CHANGEOVER: _changeover(show, after, packs)})}
    theirs = {name: paper for name, paper in sorted(show.packs.papers.items()) if name not in ours}
    return {**ours, **theirs}


def _changeover(show: Show, after: str, packs: Packs) -> Paper:
    from rigdsl.review.changeover import changeover_paper

    before = one(after, packs)
    if not before.is_rig:
        raise Trouble(f"`{after}` has no `rig` head: a changeover is from one act to the next, and both are rigs")
    return changeover_paper(before.side, show.side)


def _chosen(names: Sequence[str], there: Mapping[str, Paper]) -> list[Paper]:
    """The papers of these names, each once; all where nobody chose."""
    for name in names:
        if name == CHANGEOVER and name not in there:
            raise Trouble("a changeover is from one act to the next: name the act before with `--after act-1.rig`")
        if name not in there:
            known = f"there are: {', '.join(f'`{name}`' for name in there)}"
            raise Trouble(f"there is no paper called `{name}`; {similar('paper', name, there) or known}")
    return [there[name] for name in dict.fromkeys(names or there)]


def _unknown_papers(show: Show, there: Mapping[str, Paper]) -> Iterator[str]:
    """What is said of each paper whose columns rig.toml chooses, and that is none."""
    for name in show.paper_settings.columns:
        if name not in there and name != CHANGEOVER:
            known = similar("paper", name, there) or f"there are: {', '.join(f'`{one}`' for one in there)}"
            yield f"`[papers.columns]` of rig.toml names the paper `{name}`, and there is none; {known}"


def _unknown_columns(chosen: Sequence[Paper], made: Sequence[Printed | None], facts: Facts) -> Iterator[str]:
    for paper, done in zip(chosen, made, strict=True):
        if done is not None:
            yield from unknown_columns(paper, facts)


def _form_of(out: str | None) -> str:
    """The form that a file's name asks for, else Markdown."""
    suffix = Path(out).suffix.removeprefix(".").lower() if out else ""
    return suffix if suffix in FORMS and not Path(str(out)).is_dir() else "md"


def _guests(show: Show, names: str | None) -> list[str]:
    """The names that a guest's sheet is about, each of which is there."""
    found = [name.strip() for name in (names or "").split(",") if name.strip()]
    for name in found:
        if name not in show.rig.zones:
            try:
                asked(show.rig, name)
            except LookupError as unknown:
                raise Trouble(str(unknown.args[0])) from None
    return found


def _made(paper: Paper, facts: Facts) -> Printed | None:
    """One paper; nothing where it breaks down, which is said, and the others go on."""
    try:
        return printed(paper, facts)
    except PackError as crash:
        notice(str(crash))
        return None


# ---- where to


def _is_file(out: str, form: str) -> bool:
    """Whether `--out` names one file of the form, and no folder."""
    return Path(out).suffix.lower() == f".{form}" and not Path(out).is_dir()


def _write_lists(show: Show, papers: Sequence[Printed], form: str, out: str | None, stem: str) -> None:
    made = [(paper, part, data) for paper in papers for part, data in lists(show, paper, form)]
    single = out is not None and out != STDOUT and _is_file(out, form)
    if form == "csv" and (out in (None, STDOUT) or single) and len(made) > 1:
        raise Trouble("CSV holds one table: name one paper that has one, or a folder with --out")
    if out in (None, STDOUT):
        document(b"\n".join(data for _, _, data in made))
    elif single:
        write(Path(str(out)), b"\n".join(data for _, _, data in made))
        click.echo(f"{', '.join(dict.fromkeys(paper.name for paper in papers))}: {out}")
    else:
        _refuse_a_file(str(out))
        for paper, part, data in made:
            target = Path(str(out)) / f"{stem}-{paper.name.replace('/', '-')}{part}.{form}"
            write(target, data)
            click.echo(f"{paper.name}: {target}")


def _write_bound(show: Show, papers: Sequence[Printed], form: Form, out: str | None, stem: str) -> None:
    if out is None and form.name in BINARY:
        raise Trouble(f"{form.name.upper()} is no text to be read here: name a file or a folder with --out")
    made = _bound(show, papers, form)
    for note in made.notes:
        notice(note)
    if out in (None, STDOUT):
        document(made.data)
        return
    target = Path(str(out))
    if not _is_file(str(out), form.name):
        _refuse_a_file(str(out))
        target = target / f"{stem}-{'show-book' if form.book else 'papers'}.{form.name}"
    write(target, made.data)
    click.echo(f"{'show book' if form.book else ', '.join(paper.name for paper in papers)}: {target}")


def _bound(show: Show, papers: Sequence[Printed], form: Form) -> Made:
    from rigdsl.draw import DrawError

    try:
        return bound(show, papers, form)
    except ImportError as missing:
        raise Trouble(f"this takes `{missing.name}`, which is not installed: `pip install 'rigdsl[papers]'`") from None
    except DrawError as trouble:
        raise Trouble(str(trouble.args[0])) from None


def _refuse_a_file(out: str) -> None:
    if os.path.exists(out) and not Path(out).is_dir():
        raise Trouble(f"`{out}` is a file: --out names a folder, or a file in the form that is asked for")
