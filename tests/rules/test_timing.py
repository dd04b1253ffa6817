"""The timing rules, case by case."""

from __future__ import annotations

import pytest

from rigdsl.paths import Paths
from rigdsl.rig import read
from rigdsl_timing.latency_over_budget import latency_over_budget
from rigdsl_timing.unlocked_source import slip_s, unlocked_source
from tests.rules.said import findings, said
from tests.rules.whole import told

# A stage box of 0.7 ms in and 0.6 ms out on a network of 1 ms, and a desk of the milliseconds asked for.
STAGE = """\
rig "Hall" {{ rate 48 kHz }}
protocol brook {{ carries 64 at 48 kHz; over cat5e 100 m; topology network; latency 1 ms per network }}
model nb16 {{
  kind stage-box
  inputs mic 1-16 {{ preamp; latency 0.7 ms }}
  outputs line 1-8 {{ latency 0.6 ms }}
  digital net {{ protocol brook }}
}}
model desk32 {{
  kind console
  channels ch 1-32; mixes mix 1-16
  digital net {{ protocol brook }}
  latency {desk} ms
}}
box SL is nb16
box DESK is desk32
link C01: SL.net -- DESK.net via cat6 60 m
source vox dynamic to SL 1 via xlr 6 m
output out {type} from SL.line 1 via xlr 3 m
patch SL.mic 1 -> DESK.ch 1
"""


def late(kind: str, desk: float, feed: str = "patch DESK.mix 1 -> out") -> str:
    return STAGE.format(type=kind, desk=desk) + feed


@pytest.mark.parametrize(
    ("kind", "desk", "options", "budget"),
    [
        ("in-ear", 2.7, {}, ""),  # 5 ms and no more: the budget is kept
        ("in-ear", 2.71, {}, "5.01 ms late, and its budget is 5 ms"),
        ("in-ear", 2.7, {"in_ear_ms": 3}, "5 ms late, and its budget is 3 ms"),
        ("wedge", 7.7, {}, ""),
        ("wedge", 8, {}, "10.3 ms late, and its budget is 10 ms"),
        ("wedge", 8, {"wedge_ms": None}, ""),
        ("main", 60, {}, ""),  # others have no budget
        ("main", 60, {"main_ms": 20}, "62.3 ms late, and its budget is 20 ms"),
        ("comms", 9, {"comms_ms": 10}, "11.3 ms late, and its budget is 10 ms"),
    ],
)
def test_budgets_by_type_of_output(kind: str, desk: float, options: dict[str, float | None], budget: str) -> None:
    """In-ear 5 ms: a maker's audio-quality course page. Wedge 10 ms: our choice within M. Lester, J. Boley, AES 123."""
    expected = [("warning", "out", f"`vox` comes to `out` {budget}")] if budget else []
    assert said(latency_over_budget, late(kind, desk), **options) == expected


@pytest.mark.parametrize(
    ("kind", "desk", "feed"),
    [
        ("in-ear", 50, "patch SL.mic 1 -> SL.line 1"),  # straight across the box: no desk on the way
        ("in-ear", 50, ""),  # fed by nothing: that is told elsewhere
    ],
)
def test_what_is_not_late(kind: str, desk: float, feed: str) -> None:
    assert said(latency_over_budget, late(kind, desk, feed)) == []


def test_it_says_where_the_time_goes() -> None:
    (finding,) = findings(latency_over_budget, late("in-ear", 4))
    assert finding.consequence == (
        "whoever plays to it hears the music late; the time goes: converter at `SL.mic 1` 0.7 ms, "
        "the network of `brook` 1 ms, the desk `DESK` 4 ms, converter at `SL.line 1` 0.6 ms"
    )
    assert finding.help == (
        "the most is in `DESK`: mix monitors on a quicker desk, or bring that source there straight"
    )
    assert (finding.ports, finding.box) == (("SL.line 1",), "SL")


def test_both_lines_of_a_pair_are_one_finding() -> None:
    stereo = late("in-ear", 9, "patch DESK.mix 1-2 -> out").replace("SL.line 1 via", "SL.line 1-2 via")
    assert len(said(latency_over_budget, stereo)) == 1


def test_nothing_is_said_where_something_could_not_be_read() -> None:
    """A line that is broken may have said more than what is left of it."""
    assert told(late("in-ear", 9)) == ["warning latency-over-budget out"]
    broken = read(late("in-ear", 9).replace("output out in-ear from SL.line 1", "output out in-ear from SL.line 1 !"))
    assert broken.findings
    assert list(latency_over_budget.check(broken, Paths(broken), latency_over_budget.options())) == []


# ---- clocks

