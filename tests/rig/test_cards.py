"""Option cards: the slots of a model, and the cards that sit in them."""

from __future__ import annotations

import pytest

from rigdsl.rig import Port, Rig, read
from tests.rig.said import HEAD, clean, said

GEAR = """
model desk64 { kind console; channels ch 1-64; mixes mix 1-16; slot opt 1-2 takes my64; slot ext takes tiny, odd1 }
model desk8 { kind console; channels ch 1-8; slot opt 1-2 takes my64 }
model plain { kind console; channels ch 1-8 }
model fl64 { kind card; fits my64; digital pri, sec { protocol aes50 } }
model mini { kind card; fits tiny; inputs in 1-8 { preamp } }
model odd1 { kind card; fits something; outputs out 1-2 }
model mute { kind card; digital pri { protocol aes50 } }
zone foh at (0, 0) m; zone wing at (0, 9) m
box DESK is desk64 in foh; box D8 is desk8 in foh; box P is plain in foh
"""


def seats(rig: Rig) -> dict[str, str]:
    """The slot of each card."""
    return {name: str(box.slot) for name, box in rig.boxes.items() if box.slot}


@pytest.mark.parametrize(
    ("line", "slot"),
    [
        ("box DC is fl64 in DESK.opt 1", "DESK.opt 1"),
        ("box DC is fl64 in DESK.opt 2", "DESK.opt 2"),
        ("box DC is mini in DESK.ext", "DESK.ext"),
        ("box DC is mini in DESK.ext 1", "DESK.ext"),
        # The row of slots may be left out where there is one; a slot may name the model itself.
        ("box DC is fl64 in D8 2", "D8.opt 2"),
        ("box DC is odd1 in DESK.ext", "DESK.ext"),
        # A card that does not say what it fits is not judged.
        ("box DC is mute in DESK.opt 1", "DESK.opt 1"),
        ("box DC is mute in DESK.ext", "DESK.ext"),
        ("model br { kind bridge; digital a, b; inputs in }\nbox DC is br in DESK.ext", "DESK.ext"),
        ("model io { kind stage-box; digital a, b; data net }\nbox DC is io in DESK.ext", "DESK.ext"),
        ("model io { kind stage-box; inputs in 1-8; fits tiny }\nbox DC is io in DESK.ext", "DESK.ext"),
        ("model tiny { kind stage-box; inputs in 1-8 }\nbox DC is tiny in DESK.ext", "DESK.ext"),
    ],
)
def test_a_card_sits_in_a_slot(line: str, slot: str) -> None:
    rig = clean(GEAR + line)
    assert seats(rig) == {"DC": slot}
    host = slot.split(".")[0]
    assert rig.body("DC") == host
    assert rig.body(host) == host
    assert [box.name for box in rig.whole("DC")] == [host, "DC"]
    assert rig.boxes["DC"].zone == "foh"


def test_slots_of_a_model() -> None:
    slots = clean(GEAR).models["desk64"].slots
    assert [(one.name, one.count, one.takes) for one in slots.values()] == [
        ("opt", 2, ("my64",)),
        ("ext", 1, ("tiny", "odd1")),
    ]
    assert clean(GEAR).models["fl64"].fits == ("my64",)


def test_its_own_facts_and_its_host_s_rate() -> None:
    rig = clean(
        GEAR + 'box DC is fl64 in D8 1 { serial "7"; net secondary }\nbox D9 is desk8 { rate 96 kHz }\n'
        "box CC is fl64 in D9 1\nbox CD is fl64 in D9 2 { rate 48 kHz }"
    )
    assert (rig.boxes["DC"].serial, rig.boxes["DC"].net) == ("7", "secondary")
    assert [rig.rate_of(Port(name, "pri", 0)) for name in ("DC", "CC", "CD")] == [48_000, 96_000, 48_000]


