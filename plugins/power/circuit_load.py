"""What is plugged into a supply, against what it gives."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import rule
from rigdsl.lint.words import count, listed
from rigdsl.paths import Paths
from rigdsl.rig import Rig, Supply, natural, shown

__all__ = ["circuit_load"]

CAUTION = "who may work on a supply, and how far it may be loaded, local codes say: ask whoever is licensed for it"


@dataclass(frozen=True)
class Options:
    """How much of a circuit may be used."""

    share: float = field(
        default=1.0,
        metadata={
            "help": "share of volts times amperes that may be used; 0.8 where load that stays on counts so",
            "exclusiveMinimum": 0,
            "maximum": 1,
        },
    )


@dataclass(frozen=True)
class Draw:
    """What is plugged into one supply: watts by box, and the boxes that say nothing of theirs."""

    watts: dict[str, float]
    unknown: tuple[str, ...]

    @property
    def power_w(self) -> float:
        """All of it."""
        return sum(self.watts.values())


@rule("circuit-load", Level.WARNING, Options, edition=2)
def circuit_load(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """The boxes on a supply draw more than it gives.

    Added up is the `power` of the boxes that a `power` line plugs into the supply, with the option cards in them,
    against volts times amperes. A box that says nothing of its draw counts as nothing, and the message counts it.
    A box with two power supplies counts in full on each: when the one fails, all of it hangs on the other.
    Three phases are three supplies here.

    ## On the night
    The breaker trips, and all that hangs on it goes dark at once, as a rule in the loudest song. Supplies are work
    for licensed people, and local codes say how far a circuit may be loaded; this reckons, and allows nothing.

    ## A rig that breaks it
    ```rig
    rig "Amplifiers on one socket" { rate 48 kHz }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch; power 60 W }
    model amp4 { kind amplifier; inputs in 1-4; outputs out 1-4; pass in -> out; power 2 kW }
    zone wing
    box DESK is desk12 in wing
    box A1 is amp4 in wing
    box A2 is amp4 in wing
    source vox dynamic in wing to DESK 1 via xlr 5 m
    supply D1 "Stage left, 16 A" 230 V 16 A in wing
    power DESK, A1, A2 from D1
    ```

    ## A rig that keeps it
    ```rig
    rig "Amplifiers on two" { rate 48 kHz }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch; power 60 W }
    model amp4 { kind amplifier; inputs in 1-4; outputs out 1-4; pass in -> out; power 2 kW }
    zone wing
    box DESK is desk12 in wing
    box A1 is amp4 in wing
    box A2 is amp4 in wing
    source vox dynamic in wing to DESK 1 via xlr 5 m
    supply D1 "Stage left, 16 A" 230 V 16 A in wing
    supply D2 "Stage right, 16 A" 230 V 16 A in wing
    power DESK, A1 from D1
    power A2 from D2
    ```

    ## Figures
    Volts times amperes are taken as watts: gear whose current is out of step with the voltage draws more amperes
    than that. The whole of a circuit may be used by default; 80 % for load that stays on for hours is the practice
    of some local codes (from memory, no source): set `share` to what holds where you are.
    """
    if "power" in rig.left_out:
        return
    for supply in rig.supplies.values():
        draw = _drawn(rig, supply.name)
        if draw.power_w > supply.power_w * options.share * (1 + 1e-9) and rig.incomplete.isdisjoint(draw.watts):
            yield _overloaded(rig, supply, draw, options.share)


def _drawn(rig: Rig, supply: str) -> Draw:
    """The boxes on a supply, each once, and the cards that sit in them."""
    plugged = sorted({name for power in rig.powers if power.supply == supply for name in power.boxes}, key=natural)
    cards = sorted((card for card in rig.boxes if rig.body(card) != card and rig.body(card) in plugged), key=natural)
    known = {name: watts for name in (*plugged, *cards) if (watts := rig.boxes[name].power_w) is not None}
    return Draw(known, tuple(name for name in plugged if name not in known))


def _overloaded(rig: Rig, supply: Supply, draw: Draw, share: float) -> Finding:
    most_w = supply.power_w * share
    given = f"{shown(supply.voltage_v)} V and {shown(supply.current_a)} A"
    part = f"{shown(share * 100)} % of " if share < 1 else ""
    unknown = f"; {_silent(draw.unknown)}" if draw.unknown else ""
    worst = sorted(draw.watts, key=lambda name: (-draw.watts[name], natural(name)))
    return Finding(
        place=supply.place,
        subject=supply.name,
        message=f"{_kilo(draw.power_w)} hang on `{supply.name}`, and {part}{given} are {_kilo(most_w)}{unknown}",
        consequence="the breaker trips, and all that hangs on it goes dark",
        help=f"move {_kilo(draw.power_w - most_w)} to another supply; most is drawn by {listed(worst)}; {CAUTION}",
        related=tuple(_lines(rig, supply.name)),
    )


def _lines(rig: Rig, supply: str) -> Iterable[Related]:
    return (Related(power.place, "plugged in here") for power in rig.powers if power.supply == supply)


def _silent(unknown: tuple[str, ...]) -> str:
    says = "says nothing of its draw" if len(unknown) == 1 else "say nothing of their draw"
    return f"{count(len(unknown), 'box', 'boxes')} more {says}: {listed(unknown)}"


def _kilo(power_w: float) -> str:
    return f"{shown(power_w, 1000, 2)} kW" if power_w >= 1000 else f"{shown(power_w)} W"
