"""Plugs and sockets: taken twice, left over, plugged into nothing, too many for a box, too few in hand."""

from __future__ import annotations

import pytest

from rigdsl_ports.overbooked import overbooked
from rigdsl_ports.port_taken import port_taken
from rigdsl_ports.split_pair import split_pair
from rigdsl_ports.too_few_spares import too_few_spares
from rigdsl_ports.unplugged_output import unplugged_output
from rigdsl_ports.unplugged_source import unplugged_source
from rigdsl_ports.unused_port import unused_port
from tests.rules import whole
from tests.rules.said import findings, said
from tests.rules.shows import show


def stage(*lines: str) -> str:
    """A stage box, a sub-box, a receiver, a computer and a desk, and the lines given."""
    return "\n".join(
        (
            'rig "Stage" {}',
            "protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }",
            "model nw8 {",
            "  kind stage-box; inputs mic 1-8 { preamp }; outputs line 1-4; digital A, B { protocol fernlink }",
            "}",
            "model sub12 { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }",
            "model rx2 { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line }",
            "model iem1 { kind monitor-sender; inputs in 1-2; outputs air { wireless } }",
            "model pc {",
            "  kind computer; inputs play 1-4 { soft }; outputs track 1-4 { soft }; digital net { protocol aes67 }",
            "}",
            "model top8 { kind loudspeaker; inputs in { level loudspeaker }; outputs link; pass in -> link }",
            "model desk {",
            "  kind console; channels ch 1-8; mixes mix 1-4; inputs local 1-4 { preamp }; outputs out 1-2",
            "  digital stage 1-2 { protocol fernlink }",
            "}",
            "zone wing",
            "zone front",
            "box SL is nw8 in wing",
            "box SR is nw8 in front",
            "box DR is sub12 in front",
            "box RX is rx2 in wing",
            "box IEM is iem1 in wing",
            "box PC is pc in wing",
            "box DESK is desk in wing",
            *lines,
        )
    )


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (
            ("source a dynamic to SL 1", "source b dynamic to SL 1"),
            ("SL.mic 1", "two plugs are meant for `SL.mic 1`: `a`, `b`"),
        ),
        (
            ("source a dynamic to SL 1", "link L1: DR.tail 1-2 -- SL.mic 1-2"),
            ("SL.mic 1", "two plugs are meant for `SL.mic 1`: `a`, `L1`"),
        ),
        (
            ("link C1: SL.A -- DESK.stage 1 via cat6 9 m", "link C2: SL.A -- DESK.stage 2 via cat6 9 m"),
            ("SL.A", "two plugs are meant for `SL.A`: `C1`, `C2`"),
        ),
        (
            ("output a wedge from SL 1", "output b wedge from SL 1", "output c wedge from SL 1"),
            ("SL.line 1", "3 plugs are meant for `SL.line 1`: `a`, `b`, `c`"),
        ),
        (
            ("source a wireless to RX 1", "source b wireless to RX 1"),
            ("RX.air 1", "two plugs are meant for `RX.air 1`: `a`, `b`"),
        ),
        # Two belt packs listen to one sender.
        (("output a in-ear from IEM", "output b in-ear from IEM"), None),
        (("source a dynamic to SL 1", "source b dynamic to SL 2"), None),
    ],
)
def test_one_socket_takes_one_plug(lines: tuple[str, ...], told: tuple[str, str] | None) -> None:
    found = said(port_taken, stage(*lines))
    assert found == ([("error", *told)] if told else [])


def test_a_taken_socket_names_a_free_one_and_the_other_plug() -> None:
    (finding,) = findings(
        port_taken, stage("source a dynamic to SL 1", "source b dynamic to SL 1", 'keep SL.mic 2 for "guests"')
    )
    assert finding.help == "`SL.mic 3` is free"
    assert [item.message for item in finding.related] == ["`a` goes here too"]
    assert finding.place.text == "b"
    assert finding.box == "SL"


UNPLUGGED = [
    ("source vox dynamic in front", "`vox` is plugged into nothing", "`SR.mic 1` is free: `to SR.mic 1`"),
    (
        "source vox dynamic in wing to SL",
        "`vox` goes to `SL` and has no socket yet",
        "`SL.mic 1` is free: `to SL.mic 1`",
    ),
    (
        "source vox wireless in wing to RX",
        "`vox` goes to `RX` and has no socket yet",
        "`RX.air 1` is free: `to RX.air 1`",
    ),
]


@pytest.mark.parametrize(("line", "message", "help_"), UNPLUGGED)
def test_a_source_without_a_socket(line: str, message: str, help_: str) -> None:
    (finding,) = findings(unplugged_source, stage(line, "source kick dynamic in front to SL 2"))
    assert (finding.subject, finding.message, finding.help) == ("vox", message, help_)
    assert finding.silent == ("vox",)


