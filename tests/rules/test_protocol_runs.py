"""Digital runs that pass no sound: what is said, of what, who falls silent, and the way out."""

from __future__ import annotations

import pytest

from tests.rules.whole import told, wrong

GEAR = """\
protocol fernlink { carries 40 at 48 kHz, 20 at 96 kHz; over cat5e 100 m, om3 300 m; slots fixed; topology chain 2 }
protocol mosslink { carries 32 at 48 kHz; over cat5e 80 m }
protocol brooknet { carries 64 at 48 kHz, 64 at 96 kHz; over cat5e 100 m; topology network }
cable rg50 { medium coax; impedance 50 ohm }
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A, B { protocol fernlink; chain } }
model moss8 { kind stage-box; inputs mic 1-8 { preamp }; digital A { protocol mosslink } }
model nb8 { kind stage-box; inputs mic 1-8 { preamp }; outputs line 1-4; digital net { protocol brooknet } }
model desk32 {
  kind console
  channels ch 1-32; mixes mix 1-16
  inputs local 1-8 { preamp }; outputs out 1-8
  digital stage 1-2 { protocol fernlink, aes50 }
  digital net { protocol brooknet }
  data ctl
}
model desk12 { kind console; channels ch 1-12; mixes mix 1-4; inputs local 1-12 { preamp }; pass local -> ch }
model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
model switch8 { kind switch; digital port 1-8 }
zone wing
zone foh
box SL is nw16 in wing
box DESK is desk32 in foh
"""


def show(*lines: str, head: str = "rate 48 kHz") -> str:
    return f'rig "Hall" {{ {head} }}\n{GEAR}' + "\n".join(lines)


KICK = ("source kick dynamic in wing to SL 1 via xlr 6 m", "patch SL.mic 1 -> DESK.ch 1")


@pytest.mark.parametrize(
    ("link", "told_of"),
    [
        # the good ones
        ("link C01: SL.A -- DESK.stage 1 via cat5e 100 m", []),
        ("link C01: SL.A -- DESK.stage 1 via cat7 60 m", []),
        ("link C01: SL.A -- DESK.stage 1 via om5 300 m", []),
        ("link C01: DESK.stage 1 -- SL.A via cat6", []),
        ("link SL.A -- DESK.stage 1 via cat6 60 m", []),
        # the wrong port, the wrong kind of socket, the wrong cable
        ("link C01: SL.A -- DESK.net via cat6 60 m", ["error protocol-mismatch C01"]),
        ("link SL.A -- DESK.net via cat6 60 m", ["error protocol-mismatch DESK.net -- SL.A"]),
        ("link C01: SL.A -- DESK.ctl via cat6 60 m", ["error not-an-audio-port C01"]),
        ("link C01: SL.A -- DESK.local 1 via cat6 60 m", ["error domain-mismatch C01"]),
        ("link C01: SL.A -- DESK.stage 1 via os2 60 m", ["error medium-mismatch C01"]),
        ("link C01: SL.A -- DESK.stage 1 via coax75 60 m", ["error medium-mismatch C01"]),
        ("link C01: SL.A -- DESK.stage 1 via om2 60 m", ["error medium-mismatch C01"]),
        ("link C01: SL.A -- DESK.stage 1 via cat6 101 m", ["error run-too-long C01"]),
        ("link C01: SL.A -- DESK.stage 1 via cat6 60 m { rate 192 kHz }", ["error rate-mismatch C01"]),
        # several faults at one run: the first in the order counts
        ("link C01: SL.A -- DESK.net via os2 900 m { rate 192 kHz }", ["error protocol-mismatch C01"]),
        ("link C01: SL.A -- DESK.stage 1 via os2 900 m { rate 192 kHz }", ["error medium-mismatch C01"]),
        ("link C01: SL.A -- DESK.stage 1 via cat6 900 m { rate 192 kHz }", ["error run-too-long C01"]),
        # no cable at all
        ("", ["error lost-patch SL.mic 1 -> DESK.ch 1"]),
    ],
)
def test_one_run_one_finding(link: str, told_of: list[str]) -> None:
    findings = [line for line in told(show(link, *KICK)) if "length-missing" not in line]
    assert findings == told_of


@pytest.mark.parametrize(
    "link",
    [
        "link C01: SL.A -- DESK.net via cat6 60 m",
        "link C01: SL.A -- DESK.ctl via cat6 60 m",
        "link C01: SL.A -- DESK.stage 1 via os2 60 m",
        "link C01: SL.A -- DESK.stage 1 via cat6 200 m",
        "link C01: SL.A -- DESK.stage 1 via cat6 60 m { rate 192 kHz }",
        "",
    ],
)
def test_whoever_falls_silent_is_named_by_the_cause(link: str) -> None:
    (finding,) = wrong(show(link, *KICK))
    assert finding.silent == ("kick",)
    assert finding.consequence == "1 channel is silent: `kick`"


