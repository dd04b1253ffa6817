"""Digital runs: too long, nearly too long, of unknown length, over the fibre's budget, without a shield."""

from __future__ import annotations

import pytest

from rigdsl_distance.fibre_budget import fibre_budget
from rigdsl_distance.length_missing import length_missing
from rigdsl_distance.run_near_limit import run_near_limit
from rigdsl_distance.run_too_long import run_too_long
from rigdsl_distance.shield_missing import shield_missing
from tests.rules.said import findings, said


def trunk(*links: str, over: str = "cat5e 100 m, om3 300 m", more: str = "", head: str = "rate 48 kHz") -> str:
    """A stage box and a desk with two wall panels between, and the cables given."""
    return "\n".join(
        (
            f'rig "Trunk" {{ {head} }}',
            f"protocol fernlink {{ carries 40 at 48 kHz; over {over}; {more} }}",
            "cable reel6 { medium twisted-pair; category 6; stranded; shielded }",
            "cable flat6 { medium twisted-pair; category 6 }",
            "cable om3x { medium fibre; grade om3; loss 3.5 dB/km at 850 nm }",
            "model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A 1-2 { protocol fernlink } }",
            "model desk32 { kind console; channels ch 1-32; digital stage 1-2 { protocol fernlink } }",
            "model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }",
            "zone wing at (0, 0) m",
            "zone foh at (0, -40) m",
            "zone attic",
            "box SL is nw16 in wing",
            "box P1 is panel4 in wing",
            "box P2 is panel4 in attic",
            "box DESK is desk32 in foh",
            *links,
            "source kick dynamic in wing to SL 1 via xlr 6 m",
            "patch SL.mic 1 -> DESK.ch 1",
        )
    )


@pytest.mark.parametrize(
    ("length", "told"),
    [
        ("100 m", []),
        ("100.1 m", ["`C01` is 100.1 m long, and `fernlink` reaches 100 m on `cat6`"]),
        ("328 ft", []),  # 99.97 m
        ("329 ft", ["`C01` is 100.3 m long, and `fernlink` reaches 100 m on `cat6`"]),
    ],
)
def test_the_reach_itself_is_still_fine(length: str, told: list[str]) -> None:
    found = said(run_too_long, trunk(f"link C01: SL.A 1 -- DESK.stage 1 via cat6 {length}"))
    assert [message for _, _, message in found] == told


THREE = (
    "link C02: SL.A 1 -- P1.front 1 via cat6 12 m",
    "link C10: P1.rear 1 -- P2.rear 1 via cat6 70 m",
    "link C03: P2.front 1 -- DESK.stage 1 via cat5e 20 m",
)


def test_pieces_joined_by_panels_add_up() -> None:
    (finding,) = findings(run_too_long, trunk(*THREE))
    assert finding.subject == "C02+C03+C10"
    assert finding.message == "`C02+C03+C10` is 102 m long, and `fernlink` reaches 100 m on `cat5e`, `cat6`"
    assert finding.consequence.endswith("silent: `kick`")
    assert finding.silent == ("kick",)
    assert finding.ports == ("DESK.stage 1", "SL.A 1")
    assert finding.box == "SL"
    assert finding.place.text == "C10", "the longest piece: there it can be mended"
    assert [item.message for item in finding.related] == ["20 m of `cat5e` more", "12 m of `cat6` more"]


@pytest.mark.parametrize(
    ("over", "told"),
    [
        ("cat5e 90 m, cat6 101 m", "`C02+C03+C10` is 102 m long, and `fernlink` reaches 90 m on `cat5e`"),
        ("cat5e 100 m, cat6 95 m", "`C02+C03+C10` is 102 m long, and `fernlink` reaches 95 m on `cat6`"),
    ],
)
def test_the_cable_that_reaches_least_is_named(over: str, told: str) -> None:
    assert [message for _, _, message in said(run_too_long, trunk(*THREE, over=over))] == [told]


def test_a_piece_of_unknown_length_does_not_hide_the_others() -> None:
    rig = trunk(
        "link C01: SL.A 1 -- P2.front 1 via cat6",
        "link C02: P2.rear 1 -- DESK.stage 1 via cat6 120 m",
        over="cat5e 100 m",
    )
    (finding,) = findings(run_too_long, rig)
    assert finding.message == "`C01+C02` is at least 120 m long, and `fernlink` reaches 100 m on `cat6`"
    assert finding.help == "`C02` at least 20 m shorter would do"
    assert (finding.place.text, finding.related) == ("C02", ())
    assert said(length_missing, rig) == []


