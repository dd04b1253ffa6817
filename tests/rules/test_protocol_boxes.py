"""Chains, loads, clocks, ways back and networks: what boxes do to each other over runs that work."""

from __future__ import annotations

import pytest

from rigdsl_protocol.too_many_channels import too_many_channels
from tests.rules.said import said
from tests.rules.whole import told, wrong

GEAR = """\
protocol fernlink { carries 40 at 48 kHz, 20 at 96 kHz; over cat5e 100 m; slots fixed; topology chain 2 }
protocol mosslink { carries 8 at 48 kHz; over cat5e 80 m }
protocol brooknet { carries 16 at 48 kHz; over cat5e 100 m; topology network }
model nw32 { kind stage-box; inputs mic 1-32 { preamp }; outputs line 1-16; digital A, B { protocol fernlink; chain } }
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A, B { protocol fernlink; chain } }
model end16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol fernlink } }
model far16 {
  kind stage-box
  inputs mic 1-16 { preamp }
  digital A { protocol fernlink; chain near }
  digital B { protocol fernlink; chain far }
}
model moss16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A { protocol mosslink } }
model nb32 { kind stage-box; inputs mic 1-32 { preamp }; digital net { protocol brooknet } }
model desk32 {
  kind console
  channels ch 1-64; mixes mix 1-16
  digital stage 1-3 { protocol fernlink }
  digital side { protocol mosslink }
  digital net { protocol brooknet }
}
model switch8 { kind switch; digital port 1-8 }
zone wing
zone foh
box DESK is desk32 in foh
"""


def show(*lines: str, head: str = "rate 48 kHz") -> str:
    return f'rig "Hall" {{ {head} }}\n{GEAR}' + "\n".join(lines)


def chain(*models: str, first: str = "A") -> tuple[str, ...]:
    """Boxes S1, S2 ... one behind the other on the desk's first port."""
    boxes = [f"box S{n} is {model} in wing" for n, model in enumerate(models, 1)]
    links = [f"link C01: DESK.stage 1 -- S1.{first} via cat6 60 m"]
    links += [f"link C{n:02}: S{n - 1}.B -- S{n}.A via cat6 9 m" for n in range(2, len(models) + 1)]
    return (*boxes, *links)


@pytest.mark.parametrize(
    ("models", "told_of"),
    [
        (("nw16", "nw16"), []),
        (("nw16", "end16"), []),  # the last box need not carry anything on
        (("end16", "nw16"), ["error chain-not-supported C02"]),
        (("far16", "far16"), []),
        (("nw16", "end16", "nw16"), ["error chain-not-supported C03"]),
        (("end16", "end16", "end16"), ["error chain-not-supported C02"]),  # what is behind it follows from it
    ],
)
def test_a_box_behind_a_box(models: tuple[str, ...], told_of: list[str]) -> None:
    assert told(show(*chain(*models), head="rate 48 kHz")) == told_of


def test_the_first_box_past_the_depth_is_named_and_those_behind_it_are_not() -> None:
    small = show(*chain("nw16", "nw16", "nw16", "nw16"), "patch S4.mic 1 -> DESK.ch 1").replace(
        "carries 40 at 48 kHz", "carries 99 at 48 kHz"
    )
    (finding,) = wrong(small)
    assert (finding.rule, finding.subject) == ("chain-too-deep", "S3")
    assert finding.message == "`fernlink` takes 2 boxes behind `DESK.stage 1`, and `S3` is number 3"
    assert finding.consequence == "1 channel is silent"
    assert finding.help == "`DESK.stage 2` is free: join `S3.A` to it, both speak `fernlink`"


def test_chain_not_supported_names_who_is_silent_behind_it() -> None:
    lines = (*chain("end16", "nw16"), "source kick dynamic in wing to S2 1", "patch S2.mic 1 -> DESK.ch 1")
    (finding,) = wrong(show(*lines))
    assert (finding.rule, finding.silent) == ("chain-not-supported", ("kick",))
    assert finding.message == "`S1` does not carry on at `S1.A` what comes in at `S1.B`"
    assert finding.box == "S2"


def test_a_fault_of_the_cable_itself_stands_behind_that_of_the_chain() -> None:
    lines = (*chain("end16", "nw16")[:-1], "link C02: S1.B -- S2.A via cat6 300 m", "patch S2.mic 1 -> DESK.ch 1")
    assert told(show(*lines)) == ["error chain-not-supported C02"]


