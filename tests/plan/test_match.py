"""Desks and stage boxes, pair by pair: what a person who advises a buyer says of them."""

from __future__ import annotations

import pytest

from tests.plan.gear import BOX, COMPUTER, DESK, LOCAL, PLOVER, pair, verdict


def test_sound_both_ways_and_gain() -> None:
    found = pair(BOX % PLOVER, DESK % "digital stage 1-2 { protocol moss, plover; control lark }")
    assert verdict(found) == (True, True, True)
    assert found.works
    assert found.protocols == ("plover",)
    assert found.rates_hz == (48_000, 96_000)
    assert found.channels == {48_000: 40, 96_000: 20}
    assert found.reach_m == {"cat5e": 100, "om3": 300}
    assert found.because == (
        "each of the desk's 2 ports takes 2 of these boxes, one behind the other; then `plover` has "
        "too few channels left for a third",
    )


@pytest.mark.parametrize(
    ("box", "desk", "says"),
    [
        (
            BOX % "digital A { protocol plover; control lark }",
            DESK % "digital stage { protocol plover; control thrush }",
            "both speak `plover`, but the box answers to dialect `lark` and the desk speaks `thrush`: "
            "sound arrives, gain and phantom stay at the box",
        ),
        (
            BOX % "digital A { protocol plover }",
            DESK % "digital stage { protocol plover; control thrush }",
            "both speak `plover`, but the box answers to no control dialect: "
            "sound arrives, gain and phantom stay at the box",
        ),
        (
            BOX % "digital A { protocol plover; control lark }",
            DESK % "digital stage { protocol plover }",
            "both speak `plover`, but the desk speaks no control dialect, and the box answers to dialect `lark`: "
            "sound arrives, gain and phantom stay at the box",
        ),
        (
            BOX % "digital A { protocol plover }; data ctl { control lark }",
            DESK % "digital stage { protocol plover; control lark }",
            "both speak `plover`, and both know dialect `lark`, but not on ports that can be joined: "
            "sound arrives, gain and phantom stay at the box",
        ),
        (
            BOX % "digital A { protocol plover; control lark }",
            COMPUTER % "digital line { protocol plover }",
            "a box straight into a computer: sound arrives, gain and phantom stay at the box, "
            "and no desk is there to set them: the box answers to dialect `lark`",
        ),
    ],
)
def test_sound_without_gain(box: str, desk: str, says: str) -> None:
    found = pair(box, desk)
    assert (found.audio, found.control) == (True, False)
    assert found.wrong[0] == says


@pytest.mark.parametrize(
    ("box", "desk", "says"),
    [
        (
            BOX % PLOVER,
            DESK % "pass local 1-12 -> ch 1-12",
            "the desk is analogue: it has nowhere to put a digital stream; "
            "bring the stage in over a multicore (snake), to its 12 inputs",
        ),
        (
            BOX % PLOVER,
            DESK % "data net { connector rj45; control lark }",
            "the desk's jack is for remote control only, never audio: no digital stream goes in; "
            "bring the stage in over a multicore (snake), to its 12 inputs",
        ),
        (
            BOX % PLOVER,
            "model desk { kind computer; data air { wireless; control lark } }",
            "the computer's jack is for remote control only, never audio: no digital stream goes in",
        ),
        (
            BOX % "digital A { protocol plover; connector rj45 }",
            DESK % "digital stage { protocol moss, brook; connector rj45 }",
            "the box speaks `plover` and the desk `moss` and `brook`: no common language; "
            "the plugs fit (`rj45`), and no sound passes all the same",
        ),
        (
            BOX % "digital A { protocol plover; connector lc }",
            DESK % "digital stage { protocol moss; connector rj45 }",
            "the box speaks `plover` and the desk `moss`: no common language",
        ),
        (
            BOX % "digital A { protocol plover; rate 96 kHz }",
            DESK % "digital stage { protocol plover; rate 48 kHz }",
            "both speak `plover`, but the box runs at 96 kHz and the desk at 48 kHz, and neither converts",
        ),
        (
            BOX % "digital A { protocol aes10-coax; sends }",
            DESK % "digital out { protocol aes10-coax; sends }",
            "both speak `aes10-coax`, which carries one way, but both send it, and neither takes it",
        ),
        (
            BOX % "digital A { protocol aes10-coax; takes }",
            DESK % "digital out { protocol aes10-coax; sends }",
            "`aes10-coax` carries one way, and the ports that fit lead from the desk to the box only: "
            "the box is not heard",
        ),
        (
            BOX % PLOVER,
            DESK % "slot opt 1-2 takes my64",
            "the desk has no digital port of its own: what it speaks hangs on the card in its slot `opt`",
        ),
        (
            BOX % "slot bay takes my64",
            DESK % "digital stage { protocol plover }",
            "the box has no digital port of its own: what it speaks hangs on the card in its slot `bay`",
        ),
        (
            BOX % "data ctl { control lark }",
            DESK % "digital stage { protocol plover; control lark }",
            "the box's jack is for remote control only, never audio: its sound leaves over analogue lines",
        ),
    ],
)
def test_no_sound(box: str, desk: str, says: str) -> None:
    found = pair(box, desk)
    assert verdict(found) == (False, None, False)
    assert found.because == (says,)
    assert (found.protocols, found.rates_hz, found.reach_m) == ((), (), {})


