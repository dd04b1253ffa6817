"""The cable schedule: every piece of cable, how long it must be, which of the stock is taken, what its ends say."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rigdsl.papers.dsub import DSUB_PINS, ends_in_dsub
from rigdsl.papers.lines import DEMO, held, some_of
from rigdsl.papers.pieces import Piece, pieces_of, unsaid
from rigdsl.papers.stock import Lengths, Need, TooManyError, assigned, plain
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.rig import Rig, natural, shown

__all__ = ["CABLE_SCHEDULE", "Taken", "taken", "taken_text", "unsaid_note"]

TO_MEASURE = "to be measured"
SHORT = "short"
JOINABLE = "analogue"
WITHOUT_SCIPY = "joins were not worked out: that takes `scipy`, from `pip install 'rigdsl[papers]'`"
TOO_MANY = (
    "the best choice was not worked out: there are too many different lengths; round them up, or allow fewer joins"
)
NO_STOCK = "no stock is given for some kinds: lengths there are what is needed, and nothing was chosen"
MEASURED = "measured from the zones, with the slack; measure again where it matters"
JOINED = "joined cables: tape the joint, and keep it off the floor where it may get wet"

COLUMNS = (
    "id",
    "for",
    "kind",
    "from",
    "to",
    "lines",
    "needed m",
    "taken m",
    "loom",
    "mark at from",
    "mark at to",
    "note",
)


@dataclass(frozen=True)
class Taken:
    """What the stock gives: for each piece its lengths, None where its kind has no stock or its length is not known.

    `left_out` is said where joins were asked for and could not be worked out.
    """

    pieces: tuple[Piece, ...]
    lengths: tuple[Lengths | None, ...]
    left_out: str = ""

    def short(self, at: int) -> bool:
        """Nothing in the stock serves this piece any more."""
        return self.lengths[at] == ()


def taken(facts: Facts) -> Taken:
    """The choice from the stock, kind by kind."""
    pieces = pieces_of(facts.paths)
    owned = stock_of(facts.rig)
    by_kind: dict[str, list[int]] = defaultdict(list)
    for at, piece in enumerate(pieces):
        if piece.needed_m is not None and piece.cable.name in owned:
            by_kind[piece.cable.name].append(at)
    lengths: list[Lengths | None] = [None] * len(pieces)
    left_out = ""
    for kind, places in sorted(by_kind.items(), key=lambda item: natural(item[0])):
        joins = facts.settings.joins if pieces[places[0]].cable.medium == JOINABLE else 0
        needs = [_need(pieces[at], joins) for at in places]
        try:
            served = assigned(needs, owned[kind]).lengths
        except (ImportError, TooManyError) as trouble:
            left_out = WITHOUT_SCIPY if isinstance(trouble, ImportError) else TOO_MANY
            served = plain(needs, owned[kind]).lengths
        for at, one in zip(places, served, strict=True):
            lengths[at] = one
    return Taken(pieces, tuple(lengths), left_out)


def stock_of(rig: Rig) -> Mapping[str, Mapping[float, int]]:
    """What the house owns: by kind of cable, how many of each length."""
    owned: dict[str, Counter[float]] = defaultdict(Counter)
    for line in rig.stock:
        owned[line.cable][line.length_m] += line.count
    return owned


def _need(piece: Piece, joins: int) -> Need:
    assert piece.needed_m is not None, "a piece without a length asks for none"
    most_m = piece.most_m if piece.most_m is not None else float("inf")
    return Need(piece.needed_m, most_m, joins)


def taken_text(lengths: Lengths | None) -> Cell:
    """A length as a number, joined ones as `10 + 5`."""
    if lengths is None:
        return ""
    if not lengths:
        return SHORT
    return lengths[0] if len(lengths) == 1 else " + ".join(shown(one) for one in lengths)


def _cable_schedule(facts: Facts) -> tuple[Table, ...]:
    found = taken(facts)
    rows = tuple(_row(piece, lengths) for piece, lengths in zip(found.pieces, found.lengths, strict=True))
    whole = Table(COLUMNS, rows, _notes(facts.rig, found))
    cables = {piece.cable.name: piece.cable for piece in found.pieces if ends_in_dsub(piece.cable)}
    return (whole, *(Table(*DSUB_PINS, title=f"{name}: pins of the 25-pin plug") for name in sorted(cables)))


def _row(piece: Piece, lengths: Lengths | None) -> tuple[Cell, ...]:
    return (
        piece.name,
        piece.what,
        piece.cable.name,
        piece.near,
        piece.far,
        piece.lines,
        TO_MEASURE if piece.needed_m is None else round(piece.needed_m, 2),
        taken_text(lengths),
        piece.loom,
        _mark(piece.name, piece.near, piece.far),
        _mark(piece.name, piece.far, piece.near),
        piece.note,
    )


def _mark(name: str, this: str, far: str) -> str:
    """What is written on one end: the id, this end, the far end."""
    ends = f"{this} / {far}"
    return ends if not name or name in (this, far) else f"{name}: {ends}"


def _notes(rig: Rig, found: Taken) -> tuple[str, ...]:
    owned = stock_of(rig)
    return held(
        (
            (found.left_out, bool(found.left_out)),
            (NO_STOCK, bool(rig.stock) and any(piece.cable.name not in owned for piece in found.pieces)),
            (MEASURED, any(piece.measured and piece.needed_m is not None for piece in found.pieces)),
            (JOINED, any(one is not None and len(one) > 1 for one in found.lengths)),
            (_short_words(found), any(map(found.short, range(len(found.pieces))))),
            *unsaid_note(rig),
            (DEMO, rig.head.demo),
        )
    )


def unsaid_note(rig: Rig) -> tuple[tuple[str, bool]]:
    """What is missing in a list of cables, because no line says which it is."""
    names = unsaid(rig)
    return ((f"not in this list, since no line says with which cable: {some_of(names)}", bool(names)),)


def _short_words(found: Taken) -> str:
    """What to hire: so many of each kind and length."""
    counts = Counter(
        (piece.cable.name, piece.needed_m)
        for at, piece in enumerate(found.pieces)
        if found.short(at) and piece.needed_m is not None
    )
    return "short: " + ", ".join(_each(counts))


def _each(counts: Mapping[tuple[str, float], int]) -> Iterable[str]:
    ordered = sorted(counts.items(), key=lambda item: (natural(item[0][0]), item[0][1]))
    return (f"{count} x {kind} of {shown(round(length_m, 2))} m or longer" for (kind, length_m), count in ordered)


CABLE_SCHEDULE = Paper("cable-schedule", "Cable schedule", _cable_schedule)
