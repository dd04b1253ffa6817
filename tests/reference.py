"""The tables of the README that are made from what the tool itself knows: facts, cables and protocols.

Each stands between `<!-- NAME: made -->` and `<!-- NAME: end -->`; `python -m tests.readme` writes them anew.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from rigdsl.finding import Finding
from rigdsl.rig import Cable, Protocol, read, words
from rigdsl.rig.facts import Table
from rigdsl.syntax import nodes, parse
from rigdsl.text import Source

__all__ = ["TABLES", "with_tables"]

THINGS: dict[str, Table] = {
    "`rig`": words.HEAD,
    "`zone`": words.ZONE,
    "`way`": words.WAY,
    "`box`": words.BOX,
    "`link`": words.LINK,
    "`source`": words.SOURCE,
    "`output`": words.OUTPUT,
    "`patch`": words.PATCH,
    "`insert`": words.INSERT,
    "`supply`": words.SUPPLY,
    "`model`": words.MODEL,
    "a group (`inputs`, `digital` ...)": words.GROUP,
    "`pass`": words.PASS,
    "`bridge`": words.BRIDGE,
    "`cable`": words.CABLE,
    "`protocol`": words.PROTOCOL,
}
ANY = ("label", "note")  # every thing has them
FEW = 8  # words to choose from that fit into a row
FORM = re.compile(r"it reads: `(.+)`$")
CHOICES = re.compile(r"there are: (.+)$")


def with_tables(readme: str) -> str:
    """The README with its made tables as they must be now."""
    for name, rows in TABLES.items():
        begin, end = f"<!-- {name}: made -->\n", f"<!-- {name}: end -->"
        before, _, rest = readme.partition(begin)
        readme = before + begin + "\n".join(rows) + "\n" + end + rest.partition(end)[2]
    return readme


def _helps(name: str, table: Table, said: str) -> str:
    """What the tool itself says of a fact that cannot be read."""
    (block,) = parse(Source("facts.rig", f"cable x {{ {name} {said} }}\n")).statements
    assert isinstance(block, nodes.Cable), name
    findings: list[Finding] = []
    table[name](block.facts[0], findings)
    return findings[0].help if findings else ""


def _form(name: str, table: Table) -> str:
    found = FORM.search(_helps(name, table, '"a" "b" "c"'))
    assert found is not None, name
    form, _, others = found[1].removesuffix(")").partition(" (or: ")
    told = CHOICES.search(_helps(name, table, "no-such-word-is-there"))
    choices = told[1].split(", ") if told else others.split(", or: ")
    more = [f"`{word}`" for word in choices if word and word != form.split()[-1]]
    return f"`{form}`" + (f" (or {', '.join(more)})" if more and len(more) < FEW else "")


def _facts() -> Iterator[str]:
    yield from ("| thing | facts of its block |", "|---|---|")
    for thing, table in THINGS.items():
        assert set(ANY) <= set(table), thing
        forms = [_form(name, table) for name in table if name not in ANY]
        yield f"| {thing} | {', '.join(forms) or 'no others'} |"


def _plain(value: float) -> str:
    return f"{value:,.0f}".replace(",", " ") if value >= 10_000 else f"{value:g}"


def _cable(cable: Cable) -> str:
    figures = [
        (cable.capacitance_f_per_m, 1e-12, "pF/m"),
        (cable.resistance_ohm_per_m, 1e-3, "mohm/m"),
        (cable.loss_db_per_m, 1e-3, "dB/km"),
        (cable.impedance_ohm, 1.0, "ohm"),
    ]
    said = [f"{round(value / unit, 3):g} {name}" for value, unit, name in figures if value is not None]
    kind = [cable.medium, "shielded" if cable.shielded else ""]
    return f"| `{cable.name}` | {cable.label} | {', '.join(filter(None, [*kind, *said]))} |"


def _cables() -> Iterator[str]:
    yield from ("| cable | what it is | figures |", "|---|---|---|")
    yield from map(_cable, read("").cables.values())


def _protocol(protocol: Protocol) -> str:
    ways = "one way" if protocol.one_way else "each way"
    carries = ", ".join(f"{count} at {rate // 1000} kHz" for rate, count in sorted(protocol.capacity.items()))
    over = ", ".join(f"`{cable}` {_plain(length)} m" for cable, length in protocol.reach.items())
    return f"| `{protocol.name}` | {protocol.label} | {carries}, {ways} | {over} | {protocol.topology} |"


def _protocols() -> Iterator[str]:
    yield from ("| protocol | standard | channels | over, as far as | goes |", "|---|---|---|---|---|")
    yield from map(_protocol, read("").protocols.values())


TABLES: dict[str, Sequence[str]] = {
    "facts": tuple(_facts()),
    "cables": tuple(_cables()),
    "protocols": tuple(_protocols()),
}
