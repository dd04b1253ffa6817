"""Inserts: outboard in a channel or a mix, as the files say it."""

from __future__ import annotations

import pytest

from rigdsl.rig import Rig, read
from tests.rig.said import HEAD, clean, said

GEAR = """
cable ins-lead { medium analogue }
model desk { kind console; channels ch 1-8; mixes mix 1-4; inputs local 1-8 { preamp }; outputs out 1-2 }
model comp2 { kind outboard; inputs in 1-2; outputs out 1-2; latency 0.5 ms }
model cross2 { kind outboard; inputs in 1-2; outputs out 1-2; pass in 1 -> out 2; pass in 2 -> out 1 }
model eq1 { kind outboard; inputs in; outputs out; inputs key; pass in -> out }
model half { kind outboard; inputs in 1-2; outputs out 1-2; pass in 1 -> out 1 }
model odd { kind outboard; inputs in 1-2; outputs out 1-2; outputs meter }
model meter { kind outboard; inputs in }
zone foh at (0, 0) m; zone rack at (0, 4) m
box DESK is desk in foh
box CP is comp2 in rack; box X is cross2 in foh; box EQ is eq1 in foh
box H is half in foh; box O is odd in foh; box M is meter in foh
source kick dynamic in foh to DESK 1
"""


def shown(rig: Rig) -> list[str]:
    """Each insert in one line."""
    return [f"{one.name}: {one.at} > {one.send} > {one.back}" for one in rig.inserts]


@pytest.mark.parametrize(
    ("line", "made"),
    [
        ("insert DESK.ch 3 through CP 1", ["DESK.ch 3: DESK.ch 3 > CP.in 1 > CP.out 1"]),
        ("insert DESK.mix 1 through CP.in 2", ["DESK.mix 1: DESK.mix 1 > CP.in 2 > CP.out 2"]),
        # Ranges join number by number, and are one insert by name.
        (
            "insert DESK.ch 3-4 through CP 1-2",
            ["DESK.ch 3: DESK.ch 3 > CP.in 1 > CP.out 1", "DESK.ch 3: DESK.ch 4 > CP.in 2 > CP.out 2"],
        ),
        (
            "insert DESK.ch 4, DESK.mix 2 through CP 2,1",
            ["DESK.ch 4: DESK.ch 4 > CP.in 2 > CP.out 2", "DESK.ch 4: DESK.mix 2 > CP.in 1 > CP.out 1"],
        ),
        # It comes back by the output that the input's pass leads to.
        ("insert DESK.ch 1 through X 1", ["DESK.ch 1: DESK.ch 1 > X.in 1 > X.out 2"]),
        ("insert DESK.ch 1 through EQ.in", ["DESK.ch 1: DESK.ch 1 > EQ.in > EQ.out"]),
        ("insert DESK.ch 1 through H 1", ["DESK.ch 1: DESK.ch 1 > H.in 1 > H.out 1"]),
        # Two in one channel stand one behind the other.
        (
            "insert DESK.ch 1 through CP 2\ninsert DESK.ch 1 through EQ.in",
            ["DESK.ch 1: DESK.ch 1 > CP.in 2 > CP.out 2", "DESK.ch 1: DESK.ch 1 > EQ.in > EQ.out"],
        ),
    ],
)
def test_an_insert(line: str, made: list[str]) -> None:
    assert shown(clean(GEAR + line)) == made


@pytest.mark.parametrize(
    ("via", "cable", "length_m"),
    [("via ins-lead 2 m", "ins-lead", 2.0), ("via ins-lead", "ins-lead", 4.0), ("", None, None)],
)
def test_the_cable_of_an_insert(via: str, cable: str | None, length_m: float | None) -> None:
    (insert,) = clean(GEAR + f'insert DESK.ch 3 through CP 1 {via} {{ note "slow attack" }}').inserts
    lead = insert.lead
    assert (lead.cable.name if lead else None, lead.length_m if lead else None) == (cable, length_m)
    assert insert.note == "slow attack"


