"""The open standards as the shipped library has them, judged on a rig of two boxes. Each figure with its source."""

from __future__ import annotations

import pytest

from rigdsl.paths import Run
from tests.paths.small import paths

# (protocol, cable, longest m, source)
REACHES = [
    # AES Standards News Blog, "New revision of AES50-2011 (HRMAI)": span up to 100 m; AES-R6-2011: category 5 or better
    ("aes50", "cat5e", 100),
    ("aes50", "cat6a", 100),
    # AES10-2020, abstract: one 75 ohm coax; 100 m in practice with good cable: common practice, no source
    ("aes10-coax", "coax75", 100),
    # AES10-2003, 7.2.1, as an encyclopedia quotes it: FDDI-type fibre up to 2 km
    ("aes10-fibre", "om1", 2000),
    # proaudiosupport a36216: 100 m on a purpose-made 110 ohm pair
    ("aes3", "aes-pair", 100),
    # Handbook for Sound Engineers, p. 430: under 50 ft on an analogue pair
    ("aes3", "xlr", 15),
    # IEEE 802.3z table of media: 1000BASE-T, -SX on 62.5 um and 50 um, -LX
    ("aes67", "cat5e", 100),
    ("aes67", "om1", 275),
    ("aes67", "om2", 550),
    ("aes67", "os2", 5000),
    ("st2110-30", "os2", 5000),
    ("avtp", "cat6", 100),
]

# (protocol, rate in kHz, channels each way)
CHANNELS = [
    # AES Standards News Blog: 48 at 48 kHz; 24 at 96 and 12 at 192: from memory, and channels times rate is 2 304 000
    ("aes50", 44.1, 48),
    ("aes50", 48, 48),
    ("aes50", 96, 24),
    ("aes50", 192, 12),
    # AES10-2020, abstract: 64 channels; 32 at 96 kHz
    ("aes10-coax", 48, 64),
    ("aes10-coax", 96, 32),
    ("aes10-fibre", 48, 64),
    # AES3-1-2009, abstract: two channels a line
    ("aes3", 48, 2),
    ("aes3", 96, 2),
]

# ISO/IEC 11801 and TIA-568 have no such thing: the medium is another altogether.
NEVER = [
    ("aes50", "om3"),
    ("aes50", "coax75"),
    ("aes10-coax", "aes-pair"),
    ("aes10-fibre", "os2"),  # single-mode for multimode
    ("aes3", "cat6"),
    ("aes67", "coax75"),
]


def run(protocol: str, cable: str, length_m: float, rate_khz: float = 48) -> Run:
    """One line between two boxes; a one-way one goes from the box to the desk."""
    one_way = protocol.startswith(("aes3", "aes10"))
    sends, takes = ("; sends", "; takes") if one_way else ("", "")
    (found,) = paths(
        f"""\
model stagebox {{ kind stage-box; inputs mic 1-8 {{ preamp }}; digital A {{ protocol {protocol}{sends} }} }}
model desk {{ kind console; channels ch 1-64; digital A {{ protocol {protocol}{takes} }} }}
box S is stagebox; box D is desk
link C1: S.A -- D.A via {cable} {length_m} m""",
        head=f"rate {rate_khz} kHz",
    ).runs
    return found


@pytest.mark.parametrize(("protocol", "cable", "longest_m"), REACHES)
def test_reach(protocol: str, cable: str, longest_m: float) -> None:
    assert run(protocol, cable, longest_m).faults == ()
    assert [fault.rule for fault in run(protocol, cable, longest_m + 0.1).faults] == ["run-too-long"]


@pytest.mark.parametrize(("protocol", "cable"), NEVER)
def test_media_that_never_serve(protocol: str, cable: str) -> None:
    assert [fault.rule for fault in run(protocol, cable, 5).faults] == ["medium-mismatch"]


@pytest.mark.parametrize(("protocol", "rate_khz", "channels"), CHANNELS)
def test_channels(protocol: str, rate_khz: float, channels: int) -> None:
    way = "S.mic 1-{0} -> D.ch 1-{0}" if protocol.startswith(("aes3", "aes10")) else "D.ch 1-{0} -> S.track 1-{0}"
    cable = {"aes10-coax": "coax75", "aes10-fibre": "om1", "aes3": "aes-pair"}.get(protocol, "cat5e")
    one_way = "-> D" in way
    sends, takes = ("; sends", "; takes") if one_way else ("", "")
    for count, over in ((channels, False), (channels + 1, True)):
        found = paths(
            f"""\
model stagebox {{
  kind computer; inputs mic 1-80 {{ soft }}; channels track 1-80
  digital A {{ protocol {protocol}{sends} }}
}}
model desk {{ kind console; channels ch 1-80; digital A {{ protocol {protocol}{takes} }} }}
box S is stagebox; box D is desk
link C1: S.A -- D.A via {cable} 5 m
patch {way.format(count)}""",
            head=f"rate {rate_khz} kHz",
        )
        (line,) = found.runs
        load = max(found.load_of(line), key=lambda load: load.channels)
        assert (load.channels, load.limit, load.tips != "") == (count, channels, over)


def test_aes50_is_no_network() -> None:
    # AES-R6-2011: it uses the wires of 100BASE-TX, point to point, and goes through no switch
    (found,) = paths(
        "box D is desk; box H is hub8\nlink C1: D.A -- H.port 1 via cat6 5 m\n"
        "model desk { kind console; channels ch 1-8; digital A { protocol aes50 } }"
    ).runs
    assert [fault.rule for fault in found.faults] == ["unroutable-protocol"]


def test_aes50_takes_three_samples_at_48_khz_for_each_hop() -> None:
    # encyclopedia "AES50": 62.5 us; the AES says under 100 us
    found = paths(
        """\
model box8 { kind stage-box; inputs mic 1-8 { preamp }; digital A { protocol aes50 } }
model desk { kind console; channels ch 1-8; digital A, B { protocol aes50 } }
box S is box8; box M is desk; box D is desk
link C1: S.A -- M.A via cat6 5 m
link C2: M.B -- D.A via cat6 50 m
source kick dynamic to S 1
patch kick -> D.ch 1"""
    )
    (path,) = found.paths_of("kick")
    assert path.latency_s == pytest.approx(2 * 3 / 48_000)
    assert path.latency_s < 2 * 100e-6
