"""The library of open standards: its numbers, each row with the published source they are held against."""

from __future__ import annotations

import re
from math import floor, log10

import pytest
from scapy.layers.inet import IP, UDP
from scapy.layers.l2 import Dot1Q, Ether
from scapy.layers.rtp import RTP

from rigdsl.paths import Paths
from rigdsl.rig import library, read

RIG = read('rig "Nothing yet" {}')
PROTOCOLS, CABLES = RIG.protocols, RIG.cables

# ---- What a port carries


@pytest.mark.parametrize(
    ("protocol", "rate_hz", "channels", "source"),
    [
        ("aes3", 48_000, 2, "AES3-1-2009, abstract"),
        ("aes3", 192_000, 2, "AES3-1-2009, abstract"),
        ("aes10-coax", 32_000, 64, "AES10-2020, abstract"),
        ("aes10-coax", 48_000, 64, "AES10-2020, abstract"),
        ("aes10-coax", 44_100, 64, "AES10-2020, abstract"),
        ("aes10-coax", 96_000, 32, "AES10-2020, abstract; Sound on Sound glossary"),
        ("aes10-fibre", 48_000, 64, "AES10-2020, abstract"),
        ("aes10-fibre", 96_000, 32, "AES10-2020, abstract"),
        ("aes50", 44_100, 48, "AES standards blog on AES50-2011"),
        ("aes50", 48_000, 48, "AES standards blog on AES50-2011"),
        ("aes50", 96_000, 24, "from memory"),
        ("aes50", 192_000, 12, "from memory"),
    ],
)
def test_a_port_carries(protocol: str, rate_hz: int, channels: int, source: str) -> None:
    assert PROTOCOLS[protocol].channels_at(rate_hz) == channels, source


@pytest.mark.parametrize(("protocol", "rate_hz"), [("aes10-coax", 192_000), ("aes67", 192_000), ("aes50", 384_000)])
def test_a_port_has_no_such_rate(protocol: str, rate_hz: int) -> None:
    assert PROTOCOLS[protocol].channels_at(rate_hz) is None


def test_aes50_moves_as_many_samples_at_every_rate() -> None:
    """Channels times rate is one number, and fits the 100 Mbit/s of 100BASE-TX at 24 bit (AES-R6-2011)."""
    samples = {channels * rate for rate, channels in PROTOCOLS["aes50"].capacity.items()}
    assert samples == {2_304_000}
    assert 2_304_000 * 24 == 55_296_000 < 100e6


@pytest.mark.parametrize("protocol", ["aes10-coax", "aes10-fibre"])
def test_aes10_fits_its_line(protocol: str) -> None:
    """A channel takes 32 bits of each sample, the line gives 100 Mbit/s (an encyclopedia on AES10)."""
    for rate_hz, channels in PROTOCOLS[protocol].capacity.items():
        assert channels <= floor(100e6 / (32 * rate_hz))


# ---- Streams: packets as scapy builds them (RFC 791, 768, 3550; 24 bit is three bytes, RFC 3190)

GIGABIT, KEPT_FREE = 1e9, 0.25
FCS, PREAMBLE_AND_GAP = 4, 20  # IEEE 802.3
LARGEST_RTP_PAYLOAD = 1440  # AES67


def wire_bit_s(channels: int, samples: int, packets_s: int, *, sample_bytes: int = 3, tagged: bool = False) -> float:
    """Bits a second that one stream takes of a wire, gaps included."""
    header = Ether() / Dot1Q() if tagged else Ether()
    frame = header / IP() / UDP() / RTP() / bytes(channels * samples * sample_bytes)
    return (len(bytes(frame)) + FCS + PREAMBLE_AND_GAP) * 8.0 * packets_s


@pytest.mark.parametrize(
    ("channels", "samples", "packets_s", "sample_bytes", "mbit_s"),
    [
        (2, 48, 1000, 3, 2.928),
        (8, 48, 1000, 3, 9.840),
        (10, 48, 1000, 3, 12.144),
        (8, 6, 8000, 3, 14.208),
        (64, 6, 8000, 3, 78.720),
        (8, 12, 8000, 3, 23.424),
        (8, 48, 1000, 2, 6.768),
    ],
)
def test_a_stream_takes(channels: int, samples: int, packets_s: int, sample_bytes: int, mbit_s: float) -> None:
    assert wire_bit_s(channels, samples, packets_s, sample_bytes=sample_bytes) == pytest.approx(mbit_s * 1e6, abs=0.5)


