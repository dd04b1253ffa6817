"""Labels, stock, addresses, frequencies, firmware, and cables where people walk."""

from __future__ import annotations

import pytest

from rigdsl_papers.address_taken import address_taken
from rigdsl_papers.firmware_differs import firmware_differs
from rigdsl_papers.frequency_taken import frequency_taken
from rigdsl_papers.label_missing import label_missing
from rigdsl_papers.label_repeated import label_repeated
from rigdsl_papers.over_stock import over_stock
from rigdsl_papers.walkway import walkway
from tests.rules.said import findings, said

GEAR = """\
rig "Papers" { slack 2 m }
model box { kind stage-box; inputs mic 1-16 { preamp }; outputs out 1-8; digital net 1-2 }
model other { kind stage-box; inputs mic 1-16 { preamp }; outputs out 1-8; digital net 1-2 }
model rx { kind receiver; inputs air 1-4 { wireless }; outputs line 1-4; pass air -> line }
model rx1 { kind receiver; inputs air { wireless; freq 606.5 MHz }; outputs line; pass air -> line }
model tx { kind monitor-sender; inputs in 1-2; outputs air 1-2 { wireless }; pass in -> air }
model tab { kind surface; data air { wireless } }
"""


def papers(*lines: str) -> str:
    return GEAR + "\n".join(lines)


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (
            ['box B2 "Rack" is box', 'box B10 "Rack" is box'],
            [("warning", "B2", 'the boxes `B2` and `B10` are both labelled "Rack"')],
        ),
        (
            ['box A "Rack" is box', 'box B " rack" is other', 'box C "Rack" is box'],
            [("warning", "A", 'the boxes `A`, `B` and `C` are all labelled "Rack"')],
        ),
        (['box A "Rack 1" is box', 'box B "Rack 2" is box'], []),
        (["box A is box", "box B is box"], []),  # no label is no label twice
        (
            [
                'box A "Rack" is box',
                "box B is box",
                'link L1: A.net 1 -- B.net 1 via cat6 3 m { label "Blue" }',
                'link L2: A.net 2 -- B.net 2 via cat6 3 m { label "Blue" }',
            ],
            [("warning", "L1", 'the links `L1` and `L2` are both labelled "Blue"')],
        ),
        (
            [
                'box A "Rack" is box',
                "box B is box",
                'link L1: A.net 1 -- B.net 1 via cat6 3 m { label "Rack" }',
            ],
            [],
        ),
    ],
)
def test_labels_that_name_two_things(lines: list[str], told: list[tuple[str, str, str]]) -> None:
    assert said(label_repeated, papers(*lines)) == told


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (['box A "Rack" is box'], None),
        (["box A is box"], "1 box has no label: `A`"),
        (
            ["box A is box", "box B is box", "link A.net 1 -- B.net 1 via cat6 3 m"],
            "2 boxes have no label: `A`, `B`; 1 cable has no id: `A.net 1 -- B.net 1`",
        ),
        (
            [
                "model host { kind console; channels ch 1-4; slot s takes c }",
                "model card { kind card; fits c }",
                'box H "Desk" is host',
                "box K is card in H.s",
            ],
            None,
        ),  # a card is found where its box is
        ([f"box B{i} is box" for i in range(9)], "9 boxes have no label: `B0`, `B1`, `B2`, `B3` and 5 more"),
    ],
)
def test_what_has_no_label_is_said_once(lines: list[str], message: str | None) -> None:
    assert said(label_missing, papers(*lines)) == ([("note", "rig", message)] if message else [])