@pytest.mark.parametrize(
    ("first", "model", "told_of"),
    [
        ("A", "far16", []),
        ("B", "far16", ["warning chain-reversed S1"]),
        ("B", "nw16", []),  # ports of one line: either may face the desk
    ],
)
def test_which_port_faces_the_desk(first: str, model: str, told_of: list[str]) -> None:
    assert told(show(*chain(model, first=first))) == told_of


@pytest.mark.parametrize(
    ("lines", "told_of"),
    [
        (chain("nw16"), []),
        (chain("nw16", "nw16"), []),  # 32 of 40
        (chain("nw32", "nw16"), ["error too-many-channels C01"]),  # 48 of 40
        ((*chain("nw32"), "box T1 is nw16 in wing", "link C02: DESK.stage 2 -- T1.A via cat6 60 m"), []),
    ],
)
def test_fixed_slots_count_every_box_behind_a_port(lines: tuple[str, ...], told_of: list[str]) -> None:
    assert told(show(*lines)) == told_of


def test_half_the_channels_at_twice_the_rate() -> None:
    (finding,) = wrong(show(*chain("nw32"), head="rate 96 kHz"))
    assert finding.message == "32 channels go from `S1.A` to `DESK.stage 1`, and `fernlink` carries 20 at 96 kHz"
    assert finding.consequence == "12 of them do not get through"


def test_an_overload_names_limit_load_and_the_box_that_tips_it() -> None:
    (finding,) = wrong(show(*chain("nw32", "nw16")))
    assert finding.message == (
        "48 channels go from `S1.A` to `DESK.stage 1`, and `fernlink` carries 40 at 48 kHz; `S2` is the one too many"
    )
    assert finding.help == "`DESK.stage 2` is free and speaks `fernlink`: join `S2` to it"
    assert [item.message for item in finding.related[1:]] == ["`S1` takes 32 channels", "`S2` takes 16 channels"]


ROUTED = ("box M is moss16 in wing", "link C01: DESK.side -- M.A via cat6 60 m")


@pytest.mark.parametrize(
    ("patches", "told_of"),
    [
        (("patch M.mic 1-8 -> DESK.ch 1-8",), []),
        (("patch M.mic 1-8 -> DESK.ch 1-8", "patch M.mic 1-8 -> DESK.ch 9-16"), []),  # a channel counts once
        (("patch M.mic 1-9 -> DESK.ch 1-9",), ["error too-many-channels C01"]),
        (("patch DESK.mix 1-8 -> M.line 1-8", "patch M.mic 1-8 -> DESK.ch 1-8"), []),  # each way by itself
    ],
)
def test_routed_slots_count_what_is_patched(patches: tuple[str, ...], told_of: list[str]) -> None:
    assert told(show(*ROUTED, *patches)) == told_of


def test_between_two_switches_only_bandwidth_counts() -> None:
    lines = (
        "box SW1 is switch8 in wing; box SW2 is switch8 in foh",
        "box N1 is nb32 in wing; box N2 is nb32 in wing",
        "link T1: SW1.port 1 -- SW2.port 1 via cat6 60 m",
        "link T2: N1.net -- SW1.port 2 via cat6 2 m",
        "link T3: N2.net -- SW1.port 3 via cat6 2 m",
        "link T4: DESK.net -- SW2.port 2 via cat6 2 m",
        "patch N1.mic 1-10 -> DESK.ch 1-10",
        "patch N2.mic 1-6 -> DESK.ch 11-16",
    )
    assert told(show(*lines)) == []
    over = show(*lines, "patch N2.mic 7-8 -> DESK.ch 17-18")
    assert told(over) == ["error too-many-channels T4"]


def test_an_overload_is_told_once_at_the_run_next_to_the_desk() -> None:
    lines = (
        "model tie { kind bridge; digital L { protocol mosslink }; digital R { protocol brooknet }; bridge L -> R }",
        "box T is tie in foh; box M is moss16 in wing",
        "link C01: M.A -- T.L via cat6 60 m",
        "link C02: T.R -- DESK.net via cat6 2 m",
        "patch M.mic 1-16 -> DESK.ch 1-16",
    )
    assert told(show(*lines)) == ["error too-many-channels C01"]  # 16 of 16 into the desk, 16 of 8 into the bridge
    tighter = show(*lines).replace("carries 16 at 48 kHz", "carries 6 at 48 kHz")
    assert told(tighter) == ["error too-many-channels C02"]


