"""The copper that hangs on a source, from its plug to the first transformer, amplifier or input; what it takes off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import log10, pi

from rigdsl.paths.model import Hop
from rigdsl.paths.paths import Paths
from rigdsl.rig import Leg, Port, Rig, Source

__all__ = ["Copper", "longest_copper", "treble_loss_db"]


@dataclass(frozen=True)
class Copper:
    """One leg's cables in metres and farads, as far as they are known: it is at least that."""

    cables: tuple[Hop, ...]
    length_m: float
    capacitance_f: float


def treble_loss_db(impedance_ohm: float, capacitance_f: float, frequency_hz: float) -> float:
    """What a source's impedance and a cable's capacitance take off a tone, the load left out.

    An RC low-pass with its corner at 1/(2 pi Z C) (E. Sengpiel, "Cable and treble damping").
    """
    return 10 * log10(1 + (2 * pi * frequency_hz * impedance_ohm * capacitance_f) ** 2)


def longest_copper(paths: Paths) -> Iterator[tuple[Source, Copper]]:
    """Every plugged source with the copper of its longest leg, unless a box on it could not be read wholly.

    Such a box may well have a transformer or an amplifier in it.
    """
    rig = paths.rig
    for source in rig.sources.values():
        if not source.ports or source.name in rig.incomplete:
            continue
        legs = [Leg(source.name, index) for index in range(len(source.ports))]
        if rig.incomplete.isdisjoint(_boxes(hop for leg in legs for hop in paths.copper_run(leg))):
            runs = [_copper(paths, leg) for leg in legs]
            yield source, max(runs, key=lambda run: (run.capacitance_f, run.length_m))


def _boxes(hops: Iterable[Hop]) -> set[str]:
    return {end.box for hop in hops for end in (hop.left, hop.right) if isinstance(end, Port)}


def _copper(paths: Paths, leg: Leg) -> Copper:
    cables = tuple(hop for hop in paths.copper_run(leg) if hop.cable is not None)
    return Copper(
        cables,
        sum(hop.length_m or 0.0 for hop in cables),
        sum((hop.length_m or 0.0) * _capacitance_f_per_m(paths.rig, hop) for hop in cables),
    )


def _capacitance_f_per_m(rig: Rig, hop: Hop) -> float:
    cable = rig.cables.get(hop.cable or "")
    return cable.capacitance_f_per_m or 0.0 if cable else 0.0
