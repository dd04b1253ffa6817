"""Gain and phantom from afar: who can set them, who owns them, and surfaces with their engines."""

from __future__ import annotations

import pytest

from rigdsl_control.no_controller import no_controller
from tests.rules.said import findings
from tests.rules.whole import told, wrong

GEAR = """\
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; topology chain 4 }
protocol brooknet { carries 64 at 48 kHz; over cat5e 100 m; topology network }
model nw16 {
  kind stage-box
  inputs mic 1-16 { preamp; phantom 48 V 10 mA; gain remote }
  digital A, B { protocol fernlink; control fern; chain }
  data ctl { control fern }
}
model mute16 { kind stage-box; inputs mic 1-16 { preamp; gain remote }; digital A, B { protocol fernlink; chain } }
model knob8 {
  kind stage-box
  inputs mic 1-8 { preamp; phantom 48 V 10 mA; gain local, remote }
  digital A { protocol fernlink; control fern }
}
model nb16 {
  kind stage-box
  inputs mic 1-16 { preamp; phantom 48 V 10 mA; gain remote }
  digital net { protocol brooknet; control brook }
}
model fern32 {
  kind console
  channels ch 1-32
  digital stage 1-2 { protocol fernlink; control fern }
  digital net { protocol brooknet; control brook }
  data ctl { control fern }
}
model moss32 {
  kind console
  channels ch 1-32
  digital stage 1-2 { protocol fernlink; control moss }
  digital net { protocol brooknet; control moss, brook }
  data ctl { control fern }
}
model rec32 { kind computer; channels track 1-32; digital in { protocol fernlink } }
model switch8 { kind switch; digital port 1-8 }
zone wing
zone foh
"""


def show(*lines: str) -> str:
    return f'rig "Hall" {{ rate 48 kHz }}\n{GEAR}' + "\n".join(lines)


def boxes(stage: str, desk: str) -> tuple[str, ...]:
    return f"box S is {stage} in wing", f"box D is {desk} in foh"


PLAIN = ("link C01: S.A -- D.stage 1 via cat6 60 m",)
CHAINED = ("box M is {0} in wing", "link C01: S.A -- M.B via cat6 9 m", "link C02: M.A -- D.stage 1 via cat6 60 m")
SWITCHED = (
    "box SW is switch8 in wing",
    "link C01: S.net -- SW.port 1 via cat6 9 m",
    "link C02: D.net -- SW.port 2 via cat6 60 m",
)
VOX = ("source vox dynamic in wing to S.mic 1 via xlr 6 m", "patch S.mic 1 -> D.ch 1")


@pytest.mark.parametrize(
    ("stage", "desk", "links", "told_of"),
    [
        ("nw16", "fern32", PLAIN, []),
        ("nw16", "moss32", PLAIN, ["error control-mismatch S.mic"]),
        ("knob8", "moss32", PLAIN, ["warning control-mismatch S.mic"]),
        ("nb16", "fern32", SWITCHED, []),  # switches carry any dialect
        ("nb16", "moss32", SWITCHED, []),
        # a data path of the dialect will do as well
        ("nw16", "moss32", (*PLAIN, "link N1: S.ctl -- D.ctl via cat6 60 m"), []),
        # chained boxes carry only what both their ports name
        ("nw16", "fern32", tuple(line.format("nw16") for line in CHAINED), []),
        ("nw16", "fern32", tuple(line.format("mute16") for line in CHAINED), ["error control-mismatch S.mic"]),
    ],
)
def test_sound_and_control(stage: str, desk: str, links: tuple[str, ...], told_of: list[str]) -> None:
    assert told(show(*boxes(stage, desk), *links, *VOX)) == told_of


def test_control_mismatch_lists_preamps_and_sources_and_who_is_left_without_phantom() -> None:
    sources = (
        "source vox dynamic in wing to S.mic 1 via xlr 6 m",
        "source oh-l condenser in wing to S.mic 2 via xlr 6 m",
        "source oh-r condenser in wing to S.mic 3 via xlr 6 m",
        "patch S.mic 1-4 -> D.ch 1-4",
    )
    (finding,) = wrong(show(*boxes("nw16", "moss32"), *PLAIN, *sources))
    assert finding.subject == "S.mic"
    assert finding.ports == ("S.mic 1", "S.mic 2", "S.mic 3", "S.mic 4")
    assert finding.consequence == (
        "sound arrives, and gain and phantom do not move for `vox`, `oh-l`, `oh-r`; "
        "without phantom `oh-l`, `oh-r` stay silent"
    )
    assert finding.help == "join `S.ctl` and `D.ctl`, straight or over a switch"