@pytest.mark.parametrize(
    ("over", "help_"),
    [
        ("cat5e 100 m", "`C10` 2 m shorter would do"),
        (
            "cat5e 100 m, om3 300 m",
            "over `om3` a fibre pair reaches 300 m, if both boxes have a port for that, or `C10` 2 m shorter would do",
        ),
        ("cat5e 100 m, cat6 150 m", "`cat6` reaches 150 m: change `C03`, or `C10` 2 m shorter would do"),
        (
            "cat5e 100 m, cat6 101 m, cat6a 120 m",
            "`cat6a` reaches 120 m: change `C03`, `C10`, `C02`, or `C10` 2 m shorter would do",
        ),
        ("cat5e 20 m", "stand the two ends nearer to each other, or put a box between that repeats the signal"),
    ],
)
def test_the_ways_out_of_a_run_that_is_too_long(over: str, help_: str) -> None:
    (finding,) = findings(run_too_long, trunk(*THREE, over=over))
    assert finding.help == help_


@pytest.mark.parametrize(
    ("cable", "length_m", "told"),
    [
        ("cat6", 90, None),
        ("cat6", 91, ("note", "`C01` is 91 m of `cat6`, and `fernlink` reaches 100 m on it")),
        ("cat6", 100, ("note", "`C01` is 100 m of `cat6`, and `fernlink` reaches 100 m on it")),
        ("reel6", 75, None),  # counts as 90 m (ISO/IEC 11801, 20 % for flexible cords, from memory)
        (
            "reel6",
            76,
            (
                "warning",
                "`C01` is 76 m of `reel6`, and `fernlink` reaches 100 m on it;"
                " its stranded cable makes it count as 91.2 m",
            ),
        ),
        (
            "reel6",
            95,
            (
                "warning",
                "`C01` is 95 m of `reel6`, and `fernlink` reaches 100 m on it;"
                " its stranded cable makes it count as 114 m",
            ),
        ),
        ("cat6", 101, None),  # too long, which is told
        ("om3", 280, ("note", "`C01` is 280 m of `om3`, and `fernlink` reaches 300 m on it")),
    ],
)
def test_near_the_limit(cable: str, length_m: int, told: tuple[str, str] | None) -> None:
    found = said(run_near_limit, trunk(f"link C01: SL.A 1 -- DESK.stage 1 via {cable} {length_m} m"))
    assert found == ([(told[0], "C01", told[1])] if told else [])


def test_a_short_stranded_cord_does_not_make_a_note_a_warning() -> None:
    links = (
        "link C01: SL.A 1 -- P1.front 1 via reel6 2 m",
        "link C02: P1.rear 1 -- DESK.stage 1 via cat6 89 m",
    )
    assert [level for level, _, _ in said(run_near_limit, trunk(*links))] == ["note"]


def test_near_the_limit_of_the_cable_that_reaches_least() -> None:
    links = ("link C01: SL.A 1 -- P1.front 1 via cat5e 45 m", "link C02: P1.rear 1 -- DESK.stage 1 via cat6 50 m")
    assert [message for _, _, message in said(run_near_limit, trunk(*links, over="cat5e 100 m, cat6 200 m"))] == [
        "`C01+C02` is 95 m of `cat6`, `cat5e`, and `fernlink` reaches 100 m on `cat5e`"
    ]
    assert [message for _, _, message in said(run_near_limit, trunk(*links))] == [
        "`C01+C02` is 95 m of `cat6`, `cat5e`, and `fernlink` reaches 100 m on it"
    ]


def test_how_near_is_an_option() -> None:
    rig = trunk("link C01: SL.A 1 -- DESK.stage 1 via reel6 80 m")
    assert said(run_near_limit, rig, share=0.7, stranded=1.0)[0][0] == "note"
    assert said(run_near_limit, rig, share=1.0) == []


def test_two_lines_that_are_too_long_are_one_finding_and_silence_what_is_on_both() -> None:
    two = "box SR is nw16 in wing\nlink C01: SL.A 1, SR.A 1 -- DESK.stage 1-2 via cat6 120 m"
    plugs = "source vox dynamic in wing to SR 1 via xlr 6 m\npatch SR.mic 1 -> DESK.ch 2"
    (finding,) = findings(run_too_long, trunk(two, plugs))
    assert (finding.subject, finding.silent) == ("C01", ("kick", "vox"))
    assert finding.consequence == "2 channels are silent: `kick`, `vox`"
    assert finding.ports == ("DESK.stage 1", "SL.A 1", "DESK.stage 2", "SR.A 1")


def test_two_lines_of_one_cable_are_one_finding() -> None:
    (finding,) = findings(run_near_limit, trunk("link C01: SL.A 1-2 -- DESK.stage 1-2 via cat6 95 m"))
    assert finding.subject == "C01"
    assert finding.ports == ("DESK.stage 1", "SL.A 1", "DESK.stage 2", "SL.A 2")


