"""The words of the trade that a rig may use, and the facts each thing has: one table a thing."""

from __future__ import annotations

from typing import Any

from rigdsl.finding import Finding
from rigdsl.rig import facts as read
from rigdsl.rig.amounts import day, whole
from rigdsl.rig.facts import Table, unfit, words_of
from rigdsl.rig.gear import Phantom
from rigdsl.syntax.nodes import Fact, Word

__all__ = [
    "BOX",
    "BRIDGE",
    "CABLE",
    "DEFAULT_PASS",
    "GROUP",
    "HEAD",
    "INSERT",
    "KINDS",
    "LINK",
    "MODEL",
    "OUTPUT",
    "OUTPUT_TYPES",
    "PASS",
    "PATCH",
    "SOURCE",
    "SOURCE_TYPES",
    "SUPPLY",
    "WAY",
    "ZONE",
]

KINDS = (
    "console",
    "engine",
    "surface",
    "stage-box",
    "sub-box",
    "panel",
    "splitter",
    "di",
    "switch",
    "bridge",
    "processor",
    "outboard",
    "computer",
    "receiver",
    "monitor-sender",
    "amplifier",
    "loudspeaker",
    "card",
)
# What a pass is that does not say: in these it restarts the level and ends the copper run, in a DI it isolates.
DEFAULT_PASS = dict.fromkeys(
    ("amplifier", "receiver", "monitor-sender", "console", "engine", "processor", "outboard", "computer"), ("active",)
) | {"di": ("isolated",)}
LEVELS = ("mic", "line", "instrument", "loudspeaker")
SOURCE_TYPES = (
    "dynamic",
    "condenser",
    "ribbon",
    "di",
    "active-di",
    "line",
    "instrument",
    "wireless",
    "playback",
    "talkback",
)
OUTPUT_TYPES = ("wedge", "in-ear", "main", "fill", "sub", "record", "stream", "comms")
MEDIA = ("twisted-pair", "fibre", "coax", "analogue", "loudspeaker")
GRADES = ("om1", "om2", "om3", "om4", "om5", "os1", "os2")
CATEGORIES = ("5", "5e", "6", "6a", "7", "7a", "8")


