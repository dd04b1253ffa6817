"""What arrives and what does not: lost sources, silent outputs, empty and doubly patched channels, dead ends."""

from __future__ import annotations

import pytest

from rigdsl_ports.channel_taken import channel_taken
from rigdsl_ports.dead_end_line import dead_end_line
from rigdsl_ports.empty_channel import empty_channel
from rigdsl_ports.lost_source import lost_source
from rigdsl_ports.not_repeated import not_repeated
from rigdsl_ports.silent_output import silent_output
from tests.rules.said import findings, said
from tests.rules.shows import show


@pytest.mark.parametrize(
    "lines",
    [
        ("source a dynamic to SL 1", "patch SL.mic 1 -> DESK.ch 1"),
        ("source a dynamic to SL 1", "patch a -> DESK.ch 1"),
        ("source a dynamic to DESK 1", "patch DESK.local 1 -> DESK.ch 1"),
        ("source a line to SL 1-2", "patch a -> DESK.ch 1-2"),
        # A talkback needs no channel; one without a socket is told elsewhere.
        ("source a talkback to SL 1",),
        ("source a dynamic",),
        # Straight to an output.
        ("source a dynamic to SL 1", "output w wedge from SL 1", "patch SL.mic 1 -> SL.line 1"),
    ],
)
def test_a_source_that_arrives(lines: tuple[str, ...]) -> None:
    assert said(lost_source, show(*lines)) == []


@pytest.mark.parametrize(
    ("lines", "where", "help_"),
    [
        (("source a dynamic to SL 3",), "SL.mic 3", "patch it: `patch SL.mic 3 -> DESK.ch 1`"),
        (
            ("source a line to SL 1-2", "patch SL.mic 1 -> DESK.ch 1"),
            "SL.mic 2",
            "patch it: `patch SL.mic 2 -> DESK.ch 2`",
        ),
        (("source a dynamic to DR 5",), "DR.tail 5", "go on from `DR.tail 5` with a `link`, or plug an output in"),
        (
            ("link L1: DR.tail 5 -- SL.mic 9 via xlr 5 m", "source a dynamic to DR 5"),
            "SL.mic 9",
            "patch it: `patch SL.mic 9 -> DESK.ch 1`",
        ),
    ],
)
def test_a_source_is_lost_where_its_path_stops(lines: tuple[str, ...], where: str, help_: str) -> None:
    (finding,) = findings(lost_source, show(*lines))
    assert finding.subject == "a"
    assert finding.message.startswith(f"`a` gets as far as `{where}`")
    assert finding.help == help_
    assert finding.silent == ("a",)