@pytest.mark.parametrize(
    ("links", "told"),
    [
        (("link C01: SL.A 1 -- DESK.stage 1 via cat6 60 m",), []),
        (("link C01: SL.A 1 -- DESK.stage 1 via cat6",), []),  # 40 m by the zones
        (
            ("link C01: SL.A 1 -- P2.front 1 via cat6", "link C02: P2.rear 1 -- DESK.stage 1 via cat6 20 m"),
            ["nobody knows how long `C01` is, and `fernlink` reaches 100 m on `cat6`"],
        ),
        (
            ("link C01: SL.A 1 -- P2.front 1 via cat6", "link C02: P2.rear 1 -- DESK.stage 1 via cat6"),
            ["nobody knows how long `C02`, `C01` are, and `fernlink` reaches 100 m on `cat6`"],
        ),
        # A cord inside one zone is short, whatever it is.
        (("link C01: SL.A 1 -- P1.front 1 via cat6", "link C02: P1.rear 1 -- DESK.stage 1 via cat6"), []),
    ],
)
def test_a_length_is_missing_where_there_is_nothing_to_measure(links: tuple[str, ...], told: list[str]) -> None:
    assert [message for _, _, message in said(length_missing, trunk(*links))] == told


def test_what_has_no_reach_needs_no_length() -> None:
    rig = (
        'rig "Tablet" {}\n'
        "model ap { kind switch; data air { wireless } }\nmodel tab { kind computer; data air { wireless } }\n"
        "box AP is ap\nbox TAB is tab\nlink AP.air -- TAB.air\n"
    )
    assert said(length_missing, rig) == []


FIBRE = "link C01: SL.A 1 -- DESK.stage 1 via om3x"


@pytest.mark.parametrize(
    ("links", "budget", "told"),
    [
        # 300 m at 3.5 dB/km and two mated pairs of 0.75 dB (TIA-568): 2.55 dB
        ((f"{FIBRE} 300 m",), "2.6 dB", None),
        ((f"{FIBRE} 300 m",), "2.55 dB", None),
        (
            (f"{FIBRE} 300 m",),
            "2.5 dB",
            "`C01` loses 2.55 dB (300 m of fibre, 2 mated connectors), and `fernlink` stands 2.5 dB",
        ),
        # A splice of 0.3 dB (TIA-568, from memory) and two more pairs
        (
            (f"{FIBRE} 300 m {{ connectors 4; splices 1 }}",),
            "2.6 dB",
            "`C01` loses 4.35 dB (300 m of fibre, 4 mated connectors, 1 splice), and `fernlink` stands 2.6 dB",
        ),
        # Two pieces meet at a panel: three pairs
        (
            (
                "link C01: SL.A 1 -- P1.front 1 via om3x 100 m",
                "link C02: P1.rear 1 -- DESK.stage 1 via om3x 100 m",
            ),
            "2.6 dB",
            "`C01+C02` loses 2.95 dB (200 m of fibre, 3 mated connectors), and `fernlink` stands 2.6 dB",
        ),
        # The piece that counts its own joints has them all, the far end of the other is one more
        (
            (
                "link C01: SL.A 1 -- P1.front 1 via om3x 100 m { connectors 2 }",
                "link C02: P1.rear 1 -- DESK.stage 1 via om3x 100 m",
            ),
            "2.9 dB",
            "`C01+C02` loses 2.95 dB (200 m of fibre, 3 mated connectors), and `fernlink` stands 2.9 dB",
        ),
        # What is not known counts as nothing: the joints alone are over the budget
        (
            ("link C01: SL.A 1 -- P2.front 1 via om3x", "link C02: P2.rear 1 -- DESK.stage 1 via om3x"),
            "2 dB",
            "`C01+C02` loses 2.25 dB (0 m of fibre, 3 mated connectors), and `fernlink` stands 2 dB",
        ),
        (("link C01: SL.A 1 -- DESK.stage 1 via cat6 90 m",), "0.1 dB", None),
    ],
)
def test_the_budget_of_a_fibre_run(links: tuple[str, ...], budget: str, told: str | None) -> None:
    found = said(fibre_budget, trunk(*links, more=f"budget {budget}"))
    assert [message for _, _, message in found] == ([told] if told else [])


def test_typical_joints_are_an_option() -> None:
    rig = trunk(f"{FIBRE} 300 m {{ splices 2 }}", more="budget 2.6 dB")
    assert len(said(fibre_budget, rig)) == 1
    assert said(fibre_budget, rig, connector_db=0.3, splice_db=0.15) == []


@pytest.mark.parametrize(
    ("links", "told"),
    [
        (("link C01: SL.A 1 -- DESK.stage 1 via reel6 20 m",), []),
        (("link C01: SL.A 1 -- DESK.stage 1 via om3x 20 m",), []),  # glass needs no shield
        (
            ("link C01: SL.A 1 -- DESK.stage 1 via flat6 20 m",),
            [("warning", "C01", "`fernlink` needs shielded cable, and `flat6` has no shield")],
        ),
        (
            ("link C01: SL.A 1 -- P1.front 1 via reel6 20 m", "link C02: P1.rear 1 -- DESK.stage 1 via flat6 20 m"),
            [("warning", "C01+C02", "`fernlink` needs shielded cable, and `flat6` has no shield")],
        ),
    ],
)
def test_a_protocol_that_needs_a_shield(links: tuple[str, ...], told: list[tuple[str, str, str]]) -> None:
    assert said(shield_missing, trunk(*links, more="needs shielded")) == told
    assert said(shield_missing, trunk(*links)) == []
