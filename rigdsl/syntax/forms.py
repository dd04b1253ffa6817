"""How each statement reads: one example, and the order of its clauses. Help texts quote them."""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["CLAUSES", "FACT", "FORMS", "GROUP_WORDS", "JOIN", "LINES", "Form", "form_of"]


class Form(NamedTuple):
    """A statement with its article, an example, the words of its clauses in order, and what its first name is."""

    what: str
    example: str
    clauses: tuple[str, ...] = ()
    first: str = "its name"


FORMS = {
    "rig": Form("the head of a rig", 'rig "Lantern Hall, Friday" { rate 48 kHz }', (), "its title, in quotes,"),
    "use": Form("a `use`", 'use "gear/house.rig"', (), "the path of the file, in quotes,"),
    "zone": Form("a zone", 'zone drums "Drum riser" at (0, 4) m', ("at",)),
    "way": Form("a way", 'way foh -- wing 65 m "under the balcony"', ("--",), "the zone at one end"),
    "box": Form("a box", 'box SL "Stage left rack" is nw16 in wing', ("is", "in")),
    "link": Form("a link", "link C01: SL.A -- DESK.stage 1 via cat6s 75 m", ("--", "via"), "its name or its first end"),
    "source": Form("a source", 'source kick "Kick in" dynamic in drums to DR 1 via xlr 6 m', ("in", "to", "via")),
    "output": Form(
        "an output", 'output wdg1 "Lead wedge" wedge in front from SL.line 1 via xlr 10 m', ("in", "from", "via")
    ),
    "patch": Form("a patch", "patch SL.mic 1-8 -> DESK.ch 1-8", ("->",), "what is patched: sockets or a source"),
    "insert": Form(
        "an insert",
        "insert DESK.ch 3 through CP 1 via ins-lead 2 m",
        ("through", "via"),
        "the channel or mix that has the insert",
    ),
    "clock": Form("a clock", "clock DESK", (), "the box that leads the clock"),
    "control": Form("a `control`", "control SL.mic 1-16 by DESK", ("by",), "the sockets that are controlled"),
    "keep": Form("a `keep`", 'keep SL.mic 16 for "support act"', ("for",), "the sockets to keep free"),
    "accept": Form(
        "an `accept`",
        'accept unused-port on SL.mic 12 because "faulty, away for repair" until 2026-12-31',
        ("on", "because", "until"),
        "the rule",
    ),
    "stock": Form("a `stock`", "stock xlr 10 m x 24", ("x",), "the cable"),
    "supply": Form("a supply", 'supply D1 "Stage left, 16 A" 230 V 16 A in wing', ("in",)),
    "power": Form("a `power` line", "power SL, A1 from D1", ("from",), "the box that is powered"),
    "cable": Form("a cable", 'cable cat6s "Cat 6 on a reel" { medium twisted-pair; category 6 }'),
    "protocol": Form("a protocol", 'protocol fernlink "Fernlink" { carries 40 at 48 kHz }'),
    "model": Form("a model", 'model sub12 "12-line sub-box" { kind sub-box; inputs panel 1-12 }'),
    "without": Form("a `without`", "without C07, OLD-RACK", (), "what is to be taken away"),
    "unpatch": Form("an `unpatch`", "unpatch DESK.ch 1-4", (), "the sockets whose patch is to go"),
    "replug": Form(
        "a `replug`", "replug kick to DR 3 via xlr 4 m", ("to", "from", "via"), "the source or output to plug anew"
    ),
    "change": Form("a `change`", "change DESK { rate 96 kHz }", (), "the thing that is changed"),
}

# The lines of a model's block that are more than facts.
LINES = {
    "inputs": Form("a group", "inputs mic 1-16 { preamp }"),
    "outputs": Form("a group", "outputs line 1-8"),
    "channels": Form("a group", "channels ch 1-32"),
    "mixes": Form("a group", "mixes mix 1-16"),
    "digital": Form("a group", "digital A, B { protocol fernlink }"),
    "data": Form("a group", "data net"),
    "pass": Form("a pass", "pass panel -> tail", ("->", "--"), "the group that it comes from"),
    "bridge": Form("a bridge", "bridge L -> M { channels 16 }", ("->", "--"), "the port on one side"),
    "slot": Form("a slot", "slot opt 1-2 takes my64", ("takes",)),
}
GROUP_WORDS = ("inputs", "outputs", "channels", "mixes", "digital", "data")

JOIN = Form("a line of a link's block", "MC.tail 1-22 -- LOCAL.mic 1-22", ("--",))
FACT = Form("a fact", "weight 4.2 kg")

# What stands behind each word that opens a clause.
CLAUSES = {
    "is": "the model",
    "in": "the zone",
    "to": "the sockets that it goes to",
    "from": "the sockets that it comes from",
    "via": "the cable",
    "by": "the box that controls them",
    "for": "what they are kept for, in quotes,",
    "on": "what it is about (sockets, a name, or a subject in quotes)",
    "because": "the reason, in quotes,",
    "until": "the date, as `2026-12-31`,",
    "at": "the position, as `(0, 4) m`,",
    "x": "the count",
    "through": "the outboard that it goes through",
    "takes": "the form of card that fits it",
    "--": "the other end",
    "->": "where it goes",
}


def form_of(statement: str, line: tuple[str, ...] = ()) -> Form:
    """The form of a statement, or of a line of its block that begins so; a misspelt one is only a fact."""
    if not line:
        return FORMS.get(statement, FACT)
    if statement == "model" and line[0] in LINES:
        return LINES[line[0]]
    if statement == "link" and {"--", "->", "."} & set(line):
        return JOIN
    return FACT
