"""The copper that hangs on a source: from its plug to the first transformer, amplifier or input."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rigdsl.finding import Related
from rigdsl.paths import Hop, Paths
from rigdsl.rig import Leg, Rig, Source
from rigdsl_distance.words import metres

__all__ = ["Copper", "longest"]


@dataclass(frozen=True)
class Copper:
    """One leg's cables in metres and farads, as far as they are known: it is at least that."""

    cables: tuple[Hop, ...]
    length_m: float
    capacitance_f: float

    @property
    def links(self) -> tuple[Related, ...]:
        """The links behind the plug, each with its length."""
        return tuple(
            Related(hop.link.place, f"{metres(hop.length_m or 0.0)} of `{hop.cable}` more")
            for hop in self.cables
            if hop.link is not None
        )


def longest(rig: Rig, paths: Paths) -> Iterator[tuple[Source, Copper]]:
    """Every plugged source with the copper of its longest leg."""
    for source in rig.sources.values():
        runs = [_copper(rig, paths, Leg(source.name, index)) for index in range(len(source.ports))]
        if runs and source.name not in rig.incomplete:
            yield source, max(runs, key=lambda run: (run.capacitance_f, run.length_m))


def _copper(rig: Rig, paths: Paths, leg: Leg) -> Copper:
    cables = tuple(hop for hop in paths.copper_run(leg) if hop.cable is not None)
    return Copper(
        cables,
        sum(hop.length_m or 0.0 for hop in cables),
        sum((hop.length_m or 0.0) * _capacitance_f_per_m(rig, hop) for hop in cables),
    )


def _capacitance_f_per_m(rig: Rig, hop: Hop) -> float:
    cable = rig.cables.get(hop.cable or "")
    return cable.capacitance_f_per_m or 0.0 if cable else 0.0