@pytest.mark.parametrize(
    ("line", "rule", "place", "message", "help"),
    [
        (
            "box DC is fl64 in DESK.ext",
            "no-such-port",
            "DESK.ext",
            "`DC` is a card for `my64`, and `DESK.ext` takes `tiny` and `odd1`",
            "fit a card for `tiny` and `odd1`, or another desk (console)",
        ),
        (
            "model nw16 { kind stage-box; inputs mic 1-16; digital A }\nbox DC is nw16 in DESK.opt 1",
            "no-such-port",
            "DESK.opt 1",
            "`DC` is a stage-box, and `DESK.opt` takes `my64`",
            "if it is a card, say `fits my64` in model `nw16`; else name the zone it stands in",
        ),
        (
            "box DC is fl64 in DESK.opt 3",
            "no-such-port",
            "DESK.opt 3",
            "`DESK.opt` has slots 1 to 2, and `3` is not among them",
            "its slots are: `opt 1-2`, `ext`",
        ),
        (
            "box DC is fl64 in DESK.op 1",
            "no-such-port",
            "DESK.op 1",
            "`DESK` has no slot `op`",
            "there is a slot with a similar name: `opt`",
        ),
        (
            "box DC is fl64 in DESK 1",
            "no-such-port",
            "DESK 1",
            "`DESK` has 2 rows of slots: say which",
            "its slots are: `opt 1-2`, `ext`",
        ),
        (
            "box DC is fl64 in D8",
            "no-such-port",
            "D8",
            "`D8.opt` has 2 slots: say which",
            "write one of them, such as `D8.opt 1`",
        ),
        (
            "box DC is fl64 in DESK.opt 1-2",
            "no-such-port",
            "DESK.opt 1-2",
            "a card sits in one slot",
            "write one of them, such as `DESK.opt 1`",
        ),
        (
            "box DC is fl64 in P.opt 1",
            "no-such-port",
            "P.opt 1",
            "`P` has no slots for cards",
            "name a box that has some: `DESK` has `opt 1-2`, `ext`, `D8` has `opt 1-2`",
        ),
        (
            "box DC is fl64 in foh",
            "no-such-port",
            "DC",
            "`DC` is a card, and nothing says which slot it sits in",
            "name the slot: `box DC is fl64 in DESK.opt 1`",
        ),
        (
            "box DC is fl64",
            "no-such-port",
            "DC",
            "`DC` is a card, and nothing says which slot it sits in",
            "name the slot: `box DC is fl64 in DESK.opt 1`",
        ),
        (
            "box DC is fl64 in DESSK.opt 1",
            "unknown-name",
            "DESSK",
            "there is no box called `DESSK`",
            "there is a box with a similar name: `DESK`",
        ),
        (
            "box DC is fl64 in foh.opt 1",
            "unknown-name",
            "foh",
            "`foh` is a zone, and a box is needed here",
            "define it: `box NAME is MODEL in ZONE`",
        ),
        (
            "box C1 is fl64 in DESK.opt 1\nbox C2 is fl64 in DESK.opt 1",
            "repeated-name",
            "C2",
            "two cards are meant for one slot, `DESK.opt 1`: `C1` and `C2`",
            "put one of them into another slot; its slots are: `opt 1-2`, `ext`",
        ),
        (
            "box C1 is fl64 in D8.opt 1\nbox C2 is fl64 in C1.opt 1",
            "no-such-port",
            "C1.opt 1",
            "`C1` is in a slot itself, and a card sits in a box that is not",
            "name the box that has the slot",
        ),
        (
            "box C1 is fl64 in C1.opt 1",
            "no-such-port",
            "C1.opt 1",
            "`C1` is in a slot itself, and a card sits in a box that is not",
            "name the box that has the slot",
        ),
        (
            "model m { kind console; inputs opt 1-2; slot opt 1-2 takes my64 }",
            "repeated-name",
            "opt",
            "model `m` has two groups or slots called `opt`",
            "give one of them another name",
        ),
        (
            "model m { kind console; slot opt 3-4 takes my64 }",
            "range-length",
            "3-4",
            "the sockets of a group are counted from 1 up, and `3-4` is not",
            "write `opt 1-4`",
        ),
    ],
)
def test_what_is_wrong_with_a_card(line: str, rule: str, place: str, message: str, help: str) -> None:
    assert said(GEAR + line) == [(rule, place, message, help)]


@pytest.mark.parametrize(
    "line", ["box DC is fl64 in DESK.ext", "box DC is fl64 in P.opt 1", "box DC is fl64", "box DC is fl64 in DESK."]
)
def test_what_hangs_on_a_card_that_is_wrong_is_quiet(line: str) -> None:
    rig = read(HEAD + GEAR + line + "\nbox D9 is desk8 in foh\nbox C9 is fl64 in D9 1\nlink L: DC.pri -- C9.pri")
    assert len(rig.findings) == 1
    assert "DC" in rig.incomplete


# ---- a night on top of a house file

HOUSE = (
    GEAR
    + """
box DC is fl64 in DESK.opt 1; box C8 is mini in DESK.ext; box EC is fl64 in D8.opt 1
link L1: DC.pri -- EC.pri via cat6 5 m
source vox dynamic in foh to C8 1
patch vox -> DESK.ch 1
"""
)
NIGHT = 'rig "Tonight" {}\nuse "house.rig"\n'


@pytest.mark.parametrize(
    ("lines", "cards", "links"),
    [
        ("", {"DC": "DESK.opt 1", "C8": "DESK.ext", "EC": "D8.opt 1"}, ["L1"]),
        ("without DC", {"C8": "DESK.ext", "EC": "D8.opt 1"}, []),
        # A card goes with its host, and what is plugged into it loses its socket.
        ("without DESK", {"EC": "D8.opt 1"}, []),
        ("without foh", {}, []),
        ("without DC\nbox DC is fl64 in DESK.opt 2", {"C8": "DESK.ext", "EC": "D8.opt 1", "DC": "DESK.opt 2"}, []),
        ('change DC { serial "9"; rate 96 kHz }', {"DC": "DESK.opt 1", "C8": "DESK.ext", "EC": "D8.opt 1"}, ["L1"]),
    ],
)
def test_a_night_takes_cards_away(lines: str, cards: dict[str, str], links: list[str]) -> None:
    rig = clean(NIGHT + lines, house=HOUSE)
    assert seats(rig) == cards
    assert list(rig.links) == links