def test_a_trunk_under_many_channels_is_one_finding() -> None:
    sources = [f"source m{n} dynamic in wing to SL {n} via xlr 6 m" for n in range(1, 17)]
    outputs = [f"output w{n} wedge in wing from SL.line {n} via xlr 6 m" for n in range(1, 3)]
    patches = ["patch SL.mic 1-16 -> DESK.ch 1-16", "patch DESK.mix 1-2 -> SL.line 1-2"]
    (finding,) = wrong(show("link C01: SL.A -- DESK.net via cat6 60 m", *sources, *outputs, *patches))
    assert (finding.rule, finding.subject) == ("protocol-mismatch", "C01")
    assert finding.consequence == "16 channels and 2 outputs are silent: `m1`, `m2`, `m3`, `m4` and 14 more"
    assert len(finding.silent) == 18


def test_channels_are_counted_whether_or_not_a_source_is_named() -> None:
    (finding,) = wrong(show("link C01: SL.A -- DESK.net via cat6 60 m", "patch SL.mic 1-16 -> DESK.ch 1-16"))
    assert finding.consequence == "16 channels are silent"


def test_protocol_mismatch_names_ports_that_understand_each_other() -> None:
    (finding,) = wrong(show("link C01: SL.A -- DESK.net via cat6 60 m"))
    assert finding.message == "`DESK.net` speaks `brooknet`, `SL.A` speaks `fernlink`: they share no protocol"
    assert finding.help == "`DESK.stage 1` and `SL.B` both speak `fernlink`"
    assert finding.consequence == "no sound passes this cable"


def test_protocol_mismatch_names_a_bridge_of_the_gear_files() -> None:
    bridge = (
        "model br2 { kind bridge; digital L { protocol mosslink }; digital R { protocol brooknet }; bridge L -> R }",
        "box SR is moss8 in wing",
        "link C01: SR.A -- DESK.net via cat6 60 m",
    )
    (finding,) = wrong(show(*bridge))
    assert finding.help == "of the gear files `br2` speaks both and can stand between"


def test_two_ports_that_both_send() -> None:
    one_way = (
        "model tx { kind stage-box; inputs mic 1-8 { preamp }; digital m { protocol aes10-coax; sends } }",
        "box T1 is tx in wing; box T2 is tx in wing",
        "link M1: T1.m -- T2.m via coax75 10 m",
    )
    (finding,) = [item for item in wrong(show(*one_way)) if item.rule == "protocol-mismatch"]
    assert finding.message == "`T1.m` and `T2.m` both send, and neither takes"
    assert finding.help == "join a port that sends to one that takes"


def test_a_port_that_names_no_protocol_takes_any() -> None:
    open_box = (
        "model plain8 { kind stage-box; inputs mic 1-8 { preamp }; digital A }",
        "box SR is plain8 in wing",
        "link C01: SR.A -- DESK.net via cat6 60 m",
        "patch SR.mic 1 -> DESK.ch 1",
    )
    assert told(show(*open_box)) == []


PANELS = ("box P1 is panel4 in wing", "box P2 is panel4 in foh", *KICK)


@pytest.mark.parametrize(
    ("middle", "told_of"),
    [
        ("cat5e 60 m", []),
        ("om3 60 m", ["error medium-mismatch C01+C02+C03"]),
        ("os2 60 m", ["error medium-mismatch C01+C02+C03"]),
        ("cat5e 90 m", ["error run-too-long C01+C02+C03"]),
    ],
)
def test_a_run_through_wall_panels_is_judged_as_one(middle: str, told_of: list[str]) -> None:
    links = (
        "link C01: SL.A -- P1.front 1 via cat6 10 m",
        f"link C02: P1.rear 1 -- P2.rear 1 via {middle}",
        "link C03: P2.front 1 -- DESK.stage 1 via cat7 10 m",
    )
    findings = wrong(show(*links, *PANELS))
    assert [f"{item.level} {item.rule} {item.subject}" for item in findings] == told_of
    assert [name for item in findings for name in item.silent] == (["kick"] if told_of else [])