# One coax carries one way and a return path needs a second one: abstract of AES10-2020.
TO_DESK = "digital up { protocol aes10-coax; sends; control lark }"
BOTH_WAYS = f"{TO_DESK}; digital down {{ protocol aes10-coax; takes; control lark }}"
IN_ONLY = "digital in { protocol aes10-coax; takes; control lark }"
IN_AND_OUT = f"{IN_ONLY}; digital out {{ protocol aes10-coax; sends; control lark }}"


@pytest.mark.parametrize(
    ("box", "desk", "back", "says"),
    [
        (BOTH_WAYS, IN_AND_OUT, True, "`aes10-coax` carries one way: it takes two lines, one each way"),
        (
            TO_DESK,
            IN_AND_OUT,
            False,
            "`aes10-coax` carries one way, and no second line leads back: "
            "mixes do not get back to the 8 outputs of the box",
        ),
        (
            BOTH_WAYS,
            IN_ONLY,
            False,
            "`aes10-coax` carries one way, and no second line leads back: "
            "mixes do not get back to the 8 outputs of the box",
        ),
    ],
)
def test_lines_that_carry_one_way(box: str, desk: str, back: bool, says: str) -> None:
    found = pair(BOX % box, DESK % desk)
    assert verdict(found) == (True, back, True)
    assert found.because == (says,)
    assert found.channels == {48_000: 64, 32_000: 64, 96_000: 32}  # AES10-2020, abstract


def test_gain_by_hand_leaves_nothing_to_control() -> None:
    found = pair(LOCAL % "digital A { protocol moss }", DESK % "digital stage { protocol moss }")
    assert verdict(found) == (True, True, None)
    assert "gain is set by hand at the box: no desk moves it, so nothing has to match there" in found.heed


@pytest.mark.parametrize(
    ("box", "desk", "says"),
    [
        (
            "digital A { protocol plover }; data ctl { control lark }",
            "digital stage { protocol plover }; data net { control lark }",
            "gain and phantom are set over a second cable, between the jacks for remote control",
        ),
        (
            "digital A { protocol plover }; digital net { protocol brook; control lark }",
            "digital stage { protocol plover }; data net { control lark }",
            "gain and phantom are set through a switch: put the jacks for remote control of both in it",
        ),
        (
            "digital A { protocol plover }; digital down { protocol aes10-coax; takes; control lark }",
            "digital stage { protocol plover }; digital out { protocol aes10-coax; sends; control lark }",
            "gain and phantom are set over a second cable: that of the sound carries no control",
        ),
    ],
)
def test_gain_over_another_way_than_the_sound(box: str, desk: str, says: str) -> None:
    found = pair(BOX % box, DESK % desk)
    assert (found.audio, found.control) == (True, True)
    assert says in found.heed