def test_a_bridge_takes_so_many_and_no_more() -> None:
    lines = (
        "model tie {",
        "  kind bridge",
        "  digital L { protocol mosslink }; digital R { protocol brooknet }",
        "  bridge L -> R { channels 4 }",
        "}",
        "box T is tie in foh; box M is moss16 in wing",
        "link C01: M.A -- T.L via cat6 60 m",
        "link C02: T.R -- DESK.net via cat6 2 m",
    )
    assert told(show(*lines, "patch M.mic 1-4 -> DESK.ch 1-4")) == []
    (finding,) = wrong(show(*lines, "patch M.mic 1-6 -> DESK.ch 1-6"))
    assert (finding.rule, finding.subject, finding.box) == ("too-many-channels", "C02", "T")
    assert finding.message == "6 channels go through `T` from `L` to `R`, and it takes 4"
    assert finding.consequence == "2 of them do not get through"


TWO_DESKS = (
    "box MON is desk32 in wing; box S1 is nw16 in wing",
    "link C01: DESK.stage 1 -- S1.A via cat6 60 m",
    "link C02: MON.stage 1 -- S1.B via cat6 9 m",
)


@pytest.mark.parametrize(
    ("clocks", "told_of"),
    [
        ((), ["warning clock-leader DESK"]),
        (("clock DESK",), []),
        (("clock S1",), []),
        (("clock DESK", "clock MON"), ["error clock-leader DESK"]),
        (("clock DESK", "clock DESK"), []),
    ],
)
def test_who_leads_the_clock(clocks: tuple[str, ...], told_of: list[str]) -> None:
    assert told(show(*TWO_DESKS, *clocks)) == told_of


def test_the_clock_of_islands_that_are_apart() -> None:
    apart = ("box MON is desk32 in wing; box S1 is nw16 in wing", "link C01: MON.stage 1 -- S1.A via cat6 9 m")
    assert told(show(*apart)) == []
    converting = show(*TWO_DESKS).replace("box MON is desk32 in wing", "box MON is desk32 in wing { converts rate }")
    assert told(converting) == []


def test_both_clock_lines_are_shown() -> None:
    (finding,) = wrong(show(*TWO_DESKS, "clock DESK", "clock MON"))
    assert finding.message == "`DESK` and `MON` are named as leaders of one clock"
    assert [item.message for item in finding.related] == ["`DESK` is named leader here too"]


ONE_WAY = (
    "model snd8 {",
    "  kind stage-box",
    "  inputs mic 1-8 { preamp }; outputs line 1-8",
    "  digital to { protocol aes10-coax; sends }",
    "  digital fro { protocol aes10-coax; takes }",
    "}",
    "model madi {",
    "  kind console; channels ch 1-8; mixes mix 1-8",
    "  digital in { protocol aes10-coax; takes }",
    "  digital out { protocol aes10-coax; sends }",
    "}",
    "box S is snd8 in wing; box M is madi in foh",
    "output w1 wedge in wing from S.line 1 via xlr 6 m",
    "patch S.mic 1 -> M.ch 1",
    "patch M.mix 1 -> w1",
    "patch M.mix 2 -> S.line 2",
)
THERE, BACK = "link M1: S.to -- M.in via coax75 40 m", "link M2: M.out -- S.fro via coax75 40 m"


def test_mixes_want_a_way_back() -> None:
    assert told(show(*ONE_WAY, THERE, BACK)) == []
    (finding,) = wrong(show(*ONE_WAY, THERE))
    assert (finding.rule, finding.subject) == ("return-missing", "S")
    assert finding.message == "nothing carries mixes from `M` back to `S`: the cables between them go one way"
    assert finding.consequence == "2 outputs are silent: `w1`"
    assert finding.help == "join `M.out` to `S.fro` by a second cable: both speak `aes10-coax`"
    assert finding.silent == ("w1",)


def test_a_way_back_and_none_there_is_a_lost_patch() -> None:
    (finding,) = wrong(show(*ONE_WAY, BACK))
    assert (finding.rule, finding.subject) == ("lost-patch", "S.mic 1 -> M.ch 1")
    assert finding.message.endswith("the cables between them carry sound from `M` to `S` only")


SWITCHES = ("box SW1 is switch8 in wing; box SW2 is switch8 in foh; box SW3 is switch8 in foh",)


