"""Ways out that hold: no port that is taken, no cable that is there already, no fault twice."""

from __future__ import annotations

import pytest

from tests.rules.whole import told, wrong

GEAR = """\
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; topology chain 4 }
protocol mosslink { carries 32 at 48 kHz; over cat5e 80 m }
protocol brooknet { carries 64 at 48 kHz, 64 at 96 kHz; over cat5e 100 m; topology network }
model nw16 {
  kind stage-box
  inputs mic 1-16 { preamp }; outputs line 1-8
  digital A, B { protocol fernlink; chain }
  data ctl
}
model end16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol fernlink } }
model one16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
model nb8 { kind stage-box; inputs mic 1-8 { preamp }; digital net { protocol brooknet } }
model desk32 {
  kind console
  channels ch 1-32; mixes mix 1-16
  digital stage 1-2 { protocol fernlink }
  digital side { protocol mosslink }
  digital net { protocol brooknet }
  data ctl
}
model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
model bare4 { kind panel; digital rear 1-4; digital front 1-4 }
model switch8 { kind switch; digital port 1-8 }
zone wing
zone foh
box DESK is desk32 in foh
"""


def show(*lines: str) -> str:
    return f'rig "Hall" {{ rate 48 kHz }}\n{GEAR}' + "\n".join(lines)


S1 = "box S1 is nw16 in wing"
KICK = ("source kick dynamic in wing to S1.mic 1 via xlr 6 m", "patch S1.mic 1 -> DESK.ch 1")


@pytest.mark.parametrize(
    ("first", "told_of"),
    [
        ("cat6 60 m", ["error chain-not-supported C03"]),
        ("cat6 160 m", ["error run-too-long C01"]),  # all that is chained behind this run follows from it
        ("os2 60 m", ["error medium-mismatch C01"]),
    ],
)
def test_a_chain_behind_a_run_that_passes_nothing(first: str, told_of: list[str]) -> None:
    lines = (
        f"{S1}; box S2 is end16 in wing; box S3 is end16 in wing",
        f"link C01: DESK.stage 1 -- S1.A via {first}",
        "link C02: S1.B -- S2.A via cat6 9 m",
        "link C03: S2.B -- S3.A via cat6 9 m",
    )
    assert told(show(*lines)) == told_of


def test_a_panel_whose_model_has_no_pass() -> None:
    links = ("link C1: S1.A -- P.front 1 via cat6 3 m", "link C2: P.rear 1 -- DESK.stage 1 via cat6 50 m")
    assert told(show(S1, "box P is panel4 in wing", *links, *KICK)) == []
    (finding,) = wrong(show(S1, "box P is bare4 in wing", *links, *KICK))
    assert (finding.rule, finding.subject) == ("chain-not-supported", "C1")
    assert finding.message == "the panel's model `bare4` has no `pass` that joins `P.front 1` to `P.rear 1`"
    assert finding.help == "add `pass rear -- front` to model `bare4`"
    assert finding.silent == ("kick",)


PANEL = (S1, "box P is panel4 in wing", "link C1: S1.A -- P.front 1 via cat6 3 m", *KICK)


@pytest.mark.parametrize(
    ("more", "way_out"),
    [
        ((), "bring a cable on from `P.rear 1` to `DESK.stage 1`"),
        (
            ("link C2: P.rear 2 -- DESK.stage 1 via cat6 50 m",),
            "plug `C2` into `P.rear 1`: it is one line with `P.front 1`",
        ),
        (
            (
                "box S2 is nw16 in wing; box S3 is nw16 in wing",
                "link C2: S2.A -- DESK.stage 1 via cat6 50 m",
                "link C3: S3.A -- DESK.stage 2 via cat6 50 m",
            ),
            "bring a cable on from `P.rear 1` to `DESK.stage 1`; free `DESK.stage 1` first",
        ),
    ],
)
def test_a_cable_that_ends_in_a_panel_wants_to_go_on(more: tuple[str, ...], way_out: str) -> None:
    (finding,) = wrong(show(*PANEL, *more))
    assert finding.rule == "lost-patch"
    assert finding.message.endswith("`C1` ends at `P.front 1`, and no cable goes on from there")
    assert finding.help == way_out


