"""Runs: cables joined by passive panels, what they are called, and whether sound passes."""

from __future__ import annotations

import pytest

from rigdsl.paths import Run
from tests.paths.small import paths

BOXES = """\
box SL is nw16 in wing
box DESK is desk32 in foh
box NB is nb8 in wing
box MOSS is moss8 in wing
box P is panel4 in wing
box Q is panel4 in foh
box H is hub8 in wing
box K is hub8 in foh
model moss8 { kind stage-box; inputs mic 1-8 { preamp }; digital A { protocol mosslink } }
model plain8 { kind stage-box; inputs mic 1-8 { preamp }; digital A }
cable coax50 { medium coax; impedance 50 ohm }
cable cat5 { medium twisted-pair; category 5 }
"""


def run(text: str) -> Run:
    """The one run of a rig."""
    (found,) = paths(BOXES + text).runs
    return found


def said(text: str) -> list[str]:
    """What keeps the only run from working: the rule, and why."""
    return [f"{fault.rule}: {fault.because}" for fault in run(text).faults]


@pytest.mark.parametrize(
    ("links", "name", "length_m", "ends"),
    [
        (["C01: SL.A -- DESK.stage 1 via cat6 60 m"], "C01", 60.0, "DESK.stage 1 to SL.A"),
        (["SL.A -- DESK.stage 1 via cat6 60 m"], "DESK.stage 1 -- SL.A", 60.0, "DESK.stage 1 to SL.A"),
        (
            ["C2: SL.A -- P.front 1 via cat6 5 m", "C10: P.rear 1 -- DESK.stage 1 via cat6 40 m"],
            "C2+C10",
            45.0,
            "DESK.stage 1 to SL.A",
        ),
        (
            [
                "C3: Q.rear 4 -- P.rear 4 via cat6 40.5 m",
                "C1: DESK.stage 2 -- Q.front 4 via cat6 2 m",
                "C2: P.front 4 -- SL.B via cat6 100 ft",
            ],
            "C1+C2+C3",
            42.5 + 30.48,
            "DESK.stage 2 to SL.B",
        ),
        (
            ["C1: SL.A -- P.front 1 via cat6 5 m", "C2: P.rear 1 -- DESK.stage 1"],
            "C1+C2",
            None,
            "DESK.stage 1 to SL.A",
        ),
    ],
)
def test_cables_through_panels_add_up(links: list[str], name: str, length_m: float | None, ends: str) -> None:
    found = run("\n".join(f"link {link}" for link in links))
    assert (found.name, found.length_m, " to ".join(map(str, found.ends))) == (
        name,
        pytest.approx(length_m) if length_m else None,
        ends,
    )


def test_a_run_that_ends_in_a_panel_is_open() -> None:
    found = run("link C1: SL.A -- P.front 1 via cat6 5 m")
    assert (found.open, found.works, found.faults) == (True, False, ())


