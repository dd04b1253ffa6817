"""What falls silent with what: a document for programs, and words for the engineer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from rigdsl.paths.failure import Lost, Ranked
from rigdsl.plan.lose import Loss
from rigdsl.reports.check_json import dumped
from rigdsl.reports.look import Look
from rigdsl.reports.report import counted
from rigdsl.rig import Rig

__all__ = ["lose_json", "lose_text", "ranking_json", "ranking_text"]

SHOWN = 4  # names in a row of the ranking
NOTHING = "nothing falls silent"


def lose_json(loss: Loss) -> bytes:
    """What goes silent with the names that were asked for."""
    return dumped({"lost": list(loss.lost.names), **_silent(loss.lost)})


def ranking_json(ranking: Sequence[Ranked]) -> bytes:
    """Cables and boxes, worst first."""
    return dumped({"ranking": [{"name": one.name, "kind": one.kind, **_silent(one.lost)} for one in ranking]})


def _silent(lost: Lost) -> dict[str, list[str]]:
    return {"silent_sources": list(lost.silent_sources), "silent_outputs": list(lost.silent_outputs)}


def lose_text(loss: Loss, look: Look) -> str:
    """What goes silent by the places where it stands, what is left without anything to play, and what stands."""
    lost, rig = loss.lost, loss.rig
    head = f"{_amount(lost)} without {_and(lost.names)}" if lost.size else f"{NOTHING} without {_and(lost.names)}"
    lines = [look.paint(look.text(head), "bold")]
    for what, names in (("sources", lost.silent_sources), ("outputs", lost.silent_outputs)):
        if names:
            lines.append(f"  {what} that fall silent")
            lines += [
                line for place, among in _by_zone(rig, names) for line in look.hanging(f"{place}: ", among, "    ")
            ]
    for desk, names in loss.idle:
        lines += look.hanging(
            "", f"no source reaches {desk} any more; it still feeds, with nothing: {', '.join(names)}"
        )
    if lost.standing:
        lines += look.hanging("still sounds another way: ", ", ".join(lost.standing))
    return "\n".join(lines) + "\n"


def _amount(lost: Lost) -> str:
    """ "3 sources, 1 output fall silent"."""
    verb = "falls silent" if lost.size == 1 else "fall silent"
    return f"{counted([(len(lost.silent_sources), 'source'), (len(lost.silent_outputs), 'output')])} {verb}"


def _and(names: Sequence[str]) -> str:
    return " and ".join(part for part in (", ".join(names[:-1]), *names[-1:]) if part)


def _by_zone(rig: Rig, names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Names with their labels by the zone that they stand in, zones in the order of their first name."""
    found: dict[str, list[str]] = {}
    for name in names:
        thing = rig.sources.get(name) or rig.outputs.get(name) or rig.boxes[name]
        found.setdefault(thing.zone, []).append(f'{name} "{thing.label}"' if thing.label else name)
    for zone, among in found.items():
        label = rig.zones[zone].label if zone in rig.zones else ""
        yield label or zone or "no zone given", ", ".join(among)


def ranking_text(ranking: Sequence[Ranked], rig: Rig, look: Look, top: int | None = None) -> str:
    """A row for each cable and box that silences anything, worst first; the others in a line at the end."""
    heads = ("", "sources", "outputs", "what falls silent")
    silencing = [one for one in ranking if one.lost.size]
    shown = silencing[:top]
    rows = [heads, *(_row(one, rig) for one in shown)]
    wide = [max(len(look.text(row[at])) for row in rows) for at in range(3)]
    lines = []
    for row in rows:
        cells = [look.text(row[0]).ljust(wide[0]), row[1].rjust(wide[1]), row[2].rjust(wide[2])]
        lines.append(f"{'  '.join(cells)}  {look.text(row[3])}".rstrip())
    told = [look.paint(lines[0], "bold"), *lines[1:]] if shown else [look.text(f"{NOTHING} with any one cable or box")]
    more, none = len(silencing) - len(shown), len(ranking) - len(silencing)
    if more:
        told += ["", f"{more} more silence{'s' if more == 1 else ''} something"]
    if none and shown:
        told += [*([] if more else [""]), f"{_others(ranking)} alone silence{'s' if none == 1 else ''} nothing"]
    return "\n".join(told) + "\n"


def _others(ranking: Sequence[Ranked]) -> str:
    kinds = [one.kind for one in ranking if not one.lost.size]
    cables, boxes = kinds.count("cable"), kinds.count("box")
    parts = [f"{cables} cable{'' if cables == 1 else 's'}"] if cables else []
    parts += [f"{boxes} box{'' if boxes == 1 else 'es'}"] if boxes else []
    return " and ".join(parts)


def _row(one: Ranked, rig: Rig) -> tuple[str, str, str, str]:
    names = [*one.lost.silent_sources, *one.lost.silent_outputs]
    more = len(names) - SHOWN
    shown = ", ".join(names if more <= 1 else names[:SHOWN]) + (f" and {more} more" if more > 1 else "")
    label = (rig.boxes[one.name].label if one.kind == "box" else rig.links[one.name].label) if one.name else ""
    name = f'{one.kind} {one.name} "{label}"' if label else f"{one.kind} {one.name}"
    return name, str(len(one.lost.silent_sources)), str(len(one.lost.silent_outputs)), shown