def test_medium_mismatch_points_at_the_piece_that_does_not_serve() -> None:
    links = (
        "link C01: SL.A -- P1.front 1 via cat6 10 m",
        "link C02: P1.rear 1 -- P2.rear 1 via rg50 60 m",
        "link C03: P2.front 1 -- DESK.stage 1 via cat6 10 m",
    )
    (finding,) = wrong(show(*links, *PANELS))
    assert finding.place.text == "C02"
    assert finding.message == "`C02` is `rg50` (coax, 50 ohm), and `fernlink` runs over `cat5e`, `om3`"
    assert finding.help == (
        "a cable that serves: `cat5e` reaches 100 m, `om3` reaches 300 m; never look into an open fibre"
    )


@pytest.mark.parametrize(
    ("rates", "told_of"),
    [
        ("rate 48 kHz", []),
        ("rate 44.1 kHz", []),  # what is said of 48 kHz
        ("rate 96 kHz", []),
        ("rate 88.2 kHz", []),
        ("rate 192 kHz", ["error rate-mismatch C01"]),
    ],
)
def test_the_protocol_must_have_the_rate(rates: str, told_of: list[str]) -> None:
    assert told(show("link C01: SL.A -- DESK.stage 1 via cat6 60 m", *KICK, head=rates)) == told_of


def test_a_rate_of_one_box_alone() -> None:
    text = show("link C01: SL.A -- DESK.stage 1 via cat6 60 m", *KICK).replace(
        "box SL is nw16 in wing", "box SL is nw16 in wing { rate 96 kHz }"
    )
    (finding,) = wrong(text)
    assert (finding.rule, finding.subject) == ("rate-mismatch", "C01")
    assert finding.help == "set both to one rate, or put in between what converts rates"
    assert told(text.replace("{ rate 96 kHz }", "{ rate 96 kHz; converts rate }")) == []


NETWORK = ("box SW is switch8 in foh", "box NB is nb8 in wing", "patch NB.mic 1 -> DESK.ch 1")


def test_network_protocols_go_through_a_switch_and_others_do_not() -> None:
    desk = "link N1: DESK.net -- SW.port 1 via cat6 2 m"
    assert told(show(desk, "link N2: NB.net -- SW.port 2 via cat6 60 m", *NETWORK)) == []
    lost = show(desk, "link N2: SL.A -- SW.port 2 via cat6 60 m", *NETWORK[:1], *KICK)
    (finding,) = wrong(lost)
    assert (finding.rule, finding.subject) == ("unroutable-protocol", "N2")
    assert finding.message == "`SL.A` speaks `fernlink`, and the switch `SW` does not pass it on"
    assert finding.silent == ("kick",)


def test_a_control_jack_in_the_switch_is_fine_until_a_patch_needs_audio_there() -> None:
    links = ("link N1: DESK.ctl -- SW.port 1 via cat6 2 m", "link N2: NB.net -- SW.port 2 via cat6 60 m")
    assert told(show(*links, *NETWORK[:2])) == []
    (finding,) = wrong(show(*links, *NETWORK))
    assert (finding.rule, finding.subject) == ("not-an-audio-port", "N1")
    assert finding.message == (
        "`DESK.ctl` is for remote control only and carries no audio; a patch needs audio from `SW.port 1`"
    )
    assert finding.consequence == "1 channel is silent"


def test_a_wireless_tablet_is_not_asked_for_a_cable() -> None:
    tablet = (
        "model pad { kind surface; data air { wireless } }",
        "model core { kind engine; channels ch 1-16; data air { wireless } }",
        "box PAD is pad in foh; box CORE is core in wing",
        "link PAD.air -- CORE.air",
    )
    assert told(show(*tablet)) == []


@pytest.mark.parametrize(
    ("lines", "why", "way_out"),
    [
        (
            ("patch SL.mic 1 -> DESK.ch 1",),
            "no cable is in a digital port of `SL`",
            "`SL.A` and `DESK.stage 1` both speak `fernlink`: join them",
        ),
        (
            (
                "model sub4 { kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }",
                "box DR is sub4 in wing",
                "link C01: SL.A -- DESK.stage 1 via cat6 60 m",
                "link L01: DR.tail 1-4 -- SL.mic 5-8 via xlr 5 m",
                "source a dynamic in wing to DR 1 via xlr 3 m",
                "source b dynamic in wing to DR 2 via xlr 3 m",
                "patch DR.panel 1-2 -> DESK.ch 1-2",
            ),
            "`DR` has no digital audio port",
            "the lines come to `SL.mic 5-6`: patch from there",
        ),
        (
            ("box D12 is desk12 in foh", "patch SL.mic 1 -> D12.ch 1"),
            "`D12` has no digital audio port",
            "bring the lines over in analogue, from outputs to inputs, and patch from there",
        ),
        (
            (
                "box SR is moss8 in wing",
                "box SX is moss8 in wing",
                "link C01: SR.A -- SX.A via cat6 9 m",
                "link C02: SL.A -- DESK.stage 1 via cat6 9 m",
                "patch SR.mic 1 -> DESK.ch 1",
            ),
            "no way of working cables leads from the one to the other",
            "join the two by cables that work, or patch it another way",
        ),
    ],
)
def test_lost_patch_says_why_and_what_to_do(lines: tuple[str, ...], why: str, way_out: str) -> None:
    (finding,) = wrong(show(*lines))
    assert finding.rule == "lost-patch"
    assert finding.message.endswith(f": {why}")
    assert finding.help == way_out


