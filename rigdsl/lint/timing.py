"""What each rule costs on a rig.

Rules share the paths, and whoever asks first would pay for all: so every rule is run once before any is timed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from time import perf_counter
from typing import Any

from rigdsl.lint.rule import PackedRule, Sockets
from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["Costs", "costs"]

ROUNDS = 3


@dataclass(frozen=True)
class Costs:
    """Seconds by rule, the best of several rounds; `shared_s` is what working out the paths took, once for all.

    A rule that breaks down on this rig has no time.
    """

    by_rule: Mapping[str, float]
    shared_s: float

    @property
    def total_s(self) -> float:
        """All rules together, without what they share."""
        return sum(self.by_rule.values())


def costs(
    rig: Rig,
    rules: Sequence[PackedRule],
    *,
    options: Mapping[str, Any] | None = None,
    clock: Callable[[], float] = perf_counter,
) -> Costs:
    """Run rules over a rig and take their times; `options` has a value for each rule that has other ones than its own.

    `clock` gives seconds.
    """
    paths = Paths(rig)
    chosen = {packed.name: (options or {}).get(packed.name) or packed.rule.options() for packed in rules}
    begun = clock()
    whole = [packed for packed in rules if _timed(packed, rig, paths, chosen[packed.name], clock) is not None]
    first_s = clock() - begun
    best: dict[str, float] = {}
    for _ in range(ROUNDS):
        for packed in whole:
            taken = _timed(packed, rig, paths, chosen[packed.name], clock)
            if taken is not None:
                best[packed.name] = min(taken, best.get(packed.name, taken))
    return Costs(best, max(0.0, first_s - sum(best.values())))


def _timed(packed: PackedRule, rig: Rig, paths: Paths, options: Any, clock: Callable[[], float]) -> float | None:
    """The seconds of one run, its findings worded; nothing where it breaks down."""
    begun = clock()
    try:
        for said in packed.rule.check(rig, paths, options):
            if isinstance(said, Sockets):
                said.tell(said.ports)
    except Exception:  # whatever a rule does; `rigdsl check` tells it as a finding
        return None
    return clock() - begun