@pytest.mark.parametrize(
    "trunk",
    [
        "link C01: SL.A -- DESK.moss via cat6 60 m",  # two protocols
        "link C01: SL.A -- DESK.stage 1 via cat6 160 m",  # too long
        "link C01: DR.tail 9 -- DESK.local 1 via xlr 1 m",  # no trunk at all: the patch is lost
    ],
)
def test_what_a_cable_or_patch_silences_is_told_there(trunk: str) -> None:
    rig = show(
        trunk,
        "source a dynamic to SL 1",
        "patch SL.mic 1 -> DESK.ch 1",
        "output w wedge from SL 1",
        "patch DESK.mix 1 -> w",
    )
    assert said(lost_source, rig) == []
    assert said(silent_output, rig) == []


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("source a dynamic to SL 1", "patch SL.mic 1 -> DESK.ch 1"), []),
        (
            ("source a dynamic to SL 1", "patch SL.mic 1-4 -> DESK.ch 1-4"),
            [("note", "DESK.ch", "`DESK.ch 2-4` wait for `SL.mic 2-4`, and no source is plugged in there")],
        ),
        (
            ("source a dynamic to SL 1", "patch SL.mic 1-2 -> DESK.ch 1-2"),
            [("note", "DESK.ch", "`DESK.ch 2` waits for `SL.mic 2`, and no source is plugged in there")],
        ),
        (("patch SL.mic 2-4 -> DESK.ch 2-4", 'keep SL.mic 2-4 for "guests"'), []),
        (("patch SL.mic 2-4 -> DESK.ch 2-4", 'keep DESK.ch 2-4 for "guests"'), []),
        # Through the sub-box a source arrives.
        (
            ("link L1: DR.tail 1-2 -- SL.mic 1-2", "source a dynamic to DR 1", "patch SL.mic 1-2 -> DESK.ch 1-2"),
            [("note", "DESK.ch", "`DESK.ch 2` waits for `SL.mic 2`, and no source is plugged in there")],
        ),
        # A receiver passes on what it hears: nothing on its second line.
        (
            (
                "box RX is rx2",
                "link L1: RX.line 1-2 -- SL.mic 1-2",
                "source a wireless to RX 1",
                "patch SL.mic 1-2 -> DESK.ch 1-2",
            ),
            [("note", "DESK.ch", "`DESK.ch 2` waits for `SL.mic 2`, and no source is plugged in there")],
        ),
        # A source without a socket yet may be the one that is missing.
        (("source a dynamic to SL", "patch SL.mic 1 -> DESK.ch 1"), []),
        (
            ("link L1: DR.tail 1-2 -- SL.mic 1-2", "source a dynamic to DR", "patch SL.mic 2-3 -> DESK.ch 2-3"),
            [("note", "DESK.ch", "`DESK.ch 3` waits for `SL.mic 3`, and no source is plugged in there")],
        ),
        # An output of another desk is as good as a source; a mix and a direct out have no socket to look at.
        (("box MON is desk", "link L1: MON.out 1 -- SL.mic 1", "patch SL.mic 1 -> DESK.ch 1"), []),
        (("box REC is rec", "link C2: REC.net -- DESK.stage 2 via cat6 2 m", "patch DESK.ch 1-8 -> REC.track 1-8"), []),
    ],
)
def test_channels_that_wait(lines: tuple[str, ...], told: list[tuple[str, str, str]]) -> None:
    assert said(empty_channel, show(*lines)) == told


def test_an_empty_channel_whose_patch_does_not_work_is_told_by_that() -> None:
    rig = show("link C01: SL.A -- DESK.moss via cat6 60 m", "patch SL.mic 1-4 -> DESK.ch 1-4")
    assert said(empty_channel, rig) == []


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("patch SL.mic 1-2 -> DESK.ch 1-2",), []),
        (
            ("patch SL.mic 1-2 -> DESK.ch 1-2", "patch SL.mic 3 -> DESK.ch 2"),
            [("DESK.ch 2", "`DESK.ch 2` is patched more than once: from `SL.mic 2`, `SL.mic 3`")],
        ),
        (
            ("patch SL.mic 1 -> DESK.ch 2", "patch SL.mic 1 -> DESK.ch 2"),
            [("DESK.ch 2", "`DESK.ch 2` is patched more than once: from `SL.mic 1` twice")],
        ),
        # One input may feed many.
        (("patch SL.mic 1 -> DESK.ch 1", "patch SL.mic 1 -> DESK.ch 2"), []),
        # An output by its name, and by its socket.
        (
            ("output w wedge from SL 1", "patch DESK.mix 1 -> w", "patch DESK.mix 2 -> SL.line 1"),
            [("SL.line 1", "`SL.line 1` is patched more than once: from `DESK.mix 1`, `DESK.mix 2`")],
        ),
    ],
)
def test_one_channel_one_patch(lines: tuple[str, ...], told: list[tuple[str, str]]) -> None:
    assert said(channel_taken, show(*lines)) == [("error", *one) for one in told]


