"""The copper that hangs on a source: from its plug to the first transformer, amplifier or input."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Related
from rigdsl.paths import Hop, Paths
from rigdsl.rig import Leg, Port, Rig, Source
from rigdsl_distance.words import ROUNDING_M, metres

__all__ = ["Copper", "LeadOptions", "longest", "unbalanced_leads"]


@dataclass(frozen=True)
class LeadOptions:
    """How long an unbalanced lead may be."""

    most_m: float = field(default=6.0, metadata={"help": "longest run that is still fine, in metres", "minimum": 0})


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


def unbalanced_leads(
    rig: Rig, paths: Paths, options: LeadOptions, level: str, *, words: str, consequence: str, help: str
) -> Iterator[Finding]:
    """A finding for every source of a level that goes too far on an unbalanced lead: how far, and `words`."""
    for source, copper in longest(rig, paths):
        if source.level == level and not source.balanced and copper.length_m > options.most_m + ROUNDING_M:
            yield Finding(
                place=source.place,
                subject=source.name,
                message=f"`{source.name}` goes {metres(copper.length_m)} {words}",
                consequence=consequence,
                help=help,
                related=copper.links,
                ports=tuple(str(port) for port in source.ports),
                box=source.ports[0].box,
            )


def longest(rig: Rig, paths: Paths) -> Iterator[tuple[Source, Copper]]:
    """Every plugged source with the copper of its longest leg, unless a box on it could not be read wholly.

    Such a box may well have a transformer or an amplifier in it.
    """
    for source in rig.sources.values():
        if not source.ports or source.name in rig.incomplete:
            continue
        legs = [Leg(source.name, index) for index in range(len(source.ports))]
        if rig.incomplete.isdisjoint(_boxes(hop for leg in legs for hop in paths.copper_run(leg))):
            runs = [_copper(rig, paths, leg) for leg in legs]
            yield source, max(runs, key=lambda run: (run.capacitance_f, run.length_m))


def _boxes(hops: Iterable[Hop]) -> set[str]:
    return {end.box for hop in hops for end in (hop.left, hop.right) if isinstance(end, Port)}


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
