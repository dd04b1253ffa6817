"""One cause, one finding: which findings silence which others.

What stops a run is settled where runs are judged (a run's faults are in order, and only the first is
told). Here stands what is left between rules, in one table.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from rigdsl.finding import Finding, Level
from rigdsl.lint.told import Telling

__all__ = ["SILENCES", "Silence", "first_causes"]

# A run or patch that passes no sound, worst first.
LANGUAGE = ("domain-mismatch", "not-an-audio-port", "protocol-mismatch", "unroutable-protocol")
CHAIN = ("chain-not-supported", "chain-too-deep")
CABLE = ("medium-mismatch", "run-too-long", "rate-mismatch")
STOPS = (*LANGUAGE, *CHAIN, *CABLE, "port-taken", "return-missing", "lost-patch")
UNPLUGGED = ("unplugged-source", "unplugged-output")
NO_SOUND = ("lost-source", "silent-output")
# A source without phantom: it may well get some once it is plugged where it goes.
NO_PHANTOM = ("phantom-missing", "phantom-blocked")


@dataclass(frozen=True)
class Silence:
    """Findings of `first` silence those of `then` that are about the same thing.

    The same `subject`, a `part` of it (a run of `C01+C02`), no other `sockets`, or a name that the first makes
    `silent`. With a `level`, only findings of that level silence any.
    """

    first: tuple[str, ...]
    then: tuple[str, ...]
    by: Literal["subject", "part", "sockets", "silent"] = "subject"
    level: Level | None = None

    def explains(self, finding: Finding, named: frozenset[str]) -> bool:
        """Whether a finding is about nothing but what the first ones named."""
        if finding.rule not in self.then:
            return False
        about = _about(self, finding)
        if self.by == "part":
            return not named.isdisjoint(about)
        return bool(about) and named.issuperset(about)


SILENCES = (
    Silence(LANGUAGE, CHAIN, "sockets"),
    Silence(CHAIN, CABLE, "sockets"),
    Silence(STOPS, NO_SOUND, "silent"),
    Silence(UNPLUGGED, NO_SOUND),
    Silence(UNPLUGGED, NO_SOUND, "silent"),
    Silence(("run-too-long",), ("run-near-limit",)),
    Silence(("hi-z-run",), ("treble-loss",)),
    Silence((*UNPLUGGED, "lost-source"), NO_PHANTOM),
    Silence(("phantom-missing",), ("level-mismatch",), "sockets"),
    # A loudspeaker lead in the wrong socket wants no adapter.
    Silence(("level-mismatch",), ("connector-mismatch",), "sockets", Level.ERROR),
    Silence(("port-taken",), ("amp-overload",), "sockets"),
    Silence(("amp-overload",), ("speaker-loss",), "sockets"),
    Silence(("network-crossed",), ("shared-fate",), "part"),
)


def first_causes(tellings: Iterable[Telling]) -> list[Telling]:
    """Without the findings that another one explains."""
    tellings = list(tellings)
    explained = [(silence, _named(silence, tellings)) for silence in SILENCES]

    def stands(finding: Finding) -> bool:
        return not any(silence.explains(finding, named) for silence, named in explained)

    return [telling for telling in tellings if stands(telling.finding)]


def _named(silence: Silence, tellings: list[Telling]) -> frozenset[str]:
    """The subjects, sockets or silenced names of the findings that explain others."""
    names: set[str] = set()
    for telling in tellings:
        if telling.finding.rule in silence.first and silence.level in (None, telling.finding.level):
            names.update(telling.finding.silent if silence.by == "silent" else _about(silence, telling.finding))
    return frozenset(names)


def _about(silence: Silence, finding: Finding) -> tuple[str, ...]:
    """What a finding is about: its subject, the parts of that, or its sockets; it may have none."""
    if silence.by == "part":
        return tuple(finding.subject.split("+"))
    return finding.ports if silence.by == "sockets" else (finding.subject,)