IN_EARS = (
    "model iem1 { kind monitor-sender; inputs in 1-2; outputs air 1-2 { wireless }; pass in -> air }",
    "box TX is iem1",
    "link L1: SL.line 3-4 -- TX.in 1-2 via xlr 5 m",
    "output a in-ear from TX 1-2",
    "output b in-ear from TX 1-2",
)


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        # Two who hear one sender, each with the mix by name.
        (("patch DESK.mix 1-2 -> a", "patch DESK.mix 1-2 -> b"), []),
        (("patch DESK.mix 1-2 -> a", "patch DESK.mix 3-4 -> b"), ["SL.line 3", "SL.line 4"]),
        (("patch DESK.mix 1-2 -> a", "patch DESK.mix 1,3 -> b"), ["SL.line 4"]),
        (("patch DESK.mix 1-2 -> a", "patch DESK.mix 1-2 -> a"), ["SL.line 3", "SL.line 4"]),
        (("patch DESK.mix 1-2 -> a", "patch DESK.mix 1-2 -> SL.line 3-4"), ["SL.line 3", "SL.line 4"]),
    ],
)
def test_one_sender_one_mix(lines: tuple[str, ...], told: list[str]) -> None:
    rig = show(*IN_EARS, *lines)
    assert [subject for _, subject, _ in said(channel_taken, rig)] == told
    assert said(silent_output, rig) == []


def test_a_taken_channel_names_a_free_one() -> None:
    (finding,) = findings(channel_taken, show("patch SL.mic 1-2 -> DESK.ch 1-2", "patch SL.mic 3 -> DESK.ch 2"))
    assert finding.help == "take one of the patches out, or use `DESK.ch 3`, which is free"
    assert finding.place.text.startswith("patch SL.mic 3")
    assert [item.place.text for item in finding.related] == ["patch SL.mic 1-2 -> DESK.ch 1-2"]


TIES = ("box TA is tie", "box TB is tie")


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        # A sub-box on its loom, and nobody plugged in yet.
        (
            ("link L1: DR.tail 1-12 -- SL.mic 1-12 via xlr 5 m",),
            ["`L1` goes into `DR.tail 1-12`, and nothing is plugged in at `DR.panel 1-12`"],
        ),
        # One line of it in use: the others are spares.
        (("link L1: DR.tail 1-12 -- SL.mic 1-12 via xlr 5 m", "source a dynamic to DR 1"), []),
        # A source that is to go there and has no socket yet is told for itself.
        (("link L1: DR.tail 1-12 -- SL.mic 1-12 via xlr 5 m", "source a dynamic to DR"), []),
        (("link L1: DR.tail 1-12 -- SL.mic 1-12 via xlr 5 m", 'keep DR.panel 1-12 for "support act"'), []),
        # A source hangs on the line: that is a lost source.
        (
            (*TIES, "source a dynamic to TA 1", "link L1: TA.back 1-4 -- TB.face 1-4 via xlr 9 m"),
            [],
        ),
        # The house's tie line that nobody uses tonight.
        ((*TIES, "link L1: TA.back 1-4 -- TB.face 1-4 via xlr 9 m"), []),
        (
            (*TIES, "link L1: SL.line 1 -- TA.face 1 via xlr 2 m", "link L2: TA.back 1-4 -- TB.face 1-4 via xlr 9 m"),
            ["`L2` goes into `TB.face 1-4`, and nothing is plugged in at `TB.back 1-4`"],
        ),
        # A loudspeaker that links nothing on is where the sound comes out.
        (("box T1 is top8", "link L1: SL.line 1 -- T1.in via xlr 5 m"), []),
        (
            ("box NP is net", "link C2: DESK.stage 2 -- NP.rear 3 via cat6 30 m"),
            ["`C2` goes into `NP.rear 3`, and nothing is plugged in at `NP.front 3`"],
        ),
    ],
)
def test_lines_that_end_in_a_box(lines: tuple[str, ...], told: list[str]) -> None:
    assert [message for _, _, message in said(dead_end_line, show(*lines))] == told


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        # What ends open at a panel, where a patch waits for it: that patch is lost.
        (("patch SL.mic 1 -> DESK.ch 1",), []),
        (("patch DESK.mix 1 -> SL.line 1",), []),
        (("box SR is nw16", "link C3: SR.B -- SL.B", "patch SR.mic 1 -> DESK.ch 1"), []),
        # Where no patch waits for it, nothing else tells it.
        ((), ["NP.front"]),
        (("link C3: SL.B -- DESK.stage 1", "patch SL.mic 1 -> DESK.ch 1"), ["NP.front"]),
    ],
)
def test_a_run_that_ends_open_is_told_by_the_lost_patch(lines: tuple[str, ...], told: list[str]) -> None:
    # The panel is patched at the wrong number: 1 at the one side, 2 at the other.
    rig = show("link C01: SL.A -- NP.front 1 via cat6 3 m", "box NP is net", *lines).replace(
        "digital A { protocol fernlink }", "digital A, B { protocol fernlink; chain }"
    )
    assert [subject for _, subject, _ in said(dead_end_line, rig)] == told


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        # The house line between the two panels is missing: the surface is alone, which is told.
        ((), []),
        # It has another way to its engine, so nothing else tells it.
        (("link N3: SURF.ctl 2 -- CORE.ctl 2",), ["NP.front", "FP.front"]),
    ],
)
def test_a_control_line_that_ends_open_is_told_by_the_surface_alone(lines: tuple[str, ...], told: list[str]) -> None:
    gear = ("model core { kind engine; data ctl 1-2 }", "model deck { kind surface; data ctl 1-2 }")
    boxes = ("box NP is net", "box FP is net", "box CORE is core", "box SURF is deck")
    links = ("link N1: SURF.ctl 1 -- NP.front 1 via cat6 3 m", "link N2: CORE.ctl 1 -- FP.front 1 via cat6 3 m")
    assert [subject for _, subject, _ in said(dead_end_line, show(*gear, *boxes, *links, *lines))] == told