CLOCK = """\
rig "Hall" { rate 48 kHz }
model desk { kind console; channels ch 1-64; digital a-in, b-in { protocol aes3; takes }
  digital src-in { protocol aes3; takes; converts rate }; digital a-out { protocol aes3; sends }
  digital stage { protocol aes50 }
}
model box8 { kind stage-box; inputs mic 1-8 { preamp }; digital A { protocol aes50 } }
model play { kind computer; channels track 1-4 { soft }; digital out, out2 { protocol aes3; sends } }
model deck { kind computer; channels track 1-4 { soft }
  digital out { protocol aes3; sends }; digital in { protocol aes3; takes }
}
model proc { kind processor; outputs feed 1-2; digital in { protocol aes3; takes } }
box DESK is desk
box SL is box8
link C01: SL.A -- DESK.stage via cat6 60 m
source vox dynamic to SL 1 via xlr 6 m
patch SL.mic 1 -> DESK.ch 1
"""


@pytest.mark.parametrize(
    ("lines", "subjects"),
    [
        ("", []),
        ("box P is play\nlink P1: P.out -- DESK.a-in via aes-pair 5 m", ["P1"]),
        ("box P is play\nlink P1: P.out -- DESK.src-in via aes-pair 5 m", []),  # the desk converts its rate
        ("box P is play { converts rate }\nlink P1: P.out -- DESK.a-in via aes-pair 5 m", []),
        (
            "box P is play\nlink P1: P.out -- DESK.a-in via aes-pair 5 m\n"
            "link P2: P.out2 -- DESK.b-in via aes-pair 5 m",
            ["P1"],
        ),  # one box, one finding
        ("box P is play\nlink P1: P.out -- DESK.a-in via aes-pair 5 m\nclock P", []),  # it leads
        ("box P is deck\nlink P1: P.out -- DESK.a-in via aes-pair 5 m", ["P1"]),
        (
            "box P is deck\nlink P1: P.out -- DESK.a-in via aes-pair 5 m\nlink P2: DESK.a-out -- P.in via aes-pair 5 m",
            [],
        ),  # the line back brings the clock
        ("box X is proc\nlink X1: DESK.a-out -- X.in via aes-pair 5 m", []),  # it only takes
        ("box P is play\nbox X is proc\nlink P1: P.out -- X.in via aes-pair 5 m", []),  # nobody leads the two
    ],
)
def test_whose_clock(lines: str, subjects: list[str]) -> None:
    assert [subject for _, subject, _ in said(unlocked_source, CLOCK + lines)] == subjects


@pytest.mark.parametrize(
    ("lines", "help"),
    [
        (
            "box P is deck\nlink P1: P.out -- DESK.a-in via aes-pair 5 m",
            "join `DESK.a-out` to `P.in`: its clock then comes with that line",
        ),
        (
            "box P is play\nlink P1: P.out -- DESK.a-in via aes-pair 5 m",
            "plug it into `DESK.src-in`, which converts the rate",
        ),
        (
            "box P is play\nbox Q is deck\nlink P1: P.out -- DESK.a-in via aes-pair 5 m\n"
            "link Q1: Q.out -- DESK.src-in via aes-pair 5 m",
            "let `DESK.a-in` convert the rate (say `converts rate` in its group, if it does), "
            "or feed `P` the house clock",
        ),
    ],
)
def test_how_it_is_mended(lines: str, help: str) -> None:
    (finding,) = findings(unlocked_source, CLOCK + lines)
    assert finding.help == help
    assert finding.consequence == "clicks: two clocks 10 ppm apart lose or double a sample about every 2 s"


def test_a_free_socket_is_offered_to_one_box_and_not_to_the_next() -> None:
    lines = "box P is play\nlink P1: P.out -- DESK.a-in via aes-pair 5 m\n"
    lines += "box Q is play\nlink Q1: Q.out -- DESK.b-in via aes-pair 5 m"
    first, second = findings(unlocked_source, CLOCK + lines)
    assert first.help == "plug it into `DESK.src-in`, which converts the rate"
    assert second.help == (
        "let `DESK.b-in` convert the rate (say `converts rate` in its group, if it does), or feed `Q` the house clock"
    )


@pytest.mark.parametrize(("rate_hz", "seconds"), [(48_000, 2.083), (96_000, 1.042)])
def test_how_fast_two_clocks_run_apart(rate_hz: int, seconds: float) -> None:
    """48 000 times 10 ppm is 0.48 samples a second: arithmetic."""
    assert slip_s(rate_hz) == pytest.approx(seconds, abs=5e-4)


def test_a_stage_box_with_no_way_back_is_told_once() -> None:
    """The mixes that do not get back and the clock that does not are one missing cable."""
    rig = """\
rig "One way" { rate 48 kHz }
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8
  digital up { protocol aes10-coax; sends }; digital down { protocol aes10-coax; takes } }
model desk { kind console; channels ch 1-32; mixes mix 1-8
  digital in { protocol aes10-coax; takes }; digital out { protocol aes10-coax; sends } }
zone wing
zone foh
box SL is nw16 in wing
box DESK is desk in foh
link M01: SL.up -- DESK.in via coax75 40 m
source vox dynamic to SL 1 via xlr 6 m
patch SL.mic 1 -> DESK.ch 1
clock DESK
"""
    back = "output wedge wedge from SL.line 1 via xlr 6 m\npatch DESK.mix 1 -> wedge\n"
    assert told(rig) == ["warning unlocked-source M01"]
    assert told(rig + back) == ["error return-missing SL"]
