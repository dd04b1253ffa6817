"""Lengths, runs and cables in a sentence."""

from __future__ import annotations

from collections.abc import Iterable

from rigdsl.finding import Related
from rigdsl.lint.words import ticked
from rigdsl.paths import Run, reach_on
from rigdsl.rig import Link, Protocol, Rig, shown

__all__ = ["ROUNDING_M", "kinds", "known_m", "metres", "ohms", "other_pieces", "poorest", "protocol_of"]

ROUNDING_M = 1e-6  # lengths that are equal but for the arithmetic


def metres(length_m: float) -> str:
    """A length as people say it: "118 m", "7.5 m"."""
    return f"{shown(length_m)} m"


def ohms(impedance_ohm: float) -> str:
    """An impedance as people say it: "200 ohm", "50 kohm"."""
    return f"{shown(impedance_ohm, 1000)} kohm" if impedance_ohm >= 1000 else f"{shown(impedance_ohm)} ohm"


def known_m(link: Link) -> float:
    """The length of a link's cable; nothing where there is none, or it is not known."""
    return link.lead.length_m or 0.0 if link.lead else 0.0


def kinds(links: Iterable[Link]) -> str:
    """The cables of some links: "`cat5e`", "`cat5e`, `cat6a`"."""
    return ticked(dict.fromkeys(link.lead.cable.name for link in links if link.lead))


def poorest(rig: Rig, run: Run) -> list[Link]:
    """The links of a run whose cable sets its reach: those that reach least."""
    protocol = protocol_of(rig, run)
    reaches = [(link, reach_on(protocol, link.lead.cable)) for link in run.links if link.lead] if protocol else []
    return [link for link, reach_m in reaches if reach_m == run.reach_m] or list(run.links)


def other_pieces(run: Run, main: Link) -> tuple[Related, ...]:
    """The links of a run beside its main one, each with its length."""
    return tuple(
        Related(link.place, f"{metres(known_m(link))} of `{link.lead.cable.name}` more")
        for link in run.links
        if link is not main and link.lead and link.lead.length_m is not None
    )


def protocol_of(rig: Rig, run: Run) -> Protocol | None:
    """The protocol that a run works by, if it has one."""
    return rig.protocols.get(run.protocol or "")