@pytest.mark.parametrize(
    ("link", "faults"),
    [
        # both ends
        ("SL.A -- DESK.stage 1 via cat6 60 m", []),
        (
            "SL.A -- NB.pri via cat6 60 m",
            ["protocol-mismatch: `NB.pri` speaks `brooknet`, and `SL.A` speaks `fernlink`"],
        ),
        ("SL.A -- DESK.net via cat6 60 m", ["not-an-audio-port: `DESK.net` carries remote control only, never audio"]),
        ("SL.A -- DESK.local 1 via cat6 60 m", ["domain-mismatch: `DESK.local 1` is analogue, and `SL.A` is digital"]),
        (
            "SL.A -- H.port 1 via cat6 60 m",
            ["unroutable-protocol: `SL.A` speaks `fernlink`, which no switch passes on"],
        ),
        ("NB.pri -- H.port 1 via cat6 60 m", []),
        ("DESK.net -- H.port 1 via cat6 60 m", []),  # a control jack in the show's switch
        # the cable: a better category serves, a lesser does not
        ("SL.A -- DESK.stage 1 via cat5e 60 m", []),
        ("SL.A -- DESK.stage 1 via cat6a 60 m", []),
        ("SL.A -- DESK.stage 1 via cat7 60 m", []),
        ("SL.A -- DESK.stage 1", []),  # of a cable that nobody names, nothing can be said
        (
            "SL.A -- DESK.stage 1 via cat5 60 m",
            ["medium-mismatch: `fernlink` does not run over `cat5`; it runs over cat5e (100 m), om3 (300 m)"],
        ),
        # fibre: a better grade serves; single-mode and multimode never serve each other
        ("SL.A -- DESK.stage 1 via om3 300 m", []),
        ("SL.A -- DESK.stage 1 via om4 300 m", []),
        ("SL.A -- DESK.stage 1 via om5 300 m", []),
        (
            "SL.A -- DESK.stage 1 via om2 60 m",
            ["medium-mismatch: `fernlink` does not run over `om2`; it runs over cat5e (100 m), om3 (300 m)"],
        ),
        (
            "SL.A -- DESK.stage 1 via os2 60 m",
            ["medium-mismatch: `fernlink` does not run over `os2`; it runs over cat5e (100 m), om3 (300 m)"],
        ),
        ("NB.pri -- DESK.pri via os2 5000 m", []),
        # the length: at the limit is good
        ("SL.A -- DESK.stage 1 via cat6 100 m", []),
        ("SL.A -- DESK.stage 1 via cat6 328 ft", []),  # 99.97 m
        (
            "SL.A -- DESK.stage 1 via cat6 100.1 m",
            ["run-too-long: 100.1 m of cable, and `fernlink` reaches 100 m on it"],
        ),
        (
            "SL.A -- DESK.stage 1 via om3 301 m",
            ["run-too-long: 301 m of cable, and `fernlink` reaches 300 m on it"],
        ),
        ("SL.A -- DESK.stage 1 via cat6", []),  # measured: 32 m and the slack
    ],
)
def test_one_cable(link: str, faults: list[str]) -> None:
    assert said(f"link C1: {link}") == faults


@pytest.mark.parametrize(
    ("first", "second", "faults"),
    [
        ("cat6 60 m", "cat5e 40 m", []),  # categories may mix
        (
            "cat6 60 m",
            "cat5e 40.1 m",
            ["run-too-long: 100.1 m of cable, and `fernlink` reaches 100 m on it"],
        ),
        ("om3 60 m", "om3 200 m", []),
        ("om3 60 m", "om4 200 m", ["medium-mismatch: `C2` is om4, and `C1` is om3"]),
        ("om3 60 m", "cat6 20 m", ["medium-mismatch: `C2` is twisted-pair, and `C1` is om3"]),
    ],
)
def test_two_cables_and_a_panel(first: str, second: str, faults: list[str]) -> None:
    rig = f"link C1: SL.A -- P.front 1 via {first}\nlink C2: P.rear 1 -- DESK.stage 1 via {second}"
    assert said(rig) == faults


@pytest.mark.parametrize(
    ("far", "why"),
    [
        ("SL.A", "`DESK.local 1` is analogue, and `SL.A` is digital"),
        ("SL.mic 1", "`DESK.local 1` is analogue, and `P.rear 1` is digital"),
    ],
)
def test_an_analogue_line_over_a_digital_panel(far: str, why: str) -> None:
    rig = f"link C1: DESK.local 1 -- P.rear 1 via cat6 9 m\nlink C2: P.front 1 -- {far} via cat6 9 m"
    assert said(rig) == [f"domain-mismatch: {why}"]


@pytest.mark.parametrize(
    ("link", "desk", "faults"),
    [
        ("", "", []),
        ("", "{ rate 96 kHz }", ["rate-mismatch: `DESK.stage 1` runs at 96 kHz, and `SL.A` runs at 48 kHz"]),
        ("", "{ rate 96 kHz; converts rate }", []),
        ("{ rate 96 kHz }", "", []),  # the link beats the boxes
        ("{ rate 96 kHz }", "{ rate 44.1 kHz }", []),
        ("{ rate 192 kHz }", "", ["rate-mismatch: `fernlink` has no 192 kHz; it has 48 kHz, 96 kHz"]),
        ("{ rate 44.1 kHz }", "", []),  # goes by the row of 48 kHz
        ("{ rate 88.2 kHz }", "", []),
        ("{ rate 32 kHz }", "", ["rate-mismatch: `fernlink` has no 32 kHz; it has 48 kHz, 96 kHz"]),
    ],
)
def test_rates(link: str, desk: str, faults: list[str]) -> None:
    rig = BOXES.replace("DESK is desk32 in foh", f"DESK is desk32 in foh {desk}")
    (found,) = paths(f"{rig}link C1: SL.A -- DESK.stage 1 via cat6 60 m {link}").runs
    assert [f"{fault.rule}: {fault.because}" for fault in found.faults] == faults