def test_an_unplugged_source_in_a_full_box() -> None:
    (finding,) = findings(unplugged_source, stage("source d line to SL 1-8", "source vox dynamic to SL"))
    assert finding.help == "no input of `SL` is free"


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("output w wedge in front",), [("w", "`w` is plugged into nothing", "`SR.line 1` is free: `from SR.line 1`")]),
        (
            ("output w wedge from SL",),
            [("w", "`w` comes from `SL` and has no socket yet", "`SL.line 1` is free: `from SL.line 1`")],
        ),
        (("output w wedge from SL 1",), []),
        (
            ("box T1 is top8",),
            [
                (
                    "T1",
                    "nothing is plugged into `T1`",
                    "join it to what drives it with a `link`, or `keep` its input if it stands by as a spare",
                )
            ],
        ),
        (("box T1 is top8", 'keep T1.in for "spare"'), []),
        (("box T1 is top8", "box T2 is top8", "link L1: SL.line 1 -- T1.in", "link L2: T1.link -- T2.in"), []),
    ],
)
def test_an_output_without_a_socket(lines: tuple[str, ...], told: list[tuple[str, str, str]]) -> None:
    found = findings(unplugged_output, stage(*lines))
    assert [(finding.subject, finding.message, finding.help) for finding in found] == told


def test_who_waits_for_a_source_without_a_socket() -> None:
    lines = ("source a dynamic", "output o main from SL 1", "output p main from SL 2", "patch a, a -> o, p")
    (finding,) = findings(unplugged_source, stage(*lines))
    assert finding.consequence == "nobody hears it, and `o`, `p` stay silent"
    assert finding.silent == ("a", "o", "p")


def test_what_hangs_on_a_loudspeaker_stays_silent_with_it() -> None:
    speakers = ("box T1 is top8", "box T2 is top8", "box T3 is top8")
    lines = ("link L1: T1.link -- T2.in", "link L2: T2.link -- T3.in", "output rec record from T3.link")
    (finding,) = findings(unplugged_output, stage(*speakers, *lines))
    assert finding.consequence == "it stays silent, and `rec`, `T2`, `T3` behind it too"
    assert finding.silent == ("T1", "rec", "T2", "T3")


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        # Nothing of a box in use: it is not looked at.
        ((), []),
        (
            ("source a line to SL 1-6",),
            [("note", "SL.mic", "`SL.mic 7-8` are free"), ("note", "SL.line", "`SL.line 1-4` are free")],
        ),
        (
            ("source a line to SL 1-7", "output w wedge from SL 4", 'keep SL.line 1-2 for "guests"'),
            [("note", "SL.mic", "`SL.mic 8` is free"), ("note", "SL.line", "`SL.line 3` is free")],
        ),
        # A cable or a patch uses a socket too.
        (
            ("link L1: DR.tail 1-8 -- SL.mic 1-8", "patch DESK.mix 1-4 -> SL.line 1-4"),
            [],
        ),
        # A sub-box's loose lines, tracks inside a computer and what is wireless are no spare sockets.
        (("source a dynamic to DR 1", "source b playback to PC.play 1"), []),
        (
            ("source a wireless to RX 1", "link L1: RX.line 1-2 -- DESK.local 1-2"),
            [("note", "DESK.local", "`DESK.local 3-4` are free"), ("note", "DESK.out", "`DESK.out 1-2` are free")],
        ),
    ],
)
def test_what_is_free(lines: tuple[str, ...], told: list[tuple[str, str, str]]) -> None:
    assert said(unused_port, stage(*lines)) == told


def test_what_else_is_free_by_option() -> None:
    rig = stage("source a dynamic to DR 1-11", "link C1: SL.A -- DESK.stage 1 via cat6 9 m")
    assert said(unused_port, rig, kinds=("sub-box",)) == [
        ("note", "DR.panel", "`DR.panel 12` is free"),
    ]
    assert said(unused_port, rig, kinds=("stage-box",), roles=("digital",)) == [("note", "SL.B", "`SL.B` is free")]
    assert [
        subject for _, subject, _ in said(unused_port, rig, kinds=("stage-box",), roles=("inputs",), idle_boxes=True)
    ] == [
        "SL.mic",
        "SR.mic",
    ]


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("source k line to SL 1-2",), None),
        (("source k line to SL 2,1",), None),
        (("source k line to SL 1,3",), ("k", "`k` is a stereo pair, and its two sides are apart: `SL.mic 1,3`")),
        (("source k line to SL 1,3 { mono }",), None),
        (
            ("source k line to SL.mic 1, SR.mic 2",),
            ("k", "`k` is a stereo pair, and its two sides are apart: `SL.mic 1, SR.mic 2`"),
        ),
        (("source k line to SL 1,3,5",), None),
        (("source v-1 dynamic to SL 1 { with v-2 }", "source v-2 dynamic to SL 2"), None),
        (
            ("source v-10 dynamic to SL 1 { with v-9 }", "source v-9 dynamic to SR 2"),
            ("v-9", "`v-9` is a stereo pair, and it and `v-10` are apart: `SR.mic 2, SL.mic 1`"),
        ),
        (
            ("source v-1 dynamic to SL 1 { with v-2 }", "source v-2 dynamic to SL 4 { with v-1 }"),
            ("v-1", "`v-1` is a stereo pair, and it and `v-2` are apart: `SL.mic 1,4`"),
        ),
        (("source v-1 dynamic to SL 1 { with v-2 }", "source v-2 dynamic"), None),
    ],
)
def test_left_and_right_side_by_side(lines: tuple[str, ...], told: tuple[str, str] | None) -> None:
    assert said(split_pair, stage(*lines)) == ([("warning", *told)] if told else [])


