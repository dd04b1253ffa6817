"""What stands between a desk and a box or is fitted in one: bridges, cards, surfaces, plain wire."""

from __future__ import annotations

import pytest

from rigdsl.finding import Level
from rigdsl.plan.match import DESKS, STAGE_BOXES, matched, of_kinds, surface_words
from tests.plan.gear import BOX, DESK, ENGINE, PLOVER, PROTOCOLS, gear, pair, verdict
from tests.rules.whole import wrong

BRIDGE = """\
model br {
  kind bridge
  digital L { protocol plover; %s }; digital M { protocol moss; %s }
  bridge L -> M { channels 8 }
}
"""


@pytest.mark.parametrize(
    ("control", "gain"),
    [
        ("control lark", ", and the desk sets gain and phantom"),
        ("connector rj45", "; gain and phantom stay at the box"),
    ],
)
def test_a_bridge_between(control: str, gain: str) -> None:
    found = pair(
        BOX % "digital A { protocol plover; control lark }",
        DESK % "digital stage { protocol moss; control lark }",
        BRIDGE % (control, control),
    )
    assert (found.audio, found.way_out) == (False, "bridge")
    assert found.outs == (
        f"with the bridge `br` between, `plover` to the box and `moss` to the desk, 8 channels each way, "
        f"sound passes{gain}",
    )


CARD = "model tn64 { kind card; fits my64; digital pri { protocol plover; control lark } }"
BRINGS = "of the desk sound passes over `plover`, and the desk sets gain and phantom"


@pytest.mark.parametrize(
    ("desk_port", "audio", "outs"),
    [
        ("digital stage { protocol moss }", False, (f"with the card `tn64` in slot `opt` {BRINGS}",)),
        ("digital stage { protocol plover }", True, (f"with the card `tn64` in slot `opt` {BRINGS}",)),
        ("digital stage { protocol plover; control lark }", True, ()),  # it needs none
        ("data net", False, (f"with the card `tn64` in slot `opt` {BRINGS}",)),
    ],
)
@pytest.mark.parametrize("takes", ["my64", "tn64"])
def test_a_card_in_a_slot(desk_port: str, audio: bool, outs: tuple[str, ...], takes: str) -> None:
    """A slot takes cards of a form, or a card by its name."""
    box = BOX % "digital A { protocol plover; control lark }"
    found = pair(box, DESK % f"slot opt 1-2 takes {takes}; {desk_port}", CARD)
    assert (found.audio, found.outs) == (audio, outs)


def test_a_card_in_a_slot_of_the_box() -> None:
    found = pair(BOX % "slot bay takes my64", DESK % "digital stage { protocol plover; control lark }", CARD)
    assert found.wrong == (
        "the box has no digital port of its own: what it speaks hangs on the card in its slot `bay`",
    )
    assert found.outs == (
        "with the card `tn64` in slot `bay` of the box sound passes over `plover`, and the desk sets gain and phantom",
    )


@pytest.mark.parametrize(("control", "errors"), [("lark", []), ("thrush", ["control-mismatch"])])
def test_a_rig_with_that_card_has_the_faults_that_were_foretold(control: str, errors: list[str]) -> None:
    box = BOX % "digital A { protocol plover; control lark }"
    card = CARD.replace("control lark", f"control {control}")
    desk = DESK % "slot opt 1-2 takes my64; digital stage { protocol moss }"
    found = pair(box, desk, card)
    assert found.outs[0].endswith("the desk sets gain and phantom") == (not errors)
    rig = (
        'rig "Hall" { rate 48 kHz }',
        PROTOCOLS + "\n".join((box, desk, card)),
        "box BOX is box\nbox DESK is desk\nbox CARD is tn64 in DESK.opt 1",
        "link C01: BOX.A -- CARD.pri via cat6 60 m\npatch BOX.mic 1 -> DESK.ch 1",
    )
    assert [finding.rule for finding in wrong("\n".join(rig)) if finding.level == Level.ERROR] == errors


# ---- engines, surfaces, order


@pytest.mark.parametrize(
    ("surface", "says"),
    [
        (
            "model face { kind surface; data net { control lark } }",
            "the desk is an engine, a mixing core with 12 inputs of its own: `face` steers it",
        ),
        (
            "model face { kind surface; data net { control thrush } }",
            "the desk is an engine, a mixing core with 12 inputs of its own: no surface here steers it",
        ),
    ],
)
def test_an_engine_needs_hands(surface: str, says: str) -> None:
    found = pair(BOX % PLOVER, ENGINE % "digital stage { protocol plover; control lark }", surface)
    assert says in found.heed


def test_a_surface_is_no_desk() -> None:
    rig = gear(
        ENGINE % "data net { control lark }",
        "model face { kind surface; data net { control lark } }",
        "model mute { kind surface; data net }",
        "model lone { kind surface; data net { control thrush } }",
    )
    plain = "is a surface and no desk: it carries no sound, and steers an engine"
    assert [surface_words(rig.models.values(), rig.models[name]) for name in ("face", "mute", "lone")] == [
        f"`face` {plain}; the engine for it is `desk`",
        f"`mute` {plain}; which one it does not say",
        f"`lone` {plain}; no engine here speaks `thrush`",
    ]


def test_a_box_of_plain_wire_goes_into_the_inputs_of_any_desk() -> None:
    box = "model box { kind stage-box; inputs in 1-8; outputs tail 1-8; pass in -> tail }"
    found = pair(box, DESK % "pass local 1-12 -> ch 1-12")
    assert verdict(found) == (True, None, None)
    assert found.works


def test_a_box_of_outputs_only_wants_to_hear_the_desk() -> None:
    box = "model box { kind stage-box; outputs line 1-8; digital A { protocol moss } }"
    found = pair(box, DESK % "digital stage { protocol moss }")
    assert verdict(found) == (True, True, None)
    assert found.works


def test_every_desk_with_every_box_in_natural_order() -> None:
    names = [f"model {kind[:4]}{n} {{ kind {kind}; data net }}" for kind in (*DESKS, "stage-box") for n in (10, 2)]
    rig = gear(*names)
    models = rig.models.values()
    found = matched(rig, of_kinds(models, DESKS), of_kinds(models, STAGE_BOXES))
    assert [(one.desk.name, one.box.name) for one in found] == [
        (desk, box) for desk in ("comp2", "comp10", "cons2", "cons10", "engi2", "engi10") for box in ("stag2", "stag10")
    ]