@pytest.mark.parametrize(
    ("head", "rate_hz"), [("rate 96 kHz", 96_000), ("rate 44.1 kHz", 44_100), ("slack 3 m", 48_000)]
)
def test_the_rate_is_the_rigs_where_nobody_says_another(head: str, rate_hz: int) -> None:
    (found,) = paths(BOXES + "link C1: SL.A -- DESK.stage 1 via cat6 60 m", head).runs
    assert (found.rate_hz, found.faults) == (rate_hz, ())


def test_the_end_that_does_not_convert_sets_the_rate() -> None:
    rig = BOXES.replace("SL is nw16 in wing", "SL is nw16 in wing { rate 96 kHz; converts rate }")
    (found,) = paths(rig + "link C1: SL.A -- DESK.stage 1 via cat6 60 m").runs
    assert (found.rate_hz, found.faults) == (48_000, ())


@pytest.mark.parametrize(
    ("link", "rule"),
    [
        # everything is wrong at once; what comes first silences the rest
        ("MOSS.A -- DESK.local 1 via os2 900 m { rate 192 kHz }", "domain-mismatch"),
        ("MOSS.A -- DESK.net via os2 900 m { rate 192 kHz }", "not-an-audio-port"),
        ("MOSS.A -- DESK.stage 1 via os2 900 m { rate 192 kHz }", "protocol-mismatch"),
        ("MOSS.A -- H.port 1 via os2 900 m { rate 192 kHz }", "unroutable-protocol"),
        ("SL.A -- DESK.stage 1 via os2 900 m { rate 192 kHz }", "medium-mismatch"),
        ("SL.A -- DESK.stage 1 via cat6 900 m { rate 192 kHz }", "run-too-long"),
        ("SL.A -- DESK.stage 1 via cat6 90 m { rate 192 kHz }", "rate-mismatch"),
    ],
)
def test_the_first_fault_counts(link: str, rule: str) -> None:
    assert [fault.rule for fault in run(f"link C1: {link}").faults] == [rule]


def test_of_two_shared_protocols_the_one_that_works_is_taken() -> None:
    two = """\
model both { kind stage-box; inputs mic 1-8 { preamp }; digital A { protocol mosslink, fernlink } }
model desk2 { kind console; channels ch 1-8; digital A { protocol fernlink, mosslink } }
box X is both in wing; box D is desk2 in foh
link C1: D.A -- X.A via cat6 {length}
"""
    near, far, off = (paths(two.replace("{length}", length)).runs[0] for length in ("60 m", "90 m", "120 m"))
    assert (near.protocols, near.protocol, near.reach_m) == (("fernlink", "mosslink"), "fernlink", 100.0)
    assert (far.protocols, far.protocol, far.reach_m) == (("fernlink",), "fernlink", 100.0)
    assert (off.protocols, off.protocol, [fault.rule for fault in off.faults]) == ((), "fernlink", ["run-too-long"])


def test_a_port_that_names_no_protocol_takes_any() -> None:
    found = run("box X is plain8 in wing\nlink C1: X.A -- DESK.stage 1 via cat6 60 m")
    assert (found.protocols, found.faults) == (("fernlink", "aes50"), ())


ONE_WAY = """\
model out8 { kind stage-box; inputs mic 1-8 { preamp }; digital tx { protocol aes10-coax; sends } }
model in8 { kind console; channels ch 1-8; digital rx { protocol aes10-coax; takes } }
model in9 { kind console; channels ch 1-8; digital rx { protocol aes10-coax; sends } }
box X is out8 in wing; box D is in8 in foh; box E is in9 in foh
"""