AIMED = tuple(f"source s{number} dynamic to SL" for number in range(1, 10))


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (AIMED[:8], None),
        (AIMED, "9 more sources are aimed at `SL`, and of its 8 inputs 8 are free"),
        ((*AIMED[:1], "source d line to SL 1-8"), "one more source is aimed at `SL`, and of its 8 inputs none is free"),
        (
            (*AIMED[:2], "link L1: DR.tail 1-7 -- SL.mic 1-7"),
            "2 more sources are aimed at `SL`, and of its 8 inputs one is free",
        ),
        (("source v1 wireless to RX", "source v2 wireless to RX"), None),
        (
            ("source v1 wireless to RX", "source v2 wireless to RX", "source v3 wireless to RX"),
            "3 more sources are aimed at `RX`, and of its 2 inputs 2 are free",
        ),
    ],
)
def test_a_box_has_so_many_inputs(lines: tuple[str, ...], told: str | None) -> None:
    assert [message for _, _, message in said(overbooked, stage(*lines))] == ([told] if told else [])


SEVEN = "source d line to SL 1-7"


@pytest.mark.parametrize(
    ("lines", "options", "told"),
    [
        ((SEVEN,), {}, []),
        ((SEVEN,), {"at": {"SL": 1}}, []),
        ((SEVEN,), {"at": {"SL": 2}}, [("SL", "`SL` has 1 free input (`SL.mic 8`), and 2 are asked for")]),
        ((SEVEN,), {"each_box": 2}, [("SL", "`SL` has 1 free input (`SL.mic 8`), and 2 are asked for")]),
        ((SEVEN,), {"each_box": 2, "at": {"SL": 0}}, []),
        # What is kept is in hand; what is called faulty is not.
        ((SEVEN, 'keep SL.mic 8 for "spare"'), {"at": {"SL": 1}}, []),
        (
            (SEVEN, 'accept unused-port on SL.mic 8 because "no phantom"'),
            {"at": {"SL": 1}},
            [("SL", "`SL` has no free input, and 1 is asked for")],
        ),
        # A zone counts all of its boxes; the lines of a sub-box count as far as they lead on.
        ((), {"each_zone": 12}, [("front", "`front` has 8 free inputs (`SR.mic 1-8`), and 12 are asked for")]),
        (("link L1: DR.tail 1-4 -- SR.mic 1-4",), {"at": {"front": 8}}, []),
        (
            ("link L1: DR.tail 1-4 -- SR.mic 1-4",),
            {"at": {"front": 9}},
            [("front", "`front` has 8 free inputs (`SR.mic 5-8, DR.panel 1-4`), and 9 are asked for")],
        ),
    ],
)
def test_spares_in_hand(lines: tuple[str, ...], options: dict[str, object], told: list[tuple[str, str]]) -> None:
    found = said(too_few_spares, stage(*lines), **options)
    assert found == [("warning", *one) for one in told]


def test_no_free_socket_is_offered_twice() -> None:
    """Whoever does as all the messages say ends with a plug in each socket, and not two in one."""
    sources = findings(unplugged_source, stage("source a dynamic to SL", "source b dynamic to SL", "source c dynamic"))
    assert [finding.help for finding in sources] == [
        "`SL.mic 1` is free: `to SL.mic 1`",
        "`SL.mic 2` is free: `to SL.mic 2`",
        "`SL.mic 3` is free: `to SL.mic 3`",
    ]
    outputs = findings(unplugged_output, stage("output w wedge from SL", "output x wedge from SL"))
    assert [finding.help for finding in outputs] == [
        "`SL.line 1` is free: `from SL.line 1`",
        "`SL.line 2` is free: `from SL.line 2`",
    ]
    plugs = [f"source {name} dynamic to SL {socket}" for name, socket in (("a", 1), ("b", 1), ("c", 2), ("d", 2))]
    assert [finding.help for finding in findings(port_taken, stage(*plugs))] == [
        "`SL.mic 3` is free",
        "`SL.mic 4` is free",
    ]


def test_a_second_source_in_a_socket_is_told_once() -> None:
    """The patches go by name and know only the first: where the second goes is settled once it has a socket."""
    lines = ("source a dynamic to SL 1", "source b dynamic to SL 1", "patch a -> DESK.ch 1")
    assert whole.told(show(*lines)) == ["error port-taken SL.mic 1"]
    assert whole.told(show(lines[0], "source b dynamic to SL 2", lines[2])) == ["error lost-source b"]