def test_a_port_that_is_taken_is_freed_first() -> None:
    lines = (
        f"{S1}; box T1 is one16 in wing; box T2 is one16 in wing",
        "link C1: T1.A -- DESK.stage 1 via cat6 50 m",
        "link C2: T2.A -- DESK.stage 2 via cat6 50 m",
    )
    (finding,) = wrong(show(*lines, *KICK))
    assert finding.help == "`S1.A` and `DESK.stage 1` both speak `fernlink`: join them; free `DESK.stage 1` first"


def test_ports_of_the_run_itself_are_free_when_it_is_pulled() -> None:
    single = "box T1 is one16 in wing"
    (finding,) = wrong(show(single, "link C1: T1.A -- DESK.side via cat6 50 m"))
    assert finding.help == "`DESK.stage 1` and `T1.A` both speak `fernlink`"
    full = (
        f"{S1}; box S2 is nw16 in wing",
        "link C2: S1.A -- DESK.stage 1 via cat6 50 m",
        "link C3: S2.A -- DESK.stage 2 via cat6 50 m",
    )
    (finding,) = wrong(show(single, "link C1: T1.A -- DESK.side via cat6 50 m", *full))
    assert finding.help == "`DESK.stage 1` and `T1.A` both speak `fernlink`; free `DESK.stage 1` first"


ONE_WAY = (
    "model snd8 {",
    "  kind stage-box",
    "  inputs mic 1-8 { preamp }; outputs line 1-8",
    "  digital to { protocol aes10-coax; sends }",
    "  digital fro { protocol aes10-coax; takes }",
    "}",
    "model madi {",
    "  kind console; channels ch 1-8; mixes mix 1-8",
    "  digital out { protocol aes10-coax; sends }",
    "  digital in { protocol aes10-coax; takes }",
    "}",
    "box S is snd8 in wing; box M is madi in foh",
)


def test_a_one_way_port_is_offered_to_its_counterpart() -> None:
    (finding,) = wrong(show(*ONE_WAY, "patch S.mic 1 -> M.ch 1"))
    assert finding.help == "`S.to` and `M.in` both speak `aes10-coax`: join them"


def test_the_way_back_is_freed_first_where_it_is_taken() -> None:
    lines = (
        "box T is snd8 in wing",
        "link M1: S.to -- M.in via coax75 40 m",
        "link M2: T.fro -- M.out via coax75 40 m",
        "patch M.mix 1 -> S.line 1",
    )
    (finding,) = wrong(show(*ONE_WAY, *lines))
    assert finding.rule == "return-missing"
    assert finding.help == "join `M.out` to `S.fro` by a second cable: both speak `aes10-coax`; free `M.out` first"


@pytest.mark.parametrize(
    ("lines", "way_out"),
    [
        # two data ports: the audio ports of the two boxes that the patch is about
        (
            (S1, "link N1: S1.ctl -- DESK.ctl via cat6 60 m", *KICK),
            "`S1.A` and `DESK.stage 1` both speak `fernlink`: join them",
        ),
        # behind a switch
        (
            (
                "box NB is nb8 in wing; box SW is switch8 in foh",
                "link N1: DESK.ctl -- SW.port 1 via cat6 2 m",
                "link N2: NB.net -- SW.port 2 via cat6 60 m",
                "patch NB.mic 1 -> DESK.ch 1",
            ),
            "`DESK.net` carries audio and speaks `brooknet`: plug this cable in there",
        ),
        (
            ("box T is one16 in wing", "link N1: T.A -- DESK.ctl via cat6 60 m", "patch T.mic 1 -> DESK.ch 1"),
            "`DESK.stage 1` carries audio and speaks `fernlink`",
        ),
        (
            (
                "model mini { kind console; channels ch 1-8; digital side { protocol mosslink }; data ctl }",
                "box MINI is mini in foh; box T is one16 in wing",
                "link N1: T.A -- MINI.ctl via cat6 60 m",
            ),
            "the audio ports of `MINI` are `MINI.side`, and they share no protocol with `T`",
        ),
    ],
)
def test_from_a_data_port_to_one_that_carries_audio(lines: tuple[str, ...], way_out: str) -> None:
    (finding,) = wrong(show(*lines))
    assert finding.rule == "not-an-audio-port"
    assert finding.help == way_out