@pytest.mark.parametrize(
    ("desk", "faults"),
    [("D", []), ("E", ["protocol-mismatch: `E.rx` and `X.tx` both send, and neither takes"])],
)
def test_a_one_way_line_joins_a_sender_and_a_taker(desk: str, faults: list[str]) -> None:
    (found,) = paths(ONE_WAY + f"link M1: X.tx -- {desk}.rx via coax75 60 m").runs
    assert [f"{fault.rule}: {fault.because}" for fault in found.faults] == faults


TRUNK = """\
link N1: NB.pri -- H.port 1 via cat6 3 m
link N2: H.port 8 -- K.port 8 via {trunk}
link N3: K.port 1 -- DESK.pri via cat6 5 m
"""


@pytest.mark.parametrize(
    ("trunk", "faults"),
    [
        ("cat6 100 m", []),
        ("om3 300 m", []),
        ("os2 5 km", []),
        ("cat6 150 m", ["run-too-long: 150 m of cable, and `brooknet` reaches 100 m on it"]),
        (
            "coax50 20 m",
            [
                "medium-mismatch: `brooknet` does not run over `coax50` (coax); "
                "it runs over cat5e (100 m), om3 (300 m), os2 (5000 m)"
            ],
        ),
    ],
)
def test_a_trunk_between_switches_is_judged_by_what_its_network_speaks(trunk: str, faults: list[str]) -> None:
    found = {run.name: run for run in paths(BOXES + TRUNK.format(trunk=trunk)).runs}
    assert [f"{fault.rule}: {fault.because}" for fault in found["N2"].faults] == faults


def test_a_trunk_with_nothing_on_it_is_not_judged() -> None:
    assert said("link N2: H.port 8 -- K.port 8 via cat6 150 m") == []


NETWORK_RATES = BOXES.replace("NB is nb8 in wing", "NB is nb8 in wing {box}") + TRUNK.format(trunk="cat6 50 m")


@pytest.mark.parametrize(
    ("box", "faults"),
    [
        ("", []),
        ("{ rate 96 kHz }", ["N1 rate-mismatch: `NB` runs at 96 kHz, and `DESK` at 48 kHz"]),
        ("{ rate 96 kHz; converts rate }", []),
    ],
)
def test_nothing_in_a_switch_converts_a_rate(box: str, faults: list[str]) -> None:
    found = paths(NETWORK_RATES.replace("{box}", box)).runs
    assert [f"{run.name} {fault.rule}: {fault.because}" for run in found for fault in run.faults] == faults


@pytest.mark.parametrize(("bridge", "rules"), [("", ["rate-mismatch"]), (" { converts rate }", [])])
def test_a_bridge_may_convert_the_rate(bridge: str, rules: list[str]) -> None:
    rig = f"""\
model conv {{
  kind bridge
  digital L {{ protocol fernlink }}; digital M {{ protocol brooknet }}
  bridge L -> M{bridge}
}}
box CV is conv in wing
link C1: SL.A -- CV.L via cat6 5 m
link N1: CV.M -- E.pri via cat6 50 m
box E is desk32 in foh {{ rate 96 kHz }}
"""
    assert [fault.rule for run in paths(BOXES + rig).runs for fault in run.faults] == rules


def test_two_plugs_in_panel_sockets_fork_a_run_and_forks_in_a_row_do_not_multiply() -> None:
    rows = 24
    rig = ["box SL is nw16 in wing", "box DESK is desk32 in foh", *(f"box P{n} is panel4" for n in range(rows))]
    rig += ["link A1: SL.A -- P0.front 1 via cat6 1 m", f"link Z1: P{rows - 1}.rear 1 -- DESK.stage 1 via cat6 1 m"]
    for n in range(1, rows):
        rig += [f"link {side}{n}: P{n - 1}.rear 1 -- P{n}.front 1 via cat6 1 m" for side in "LR"]
    found = paths("\n".join(rig)).runs
    assert 2 <= len(found) <= 128
    assert all(run.works for run in found)