TWICE = (
    "model core { kind console; channels ch 1-8; digital pri, sec { protocol brooknet; redundant } }",
    "model edge { kind stage-box; inputs mic 1-8 { preamp }; digital pri, sec { protocol brooknet; redundant } }",
    "box C is core in foh",
    "box E is edge in wing",
    "source kick dynamic in wing to E 1 via xlr 6 m",
    "patch E.mic 1 -> C.ch 1",
)


@pytest.mark.parametrize(
    ("lines", "way_out"),
    [
        # one end is on a switch: to that, primary with primary
        (
            ("box SW is switch8 in wing", "link N1: E.pri -- SW.port 1 via cat6 9 m"),
            "join `C.pri` to `SW.port 2`: `E.pri` is on that switch already",
        ),
        (
            ("box SW is switch8 in wing", "link N1: C.sec -- SW.port 1 via cat6 9 m"),
            "join `E.sec` to `SW.port 2`: `C.sec` is on that switch already",
        ),
        # no switch: never primary with secondary
        (
            ("box F is edge in wing", "link N1: E.pri -- F.pri via cat6 9 m"),
            "`E.sec` and `C.sec` both speak `brooknet`: join them",
        ),
    ],
)
def test_a_way_out_does_not_cross_primary_and_secondary(lines: tuple[str, ...], way_out: str) -> None:
    (finding,) = [one for one in wrong(show(*TWICE, *lines)) if one.rule == "lost-patch"]
    assert finding.help == way_out


def test_an_output_that_only_a_lost_patch_feeds_belongs_to_that_patch() -> None:
    (finding,) = wrong(show("output wdg wedge in wing from SL.line 1 via xlr 6 m", "patch DESK.mix 1 -> wdg"))
    assert (finding.rule, finding.subject) == ("lost-patch", "DESK.mix 1 -> wdg")
    assert finding.silent == ("wdg",)


def test_a_patch_of_something_unplugged_is_not_lost_too() -> None:
    lines = ("source flute dynamic in wing", "patch flute -> DESK.ch 1")
    assert told(show(*lines)) == ["error unplugged-source flute"]


def test_lost_patch_to_a_loudspeaker_names_the_amplifier_input_that_has_no_cable() -> None:
    lines = (
        "model amp2 { kind amplifier; inputs in 1-2; outputs out 1-2; pass in -> out }",
        "model top { kind loudspeaker; inputs in }",
        "box A is amp2 in wing",
        "box T is top in wing",
        "link C01: SL.A -- DESK.stage 1 via cat6 40 m",
        "link S01: A.out 1 -- T.in via ls2-5 10 m",
        "patch DESK.mix 1 -> T",
    )
    (finding,) = wrong(show(*lines))
    assert finding.rule == "lost-patch"
    assert finding.message.endswith(": nothing is plugged into `A.in 1`")
    assert finding.help.startswith("bring a cable to `A.in 1`")


def test_what_is_wrong_with_both_lines_of_a_cable_is_told_once() -> None:
    right = "box SR is nw16 in wing"
    (finding,) = wrong(show(right, "link C01: SL.A, SR.A -- DESK.stage 1-2 via os2 60 m", *KICK))
    assert (finding.rule, finding.subject) == ("medium-mismatch", "C01")
    assert finding.ports == ("DESK.stage 1", "SL.A", "DESK.stage 2", "SR.A")
    (finding,) = wrong(show(right, "link C01: SL.A, SR.A -- DESK.stage 1-2 via cat6 60 m { rate 192 kHz }", *KICK))
    assert (finding.rule, finding.subject) == ("rate-mismatch", "C01")


def test_what_is_wrong_with_each_line_by_itself_is_told_of_each() -> None:
    two = "link C01: SL.A, SR.A -- DESK.net, DESK.ctl via cat6 60 m"
    assert told(show("box SR is nw16 in wing", two)) == [
        "error not-an-audio-port C01",
        "error protocol-mismatch C01",
    ]