def test_two_cables_into_one_group_are_one_finding() -> None:
    (finding,) = findings(
        dead_end_line,
        show("link L1: DR.tail 1-4 -- SL.mic 1-4 via xlr 5 m", "link L2: DR.tail 5-8 -- SL.mic 5-8 via xlr 5 m"),
    )
    assert finding.subject == "DR.tail"
    assert finding.ports == tuple(f"DR.tail {number}" for number in range(1, 9))
    assert [item.message for item in finding.related] == ["`L2` goes in here too"]


TWO_DESKS = (
    "box SP is split4",
    "box MON is desk",
    "source a dynamic to SP 1",
    "source b dynamic to SP 2",
    "link L1: SP.a 1-2 -- DESK.local 1-2 via xlr 20 m",
    "patch DESK.local 1-2 -> DESK.ch 1-2",
)


@pytest.mark.parametrize(
    ("lines", "options", "told"),
    [
        (("link L2: SP.b 1-2 -- MON.local 1-2 via xlr 2 m", "patch MON.local 1-2 -> MON.ch 1-2"), {}, []),
        (
            ("link L2: SP.b 1 -- MON.local 1 via xlr 2 m", "patch MON.local 1 -> MON.ch 1"),
            {},
            [("note", "b", "`b` does not reach `MON`")],
        ),
        (
            ("link L2: SP.b 1 -- MON.local 1 via xlr 2 m", "patch MON.local 1 -> MON.ch 1"),
            {"desks": ("DESK",)},
            [],
        ),
        # What reaches no desk at all is lost, and that is told.
        (
            (
                "link L2: SP.b 1-2 -- MON.local 1-2 via xlr 2 m",
                "patch MON.local 1-2 -> MON.ch 1-2",
                "source c dynamic to SP 3",
            ),
            {},
            [],
        ),
    ],
)
def test_what_one_desk_has_and_another_has_not(
    lines: tuple[str, ...], options: dict[str, object], told: list[tuple[str, str, str]]
) -> None:
    assert said(not_repeated, show(*TWO_DESKS, *lines), **options) == told


def test_what_hangs_on_an_analogue_line_in_a_digital_port_is_told_there() -> None:
    rig = show("link L9: DR.tail 1 -- DESK.stage 2 via xlr 5 m", "source a dynamic to DR 1", "source b dynamic to DR 2")
    assert [subject for _, subject, _ in said(lost_source, rig)] == ["b"]