PLUGS = [f"source s{n} dynamic to A {n} via xlr 10 m" for n in range(1, 4)]


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (["stock xlr 10 m x 3"], None),
        (["stock xlr 10 m x 1", "stock xlr 10 m x 2"], None),
        (["stock xlr 20 m x 3"], None),  # a longer one serves
        (["stock jack 10 m x 1"], None),  # no stock of this kind is written: nothing is known of it
        ([], None),
        (["stock xlr 10 m x 2"], ("xlr 10 m", "3 cables `xlr` of 10 m or longer, and the house has 2")),
        (["stock xlr 5 m x 9"], ("xlr 10 m", "3 cables `xlr` of 10 m or longer, and the house has none")),
        (
            ["stock xlr 20 m x 2", "stock xlr 5 m x 9"],
            ("xlr 20 m", "3 cables `xlr` of 10 m or longer, and the house has 2 of 20 m or longer"),
        ),
        (
            ["stock xlr 10 m x 2", "zone far", "source s4 dynamic in far to A 4 via xlr"],
            (
                "xlr 10 m",
                "3 cables `xlr` of 10 m or longer, and the house has 2; one more has no length yet and does not count",
            ),
        ),
    ],
)
def test_more_cables_than_the_house_has(lines: list[str], told: tuple[str, str] | None) -> None:
    found = said(over_stock, papers("box A is box", *PLUGS, *lines))
    assert found == ([("warning", told[0], f"the rig takes {told[1]}")] if told else [])


def test_how_many_to_hire() -> None:
    (finding,) = findings(over_stock, papers("box A is box", *PLUGS, "stock xlr 10 m x 1"))
    assert finding.help == "hire 2, or do with what there is at `s1`, `s2`, `s3`"
    assert [item.message for item in finding.related] == ["`s1` takes 1", "`s2` takes 1", "`s3` takes 1"]


@pytest.mark.parametrize(
    ("one", "other", "subject"),
    [
        ("10.0.4.11", "10.0.4.11", "10.0.4.11"),
        ("10.0.4.11", "10.0.4.12", None),
        ('"fe80::1"', '"FE80:0:0::1"', "fe80::1"),  # one address (RFC 5952)
        ('"desk one"', '"Desk One"', "desk one"),
    ],
)
def test_one_address_for_two(one: str, other: str, subject: str | None) -> None:
    found = said(address_taken, papers(f"box A is box {{ address {one} }}", f"box B is box {{ address {other} }}"))
    assert [(level, name) for level, name, _ in found] == ([("error", subject)] if subject else [])


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (
            ["source a wireless to R 1 { freq 606.5 MHz }", "source b wireless to R 2 { freq 0.6065 GHz }"],
            "`a` and `b` are on one frequency: 606.5 MHz",
        ),
        (["source a wireless to R 1 { freq 606.5 MHz }", "source b wireless to R 2 { freq 606.525 MHz }"], None),
        (
            ["source a wireless to R 1 { freq 606.5 MHz }", "output e in-ear from T.air 1-2 { freq 606.5 MHz }"],
            "`a` and `e` are on one frequency: 606.5 MHz",
        ),
        # Two pairs of ears on one sender hear one line
        (
            ["output e in-ear from T.air 1-2 { freq 530 MHz }", "output f in-ear from T.air 1-2 { freq 530 MHz }"],
            None,
        ),
        (["box R1 is rx1"], None),
        (["box R1 is rx1", "box R2 is rx1"], "`R1.air` and `R2.air` are on one frequency: 606.5 MHz"),
        (["box R1 is rx1", "source a wireless to R1 { freq 606.5 MHz }"], None),  # a source and its receiver
        (
            ["box R1 is rx1", "source a wireless to R 1 { freq 606.5 MHz }"],
            "`R1.air` and `a` are on one frequency: 606.5 MHz",
        ),
    ],
)
def test_one_frequency_for_two(lines: list[str], message: str | None) -> None:
    found = said(frequency_taken, papers("box R is rx", "box T is tx", *lines))
    frequency = message.rsplit(": ", 1)[1] if message else ""
    assert found == ([("error", frequency, message)] if message else [])


def test_two_receivers_that_hear_one_transmitter() -> None:
    lines = ["source a wireless to R 1 { freq 606.5 MHz }", "source b wireless to R 2 { freq 606.5 MHz }"]
    (finding,) = findings(frequency_taken, papers("box R is rx", *lines))
    assert finding.help.endswith(
        "where two receivers are meant to hear one transmitter, write `freq` at one of them alone, or `accept` it"
    )
    without = lines[1].replace("{ freq 606.5 MHz }", "")
    assert findings(frequency_taken, papers("box R is rx", lines[0], without)) == []