def test_an_accepted_preamp_is_taken_out_of_the_words() -> None:
    lines = (*boxes("nw16", "moss32"), *PLAIN, "patch S.mic 1-4 -> D.ch 1-4")
    (finding,) = wrong(show(*lines, 'accept control-mismatch on S.mic 2-3 because "set by hand"'))
    assert finding.ports == ("S.mic 1", "S.mic 4")
    assert "`S.mic 1,4`" in finding.message
    assert told(show(*lines, 'accept control-mismatch on S.mic because "set by hand"')) == []


def test_a_condenser_makes_it_an_error_though_there_are_knobs() -> None:
    lines = (*boxes("knob8", "moss32"), *PLAIN, *VOX)
    (finding,) = wrong(show(*lines))
    assert finding.help == "set gain at `S` itself before the show, and agree on who turns it"
    condenser = show(*lines).replace("vox dynamic", "vox condenser")
    assert told(condenser) == ["error control-mismatch S.mic"]


@pytest.mark.parametrize(
    ("line", "told_of"),
    [
        ("", ["warning two-controllers S.mic"]),
        ("control S.mic 1 by D", []),
        ("control S.mic 1 by M", ["error control-mismatch S.mic"]),  # the one that does not speak it
        ("control S.mic 2-16 by D", ["warning two-controllers S.mic"]),  # not about the one that is shared
    ],
)
def test_two_desks_on_one_preamp(line: str, told_of: list[str]) -> None:
    lines = (
        *boxes("nw16", "fern32"),
        *PLAIN,
        "box M is moss32 in wing",
        "link C02: S.B -- M.stage 1 via cat6 9 m",
        "patch S.mic 1 -> M.ch 1",
        "clock D",
    )
    assert told(show(*lines, *VOX, line)) == told_of


def test_two_controllers_names_both_and_one_way_out() -> None:
    lines = (
        *boxes("nw16", "fern32"),
        *PLAIN,
        "box M is fern32 in wing",
        "link C02: S.B -- M.stage 1 via cat6 9 m",
        "patch S.mic 1 -> M.ch 1",
        "clock D",
    )
    (finding,) = wrong(show(*lines, *VOX))
    assert finding.message == "`D` and `M` are patched from `S.mic 1`, and no line says whose gain it is"
    assert finding.help == "agree on one owner, as in `control S.mic 1 by D`; the other trims digitally"


def test_two_controllers_names_only_desks_that_take_the_shared_preamps() -> None:
    lines = (
        *boxes("nw16", "fern32"),
        *PLAIN,
        "box M is fern32 in wing",
        "box B is fern32 in wing",
        "link C02: S.B -- M.stage 1 via cat6 9 m",
        "link C03: D.net -- M.net via cat6 60 m",
        "link C04: D.stage 2 -- B.stage 1 via cat6 60 m",
        "patch S.mic 1-2 -> M.ch 1-2",
        "patch S.mic 3 -> B.ch 3",
        "clock D",
    )
    found = [item for item in wrong(show(*lines, *VOX)) if item.rule == "two-controllers"]
    assert [item.message for item in found] == [
        "`D` and `M` are patched from `S.mic 1`, and no line says whose gain it is"
    ]
    assert [item.message for item in found[0].related] == ["`D` takes them too", "`M` takes them too"]


def test_a_box_between_that_speaks_no_dialect_is_named() -> None:
    lines = (*boxes("nw16", "fern32"), *(line.format("mute16") for line in CHAINED), *VOX)
    (finding,) = wrong(show(*lines).replace("  data ctl { control fern }\n", ""))
    assert finding.message.endswith("both speak `fern`, and `M` between them does not take it on")
    assert finding.help == (
        "bring `S` to a port of its own on `D`, such as `D.stage 2`, "
        "or put gear in the place of `M` that takes `fern` on"
    )