@pytest.mark.parametrize(
    ("links", "told_of"),
    [
        (("link A: SW1.port 1 -- SW2.port 1 via cat6 9 m", "link B: SW2.port 2 -- SW3.port 1 via cat6 9 m"), []),
        (
            ("link A: SW1.port 1 -- SW2.port 1 via cat6 9 m", "link B: SW1.port 2 -- SW2.port 2 via cat6 9 m"),
            ["error network-loop A"],
        ),
        (("link L10: SW1.port 1-2 -- SW2.port 1-2 via cat6 9 m",), ["error network-loop L10"]),
        (
            (
                "link C10: SW1.port 1 -- SW2.port 1 via cat6 9 m",
                "link C9: SW2.port 2 -- SW3.port 2 via cat6 9 m",
                "link C11: SW3.port 3 -- SW1.port 3 via cat6 9 m",
            ),
            ["error network-loop C9"],
        ),
        (
            (
                "link A: SW1.port 1 -- SW2.port 1 via cat6 9 m { ring R1 }",
                "link B: SW2.port 2 -- SW3.port 2 via cat6 9 m { ring R1 }",
                "link C: SW3.port 3 -- SW1.port 3 via cat6 9 m { ring R1 }",
            ),
            [],
        ),
        (("link A: SW1.port 1 -- SW1.port 2 via cat6 1 m",), ["error network-loop A"]),
    ],
)
def test_two_ways_between_the_same_switches(links: tuple[str, ...], told_of: list[str]) -> None:
    assert told(show(*SWITCHES, *links)) == told_of


def test_a_loop_names_all_its_cables() -> None:
    links = ("link A: SW1.port 1 -- SW2.port 1 via cat6 9 m", "link B: SW1.port 2 -- SW2.port 2 via cat6 9 m")
    (finding,) = wrong(show(*SWITCHES, *links))
    assert finding.message == "`A` and `B` make a circle between `SW1` and `SW2`"


PAIR = (
    "model duo {",
    "  kind stage-box",
    "  inputs mic 1-8 { preamp }",
    "  digital pri { protocol brooknet; net primary }",
    "  digital sec { protocol brooknet; net secondary }",
    "}",
    "box D1 is duo in wing; box D2 is duo in foh",
    "box SW1 is switch8 in wing { net primary }",
    "box SW2 is switch8 in wing",
    "box SW4 is switch8 in wing { net secondary }",
)


@pytest.mark.parametrize(
    ("links", "told_of"),
    [
        (("link A: D1.pri -- SW1.port 1 via cat6 9 m", "link B: D1.sec -- SW4.port 1 via cat6 9 m"), []),
        (("link A: D1.sec -- SW1.port 1 via cat6 9 m",), ["error network-crossed A"]),
        (("link A: D1.pri -- SW4.port 1 via cat6 9 m",), ["error network-crossed A"]),
        (  # a switch that says nothing is of the network that it is joined to
            ("link A: SW1.port 8 -- SW2.port 8 via cat6 9 m", "link B: D1.sec -- SW2.port 1 via cat6 9 m"),
            ["error network-crossed B"],
        ),
        (("link A: D1.sec -- SW2.port 1 via cat6 9 m",), []),  # nobody says which network this is
        (("link A: D1.pri -- D2.sec via cat6 9 m",), ["error network-crossed A"]),
        (("link A: SW1.port 1 -- SW4.port 1 via cat6 9 m",), ["error network-crossed A"]),
    ],
)
def test_primary_and_secondary(links: tuple[str, ...], told_of: list[str]) -> None:
    assert told(show(*PAIR, *links)) == told_of


def test_two_full_lines_of_one_cable_are_no_way_there_and_back() -> None:
    """Both carry inwards: nothing goes back on either."""
    text = """
    rig "Two lines" { rate 48 kHz }
    protocol tiny { carries 4 at 48 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
    model in8 { kind stage-box; inputs mic 1-8; digital A { protocol tiny } }
    model mixer { kind console; channels ch 1-16; digital stage 1-2 { protocol tiny } }
    zone wing
    box SL is in8 in wing
    box SR is in8 in wing
    box DESK is mixer in wing
    link C01: SL.A, SR.A -- DESK.stage 1-2 via cat6 10 m
    """
    messages = [message for _, _, message in said(too_many_channels, text)]
    assert [message.partition(",")[0] for message in messages] == [
        "8 channels go from `SL.A` to `DESK.stage 1`",
        "8 channels go from `SR.A` to `DESK.stage 2`",
    ]
