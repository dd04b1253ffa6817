"""What the reports of `rigdsl match` share: a mark for each pair, and reasons told once for all pairs they hold for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from rigdsl.plan.match import Match
from rigdsl.rig import shown

__all__ = ["LEGEND", "Matches", "facts", "mark", "sections"]

LEGEND = "`+` sound passes, and the desk sets what there is to set; `~` not all of it works; `-` no sound"

Told = tuple[str, tuple[str, ...]]  # a sentence, and the pairs that it holds for, some words a line


@dataclass(frozen=True)
class Matches:
    """Every desk with every box, by desk and then by box; `surfaces` is what there is to say of surfaces."""

    pairs: tuple[Match, ...]
    surfaces: tuple[str, ...] = ()

    @property
    def desks(self) -> tuple[str, ...]:
        """The names of the desks."""
        return tuple(dict.fromkeys(pair.desk.name for pair in self.pairs))

    @property
    def boxes(self) -> tuple[str, ...]:
        """The names of the boxes."""
        return tuple(dict.fromkeys(pair.box.name for pair in self.pairs))

    @property
    def cells(self) -> Mapping[tuple[str, str], str]:
        """The mark of each pair, by the names of desk and box."""
        return {(pair.desk.name, pair.box.name): mark(pair) for pair in self.pairs}


def mark(pair: Match) -> str:
    """A pair in a sign and a word or two."""
    if not pair.audio:
        return f"- with {pair.way_out}" if pair.way_out else "- no sound"
    if pair.works:
        return "+ works"
    if pair.control is False:
        return "~ sound only"
    return "~ one way" if pair.back is False else "~ not all"


def facts(pair: Match) -> str:
    """Over which protocols, how many channels each way at which rate, how far on which cable."""
    if not pair.protocols:
        return "over plain wire" if not pair.rates_hz else "over a protocol that is not named"
    over, *others = (f"`{name}`" for name in pair.protocols)
    carried = [f"{count} at {shown(rate, 1000, 3)} kHz" for rate, count in pair.channels.items()]
    if carried:
        carried[0] = carried[0].replace(" at ", " channels each way at ", 1)
    reach = [f"{cable} {shown(far)} m" for cable, far in pair.reach_m.items()]
    parts = [", ".join(carried), ", ".join(reach), f"also {', '.join(others)}" if others else ""]
    return f"{over}: {'; '.join(part for part in parts if part)}".removesuffix(": ")


def sections(found: Matches) -> Iterator[tuple[str, tuple[Told, ...]]]:
    """The reasons under their headings; headings with nothing below them are left out."""
    ways: Sequence[tuple[str, Callable[[Match], Iterable[str]]]] = (
        ("What does not work", lambda pair: pair.wrong),
        ("Ways out", lambda pair: pair.outs),
        ("How sound passes", lambda pair: (facts(pair),) if pair.audio else ()),
        ("To know before you buy or hire", lambda pair: pair.heed),
    )
    for heading, said in ways:
        told = tuple(_told(found, said))
        if told:
            yield heading, told
    if found.surfaces:
        yield "Surfaces", tuple((text, ()) for text in found.surfaces)


def _told(found: Matches, said: Callable[[Match], Iterable[str]]) -> Iterator[Told]:
    """Every sentence once, with the desks that it holds for, and each desk's boxes."""
    held: dict[str, dict[str, list[str]]] = {}
    for pair in found.pairs:
        for text in said(pair):
            held.setdefault(text, {}).setdefault(pair.desk.name, []).append(pair.box.name)
    for text, by_desk in held.items():
        alike: dict[tuple[str, ...], list[str]] = {}
        for desk, boxes in by_desk.items():
            alike.setdefault(tuple(boxes), []).append(desk)
        yield text, tuple(f"{_named(desks)} with {_boxes(found, boxes)}" for boxes, desks in alike.items())


def _boxes(found: Matches, boxes: tuple[str, ...]) -> str:
    return "every box" if len(boxes) > 1 and boxes == found.boxes else _named(boxes)


def _named(names: Iterable[str]) -> str:
    return ", ".join(f"`{name}`" for name in names)