@pytest.mark.parametrize(
    ("more", "way_out"),
    [
        ((), "join `S.ctl` and `D.ctl`, straight or over a switch"),
        (
            ("box X is nw16 in wing", "link N1: X.ctl -- D.ctl via cat6 60 m"),
            "join `S.ctl` and `D.ctl`, over a switch; `D.ctl` has a cable already",
        ),
    ],
)
def test_a_data_port_that_is_taken_is_reached_over_a_switch(more: tuple[str, ...], way_out: str) -> None:
    (finding,) = wrong(show(*boxes("nw16", "moss32"), *PLAIN, *VOX, *more))
    assert finding.help == way_out


@pytest.mark.parametrize(
    ("owner", "way_out"),
    [
        ("model tab { kind computer; data air { wireless; control moss } }", "or name an owner that speaks `fern`"),
        (
            "model tab { kind computer; data air { wireless; control fern } }",
            "name a desk as owner that speaks `fern` and that they are patched to",
        ),
        (
            "model tab { kind console; channels ch 1-8; inputs in 1-8 { preamp }; data c { control moss } }",
            "or bring these sources to preamps of `T`",
        ),
    ],
)
def test_sources_are_only_sent_to_boxes_with_preamps(owner: str, way_out: str) -> None:
    lines = ("box S is nw16 in wing", *RECORDER, owner, "box T is tab in wing", "control S.mic 1-2 by T")
    (finding,) = wrong(show(*lines))
    assert finding.rule == "control-mismatch"
    assert finding.help.endswith(way_out)


def test_another_desk_is_named_as_owner_of_these_preamps_alone() -> None:
    lines = (
        *boxes("nw16", "moss32"),
        *PLAIN,
        "box M is fern32 in wing",
        "link C02: S.B -- M.stage 1 via cat6 9 m",
        "patch S.mic 1-2 -> M.ch 1-2",
        "control S.mic 1 by D",
        "clock D",
        "clock D",
    )
    (finding,) = wrong(show(*lines, *VOX).replace("  data ctl { control fern }\n", ""))
    assert finding.help == "`M` can set them: `control S.mic 1 by M`"


CARDS = """\
model host { kind console; channels ch 1-32; digital stage { protocol fernlink; control brook }; slot opt takes c }
model plain { kind card; fits c; digital net { protocol brooknet } }
model full { kind card; fits c; digital net { protocol brooknet; control brook } }
"""


def two_desks(card: str, *lines: str) -> str:
    """A box on a network with two desks, by a card each: that of D carries no commands."""
    return show(
        CARDS,
        *("box D is host in foh", "box M is host in wing", "box DC is plain in D.opt", f"box MC is {card} in M.opt"),
        *("box S is nb16 in wing", "box SW is switch8 in wing"),
        "link C01: S.net -- SW.port 1 via cat6 9 m",
        "link C02: DC.net -- SW.port 2 via cat6 60 m",
        "link C03: MC.net -- SW.port 3 via cat6 9 m",
        *("patch S.mic 1 -> D.ch 1", "patch S.mic 1 -> M.ch 1", "source k dynamic in wing to S 1 via xlr 6 m"),
        "clock D",
        *lines,
    )


@pytest.mark.parametrize(
    ("card", "owner", "rule", "way_out"),
    [
        ("plain", "D", "control-mismatch", "take a card or port at `D` and `S` that carries `brook` with the sound"),
        ("plain", "M", "control-mismatch", "take a card or port at `M` and `S` that carries `brook` with the sound"),
        ("full", "D", "control-mismatch", "`M` can set them: `control S.mic 1 by M`"),
        (
            "plain",
            "",
            "two-controllers",
            "`D` and `M` cannot set them: carry control of `S` to one of them, and name that one as owner",
        ),
        # D comes first, and could not set them
        ("full", "", "two-controllers", "agree on one owner, as in `control S.mic 1 by M`; the other trims digitally"),
    ],
)
def test_only_a_desk_that_can_set_them_is_named_as_owner(card: str, owner: str, rule: str, way_out: str) -> None:
    (finding,) = wrong(two_desks(card, *([f"control S.mic 1 by {owner}"] if owner else [])))
    assert (finding.rule, finding.help) == (rule, way_out)


RECORDER = ("box R is rec32 in wing", "link C01: S.A -- R.in via cat6 9 m", "patch S.mic 1-2 -> R.track 1-2")


