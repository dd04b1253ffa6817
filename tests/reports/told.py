"""Reports made by hand, with names that would break any form that does not escape them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rigdsl.cli.entries import listed
from rigdsl.finding import Edit, Finding, Fix, Level, Related
from rigdsl.lint import Verdict
from rigdsl.lint.accept import Accepted
from rigdsl.packs import Refused, discover
from rigdsl.reports.report import Checked, Report
from rigdsl.reports.rule_list import Entry
from rigdsl.rig import Accept, Rig, read
from rigdsl.text import Source, Span

__all__ = ["FILE", "HOSTILE", "REFUSED", "RIG", "RULES", "accepted", "finding", "full", "mark", "report", "same"]

TEXT = """\
rig "Lantern Hall" { rate 48 kHz }
model nw4 { kind stage-box; inputs mic 1-4 { preamp } }
zone wing "Stage left wing"
box SL "Stage left rack" is nw4 in wing
box SR "Stage right rack" is nw4 in wing
accept unused-port on SL.mic 4 because "broken"
"""
FILE = Source("friday.rig", TEXT)
RIG = read(TEXT)
RULES: list[Entry] = listed(discover())
REFUSED = Refused("bad", "1.2", "it is made for packs of edition 7")
HOSTILE = (
    "<b>&amp;</b> \"quoted\" 'so'",
    "]]> <![CDATA[ <!-- -->",
    "100% of %0A and %25",
    "a, b :: c : d",
    "::error file=x::no",
    "two\nlines\r\nand three",
    "\u202eright to left\u202c \u05d0\u200f",
    "[here](1) and [there](http://x.invalid) \\[no\\]",
    "{0} {{1}} { kind }",
    "bell\x07 escape\x1b[31m null\x00 next\x85 \ufffe",
    "🎤é日本",
    "x" * 200,
)


def same(path: str) -> str:
    """Every path is a file, and lies where it says."""
    return path


def mark(part: str, source: Source = FILE) -> Span:
    """The place of some words."""
    start = source.text.index(part)
    return Span(source, start, start + len(part))


def finding(place: Span | None = None, message: str = "much is wrong", **more: Any) -> Finding:
    words: dict[str, Any] = {"rule": "unplugged-source", "subject": message, "level": Level.ERROR, **more}
    return Finding(place=place or mark("SL"), message=message, **words)


def accepted(what: Finding, because: str = "broken", until: str = "") -> Accepted:
    line = Accept(what.rule, what.subject, (), because, until, mark("accept unused-port"))
    return Accepted(what, line)


def report(*findings: Finding, accepted: tuple[Accepted, ...] = (), crashed: bool = False, rig: Rig = RIG) -> Report:
    ran = frozenset(entry.name for entry in RULES if entry.pack != "core" and entry.on)
    verdict = Verdict(findings, accepted, crashed, ran)
    packs = tuple((item.pack.name, item.version) for item in discover().installed)
    return Report((Checked("friday.rig", True, rig, verdict),), packs, "0.1.0")


def full(text: str) -> Finding:
    """A finding with one text wherever a text can stand."""
    return replace(
        finding(message=text),
        consequence=text,
        help=text,
        box=text,
        ports=(text,),
        silent=(text,),
        related=(Related(mark("nw4"), text),),
        fixes=(Fix(text, (Edit(mark("SR"), text),), safe=True),),
    )