def test_a_tag_adds_four_bytes() -> None:
    assert wire_bit_s(8, 48, 1000, tagged=True) == pytest.approx(9.872e6, abs=0.5)


@pytest.mark.parametrize(
    ("protocol", "rate_hz", "channels_a_stream", "source"),
    [
        ("aes67", 48_000, 8, "AES67: 1 ms, 48 samples"),
        ("aes67", 96_000, 4, "AES67: 1 ms, 96 samples"),
        ("st2110-30", 48_000, 8, "ST 2110-30:2025, 7, level A"),
        ("st2110-30", 96_000, 4, "ST 2110-30:2025, 7, level AX"),
    ],
)
def test_streams_fill_three_quarters_of_a_gigabit_port(
    protocol: str, rate_hz: int, channels_a_stream: int, source: str
) -> None:
    samples = rate_hz // 1000
    assert channels_a_stream * samples * 3 <= LARGEST_RTP_PAYLOAD
    streams = floor(GIGABIT * (1 - KEPT_FREE) / wire_bit_s(channels_a_stream, samples, 1000))
    assert PROTOCOLS[protocol].channels_at(rate_hz) == streams * channels_a_stream, source


# J. Koftinoff, Choosing AVB Stream Sizes, 2015, tables 4, 5 and 6: eight channels, 32 bit, on 1 Gbit/s
@pytest.mark.parametrize(
    ("rate_hz", "bit_s", "streams"),
    [(48_000, 16_576_000, 45), (96_000, 28_864_000, 25), (192_000, 53_440_000, 14)],
)
def test_avtp_streams_fill_what_class_a_may_take(rate_hz: int, bit_s: int, streams: int) -> None:
    """67 bytes go round the samples of each of 8000 frames a second; 75 % of the port may be reserved (IEEE 802.1Q)."""
    assert (8 * (rate_hz // 8000) * 4 + 67) * 8 * 8000 == bit_s
    assert floor(0.75 * GIGABIT / bit_s) == streams
    assert PROTOCOLS["avtp"].channels_at(rate_hz) == streams * 8


# ---- Time


@pytest.mark.parametrize(
    ("protocol", "samples_at_48_khz", "once", "source"),
    [
        ("aes50", 3, False, "encyclopedia on AES50: 62.5 us a hop"),
        ("aes67", 48, True, "AES67: packet time 1 ms"),
        ("st2110-30", 48, True, "ST 2110-30:2025, 7, level A: packet time 1 ms"),
        ("avtp", 96, True, "IEEE 802.1BA, class A: 2 ms, from memory"),
    ],
)
def test_latency_is_whole_samples(protocol: str, samples_at_48_khz: int, once: bool, source: str) -> None:
    said = PROTOCOLS[protocol]
    assert said.latency_s * 48_000 == pytest.approx(samples_at_48_khz, abs=1e-9), source
    assert said.latency_once is once


def test_aes50_stays_under_what_the_aes_says() -> None:
    """Under 0.1 ms a link (AES standards blog on AES50-2011)."""
    assert PROTOCOLS["aes50"].latency_s < 0.1e-3


# ---- Reach: two boxes and one cable, judged as any rig is

BOXES = """
rig "One cable" {{ rate 48 kHz }}
model near16 {{ kind stage-box; inputs mic 1-16 {{ preamp }}; digital A {{ protocol {protocol}{sends} }} }}
model far16 {{ kind console; channels ch 1-16; digital A {{ protocol {protocol}{takes} }} }}
zone here
box N is near16 in here
box F is far16 in here
link C1: N.A -- F.A via {cable} {length}
"""


def faults(protocol: str, cable: str, length: str) -> list[str]:
    """What stands against the run."""
    one_way = PROTOCOLS[protocol].one_way
    sends, takes = ("; sends", "; takes") if one_way else ("", "")
    rig = read(BOXES.format(protocol=protocol, cable=cable, length=length, sends=sends, takes=takes))
    assert rig.findings == ()
    (run,) = Paths(rig).runs
    return [fault.rule for fault in run.faults]


@pytest.mark.parametrize(
    ("protocol", "cable", "reaches", "too_far", "source"),
    [
        ("aes3", "aes-pair", "100 m", "100.1 m", "proaudiosupport a36216: 100 m on 110 ohm pair"),
        ("aes3", "xlr", "15 m", "20 m", "Handbook for Sound Engineers, p. 430: under 50 ft"),
        ("aes10-coax", "coax75", "100 m", "100.1 m", "common practice, no source; AES10 recommends 50 m, from memory"),
        ("aes10-fibre", "om1", "2000 m", "2001 m", "AES10-2003, 7.2.1, as an encyclopedia quotes it: 2 km"),
        ("aes10-fibre", "om4", "2000 m", "2001 m", "a better grade serves"),
        ("aes50", "cat5e", "100 m", "100.1 m", "AES standards blog on AES50-2011: 100 m; AES-R6-2011: Category 5"),
        ("aes50", "cat7", "100 m", "100.1 m", "a better category serves"),
        ("aes67", "cat6", "100 m", "100.1 m", "1000BASE-T: Univ. of Wisconsin KB 7829"),
        ("aes67", "om1", "275 m", "276 m", "1000BASE-SX, 62.5 um: 802.3z table of media"),
        ("aes67", "om2", "550 m", "551 m", "1000BASE-SX, 50 um: 802.3z table of media"),
        ("aes67", "os2", "5000 m", "5001 m", "1000BASE-LX: 802.3z table of media"),
        ("st2110-30", "om3", "550 m", "551 m", "1000BASE-SX: 802.3z table of media"),
        ("avtp", "om5", "550 m", "551 m", "1000BASE-SX: 802.3z table of media"),
    ],
)
def test_reach(protocol: str, cable: str, reaches: str, too_far: str, source: str) -> None:
    assert faults(protocol, cable, reaches) == [], source
    assert faults(protocol, cable, too_far) == ["run-too-long"], source


@pytest.mark.parametrize(
    ("protocol", "cable"),
    [
        ("aes50", "om3"),
        ("aes50", "coax75"),
        ("aes10-coax", "aes-pair"),
        ("aes10-coax", "om1"),
        ("aes10-fibre", "os2"),
        ("aes10-fibre", "coax75"),
        ("aes3", "coax75"),
        ("aes3", "cat6"),
        ("aes67", "xlr"),
    ],
)
def test_the_wrong_cable(protocol: str, cable: str) -> None:
    assert faults(protocol, cable, "5 m") == ["medium-mismatch"]


@pytest.mark.parametrize(
    ("protocol", "cable", "fault"),
    [("aes50", "cat6", "unroutable-protocol"), ("aes67", "cat6", ""), ("st2110-30", "cat6", ""), ("avtp", "cat6", "")],
)
def test_who_goes_through_a_switch(protocol: str, cable: str, fault: str) -> None:
    """AES50 uses the wires of Ethernet and is no network (AES-R6-2011)."""
    rig = read(f"""
      rig "One switch" {{ rate 48 kHz }}
      model near16 {{ kind stage-box; inputs mic 1-16 {{ preamp }}; digital A {{ protocol {protocol} }} }}
      model sw8 {{ kind switch; digital p 1-8 }}
      zone here
      box N is near16 in here
      box SW is sw8 in here
      link C1: N.A -- SW.p 1 via {cable} 5 m
    """)
    (run,) = Paths(rig).runs
    assert [item.rule for item in run.faults] == ([fault] if fault else [])


def test_aes50_is_full_at_48() -> None:
    """48 each way, full duplex (AES standards blog on AES50-2011)."""

    def load(lines: int) -> tuple[int, int | None]:
        rig = read(f"""
          rig "A full line" {{ rate 48 kHz }}
          model near64 {{ kind stage-box; inputs mic 1-64 {{ preamp }}; digital A {{ protocol aes50 }} }}
          model far64 {{ kind console; channels ch 1-64; digital A {{ protocol aes50 }} }}
          zone here
          box N is near64 in here
          box F is far64 in here
          link C1: N.A -- F.A via cat6 5 m
          patch N.mic 1-{lines} -> F.ch 1-{lines}
        """)
        paths = Paths(rig)
        loads = paths.load_of(paths.runs[0])
        most = max(loads, key=lambda item: item.channels)
        return most.channels, most.limit

    assert load(48) == (48, 48)
    assert load(49) == (49, 48)


# ---- Cables


@pytest.mark.parametrize("worse_first", [["cat5e", "cat6", "cat6a", "cat7"], ["om1", "om2", "om3", "om4", "om5"]])
def test_a_better_cable_serves_for_a_lesser_one(worse_first: list[str]) -> None:
    for at, cable in enumerate(worse_first):
        served = {name for name in worse_first if name in CABLES[cable].rungs}
        assert served == set(worse_first[: at + 1])


def test_single_mode_and_multimode_never_serve_each_other() -> None:
    assert not {"os1", "os2"} & set(CABLES["om5"].rungs)
    assert not {name for name in CABLES["os2"].rungs if name.startswith("om")}


# IEC 60228, class 5, plain copper, 20 C, as mycableengineering.com and etechnik-synergie.com give it
CLASS_5 = [
    ("ls0-75", 0.75, 26.0),
    ("ls1", 1.0, 19.5),
    ("ls1-5", 1.5, 13.3),
    ("ls2-5", 2.5, 7.98),
    ("ls4", 4.0, 4.95),
    ("ls6", 6.0, 3.30),
    ("ls10", 10.0, 1.91),
]


@pytest.mark.parametrize(("cable", "area_mm2", "ohm_km"), CLASS_5)
def test_loudspeaker_cables_are_class_5(cable: str, area_mm2: float, ohm_km: float) -> None:
    said = CABLES[cable]
    assert said.medium == "loudspeaker"
    assert said.conductor_m2 == pytest.approx(area_mm2 * 1e-6)
    assert said.resistance_ohm_per_m == pytest.approx(ohm_km * 1e-3)
    # The standard leaves 10 to 17 % above bare copper of 1/58 ohm mm2/m (IACS) for stranding and tolerance.
    assert 1.10 < ohm_km * area_mm2 / 17.241 < 1.17


def test_there_is_no_other_loudspeaker_cable() -> None:
    assert sorted(name for name, cable in CABLES.items() if cable.medium == "loudspeaker") == sorted(
        name for name, _, _ in CLASS_5
    )


# Lengths for 0.5 dB, worked from the table above: 20 lg(1 + R/Z), R of both conductors
@pytest.mark.parametrize(
    ("cable", "load_ohm", "length_m"),
    [
        ("ls1-5", 8, 17.8),
        ("ls2-5", 4, 14.9),
        ("ls2-5", 8, 29.7),
        ("ls4", 4, 23.9),
        ("ls4", 8, 47.9),
        ("ls6", 16, 143.6),
    ],
)
def test_half_a_decibel(cable: str, load_ohm: float, length_m: float) -> None:
    ohm = 2 * length_m * (CABLES[cable].resistance_ohm_per_m or 0)
    assert 20 * log10(1 + ohm / load_ohm) == pytest.approx(0.5, abs=0.002)


@pytest.mark.parametrize(
    ("cable", "field", "value", "source"),
    [
        ("xlr", "capacitance_f_per_m", 100e-12, "E. Sengpiel, Cable and treble damping"),
        ("xlr", "resistance_ohm_per_m", 0.0842, "24 AWG: 84.2 ohm/km, ASTM B258-02 and copper at 20 C"),
        ("aes-pair", "capacitance_f_per_m", 13e-12 / 0.3048, "Handbook for Sound Engineers, p. 430: 13 pF/ft"),
        ("aes-pair", "impedance_ohm", 110, "Handbook for Sound Engineers, p. 1470"),
        ("coax75", "impedance_ohm", 75, "AES10-2020, abstract"),
        ("om1", "loss_db_per_m", 3.5e-3, "TIA-568 limit at 850 nm"),
        ("om5", "loss_db_per_m", 3.5e-3, "TIA-568 limit at 850 nm"),
        ("os2", "loss_db_per_m", 0.5e-3, "TIA-568 limit, outside of buildings"),
    ],
)
def test_cable_figures(cable: str, field: str, value: float, source: str) -> None:
    assert getattr(CABLES[cable], field) == pytest.approx(value, rel=0.003), source


def test_om3_loses_what_the_stage_run_example_says() -> None:
    """300 m at 3.5 dB/km and two mated pairs of 0.75 dB: 2.55 dB (Fiber Optic Association, shape of the budget)."""
    assert 300 * (CABLES["om3"].loss_db_per_m or 0) + 2 * 0.75 == pytest.approx(2.55)


# ---- House style


def test_every_figure_says_where_it_is_from() -> None:
    """A line of a block that has a quantity has a comment behind it."""
    quantity = re.compile(r"\b\d+(\.\d+)? ?(m|kHz|ms|ohm|pF/m|mohm/m|dB/km)\b")
    bare = [
        f"{source.path}: {line.strip()}"
        for source in library()
        for line in source.text.splitlines()
        if line.startswith("  ") and quantity.search(line.split("#")[0].split('"')[0]) and "#" not in line
    ]
    assert bare == []


def test_eyes_are_warned_of_fibre() -> None:
    assert "Never look into" in PROTOCOLS["aes10-fibre"].note
