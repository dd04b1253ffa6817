"""Sources that go too far on unbalanced leads, and which links make them so long."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Related
from rigdsl.paths import Copper, Paths, longest_copper
from rigdsl_distance.words import ROUNDING_M, metres

__all__ = ["LeadOptions", "links_of", "unbalanced_leads"]


@dataclass(frozen=True)
class LeadOptions:
    """How long an unbalanced lead may be."""

    most_m: float = field(default=6.0, metadata={"help": "longest run that is still fine, in metres", "minimum": 0})


def links_of(copper: Copper) -> tuple[Related, ...]:
    """The links behind the plug, each with its length."""
    return tuple(
        Related(hop.link.place, f"{metres(hop.length_m or 0.0)} of `{hop.cable}` more")
        for hop in copper.cables
        if hop.link is not None
    )


def unbalanced_leads(
    paths: Paths, options: LeadOptions, level: str, *, words: str, consequence: str, help: str
) -> Iterator[Finding]:
    """A finding for every source of a level that goes too far on an unbalanced lead: how far, and `words`."""
    for source, copper in longest_copper(paths):
        if source.level == level and not source.balanced and copper.length_m > options.most_m + ROUNDING_M:
            yield Finding(
                place=source.place,
                subject=source.name,
                message=f"`{source.name}` goes {metres(copper.length_m)} {words}",
                consequence=consequence,
                help=help,
                related=links_of(copper),
                ports=tuple(str(port) for port in source.ports),
                box=source.ports[0].box,
            )
