"""Which boxes work with which desks: every desk of the gear with every stage box, and why not."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rigdsl.plan.bench import BOX, DESK, bench, sockets
from rigdsl.plan.counts import channels_each_way, room
from rigdsl.plan.reasons import no_control, no_return, no_sound
from rigdsl.plan.remarks import by_bridge, by_cards, remarks
from rigdsl.plan.ways import DESKS, HOUSE_RATE_HZ, STAGE_BOXES, Joined, Way, has_remote_gain, ways_between
from rigdsl.plan.ways_out import bridged, carded
from rigdsl.rig import Model, Rig, natural

__all__ = ["DESKS", "STAGE_BOXES", "Match", "matched", "of_kinds"]


@dataclass(frozen=True)
class Match:
    """A desk and a box. `control` is None where nothing is set from afar, `back` where nothing goes back.

    `audio`: what comes in at the box is heard at the desk (of a box of outputs only: the desk is heard there).
    `protocols` are those by which sound passes, best first; channels by rate, rates and reach are of the first.
    `because` is what does not work, then the ways out, then what to heed; so many of them as `faults` say what is
    wrong. `way_out`: a card or a bridge would bring sound.
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
    because: tuple[str, ...]
    faults: int
    way_out: str = ""

    @property
    def works(self) -> bool:
        """All of it: sound both ways, and gain where there is any to set."""
        return self.audio and not self.faults


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
    wrong: list[str] = []
    if best.control is False:
        wrong.append(no_control(desk, box, best))
    back = best.back if best.back is None else any(way.back for way in joined.ways)
    if back is False and best.sound is not None:
        wrong.append(no_return(box, best))
    fits = room(gear, desk, box, best)
    outs = [by_cards(one) for one in carded(gear, desk, box, rate_hz, gain=True)] if best.control is False else []
    deaf = [way.protocol for way in joined.ways if best.control and way.sound and way.control is False and way.protocol]
    heed = list(remarks(gear, desk, box, best, fits, deaf))
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
        because=(*wrong, *outs, *heed),
        faults=len(wrong),
        way_out="card" if outs else "",
    )


def _heard(way: Way) -> bool:
    return bool(way.back if way.sound is None else way.sound)


def _apart(gear: Rig, desk: Model, box: Model, joined: Joined, rate_hz: int | None) -> Match:
    """No digital way leads from the one to the other: plain wire may, or a card, or a bridge."""
    remote = False if has_remote_gain(box) else None
    if _wired(gear, desk, box):
        words = ["the box passes its lines on over plain wire: a multicore (snake) leads them into the desk's inputs"]
        words += ["gain and phantom stay at the box"] if remote is False else []
        return Match(desk, box, True, None, remote, (), {}, (), {}, tuple(words), len(words) - 1)
    cards = [by_cards(one) for one in carded(gear, desk, box, rate_hz, gain=False)]
    bridges = [by_bridge(one) for one in bridged(gear, desk, box, rate_hz or HOUSE_RATE_HZ)]
    way_out = "card" if cards else "bridge" if bridges else ""
    words = [no_sound(gear, desk, box, joined), *cards, *bridges]
    return Match(desk, box, False, None, remote, (), {}, (), {}, tuple(words), 1, way_out)


def _wired(gear: Rig, desk: Model, box: Model) -> bool:
    """Analogue all the way: an input of the box leads to an output of it, and from there into the desk."""
    ins, outs, at_desk = sockets(BOX, box, "inputs"), sockets(BOX, box, "outputs"), sockets(DESK, desk, "inputs")
    if not ins or not outs or not at_desk:
        return False
    paths = bench(gear, {BOX: box, DESK: desk}, [(out, at_desk[0]) for out in outs], HOUSE_RATE_HZ)
    return any(at_desk[0] in paths.walk_from(entry).came for entry in ins)