@pytest.mark.parametrize(
    ("boxes", "message"),
    [
        (['A is box { firmware "4.2" }', 'B is box { firmware "4.2" }'], None),
        (['A is box { firmware "4.2" }', 'B is other { firmware "3.9" }'], None),
        (['A is box { firmware "4.2" }', "B is box"], None),
        (
            ['A is box { firmware "4.10" }', 'B is box { firmware "4.2" }', 'C is box { firmware "4.2" }'],
            'boxes of model `box` have different firmware: "4.2" in `B`, `C`, "4.10" in `A`',
        ),
    ],
)
def test_firmware(boxes: list[str], message: str | None) -> None:
    found = said(firmware_differs, papers(*(f"box {box}" for box in boxes)))
    assert found == ([("note", "box", message)] if message else [])


ROOM = ("zone wing", "zone hall { public }", "zone bar { public }", "box A is box in wing", "box H is box in hall")


@pytest.mark.parametrize(
    ("line", "through"),
    [
        ("link L: A.net 1 -- H.net 1 via cat6 60 m", "`hall`"),
        ("link L: A.net 1 -- H.net 1", "`hall`"),  # some cable it is
        ("link L: A.net 1 -- H.net 1 via cat6 60 m { ramp }", None),
        ("box B is box in wing\nlink L: A.net 1 -- B.net 1 via cat6 60 m", None),
        ("box B is box in hall\nlink L: H.net 1 -- B.net 1 via cat6 20 m", "`hall`"),
        ("box B is box in hall\nlink L: H.net 1 -- B.net 1 via cat6 3 m", None),  # it lies with the gear
        ("box B is box in bar\nlink L: H.net 1 -- B.net 1 via cat6 3 m", "`bar` and `hall`"),
        ("source L dynamic in hall to A 1 via xlr 20 m", "`hall`"),
        ("source L dynamic in wing to H 1 via xlr 20 m", "`hall`"),
        ("source L dynamic in wing to H 1 via xlr 20 m { ramp }", None),
        ("source L playback in hall to H 1 via xlr 3 m", None),
        ("source L dynamic in wing to A 1 via xlr 20 m", None),
        ("output L fill in hall from A.out 1 via xlr 20 m", "`hall`"),
        ("output L fill in hall from A.out 1 via xlr 20 m { ramp }", None),
        ("box S is tab in hall\nbox T is tab in wing\nlink L: S.air -- T.air", None),  # through the air
        ("way wing -- hall 30 m", None),
    ],
)
def test_cables_where_the_public_walks(line: str, through: str | None) -> None:
    found = said(walkway, papers(*ROOM, line))
    assert found == ([("warning", "L", f"`L` goes through {through}, where the public walks")] if through else [])


OUTBOARD = (
    "model desk { kind console; channels ch 1-8 }",
    "model comp { kind outboard; inputs in 1-2; outputs out 1-2 }",
    "box DESK is desk in wing",
)


@pytest.mark.parametrize(
    ("line", "through"),
    [
        ("box CP is comp in hall\ninsert DESK.ch 1-2 through CP 1-2 via xlr 20 m", "`hall`"),
        ("box CP is comp in hall\ninsert DESK.ch 1 through CP 1", None),  # no cable is named
        ("box CP is comp in wing\ninsert DESK.ch 1 through CP 1 via xlr 20 m", None),
        ("box D is desk in hall; box CP is comp in wing\ninsert D.ch 1 through CP 1 via xlr 20 m", "`hall`"),
        ("box D is desk in hall; box CP is comp in hall\ninsert D.ch 1 through CP 1 via xlr 2 m", None),
    ],
)
def test_the_lead_of_an_insert_where_the_public_walks(line: str, through: str | None) -> None:
    found = [(one.message, one.help) for one in findings(walkway, papers(*ROOM, *OUTBOARD, line))]
    name = "D.ch 1" if "box D is" in line else "DESK.ch 1"
    message = f"the insert of `{name}` goes through {through}, where the public walks"
    assert [told for told, _ in found] == ([message] if through else [])
    assert all(f'write `accept walkway on {name} because "covered"`' in help for _, help in found)


def test_the_caution_about_ways() -> None:
    (finding,) = findings(walkway, papers(*ROOM, "link L: A.net 1 -- H.net 1 via cat6 60 m"))
    assert finding.help.endswith("cables where people walk are fixed down, covered or flown as local rules ask")
    assert said(walkway, papers(*ROOM, "source L playback in hall to H 1 via xlr 3 m"), beside_m=2.0) != []