def test_a_computer_sets_gain_where_a_line_says_so() -> None:
    found = pair(BOX % PLOVER, COMPUTER % "digital line { protocol plover; control lark }")
    assert verdict(found) == (True, True, True)
    assert "a computer sets gain only where the rig says so: `control BOX.mic 1-8 by COMPUTER`" in found.heed


def test_the_way_by_which_gain_moves_comes_first() -> None:
    ports = "digital A { protocol plover; control %s }; digital net { protocol moss; control lark }"
    found = pair(BOX % (ports % "lark"), DESK % (ports % "thrush"))
    assert found.protocols == ("moss", "plover")
    assert found.control is True


# ---- how many


@pytest.mark.parametrize(
    ("inputs", "port", "says"),
    [
        (8, "digital A, B { protocol plover; chain }", "4 of these boxes, one behind the other; then `plover` takes"),
        (
            16,
            "digital A, B { protocol plover; chain }",
            "2 of these boxes, one behind the other; then `plover` has too few channels left for a third",
        ),
        (
            32,
            "digital A, B { protocol plover; chain }",
            "one of these boxes: behind it `plover` has too few channels left for a second",
        ),
        (32, "digital A { protocol plover }", ""),
    ],
)
def test_boxes_behind_one_port(inputs: int, port: str, says: str) -> None:
    """Slots are fixed: every box takes all its inputs of the 40, and no more than four boxes stand in a row."""
    box = f"model box {{ kind stage-box; inputs mic 1-{inputs} {{ preamp }}; {port} }}"
    heed = pair(box, DESK % "digital stage { protocol plover }").heed
    assert any(says in text for text in heed) if says else not any("behind" in text for text in heed)


def test_a_box_of_more_channels_than_there_are() -> None:
    box = "model box { kind stage-box; inputs mic 1-48 { preamp }; digital A { protocol plover } }"
    found = pair(box, DESK % "digital stage { protocol plover }")
    assert (found.audio, found.works) == (True, False)
    assert found.wrong == (
        "the box takes 48 channels, used or not, and `plover` carries 40 at 48 kHz: 8 of them do not get through",
    )
    assert "at 96 kHz `plover` carries 20 of the box's 48 channels" in found.heed


@pytest.mark.parametrize(
    ("rate_hz", "audio", "channels"),
    [(48_000, True, {48_000: 40}), (96_000, True, {96_000: 20}), (44_100, True, {44_100: 40}), (192_000, False, {})],
)
def test_at_one_rate(rate_hz: int, audio: bool, channels: dict[int, int]) -> None:
    found = pair(BOX % PLOVER, DESK % "digital stage { protocol plover; control lark }", rate_hz=rate_hz)
    assert (found.audio, found.channels) == (audio, channels)
    if not audio:
        assert found.wrong == ("both speak `plover`, but `plover` has no 192 kHz; it has 48 kHz, 96 kHz",)


def test_aes50_carries_48_channels_each_way_over_100_m() -> None:
    """48 each way at 48 kHz over up to 100 m: AES Standards News Blog on AES50-2011; 24 and 12 from memory."""
    found = pair(BOX % "digital A { protocol aes50 }", DESK % "digital stage { protocol aes50 }")
    assert found.channels == {48_000: 48, 96_000: 24, 192_000: 12}
    assert found.reach_m == {"cat5e": 100}


# ---- cable and plugs


@pytest.mark.parametrize(
    ("box", "desk", "says"),
    [
        ("protocol brook", "protocol brook", "`brook` needs shielded cable"),
        ("protocol brook", "protocol brook", "`brook` goes through switches, so several desks and boxes can share"),
        (
            "protocol moss; connector lc",
            "protocol moss; connector rj45",
            "the sockets differ, `lc` at the box and `rj45`",
        ),
        ("protocol plover; connector rj45", "protocol plover; connector rj45", "fibre takes a media converter"),
    ],
)
def test_what_else_there_is_to_know(box: str, desk: str, says: str) -> None:
    found = pair(LOCAL % f"digital A {{ {box} }}", DESK % f"digital stage {{ {desk} }}")
    assert found.works
    assert any(says in text for text in found.heed)
