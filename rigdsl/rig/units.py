"""Units: what dimension each has, and what makes it SI.

Conversion factors are exact by definition: 1 ft = 0.3048 m, 1 in = 25.4 mm
(international yard and pound agreement, 1959), 1 lb = 0.45359237 kg.
"""

from __future__ import annotations

__all__ = ["DIMENSIONS", "UNITS", "counted", "shown"]


# dimension -> what a person calls it, and the units to name in a message, best first
DIMENSIONS: dict[str, tuple[str, str]] = {
    "length": ("a length", "m or ft"),
    "frequency": ("a rate or frequency", "kHz, Hz or MHz"),
    "time": ("a time", "ms or us"),
    "resistance": ("a resistance", "ohm or kohm"),
    "capacitance per length": ("a capacitance for each metre", "pF/m or pF/ft"),
    "resistance per length": ("a resistance for each metre", "mohm/m or ohm/km"),
    "loss per length": ("a loss for each kilometre", "dB/km"),
    "loss": ("a loss or level in decibels", "dB"),
    "current": ("a current", "mA or A"),
    "voltage": ("a voltage", "V"),
    "power": ("a power", "W or kW"),
    "mass": ("a weight", "kg, g or lb"),
    "mass per length": ("a weight for each metre", "g/m or kg/m"),
    "area": ("a conductor's area", "mm2"),
    "bit rate": ("a speed", "Gbit/s or Mbit/s"),
}

FOOT_M = 0.3048
POUND_KG = 0.45359237

# unit -> dimension, factor to SI
UNITS: dict[str, tuple[str, float]] = {
    "m": ("length", 1.0),
    "cm": ("length", 0.01),
    "mm": ("length", 0.001),
    "km": ("length", 1000.0),
    "ft": ("length", FOOT_M),
    "in": ("length", FOOT_M / 12),
    "nm": ("length", 1e-9),
    "Hz": ("frequency", 1.0),
    "kHz": ("frequency", 1e3),
    "MHz": ("frequency", 1e6),
    "GHz": ("frequency", 1e9),
    "s": ("time", 1.0),
    "ms": ("time", 1e-3),
    "us": ("time", 1e-6),
    "µs": ("time", 1e-6),
    "ns": ("time", 1e-9),
    "ohm": ("resistance", 1.0),
    "kohm": ("resistance", 1e3),
    "Mohm": ("resistance", 1e6),
    "mohm": ("resistance", 1e-3),
    "pF/m": ("capacitance per length", 1e-12),
    "nF/m": ("capacitance per length", 1e-9),
    "nF/km": ("capacitance per length", 1e-12),
    "pF/ft": ("capacitance per length", 1e-12 / FOOT_M),
    "ohm/m": ("resistance per length", 1.0),
    "mohm/m": ("resistance per length", 1e-3),
    "ohm/km": ("resistance per length", 1e-3),
    "ohm/kft": ("resistance per length", 1e-3 / FOOT_M),
    "dB/km": ("loss per length", 1e-3),
    "dB/m": ("loss per length", 1.0),
    "dB": ("loss", 1.0),
    "A": ("current", 1.0),
    "mA": ("current", 1e-3),
    "V": ("voltage", 1.0),
    "kV": ("voltage", 1e3),
    "W": ("power", 1.0),
    "mW": ("power", 1e-3),
    "kW": ("power", 1e3),
    "kg": ("mass", 1.0),
    "g": ("mass", 1e-3),
    "lb": ("mass", POUND_KG),
    "t": ("mass", 1000.0),
    "kg/m": ("mass per length", 1.0),
    "g/m": ("mass per length", 1e-3),
    "kg/km": ("mass per length", 1e-3),
    "lb/ft": ("mass per length", POUND_KG / FOOT_M),
    "mm2": ("area", 1e-6),
    "bit/s": ("bit rate", 1.0),
    "kbit/s": ("bit rate", 1e3),
    "Mbit/s": ("bit rate", 1e6),
    "Gbit/s": ("bit rate", 1e9),
}


def shown(value: float, factor: float = 1.0, digits: int = 1) -> str:
    """A number as people write it: rounded, without a trailing `.0`."""
    text = f"{value / factor:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def counted(number: int, one: str, many: str = "") -> str:
    """A number of things in a sentence: "one socket", "3 sockets", "2 boxes"."""
    return f"one {one}" if number == 1 else f"{number} {many or one + 's'}"
