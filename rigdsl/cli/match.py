"""`rigdsl match`."""

from __future__ import annotations

import re
from collections.abc import Sequence

import click

from rigdsl.cli.reading import ended, entries, found_packs, here, pack_option
from rigdsl.cli.streams import colour, columns, document, notice, shown
from rigdsl.cli.trouble import Trouble
from rigdsl.config import Config, config_of
from rigdsl.finding import Level, similar
from rigdsl.plan.match import DESKS, STAGE_BOXES, matched, of_kinds, surface_words
from rigdsl.reports.look import Look
from rigdsl.reports.match import match_text
from rigdsl.reports.pairs import Matches
from rigdsl.rig import Loaded, Model
from rigdsl.rig.shelf import gear_of

__all__ = ["command"]

RATE = re.compile(r"(?P<number>[0-9]+(\.[0-9]+)?)\s*(?P<unit>kHz|Hz|)", re.IGNORECASE)
FAST = 1000  # a number with no unit above which it is Hz, and else kHz


def _rate(ctx: click.Context, parameter: click.Parameter, said: str | None) -> int | None:
    """A rate as people write it, `48 kHz`, `44.1`, `96000`, in Hz."""
    if said is None:
        return None
    parts = RATE.fullmatch(said.strip())
    number = float(parts["number"]) if parts else 0.0
    if parts is None or not number:
        raise Trouble(f"`--rate` takes a rate such as `96 kHz`, and `{said}` is none")
    kilo = parts["unit"].lower() == "khz" or (not parts["unit"] and number < FAST)
    return round(number * 1000 if kilo else number)


@click.command("match")
@click.argument("paths", nargs=-1, metavar="[PATH ...]")
@click.option("--desk", "desks", multiple=True, metavar="NAME", help="Only this desk; may be given more than once.")
@click.option("--box", "boxes", multiple=True, metavar="NAME", help="Only this stage box; may be given more than once.")
@click.option("--rate", callback=_rate, metavar="RATE", help="Only at this rate, such as `96 kHz`.")
@click.option(
    "--as", "form", type=click.Choice(["text", "md", "json"]), default="text", help="For people, a page, or programs."
)
@pack_option
def command(
    paths: tuple[str, ...],
    desks: tuple[str, ...],
    boxes: tuple[str, ...],
    rate: int | None,
    form: str,
    pack_files: tuple[str, ...],
) -> int:
    """Tell which stage boxes work with which desks, and why not.

    Every desk (console, engine, computer) of the gear files is held against every stage box: whether sound passes,
    whether gain and phantom move, over which protocol, how many channels, how far. PATH is a file, a folder, or
    `-` for standard input; without one, it is all files of the project.

    Example: rigdsl match gear/ --desk desk48
    """
    packs = found_packs(pack_files)
    used = config_of(here(), packs).packs
    # Whichever rigs a project names to be checked: its gear stands in other files.
    found_files = [(entry.path, entry.reader) for entry in entries(paths, Config())]
    loaded = gear_of(found_files, used.libraries)
    own = {source.path for source in loaded.sources}
    models = [model for model in loaded.rig.models.values() if model.place.source.path in own]
    found = Matches(
        matched(
            loaded.rig,
            _asked("desk", desks, of_kinds(models, DESKS), models),
            _asked("stage box", boxes, of_kinds(models, STAGE_BOXES), models),
            rate,
        ),
        () if desks else tuple(surface_words(models, one) for one in of_kinds(models, ("surface",))),
    )
    if form == "json":
        from rigdsl.reports.match_json import match_json

        document(match_json(found))
    elif form == "md":
        from rigdsl.reports.match_markdown import match_markdown

        document(match_markdown(found))
    else:
        click.echo(match_text(found, Look(colour(), columns(), shown)), nl=False, color=colour())
    _doubts(loaded)
    return ended(packs)


def _asked(what: str, names: Sequence[str], known: list[Model], models: Sequence[Model]) -> list[Model]:
    """The models that are asked for by name, or all of the kind. Trouble where there is none."""
    if not known:
        kinds = "model of kind console, engine or computer" if what == "desk" else "model of kind stage-box"
        raise Trouble(f"there is no {what} in these files: no {kinds}")
    by_name = {model.name: model for model in known}
    for name in names:
        if name not in by_name:
            raise Trouble(_unknown(what, name, known, models))
    return [model for model in known if not names or model.name in names]


def _unknown(what: str, name: str, known: Sequence[Model], models: Sequence[Model]) -> str:
    """What is said of a name that is no desk, or no box: that it is of another kind, or the nearest one."""
    other = next((model for model in models if model.name == name), None)
    if other is not None and other.kind == "surface" and what == "desk":
        return surface_words(models, other)
    if other is not None:
        return f"`{name}` is no {what}: its kind is {other.kind or 'not said'}"
    names = [model.name for model in known]
    hint = similar(what, name, names) or f"there {'is' if len(names) == 1 else 'are'} {', '.join(map(_ticked, names))}"
    return f"there is no {what} called `{name}`; {hint}"


def _ticked(name: str) -> str:
    return f"`{name}`"


def _doubts(loaded: Loaded) -> None:
    """Say aloud what of the gear could not be read, or stands there twice."""
    wrong = [finding for finding in loaded.rig.findings if finding.level == Level.ERROR]
    for finding in [one for one in wrong if one.rule == "repeated-name"][:3]:
        notice(f"{finding.message}: {finding.consequence}")
    if any(finding.rule != "repeated-name" for finding in wrong):
        notice("some of the gear could not be read: `rigdsl check` says what")
