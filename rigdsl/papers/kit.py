"""The kit list: what goes into the truck, with weights and power, and how much of it the stock lacks."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from rigdsl.papers.cables import Taken, stock_of, taken, unsaid_note
from rigdsl.papers.lines import DEMO, held
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import misfits, turned
from rigdsl.rig import Box, Cable, Rig, natural

__all__ = ["KIT_LIST"]

COLUMNS = ("what", "item", "m", "count", "owned", "short", "kg", "W", "note")
MAINS = "power: what a circuit bears is for a licensed person to say, by local codes"
LIFT = "heavy cases: two people, or wheels"
HEAVY_KG = 25.0  # where one person should not lift alone: common practice, no source
WITHOUT = "without"


class Row(NamedTuple):
    """One line of the list; None where nobody knows."""

    what: str
    item: str
    length_m: float | None = None
    how_many: int | None = 1
    owned: int | None = None
    short: int | None = None
    weight_kg: float | None = None
    power_w: float | None = None
    note: str = ""

    @property
    def cells(self) -> tuple[Cell, ...]:
        """As the table has them: nothing where nothing is known."""
        return tuple("" if cell is None else round(cell, 2) if isinstance(cell, float) else cell for cell in self)


def _kit_list(facts: Facts) -> Table:
    rig = facts.rig
    found = taken(facts)
    boxes = list(_boxes(rig))
    cables = list(_cables(rig, found, facts.settings.spares_percent))
    rest = [*_couplers(found), *_adapters(facts), *_small(rig)]
    rows = [*boxes, *cables, *rest, *_totals([*boxes, *cables], rig, found)]
    heavy = any((row.weight_kg or 0) / (row.how_many or 1) > HEAVY_KG for row in boxes)
    notes = ((MAINS, any(row.power_w for row in boxes)), (LIFT, heavy), (found.left_out, bool(found.left_out)))
    return Table(COLUMNS, tuple(row.cells for row in rows), held((*notes, *unsaid_note(rig), (DEMO, rig.head.demo))))


def _boxes(rig: Rig) -> Iterator[Row]:
    """Boxes by model."""
    by_model: dict[str, list[Box]] = defaultdict(list)
    for box in rig.boxes.values():
        by_model[box.model.name].append(box)
    for name, some in sorted(by_model.items(), key=lambda item: natural(item[0])):
        names = ", ".join(sorted((box.name for box in some), key=natural))
        weights = [box.model.weight_kg if box.weight_kg is None else box.weight_kg for box in some]
        powers = [box.model.power_w if box.power_w is None else box.power_w for box in some]
        item = some[0].model.label or name
        yield Row("box", item, None, len(some), None, None, _sum(weights), _sum(powers), names)


def _sum(values: Iterable[float | None]) -> float | None:
    """The sum, where all are known."""
    known = list(values)
    return None if None in known else sum(value for value in known if value is not None)


# ---- cables


def _cables(rig: Rig, found: Taken, spares_percent: float) -> Iterator[Row]:
    """By kind and length: of a kind with stock the lengths that are taken, else those that are needed."""
    kinds = {piece.cable.name: piece.cable for piece in found.pieces}
    counts, short = _counted(found)
    owned = stock_of(rig)
    for name in sorted(kinds, key=natural):
        sizes = sorted({size for kind, size in (*counts, *short) if kind == name}, key=_size_key)
        for size in sizes:
            needed, lacking = counts[name, size], short[name, size]
            has = owned[name].get(size, 0) if name in owned and size is not None else None
            yield _cable(kinds[name], size, needed + lacking, has, None if has is None else lacking)
            spare = math.ceil((needed + lacking) * spares_percent / 100)
            if spare and size is not None:
                left = None if has is None else max(0, has - needed)
                yield _cable(kinds[name], size, spare, left, None if left is None else max(0, spare - left), "spare")


def _size_key(size: float | None) -> tuple[bool, float]:
    return size is None, size or 0.0


Sizes = Counter[tuple[str, float | None]]


def _counted(found: Taken) -> tuple[Sizes, Sizes]:
    """How many of each kind and length are taken, and how many are short; a length of None is to be measured."""
    counts: Sizes = Counter()
    short: Sizes = Counter()
    for piece, lengths in zip(found.pieces, found.lengths, strict=True):
        if lengths is None:
            counts[piece.cable.name, piece.needed_m] += 1
        elif lengths:
            counts.update((piece.cable.name, length_m) for length_m in lengths)
        else:
            short[piece.cable.name, piece.needed_m] += 1
    return counts, short


def _cable(cable: Cable, size: float | None, count: int, owned: int | None, short: int | None, note: str = "") -> Row:
    weight = None
    if size is not None and cable.weight_kg_per_m is not None:
        weight = count * size * cable.weight_kg_per_m
    note = note or ("to be measured" if size is None else "or longer" if short and owned == 0 else "")
    item = f"{cable.label} ({cable.name})" if cable.label else cable.name
    return Row("cable", item, size, count, owned, short, weight, None, note)


def _couplers(found: Taken) -> Iterator[Row]:
    """What joins two cables; a cable with a female and a male end goes into its like without."""
    counts: Counter[str] = Counter()
    for piece, lengths in zip(found.pieces, found.lengths, strict=True):
        if lengths and len(lengths) > 1 and not _mates(piece.cable):
            counts[piece.cable.name] += len(lengths) - 1
    for name, count in sorted(counts.items()):
        yield Row("coupler", f"for {name}", how_many=count)


def _mates(cable: Cable) -> bool:
    words = {*cable.connectors, *cable.ends}
    return any(word.endswith("-f") and f"{word[:-2]}-m" in words for word in words)


# ---- what lies in the drawers


def _adapters(facts: Facts) -> Iterator[Row]:
    """What the rule connector-mismatch asks for."""
    counts: Counter[tuple[str, str]] = Counter()
    for misfit in misfits(facts.rig, facts.paths):
        counts.update((wrong.plug, wrong.socket) for wrong in misfit.plugs)
    for (plug, socket), count in sorted(counts.items()):
        what = "turnaround" if turned(plug, socket) else "adapter"
        yield Row(what, f"plug {plug} to socket {socket}", how_many=count)


def _small(rig: Rig) -> Iterator[Row]:
    """Microphones, DI boxes and stands, as the sources say them."""
    mics, stands, boxes = Counter[str](), Counter[str](), Counter[str]()
    for source in rig.sources.values():
        if source.mic:
            mics[source.mic] += 1
        if source.stand:
            stands[source.stand] += 1
        if source.type in ("di", "active-di") and not source.mic:
            boxes["active" if source.type == "active-di" else ""] += max(1, len(source.ports))
    yield from (Row("DI", f"DI box, {kind}" if kind else "DI box", how_many=n) for kind, n in sorted(boxes.items()))
    yield from (Row("mic", mic, how_many=n) for mic, n in sorted(mics.items()))
    yield from (Row("stand", stand, how_many=n) for stand, n in sorted(stands.items()))


def _totals(rows: list[Row], rig: Rig, found: Taken) -> Iterator[Row]:
    """Metres, weight and power of all; how many rows a sum lacks is said with it."""
    cables = [row for row in rows if row.what == "cable"]
    metres = sum(row.length_m * (row.how_many or 0) for row in cables if row.length_m is not None)
    open_ended = sum(row.how_many or 0 for row in cables if row.length_m is None)
    yield Row("total", "cable", metres, sum(row.how_many or 0 for row in cables), note=_lacking(open_ended, "length"))
    weights = [row.weight_kg for row in rows if row.weight_kg is not None]
    unknown = sum(row.how_many or 0 for row in rows if row.weight_kg is None)
    yield Row("total", "weight", None, None, weight_kg=sum(weights), note=_lacking(unknown, "weight"))
    powers = [row.power_w for row in rows if row.power_w is not None]
    lacking = sum(row.how_many or 0 for row in rows if row.what == "box" and row.power_w is None)
    yield Row("total", "power", None, None, power_w=sum(powers), note=_lacking(lacking, "figure"))


def _lacking(count: int, what: str) -> str:
    return f"{count} {WITHOUT} a {what}" if count else ""


KIT_LIST = Paper("kit-list", "Kit list", _kit_list)
