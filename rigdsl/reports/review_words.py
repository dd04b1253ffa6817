"""A change in words: what was done to which thing, field by field."""

from __future__ import annotations

from typing import Any

from rigdsl.review import Change
from rigdsl.rig import shown

__all__ = ["FIELDS", "change_words", "field_words", "total_words", "value_words"]

# What fields are called by a crew; what is not here is called as it is.
FIELDS = {
    "aimed": "box",
    "axes": "measured along the axes",
    "current_a": "current in A",
    "frequency_hz": "frequency in Hz",
    "from": "fed from",
    "impedance_ohm": "impedance in ohm",
    "joins": "joins",
    "lead": "cable",
    "length_m": "length in m",
    "level": "level",
    "needs_phantom": "needs phantom",
    "pad_db": "pad in dB",
    "partner": "with",
    "ports": "plugged into",
    "position_m": "at",
    "power_w": "power in W",
    "rate_hz": "rate in Hz",
    "slack_m": "slack in m",
    "weight_kg": "weight in kg",
}
TOTALS = {
    "cables": ("cables", ""),
    "cable_m": ("cable in all", " m"),
    "weight_kg": ("boxes", " kg"),
    "power_w": ("power", " W"),
    "free_inputs": ("free inputs with preamps", ""),
    "latency_ms": ("longest way to an output", " ms"),
}


def change_words(change: Change) -> str:
    """One line: `source kick moved: plugged into SL.mic 4, was SL.mic 3`."""
    head = f"{change.what} {change.name}".strip()
    if change.kind == "renamed":
        rest = [field_words(name, *values) for name, values in change.fields.items() if name != "name"]
        return "; ".join([f"{change.what} {change.old_name} is now called {change.name}", *rest])
    if change.kind in ("added", "removed"):
        facts = [value_words(name, new if change.kind == "added" else old) for name, (old, new) in _main(change)]
        return f"{head} {change.kind}" + (f": {', '.join(filter(None, facts))}" if any(facts) else "")
    facts = [field_words(name, *values) for name, values in change.fields.items()]
    return f"{head} {change.kind}: {'; '.join(facts)}"


# What tells most of a thing that came or went.
MAIN = ("label", "type", "model", "zone", "ports", "joins", "lead", "from", "supply", "by", "for", "count", "because")


def _main(change: Change) -> list[tuple[str, tuple[Any, Any]]]:
    return [(name, change.fields[name]) for name in MAIN if name in change.fields]


def field_words(name: str, old: Any, new: Any) -> str:
    """`cable xlr 10 m, was xlr 6 m`."""
    called = FIELDS.get(name, name.replace("_", " "))
    return f"{called} {value_words(name, new) or 'none'}, was {value_words(name, old) or 'none'}"


def value_words(name: str, value: Any) -> str:
    """A value as a person writes it."""
    if value is None or value == [] or value == "":
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return shown(value)
    if isinstance(value, str):
        return value
    if name == "lead" and isinstance(value, dict):
        length = value["length_m"]
        return f"{value['cable']} {'to be measured' if length is None else f'{shown(length)} m'}"
    if name == "position_m":
        return f"({value_words('', value)}) m"
    if name == "joins":
        return ", ".join(f"{left} -- {right}" for left, right in value)
    if isinstance(value, list):
        return ", ".join(filter(None, (value_words("", one) for one in value)))
    if isinstance(value, dict):
        told = ((key, value_words(key, one)) for key, one in value.items())
        return " ".join(f"{key} {words}" for key, words in told if words)
    return str(value)


def total_words(name: str, was: float | None, now: float | None) -> str:
    """`cables: 44, was 42`."""
    words, unit = TOTALS[name]
    return f"{words}: {value_words('', now)}{unit}, was {value_words('', was)}{unit}"
