"""The formulae of phantom power: SI units in and out."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["SUPPLIES", "Supply", "at_microphone_v", "most_power_w", "short_circuit_a", "supply_of"]


@dataclass(frozen=True)
class Supply:
    """A phantom supply: its volts and how far they may be off, one feed resistor of the two, the most it gives."""

    name: str
    voltage_v: float
    tolerance_v: float
    feed_ohm: float
    current_a: float


# IEC 61938:2018 as a magazine's glossary and the encyclopedia of the Institute of Professional Sound report it; the
# tolerance of P12 from memory, the current and tolerance of P24 too.
SUPPLIES = (
    Supply("P48", 48.0, 4.0, 6800.0, 0.010),
    Supply("SP48", 48.0, 4.0, 2200.0, 0.022),
    Supply("P24", 24.0, 4.0, 1200.0, 0.010),
    Supply("P12L", 12.0, 1.0, 3300.0, 0.004),
    Supply("P12", 12.0, 1.0, 680.0, 0.015),
)


def at_microphone_v(supply_v: float, feed_ohm: float, current_a: float) -> float:
    """What is left of a supply behind its two feed resistors, which lie in parallel: Vs - I R / 2."""
    return supply_v - current_a * feed_ohm / 2


def most_power_w(supply_v: float, feed_ohm: float) -> float:
    """The most that a microphone can take: V^2 / (4 R / 2), when half of the voltage is left to it."""
    return supply_v**2 / (4 * feed_ohm / 2)


def short_circuit_a(supply_v: float, feed_ohm: float) -> float:
    """What flows where both wires are shorted to the screen."""
    return supply_v / (feed_ohm / 2)


def supply_of(voltage_v: float, current_a: float) -> Supply | None:
    """The supply that a preamp with these figures must have: the first of its voltage whose resistors let that through.

    None where the voltage is that of no supply in the standard.
    """
    for supply in SUPPLIES:
        near = abs(supply.voltage_v - voltage_v) <= supply.tolerance_v + 1e-9
        if near and current_a <= short_circuit_a(voltage_v, supply.feed_ohm) + 1e-9:
            return supply
    return None
