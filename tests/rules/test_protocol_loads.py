"""Runs and bridges that are too full: one finding for both ways, and ports that are offered only where they help."""

from __future__ import annotations

import pytest

from tests.rules.whole import told, wrong

GEAR = """\
protocol fernlink { carries 40 at 48 kHz, 20 at 96 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
protocol mosslink { carries 8 at 48 kHz; over cat5e 80 m }
protocol brooknet { carries 99 at 48 kHz; over cat5e 100 m; topology network }
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A, B { protocol fernlink; chain } }
model nw32 { kind stage-box; inputs mic 1-32 { preamp }; outputs line 1-8; digital A, B { protocol fernlink; chain } }
model big48 { kind stage-box; inputs mic 1-48 { preamp }; outputs line 1-8; digital A, B { protocol fernlink; chain } }
model even36 { kind stage-box; inputs i 1-36 { preamp }; outputs o 1-36; digital A, B { protocol fernlink; chain } }
model moss16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-16; digital A { protocol mosslink } }
model desk64 {
  kind console
  channels ch 1-64; mixes mix 1-24
  digital stage 1-2 { protocol fernlink }
  digital side { protocol mosslink }
  digital net { protocol brooknet }
}
zone wing
zone foh
box DESK is desk64 in foh
"""


def show(*lines: str, rate: str = "48 kHz") -> str:
    return f'rig "Hall" {{ rate {rate} }}\n{GEAR}' + "\n".join(lines)


def chain(*models: str) -> tuple[str, ...]:
    """Boxes S1, S2 ... one behind the other on the desk's first port."""
    boxes = [f"box S{n} is {model} in wing" for n, model in enumerate(models, 1)]
    links = ["link C01: DESK.stage 1 -- S1.A via cat6 60 m"]
    links += [f"link C{n:02}: S{n - 1}.B -- S{n}.A via cat6 9 m" for n in range(2, len(models) + 1)]
    return (*boxes, *links)


def test_too_full_both_ways_is_one_finding() -> None:
    (finding,) = wrong(show(*chain("even36", "nw16")))
    assert (finding.rule, finding.subject) == ("too-many-channels", "C01")
    assert finding.message == (
        "52 channels go from `S1.A` to `DESK.stage 1` and 44 back, and `fernlink` carries 40 each way at 48 kHz; "
        "`S2` is the one too many"
    )
    assert finding.consequence == "12 there and 4 back do not get through"
    assert [item.message for item in finding.related[1:]] == ["`S1` takes 36 channels", "`S2` takes 16 channels"]


def test_one_line_accepts_both_ways() -> None:
    accept = 'accept too-many-channels on C01 because "only half is used"'
    assert told(show(*chain("even36", "nw16"), accept)) == []


@pytest.mark.parametrize(
    ("models", "rate", "way_out"),
    [
        (("nw32", "nw16"), "48 kHz", "`DESK.stage 2` is free and speaks `fernlink`: join `S2` to it"),
        # what is chained behind it moves with it
        (("nw16", "nw16", "nw16"), "48 kHz", "`DESK.stage 2` is free and speaks `fernlink`: join `S3` to it"),
        (("nw32", "nw16", "nw16"), "48 kHz", "`DESK.stage 2` is free and speaks `fernlink`: join `S2` to it"),
        # a port takes no more than it can
        (("nw32", "nw16", "nw32"), "48 kHz", "bring `S2` to the desk another way"),
        (("nw16", "nw16"), "96 kHz", "`DESK.stage 2` is free and speaks `fernlink`: join `S2` to it"),
        # a box that is too much for any port
        (("big48",), "48 kHz", "take a smaller box, or use a protocol that carries more"),
        (("nw32",), "96 kHz", "take a smaller box, run at 48 kHz, or use a protocol that carries more"),
        (("nw16", "nw32"), "96 kHz", "take a smaller box, run at 48 kHz, or use a protocol that carries more"),
    ],
)
def test_a_free_port_is_offered_where_it_helps(models: tuple[str, ...], rate: str, way_out: str) -> None:
    (finding,) = wrong(show(*chain(*models), rate=rate))
    assert finding.help == way_out


def test_with_routed_slots_fewer_may_be_patched() -> None:
    lines = ("box M is moss16 in wing", "link C01: DESK.side -- M.A via cat6 60 m", "patch M.mic 1-9 -> DESK.ch 1-9")
    (finding,) = wrong(show(*lines))
    assert finding.help == "patch fewer channels over it, or use a protocol that carries more"


def test_a_bridge_too_full_both_ways_is_one_finding() -> None:
    lines = (
        "model tie {",
        "  kind bridge",
        "  digital L { protocol mosslink }; digital R { protocol brooknet }",
        "  bridge L -> R { channels 4 }",
        "}",
        "box T is tie in foh; box M is moss16 in wing",
        "link C01: M.A -- T.L via cat6 60 m",
        "link C02: T.R -- DESK.net via cat6 2 m",
        "patch M.mic 1-6 -> DESK.ch 1-6",
        "patch DESK.mix 1-5 -> M.line 1-5",
    )
    (finding,) = wrong(show(*lines))
    assert finding.message == "6 channels go through `T` from `L` to `R` and 5 back, and it takes 4 each way"
    assert finding.consequence == "2 there and 1 back do not get through"
