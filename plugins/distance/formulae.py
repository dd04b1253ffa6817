"""The formulae of the distance rules: SI units in and out, decibels where a name says so."""

from __future__ import annotations

from math import log10

__all__ = ["SECTIONS_M2", "class5_ohm_per_m", "fibre_loss_db", "loop_loss_db"]

# IEC 60228, class 5, plain copper at 20 C: conductor in mm2 -> ohm/km, the most that is allowed
CLASS_5 = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30, 10.0: 1.91}
SECTIONS_M2 = tuple(section * 1e-6 for section in CLASS_5)


def class5_ohm_per_m(area_m2: float) -> float:
    """Resistance of one metre of one conductor (IEC 60228, class 5).

    An area between two sections of the standard counts as copper of the smaller one, in proportion.
    """
    area_mm2 = area_m2 * 1e6
    section = max((section for section in CLASS_5 if section <= area_mm2 * (1 + 1e-9)), default=min(CLASS_5))
    return CLASS_5[section] * section / area_mm2 / 1000


def loop_loss_db(loop_ohm: float, load_ohm: float) -> float:
    """What the two conductors of a loudspeaker line take, from a source of no impedance: a voltage divider."""
    return 20 * log10(1 + loop_ohm / load_ohm)


def fibre_loss_db(glass_db: float, connectors: int, splices: int, connector_db: float, splice_db: float) -> float:
    """Loss of a fibre run: the glass, its mated connectors and splices, each with what one of them loses."""
    return glass_db + connectors * connector_db + splices * splice_db
