"""What the cables of a loudspeaker line take of the amplifier's power."""

from __future__ import annotations

from math import inf

from rigdsl.paths import Branch, in_parallel_ohm
from rigdsl_distance.formulae import class5_ohm_per_m, loop_loss_db

__all__ = ["far_ohm", "loop_ohm", "worst"]


def loop_ohm(branch: Branch, least_area_m2: float = 0.0) -> float:
    """Both conductors of a cable; what is not known of it counts as nothing.

    With a least area: as if thinner ones were replaced by that.
    """
    cable = branch.cable
    area_m2 = cable.conductor_m2 if cable else None
    if area_m2:
        ohm_per_m = class5_ohm_per_m(max(area_m2, least_area_m2))
    else:
        ohm_per_m = cable.resistance_ohm_per_m or 0.0 if cable else 0.0
    return 2 * branch.length_m * ohm_per_m


def far_ohm(branch: Branch, least_area_m2: float = 0.0) -> float:
    """What stands at the far end: its loudspeaker in parallel with all that hangs on it."""
    rest = (loop_ohm(further, least_area_m2) + far_ohm(further, least_area_m2) for further in branch.further)
    return in_parallel_ohm([*((branch.load[1],) if branch.load else ()), *rest])


def worst(found: tuple[Branch, ...], least_area_m2: float = 0.0, lost_db: float = 0.0) -> tuple[float, str]:
    """The loudspeaker that loses most: decibels and its name; no loudspeaker of known impedance: nothing."""
    result = (0.0, "")
    for branch in found:
        load_ohm = far_ohm(branch, least_area_m2)
        if load_ohm == inf:
            continue
        here_db = lost_db + loop_loss_db(loop_ohm(branch, least_area_m2), load_ohm)
        if branch.load:
            result = max(result, (here_db, branch.load[0]), key=lambda item: item[0])
        result = max(result, worst(branch.further, least_area_m2, here_db), key=lambda item: item[0])
    return result