@pytest.mark.parametrize(
    ("line", "rule", "place", "message", "help"),
    [
        (
            "insert DESK.local 3 through CP 1",
            "no-such-port",
            "DESK.local 3",
            "`DESK.local` are inputs: an insert is in a channel or a mix",
            "its channels and mixes are: `DESK.ch`, `DESK.mix`",
        ),
        (
            "insert CP.in 1 through CP 2",
            "no-such-port",
            "CP.in 1",
            "`CP.in` are inputs: an insert is in a channel or a mix",
            "`CP` has no channels and mixes; an insert reads: `insert DESK.ch 3 through CP 1 via ins-lead 2 m`",
        ),
        (
            "insert DESK.ch 3 through CP.out 1",
            "no-such-port",
            "CP.out 1",
            "`CP.out` are outputs: an insert goes into inputs of the outboard and comes back from its outputs",
            "its inputs are: `CP.in`",
        ),
        (
            "insert DESK 3 through CP 1",
            "no-such-port",
            "DESK 3",
            "`DESK` has 2 groups of channels and mixes: say which",
            "write `DESK.ch` or `DESK.mix`",
        ),
        (
            "insert DESK.ch 3 through EQ",
            "no-such-port",
            "EQ",
            "`EQ` has 2 groups of inputs: say which",
            "write `EQ.in` or `EQ.key`",
        ),
        (
            "insert DESK.ch 9 through CP 1",
            "no-such-port",
            "9",
            "`DESK.ch` has sockets 1 to 8, and `9` is not among them",
            "its groups are: `ch 1-8`, `mix 1-4`, `local 1-8`, `out 1-2`",
        ),
        (
            "insert DESK.ch 3-4 through CP 1",
            "range-length",
            "DESK.ch 3-4 through CP 1",
            "2 channels or mixes on the left of `through`, and one socket on the right: they are joined one by one",
            "give both sides as many: `insert DESK.ch 3-4 through CP 1-2`",
        ),
        (
            "insert DESK.ch 3-4 through CP 1, CP.in 1",
            "range-length",
            "CP 1, CP.in 1",
            "`CP.in 1` is named twice in one list",
            "name each socket once",
        ),
        (
            "insert DESK.ch 3 through H 2",
            "no-such-port",
            "H 2",
            "nothing says which output of `H` it comes back from",
            "say in model `half` what leads where: `pass in -> out`; its groups are: `in 1-2`, `out 1-2`",
        ),
        (
            "insert DESK.ch 3 through O 2",
            "no-such-port",
            "O 2",
            "nothing says which output of `O` it comes back from",
            "say in model `odd` what leads where: `pass in -> out`; its groups are: `in 1-2`, `out 1-2`, `meter`",
        ),
        (
            "insert DESK.ch 3 through M",
            "no-such-port",
            "M",
            "nothing says which output of `M` it comes back from",
            "`M` has no outputs; its groups are: `in`",
        ),
        (
            "insert kick through CP 1",
            "unknown-name",
            "kick",
            "`kick` is a source, and sockets of a box are needed here",
            "write BOX.group and the socket",
        ),
        (
            "insert DESK.ch 3 through COMP 1",
            "unknown-name",
            "COMP",
            "there is no box called `COMP`",
            "there is a box with a similar name: `CP`",
        ),
        (
            "insert DESK.ch 3 through CP 1 via inslead 2 m",
            "unknown-name",
            "inslead",
            "there is no cable called `inslead`",
            "there is a cable with a similar name: `ins-lead`",
        ),
        (
            "insert DESK.ch 3 through CP 1 { thru }",
            "unknown-name",
            "thru",
            "an insert has no fact `thru`",
            "its facts are: label, note",
        ),
    ],
)
def test_what_is_wrong_with_an_insert(line: str, rule: str, place: str, message: str, help: str) -> None:
    assert said(GEAR + line) == [(rule, place, message, help)]


@pytest.mark.parametrize("line", ["insert DESK.local 3 through CP 1", "insert DESK.ch 3 through H 2", "insert DESK.ch"])
def test_an_insert_that_is_left_out_is_known_to_be(line: str) -> None:
    rig = read(HEAD + GEAR + line)
    assert rig.inserts == ()
    assert "insert" in rig.left_out


# ---- a night on top of a house file

HOUSE = (
    GEAR + "insert DESK.ch 1-2 through CP 1-2\ninsert DESK.ch 3 through EQ.in\npatch DESK.local 1-2 -> DESK.ch 1-2\n"
)
NIGHT = 'rig "Tonight" {}\nuse "house.rig"\n'
BOTH = ["DESK.ch 1: DESK.ch 1 > CP.in 1 > CP.out 1", "DESK.ch 1: DESK.ch 2 > CP.in 2 > CP.out 2"]
THIRD = "DESK.ch 3: DESK.ch 3 > EQ.in > EQ.out"


@pytest.mark.parametrize(
    ("lines", "left"),
    [
        ("", [*BOTH, THIRD]),
        ("without CP", [THIRD]),
        ("without EQ", BOTH),
        ("without DESK", []),
        ("without rack", [THIRD]),
        ("unpatch DESK.ch 1-2", [*BOTH, THIRD]),
        ("without CP\nbox CP is eq1 in foh", [THIRD]),
    ],
)
def test_an_insert_goes_with_its_desk_or_its_outboard(lines: str, left: list[str]) -> None:
    assert shown(clean(NIGHT + lines, house=HOUSE)) == left


@pytest.mark.parametrize(
    ("line", "not_in_doubt"),
    [
        # What stands in quotes, or behind a `#`, is no name.
        ('insert DESK.local 3 through CP 1 { note "kick, EQ and M" }', {"kick", "EQ", "M"}),
        ("insert DESK.local 3 through CP 1 {  # kick, EQ and M\n}", {"kick", "EQ", "M"}),
        (r'patch DESK.mix 1-2 -> DESK.ch 1 { note "the \"kick\" of EQ # and M" }', {"kick", "EQ", "M"}),
    ],
)
def test_words_in_quotes_and_comments_are_not_in_doubt(line: str, not_in_doubt: set[str]) -> None:
    rig = read(HEAD + GEAR + line)
    assert "DESK" in rig.incomplete
    assert rig.incomplete.isdisjoint(not_in_doubt)


def test_a_broken_link_is_one_sided_by_its_own_words() -> None:
    """Its comment names two boxes; what it joins itself is one box and nobody knows what."""
    rig = read(HEAD + GEAR + "link C9: EQ.in -- = # from CP to DESK")
    assert {"CP", "DESK", "EQ"} <= rig.incomplete
    rig = read(HEAD + GEAR + "link C9: EQ.in -- = CP.out # kick")
    assert "kick" not in rig.incomplete