def _rate(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    got = read.measure("rate_hz", "frequency", "rate 48 kHz")(fact, findings)
    return {field: round(value) for field, value in got.items()}


def _latency(field: str, once_field: str = "") -> read.Reader:
    def reader(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
        atoms = words_of(fact)
        tail = read.texts([atoms[2:]])
        if len(atoms) < 2 or not read.is_number(atoms[0]) or tail not in ([], ["per", "network"]):
            return unfit(fact, "latency 0.4 ms", findings)
        if tail and not once_field:
            return unfit(fact, "latency 0.4 ms", findings)
        value = read.amount_at(atoms[:2], 0, "time", findings, zero=True)
        if value is None:
            return {}
        return {field: value} | ({once_field: True} if tail else {})

    return reader


def _group_phantom(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    atoms = words_of(fact)
    if not atoms:
        return {"phantom": Phantom()}
    if len(atoms) not in (2, 4) or not all(read.is_number(atom) for atom in atoms[::2]):
        return unfit(fact, "phantom 48 V 10 mA", findings)
    volts = read.amount_at(atoms, 0, "voltage", findings)
    amperes = read.amount_at(atoms, 2, "current", findings) if len(atoms) == 4 else Phantom().current_a
    return {"phantom": Phantom(volts, amperes)} if volts is not None and amperes is not None else {}


def _chain(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    if not fact.clauses:
        return {"chain": "both"}
    return read.choice("chain", ("near", "far"), "side of a chain")(fact, findings)


def _two_words(second: str, field: str, value: object = True) -> read.Reader:
    """A fact of two fixed words: `converts rate`."""

    def reader(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
        return (
            {field: value}
            if read.texts(fact.clauses) == [second]
            else unfit(fact, f"{fact.name.text} {second}", findings)
        )

    return reader


def _gives(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    atoms = words_of(fact)
    fits = len(atoms) == 3 and isinstance(atoms[0], Word) and atoms[0].text == "poe" and read.is_number(atoms[1])
    if not fits:
        return unfit(fact, "gives poe 60 W", findings)
    value = read.amount_at(atoms[1:], 0, "power", findings)
    return {} if value is None else {"gives_poe_w": value}


def _category(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    said = "".join(atom.span.text for atom in words_of(fact))
    if said in CATEGORIES:
        return {"category": said}
    return unfit(fact, "category 6a", findings)


def _loss(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    atoms = words_of(fact)
    tail = atoms[2:]
    at = tail[0].text if tail and isinstance(tail[0], Word) else ""
    fits = len(atoms) in (2, 5) and read.is_number(atoms[0]) and (not tail or (at == "at" and read.is_number(tail[1])))
    if not fits:
        return unfit(fact, "loss 3.5 dB/km at 850 nm", findings)
    if tail:
        read.amount_at(tail, 1, "length", findings)
    value = read.amount_at(atoms[:2], 0, "loss per length", findings)
    return {} if value is None else {"loss_db_per_m": value}


def _carries(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    capacity: dict[int, int] = {}
    for clause in fact.clauses:
        atoms = list(clause)
        number = read.plain(atoms[0])
        at = atoms[1] if len(atoms) == 4 else None
        fits = isinstance(at, Word) and at.text == "at" and read.is_number(atoms[2])
        if not fits or not isinstance(number, Word):
            return unfit(fact, "carries 40 at 48 kHz, 20 at 96 kHz", findings)
        channels = whole(number, findings, what="a number of channels")
        rate = read.amount_at(atoms, 2, "frequency", findings)
        if channels is not None and rate is not None:
            capacity[round(rate)] = channels
    return {"capacity": capacity} if capacity else {}


def _over(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    reach: dict[str, float] = {}
    for clause in fact.clauses:
        atoms = list(clause)
        cable = atoms[0]
        if len(atoms) != 3 or not isinstance(cable, Word) or not read.is_number(atoms[1]):
            return unfit(fact, "over cat5e 100 m, om3 300 m", findings)
        length = read.amount_at(atoms, 1, "length", findings)
        if length is not None:
            reach[cable.text] = length
    return {"reach": reach} if reach else {}


def _topology(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    atoms = words_of(fact)
    word = atoms[0].text if atoms and isinstance(atoms[0], Word) else ""
    if word == "chain" and len(atoms) == 2 and isinstance(number := read.plain(atoms[1]), Word):
        depth = whole(number, findings, most=999, what="a number of boxes")
        return {"topology": "chain", "depth": depth or 1}
    if word in ("point-to-point", "network") and len(atoms) == 1:
        return {"topology": word}
    return unfit(fact, "topology point-to-point (or: chain 4, or: network)", findings)


def _date(fact: Fact, findings: list[Finding]) -> dict[str, Any]:
    atoms = words_of(fact)
    if len(atoms) == 1 and isinstance(atoms[0], Word) and atoms[0].kind == "date":
        return {"date": atoms[0].text} if day(atoms[0], findings) else {}
    return unfit(fact, "date 2026-12-04", findings)


_NOTE: Table = {"note": read.text("note")}

HEAD: Table = _NOTE | {
    "rate": _rate,
    "slack": read.measure("slack_m", "length", "slack 3 m", zero=True),
    "lead": read.name("lead", "lead xlr"),
    "date": _date,
    "revision": read.text("revision"),
    "demo": read.flag("demo"),
    "measure": _two_words("axes", "axes"),
    "label": read.text("label"),
}
SUPPLY: Table = _NOTE | {"label": read.text("label")}
ZONE: Table = _NOTE | {"public": read.flag("public"), "label": read.text("label")}
WAY: Table = _NOTE | {"label": read.text("label")}
LINK: Table = _NOTE | {
    "redundant": read.flag("redundant"),
    "loom": read.name("loom", "loom T1"),
    "ring": read.name("ring", "ring R1"),
    "bundle": read.name("bundle", "bundle B1"),
    "rate": _rate,
    "connectors": read.count("connectors", "connectors 4", least=0),
    "splices": read.count("splices", "splices 1", least=0),
    "label": read.text("label"),
    "ramp": read.flag("ramp"),
}
_SET_BY_BOX: Table = _NOTE | {
    "rate": _rate,
    "net": read.choice("net", ("primary", "secondary"), "side of a network"),
    "converts": _two_words("rate", "converts_rate"),
    "latency": _latency("latency_s"),
    "weight": read.measure("weight_kg", "mass", "weight 4.2 kg"),
    "power": read.measure("power_w", "power", "power 35 W"),
    "poe": read.measure("poe_w", "power", "poe 13 W"),
    "gives": _gives,
    "serial": read.text("serial"),
    "address": read.text("address"),
    "firmware": read.text("firmware"),
}
MODEL: Table = _SET_BY_BOX | {
    "kind": read.choice("kind", KINDS, "kind"),
    "fits": read.names("fits", "fits my64"),
    "label": read.text("label"),
}
BOX: Table = _SET_BY_BOX | {"label": read.text("label")}
CABLE: Table = _NOTE | {
    "medium": read.choice("medium", MEDIA, "medium"),
    "category": _category,
    "grade": read.choice("grade", GRADES, "grade of fibre"),
    "lines": read.count("lines", "lines 12"),
    "shielded": read.flag("shielded"),
    "stranded": read.flag("stranded"),
    "capacitance": read.measure("capacitance_f_per_m", "capacitance per length", "capacitance 110 pF/m"),
    "resistance": read.measure("resistance_ohm_per_m", "resistance per length", "resistance 84 mohm/m"),
    "loss": _loss,
    "conductor": read.measure("conductor_m2", "area", "conductor 2.5 mm2"),
    "weight": read.measure("weight_kg_per_m", "mass per length", "weight 55 g/m"),
    "impedance": read.measure("impedance_ohm", "resistance", "impedance 75 ohm"),
    "connector": read.names("connectors", "connector xlr-f, xlr-m"),
    "ends": read.names("ends", "ends dsub25"),
    "tails": read.measure("tails_m", "length", "tails 0.8 m"),
    "label": read.text("label"),
}
PROTOCOL: Table = _NOTE | {
    "carries": _carries,
    "over": _over,
    "slots": read.choice("slots", ("fixed", "routed"), "kind of slots"),
    "topology": _topology,
    "latency": _latency("latency_s", "latency_once"),
    "budget": read.measure("budget_db", "loss", "budget 2.6 dB"),
    "one-way": read.flag("one_way"),
    "needs": _two_words("shielded", "needs_shielded"),
    "label": read.text("label"),
}
GROUP: Table = _NOTE | {
    "protocol": read.names("protocols", "protocol fernlink, aes50"),
    "control": read.names("dialects", "control fern"),
    "level": read.choices("levels", LEVELS, "level"),
    "connector": read.names("connectors", "connector xlr-f"),
    "preamp": read.flag("preamp"),
    "phantom": _group_phantom,
    "bank": read.count("bank", "bank 8"),
    "gain": read.choices("gain", ("local", "remote"), "place of the gain"),
    "chain": _chain,
    "sends": read.flag("direction", "sends"),
    "takes": read.flag("direction", "takes"),
    "wireless": read.flag("wireless"),
    "soft": read.flag("soft"),
    "redundant": read.flag("redundant"),
    "mirror": read.flag("mirror"),
    "net": read.choice("net", ("primary", "secondary"), "side of a network"),
    "rate": _rate,
    "converts": _two_words("rate", "converts_rate"),
    "impedance": read.measure("impedance_ohm", "resistance", "impedance 8 ohm"),
    "latency": _latency("latency_s"),
    "least": read.measure("least_ohm", "resistance", "least 4 ohm"),
    "thru": read.flag("thru"),
    "speed": read.measure("speed_bit_s", "bit rate", "speed 1 Gbit/s"),
    "poe": read.measure("poe_w", "power", "poe 13 W"),
    "gives": _gives,
    "freq": read.measure("frequency_hz", "frequency", "freq 606.5 MHz"),
    "label": read.text("label"),
}
_SAID: Table = _NOTE | {"label": read.text("label")}
PATCH: Table = _SAID
INSERT: Table = _SAID
PASS: Table = _SAID | {"active": read.flag("active"), "isolated": read.flag("isolated")}
BRIDGE: Table = _SAID | {
    "channels": read.count("channels", "channels 16"),
    "converts": _two_words("rate", "converts_rate"),
}
_PLUG: Table = _NOTE | {
    "impedance": read.measure("impedance_ohm", "resistance", "impedance 150 ohm"),
    "freq": read.measure("frequency_hz", "frequency", "freq 606.5 MHz"),
    "label": read.text("label"),
    "mono": read.flag("mono"),
    "ramp": read.flag("ramp"),
}
SOURCE: Table = _PLUG | {
    "phantom": read.yes_or_no("phantom"),
    "current": read.measure("current_a", "current", "current 4 mA"),
    "level": read.choice("level", LEVELS, "level"),
    "balanced": read.yes_or_no("balanced"),
    "pad": read.measure("pad_db", "loss", "pad 20 dB"),
    "stand": read.text("stand"),
    "mic": read.text("mic"),
    "with": read.name("partner", "with vox-2"),
}
OUTPUT: Table = _PLUG | {"with": read.name("partner", "with iem-2")}
