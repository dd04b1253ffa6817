"""Values of a rig's record in words: with their units, and of what has parts only the parts that differ."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from rigdsl.rig import Port, ports_text, shown
from rigdsl.rig.units import UNITS

__all__ = ["NONE", "called", "differences", "value_words"]

NONE, NOTHING = "none", "nothing"
SOCKET = re.compile(r"([^\s.]+)\.(\S+)(?: ([0-9]+))?")

# The end of a key says what a number is in; the units that people say it in, the largest that fits first.
QUANTITIES: Mapping[str, tuple[str, ...]] = {
    "_ohm_per_m": ("mohm/m",),
    "_kg_per_m": ("g/m",),
    "_db_per_m": ("dB/km",),
    "_f_per_m": ("pF/m",),
    "_bit_s": ("Gbit/s", "Mbit/s"),
    "_m2": ("mm2",),
    "_hz": ("MHz", "kHz", "Hz"),
    "_ohm": ("kohm", "ohm"),
    "_kg": ("kg", "g"),
    "_db": ("dB",),
    "_a": ("A", "mA"),
    "_m": ("m",),
    "_s": ("ms",),
    "_v": ("V",),
    "_w": ("W",),
}
# What fields are called by a crew; what is not here is called as it is, without its unit.
CALLED = {
    "aimed": "box",
    "axes": "measured along the axes",
    "bank": "phantom switched in banks of",
    "capacity": "carries",
    "channels_at_hz": "carries",
    "count": "number",
    "depth": "boxes in a chain",
    "dialects": "control",
    "fits": "fits into",
    "from": "fed from",
    "gives_poe_w": "gives power over the data cable",
    "impedance_said": "impedance written down",
    "lead": "cable",
    "least_ohm": "least impedance",
    "lines": "lines",
    "loss_db_per_m": "loss",
    "mono": "in mono",
    "net": "network",
    "partner": "with",
    "poe_w": "needs power over the data cable",
    "ports": "plugged into",
    "position_m": "at",
    "public": "where the audience is",
    "reach_m": "reach",
    "tails_m": "tails",
    "thru": "goes through",
    "width": "lines",
}
NAMING = frozenset({"name", "left", "right", "left_first", "right_first"})  # what a part is known by
STEP = 1 + 1e-9  # a value is in a unit from one of it on, but for what computers lose


def called(name: str) -> str:
    """What a crew calls a field."""
    if name in CALLED:
        return CALLED[name]
    return name.removesuffix(_end(name)).replace("_", " ")


def _end(name: str) -> str:
    return next((end for end in QUANTITIES if name.endswith(end)), "")


def differences(name: str, old: Any, new: Any) -> Iterator[tuple[str, str, str]]:
    """What differs of a field: what it is called, as it was, as it is; part by part where it has named parts."""
    if name == "lead" or not (_parted(old) or _parted(new)):
        none = NOTHING if name in ("ports", "from", "aimed") else NONE
        yield called(name), value_words(name, old) or none, value_words(name, new) or none
        return
    before, now = _parts(old), _parts(new)
    for part in [*before, *(part for part in now if part not in before)]:
        ours, theirs = before.get(part), now.get(part)
        if ours is None or theirs is None:
            yield part, _part_words(ours), _part_words(theirs)
        elif ours != theirs:
            for key in (key for key in ours if ours[key] != theirs.get(key)):
                for what, was, is_now in differences(key, ours[key], theirs.get(key)):
                    yield f"{part} {what}", was, is_now


def _parted(value: Any) -> bool:
    """A list of things that have fields of their own."""
    return isinstance(value, list) and bool(value) and all(isinstance(item, dict) for item in value)


def _parts(value: Any) -> Mapping[str, Mapping[str, Any]]:
    """Each thing of such a list by its name, or by its two ends."""
    found: dict[str, Mapping[str, Any]] = {}
    for item in value or ():
        first = f" {item['left_first']}" if "left_first" in item else ""
        found[item.get("name") or f"{item.get('left')}{first} -> {item.get('right')}"] = item
    return found


def _part_words(part: Mapping[str, Any] | None) -> str:
    """What there is to say of a part beside its name."""
    if part is None:
        return NONE
    return value_words("", {key: value for key, value in part.items() if key not in NAMING}) or "there"


def value_words(name: str, value: Any) -> str:
    """A value as a person writes it; nothing where there is none."""
    if value is None or value == [] or value == {}:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return _number(name, value)
    if isinstance(value, str):
        return value
    if name == "position_m":
        return f"({', '.join(shown(metres, 1, 3) for metres in value)}) m"
    if name == "joins":
        return " -- ".join(_sockets([pair[side] for pair in value]) for side in (0, 1))
    if name == "ports":
        return _sockets(value)
    if isinstance(value, dict):
        return _fields(name, value)
    return ", ".join(filter(None, (value_words("", item) for item in value)))


def _sockets(names: Sequence[str]) -> str:
    """Sockets with neighbours folded, as `SL.mic 1-12`; what is none stays as it is."""
    found = [SOCKET.fullmatch(name) for name in names]
    if not all(found):
        return ", ".join(names)
    return ports_text(Port(one[1], one[2], int(one[3] or 0)) for one in found if one)


def _number(name: str, value: float) -> str:
    """A number in the largest unit of which it is one or more."""
    units = QUANTITIES.get(_end(name), ())
    for unit in units:
        factor = UNITS[unit][1]
        if abs(value) * STEP >= factor or unit == units[-1]:
            return f"{shown(value, factor, 3)} {unit}"
    return shown(value, 1, 3)


def _fields(name: str, value: Mapping[str, Any]) -> str:
    """A thing with fields, or a table of numbers."""
    if name == "lead":
        length = value["length_m"]
        return f"{value['cable']} {'to be measured' if length is None else f'{shown(length, 1, 3)} m'}"
    if name == "channels_at_hz":
        return ", ".join(f"{channels} at {_number('_hz', float(rate))}" for rate, channels in value.items())
    if name == "reach_m":
        return ", ".join(f"{cable} {_number('_m', metres)}" for cable, metres in value.items())
    if value.keys() == {"voltage_v", "current_a"}:
        return " ".join(value_words(key, one) for key, one in value.items())
    return ", ".join(filter(None, (_fact(key, one) for key, one in value.items())))


def _fact(name: str, value: Any) -> str:
    """`preamp`, `phantom 48 V 10 mA`, and nothing of what is as with most."""
    if value in (False, "", 0, None) or value in ([], {}) or (name, value) == ("bank", 1):
        return ""
    if value is True:
        return called(name)
    words = value_words(name, value)
    return words if name in ("role", "label") else f"{called(name)} {words}"