@pytest.mark.parametrize(
    ("stage", "more", "told_of"),
    [
        ("nw16", (), ["warning no-controller S.mic"]),
        ("knob8", (), []),  # gain is set at the box
        # one of them goes to a desk too: the other is still nobody's
        (
            "nw16",
            ("box D is fern32 in foh", "link C02: S.B -- D.stage 1 via cat6 60 m", "patch S.mic 1 -> D.ch 1"),
            ["warning no-controller S.mic"],
        ),
        ("nw16", ("control S.mic 1-2 by R",), ["error control-mismatch S.mic"]),
    ],
)
def test_straight_into_a_computer(stage: str, more: tuple[str, ...], told_of: list[str]) -> None:
    assert told(show(f"box S is {stage} in wing", *RECORDER, *more)) == told_of


def test_no_controller_is_about_those_alone_that_no_desk_takes() -> None:
    more = ("box D is fern32 in foh", "link C02: S.B -- D.stage 1 via cat6 60 m", "patch S.mic 1 -> D.ch 1")
    (finding,) = findings(no_controller, show("box S is nw16 in wing", *RECORDER, *more))
    assert finding.message == "`S.mic 2` goes to no desk (console) or engine that could set gain and phantom"


def test_nothing_is_said_of_preamps_whose_sound_does_not_arrive() -> None:
    far = ("link C01: S.A -- D.stage 1 via cat6 160 m",)
    assert told(show(*boxes("nw16", "moss32"), *far, *VOX)) == ["error run-too-long C01"]
    assert told(show(*boxes("nw16", "moss32"), *PLAIN)) == []


STEERED = (
    "model deck { kind surface; data ctl 1-2 }",
    "model core { kind engine; channels ch 1-32; mixes mix 1-16; data ctl 1-2; data air { wireless } }",
    "model pad { kind computer; data air { wireless } }",
    "model tab { kind surface; data air { wireless } }",
    "model mixer { kind console; channels ch 1-8; data air { wireless } }",
)


@pytest.mark.parametrize(
    ("lines", "told_of"),
    [
        (("box DECK is deck in foh",), ["error surface-alone DECK"]),
        (("box CORE is core in wing",), ["warning surface-alone CORE"]),
        (("box DECK is deck in foh; box CORE is core in wing",), ["error surface-alone DECK"]),
        (("box DECK is deck in foh; box CORE is core in wing", "link N1: DECK.ctl 1 -- CORE.ctl 1 via cat6 60 m"), []),
        (
            (
                "box DECK is deck in foh; box CORE is core in wing; box SW is switch8 in wing",
                "link N1: DECK.ctl 1 -- SW.port 1 via cat6 60 m",
                "link N2: CORE.ctl 1 -- SW.port 2 via cat6 2 m",
            ),
            [],
        ),
        (
            (
                "box CORE is core in wing; box SW is switch8 in wing",
                "link N2: CORE.ctl 1 -- SW.port 2 via cat6 2 m",
            ),
            ["warning surface-alone CORE"],
        ),
        (("box CORE is core in wing; box PAD is pad in foh", "link PAD.air -- CORE.air"), []),
        # a tablet steers a desk, by cable or over the air
        (("box DECK is deck in foh; box D is fern32 in foh", "link N1: DECK.ctl 1 -- D.ctl via cat6 9 m"), []),
        (("box TAB is tab in foh; box M is mixer in foh", "link TAB.air -- M.air"), []),
        (("box TAB is tab in foh; box M is mixer in foh",), ["error surface-alone TAB"]),
    ],
)
def test_surfaces_and_engines(lines: tuple[str, ...], told_of: list[str]) -> None:
    assert told(show(*STEERED, *lines)) == told_of


def test_a_lone_surface_names_the_engine_it_could_steer() -> None:
    (finding,) = wrong(show(*STEERED, "box DECK is deck in foh; box CORE is core in wing"))
    assert finding.help == "join it to its engine, such as `CORE`, over their data ports or the show's switch"


def test_what_stops_the_sound_to_the_owner_is_told_alone() -> None:
    """The owner's cable is too long, and another desk still hears the preamp: no command arrives for the same cause."""
    lines = (
        *boxes("nw16", "fern32"),
        "box M is fern32 in wing",
        "link C01: S.A -- D.stage 1 via cat6 {0} m",
        "link C02: S.B -- M.stage 1 via cat6 9 m",
        *VOX,
        "patch S.mic 1 -> M.ch 1",
        "control S.mic 1 by D",
        "clock D",
    )
    assert told(show(*(line.format(60) for line in lines))) == []
    assert told(show(*(line.format(160) for line in lines))) == ["error run-too-long C01"]