def test_into_a_switch_and_out_again_is_told_once_for_both_ways() -> None:
    lines = (
        f"{S1}; box SW is switch8 in wing",
        "link C1: S1.A -- SW.port 1 via cat6 3 m",
        "link C2: SW.port 2 -- DESK.stage 1 via cat6 60 m",
        "output w wedge in wing from S1.line 1 via xlr 6 m",
        "patch DESK.mix 1 -> w",
    )
    (finding,) = wrong(show(*lines, *KICK))
    assert (finding.rule, finding.subject) == ("unroutable-protocol", "C1")
    assert finding.silent == ("kick", "w")


SWITCHES = ("box SW1 is switch8 in wing { net primary }; box SW2 is switch8 in foh { net secondary }",)


def test_a_trunk_between_two_networks_is_taken_out() -> None:
    (finding,) = wrong(show(*SWITCHES, "link T: SW1.port 8 -- SW2.port 8 via cat6 9 m"))
    assert (finding.rule, finding.help) == ("network-crossed", "take `T` out: the two networks have no cable in common")


def test_of_a_port_in_the_wrong_switch_only_the_port_is_moved() -> None:
    lines = ("box NB is nb8 in wing { net primary }", "link N: NB.net -- SW2.port 1 via cat6 9 m")
    (finding,) = wrong(show(*SWITCHES, *lines))
    assert (finding.rule, finding.help) == ("network-crossed", "plug `NB.net` into the primary network")


@pytest.mark.parametrize(
    ("links", "message", "way_out"),
    [
        (
            ("link C1: SW1.port 1-2 -- SW2.port 1-2 via cat6 9 m",),
            "`C1` makes a circle between `SW1` and `SW2`",
            "take one of the lines of `C1` out, or say `ring R1` or `bundle B1` on it "
            "where the switches are set up for it",
        ),
        (
            (
                "box P is panel4 in foh",
                "link C1: SW1.port 1 -- P.rear 1 via cat6 9 m",
                "link C2: P.front 1 -- SW2.port 1 via cat6 9 m",
                "link C3: SW1.port 2 -- SW2.port 2 via cat6 9 m",
            ),
            "`C1`, `C2` and `C3` make a circle between `SW1` and `SW2`",
            "take one of the cables out, or say `ring R1` or `bundle B1` on each where the switches are set up for it",
        ),
        (
            ("link C1: SW1.port 1 -- SW1.port 2 via cat6 1 m",),
            "`C1` leads from `SW1` back to itself",
            "take `C1` out",
        ),
    ],
)
def test_the_words_for_a_circle(links: tuple[str, ...], message: str, way_out: str) -> None:
    (finding,) = wrong(show("box SW1 is switch8 in wing; box SW2 is switch8 in foh", *links))
    assert (finding.rule, finding.message, finding.help) == ("network-loop", message, way_out)
    assert finding.box == "SW1"


def test_two_rates_across_a_switch_point_at_the_two_boxes() -> None:
    lines = (
        "box NB is nb8 in wing { rate 96 kHz }; box SW is switch8 in foh",
        "link C1: NB.net -- SW.port 1 via cat6 9 m",
        "link C2: SW.port 2 -- DESK.net via cat6 9 m",
    )
    (finding,) = wrong(show(*lines))
    assert finding.message == "`NB` runs at 96 kHz, and `DESK` at 48 kHz"
    assert [item.message for item in finding.related] == ["`NB` stands here", "`DESK` stands here"]
