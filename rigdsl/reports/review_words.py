"""A change in words: what was done to which thing, field by field."""

from __future__ import annotations

from typing import Any

from rigdsl.reports.review_values import differences, value_words
from rigdsl.review import Change
from rigdsl.rig import shown

__all__ = ["change_words", "differs", "field_words", "total_words"]

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
    head = f"{change.what} {_called(change)}".strip()
    if change.kind == "renamed":
        return "; ".join([f"{change.what} {change.old_name} is now called {change.name}", *_facts(change)])
    if change.kind in ("added", "removed"):
        facts = [value_words(name, new if change.kind == "added" else old) for name, (old, new) in _main(change)]
        return f"{head} {change.kind}" + (f": {', '.join(filter(None, facts))}" if any(facts) else "")
    return f"{head} {change.kind}: {'; '.join(_facts(change))}"


def _called(change: Change) -> str:
    """A second thing of one name is told as one."""
    name, sign, number = change.name.partition("#")
    return f"{name} (line {number} of it)" if sign and number.isdigit() else change.name


def _facts(change: Change) -> list[str]:
    """Each field that differs. Where an impedance differs, that it was written down is no news."""
    told = {name: values for name, values in change.fields.items() if name != "name"}
    if "impedance_ohm" in told:
        told.pop("impedance_said", None)
    return [field_words(name, *values) for name, values in told.items()]


# What tells most of a thing that came or went.
MAIN = (
    *("label", "type", "model", "zone", "ports", "joins", "send", "lead", "from", "supply", "by", "for", "count"),
    "because",
)


def _main(change: Change) -> list[tuple[str, tuple[Any, Any]]]:
    return [(name, change.fields[name]) for name in MAIN if name in change.fields]


def field_words(name: str, old: Any, new: Any) -> str:
    """`cable xlr 10 m, was xlr 6 m`."""
    return "; ".join(f"{what} {now}, was {was}" for what, was, now in differences(name, old, new))


def differs(was: float | None, now: float | None) -> bool:
    """Whether two numbers are told as different."""
    return _total(was) != _total(now)


def _total(value: float | None) -> str:
    return "" if value is None else shown(value)


def total_words(name: str, was: float | None, now: float | None) -> str:
    """`cables: 44, was 42`."""
    words, unit = TOTALS[name]
    told = [f"{_total(value)}{unit}" if value is not None else "not known" for value in (now, was)]
    return f"{words}: {told[0]}, was {told[1]}"
