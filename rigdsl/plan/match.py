"""Which boxes work with which desks: every desk of the gear with every stage box, and why not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from rigdsl.lint.words import ticked, together
from rigdsl.plan.bench import BOX, DESK, bench, sockets
from rigdsl.plan.counts import Room, channels_each_way, room
from rigdsl.plan.reasons import no_control, no_return, no_sound, too_big
from rigdsl.plan.remarks import by_bridge, by_cards, remarks
from rigdsl.plan.ways import DESKS, HOUSE_RATE_HZ, STAGE_BOXES, Joined, Way, has_remote_gain, ways_between
from rigdsl.plan.ways_out import bridged, carded
from rigdsl.rig import Model, Rig, natural

__all__ = ["DESKS", "STAGE_BOXES", "Match", "matched", "of_kinds", "surface_words"]


@dataclass(frozen=True)
class Match:
    """A desk and a box. `control` is None where nothing is set from afar, `back` where nothing goes back.

    `audio`: what comes in at the box is heard at the desk (of a box of outputs only: the desk is heard there).
    `protocols` are those by which sound passes, best first; channels by rate, rates and reach are of the first.
    `wrong` is what does not work and why, `outs` what would mend it, `heed` what else there is to know.
    """

    desk: Model
    box: Model
    audio: bool
    back: bool | None
    control: bool | None
    protocols: tuple[str, ...]
    channels: Mapping[int, int]
    rates_hz: tuple[int, ...]
    reach_m: Mapping[str, float]
    wrong: tuple[str, ...]
    outs: tuple[str, ...] = ()
    heed: tuple[str, ...] = ()
    way_out: Literal["", "card", "bridge"] = ""

    @property
    def works(self) -> bool:
        """All of it: sound both ways, and gain where there is any to set."""
        return self.audio and not self.wrong

    @property
    def because(self) -> tuple[str, ...]:
        """All that is to be said, the worst first."""
        return (*self.wrong, *self.outs, *self.heed)


def of_kinds(models: Iterable[Model], kinds: Iterable[str]) -> list[Model]:
    """The models of these kinds, in natural order of their names."""
    wanted = set(kinds)
    return sorted((model for model in models if model.kind in wanted), key=lambda model: natural(model.name))


def matched(gear: Rig, desks: Iterable[Model], boxes: Iterable[Model], rate_hz: int | None = None) -> tuple[Match, ...]:
    """Every desk with every box, in the order given; at one rate, or at all that they know."""
    boxes = list(boxes)
    return tuple(_match(gear, desk, box, rate_hz) for desk in desks for box in boxes)


def _match(gear: Rig, desk: Model, box: Model, rate_hz: int | None) -> Match:
    joined = ways_between(gear, desk, box, rate_hz)
    if not joined.passes:
        return _apart(gear, desk, box, joined, rate_hz)
    best = joined.ways[0]
    back = best.back if best.back is None else any(way.back for way in joined.ways)
    fits = room(gear, desk, box, best)
    outs = [by_cards(one) for one in carded(gear, desk, box, rate_hz, gain=True)] if best.control is False else []
    protocol = gear.protocols.get(best.protocol)
    return Match(
        desk,
        box,
        audio=True,
        back=back,
        control=best.control,
        protocols=tuple(way.protocol for way in joined.ways if way.protocol and _heard(way)),
        channels=channels_each_way(gear, best),
        rates_hz=best.rates_hz,
        reach_m=dict(protocol.reach) if protocol else {},
        wrong=tuple(_wrong(desk, box, best, back, fits)),
        outs=tuple(outs),
        heed=tuple(remarks(gear, desk, box, best, fits, _deaf(joined))),
        way_out="card" if outs else "",
    )


def _wrong(desk: Model, box: Model, best: Way, back: bool | None, fits: Room) -> Iterator[str]:
    """What does not work of a pair of which sound passes."""
    if best.control is False:
        yield no_control(desk, box, best)
    if back is False and best.sound is not None:
        yield no_return(box, best)
    if not fits.boxes:
        yield too_big(best, fits)


def _deaf(joined: Joined) -> tuple[str, ...]:
    """The other protocols by which sound passes too, where gain moves only by the best."""
    best, *others = joined.ways
    return tuple(way.protocol for way in others if best.control and way.sound and way.control is False)


def _heard(way: Way) -> bool:
    return bool(way.back if way.sound is None else way.sound)


def _apart(gear: Rig, desk: Model, box: Model, joined: Joined, rate_hz: int | None) -> Match:
    """No digital way leads from the one to the other: plain wire may, or a card, or a bridge."""
    remote = False if has_remote_gain(box) else None
    if _wired(gear, desk, box):
        wrong = ("plain wire carries no control: gain and phantom stay at the box",) if remote is False else ()
        wire = "the box passes its lines on over plain wire: a multicore (snake) leads them into the desk's inputs"
        return Match(desk, box, True, None, remote, (), {}, (), {}, wrong, heed=(wire,))
    cards = [by_cards(one) for one in carded(gear, desk, box, rate_hz, gain=False)]
    bridges = [by_bridge(one) for one in bridged(gear, desk, box, rate_hz or HOUSE_RATE_HZ)]
    wrong = (no_sound(gear, desk, box, joined),)
    way_out: Literal["", "card", "bridge"] = "card" if cards else "bridge" if bridges else ""
    return Match(desk, box, False, None, remote, (), {}, (), {}, wrong, (*cards, *bridges), way_out=way_out)


def _wired(gear: Rig, desk: Model, box: Model) -> bool:
    """Analogue all the way: an input of the box leads to an output of it, and from there into the desk."""
    ins, outs, at_desk = sockets(BOX, box, "inputs"), sockets(BOX, box, "outputs"), sockets(DESK, desk, "inputs")
    if not ins or not outs or not at_desk:
        return False
    paths = bench(gear, {BOX: box, DESK: desk}, [(out, at_desk[0]) for out in outs], HOUSE_RATE_HZ)
    return any(at_desk[0] in paths.walk_from(entry).came for entry in ins)


def surface_words(models: Iterable[Model], surface: Model) -> str:
    """What a person is told who takes a surface for a desk: which engine it steers."""
    spoken = _dialects(surface)
    engines = [model.name for model in of_kinds(models, ("engine",)) if spoken & _dialects(model)]
    plain = f"`{surface.name}` is a surface and no desk: it carries no sound, and steers an engine"
    if engines:
        return f"{plain}; the engine for it is {ticked(engines)}"
    return f"{plain}; " + (
        f"no engine here speaks {together(sorted(spoken))}" if spoken else "which one it does not say"
    )


def _dialects(model: Model) -> set[str]:
    return {name for group in model.of_role("digital", "data") for name in group.dialects}
