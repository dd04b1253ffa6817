"""What a change means: the edit, and what is said of it."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.lint.order import worst_first
from rigdsl.review import Review, review
from rigdsl.review.items import items_of
from rigdsl.review.review import Side
from rigdsl.show import load
from tests.review.made import STAGE, compared, side, told

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/shows/*.rig"))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("", "# a remark\n", []),
        ("source kick", "\n\nsource kick", []),
        ("via xlr 3 m\nsource snare", "via xlr 300 cm\nsource snare", []),
        ("-> DESK.ch 3\n", "-> DESK.ch 5\n", [
            "removed patch DESK.ch 3",
            "added patch DESK.ch 5 > vox: now on DESK.ch 5, was DESK.ch 3",
        ]),
        ("to SL 2 via", "to SL 4 via", ["moved source snare"]),
        ("snare", "sn", ["renamed source sn"]),
        ('"Snare"', '"Snare top"', ["changed source snare"]),
        ("to SL 2 via xlr 3 m", "to SL 2 via xlr 5 m", ["changed source snare"]),
        ("to SL 2 via", "to SR 2 via", [
            "moved source snare > snare now passes SR > C02 carries 2 of 40, was 1",
        ]),
        ("via c6 30 m", "via c6 150 m", [
            "changed link C01 > kick: silent, was on DESK.ch 1 > snare: silent, was on DESK.ch 2"
            " > vox: silent, was on DESK.ch 3 > wdg: silent, was fed from DESK.mix 1"
            " > C02 carries 0 of 40, was 1"
            " > no digital way out of DESK where there was one > one digital way out of SL where there were 2",
        ]),
        ("SL \"Left rack\" is nw8", "SL \"Left rack\" is nw16", ["changed box SL"]),
        ("at (-4, 0) m", "at (-6, 0) m", ["moved zone right > cable of C02: 11 m, was 9 m"]),
        ("latency 1 ms", "latency 3 ms", ["changed model desk > wdg: 3 ms after its source, was 1 ms"]),
        ("weight 4 kg; inputs", "weight 5 kg; inputs", ["changed model nw8"]),
        ("source vox \"Vocal\" condenser", "source vox \"Vocal\" dynamic", [
            "changed source vox > SR.mic 1: phantom off",
        ]),
    ],
)  # fmt: skip
def test_an_edit_and_what_it_means(old: str, new: str, said: list[str]) -> None:
    assert old in STAGE
    assert told(compared(STAGE, STAGE.replace(old, new) if old else new + STAGE)) == said


KEYS = """\
cable thin { medium analogue; capacitance 110 pF/m }
source keys "Keys" line in left to SL 3 via thin 2 m { impedance 600 ohm }
"""


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        # 10 log10(1 + (2 pi f Z C)^2), Z 600 ohm, f 20 kHz: 60 m are 6.6 nF, 1.0 dB; 2 m are 0.22 nF, nothing
        ("thin 2 m", "thin 60 m", ["changed source keys > treble of keys: -1 dB at 20 kHz, was 0 dB"]),
        ("thin 60 m", "thin 2 m", ["changed source keys > treble of keys: 0 dB at 20 kHz, was -1 dB"]),
        ("thin 2 m", "thin 8 m", ["changed source keys"]),
        ("thin 60 m", "thin 62 m", ["changed source keys"]),
        ("impedance 600 ohm", "impedance 60 ohm", ["changed source keys"]),
        ("110 pF/m", "8000 pF/m", ["changed cable thin > treble of keys: -3.9 dB at 20 kHz, was 0 dB"]),
    ],
)
def test_treble_that_the_copper_takes(old: str, new: str, said: list[str]) -> None:
    before = STAGE + (KEYS if old in KEYS else KEYS.replace("thin 2 m", old))
    assert old in before
    assert told(compared(before, before.replace(old, new))) == said


def test_a_box_that_goes_takes_its_things_along() -> None:
    """One way out of SL where there were two; the sources behind the box are gone, and told once each."""
    gone = "\n".join(
        line for line in STAGE.splitlines() if "SR" not in line and "vox" not in line and "wdg" not in line
    )
    found = compared(STAGE, gone)
    assert [(change.kind, change.what, change.name) for change in found.changes] == [
        ("removed", "box", "SR"),
        ("removed", "link", "C02"),
        ("removed", "source", "vox"),
        ("removed", "output", "wdg"),
        ("removed", "patch", "DESK.ch 3"),
        ("removed", "patch", "wdg"),
    ]
    effects = [effect for change in found.changes for effect in change.effects]
    assert "one digital way out of SL where there were 2" in effects
    assert any(effect.startswith("C01 carries 2 of 40, was 3") for effect in [*effects, *found.more])


def test_a_box_under_another_name_is_no_new_box() -> None:
    found = compared(STAGE, STAGE.replace("SL", "LEFT"))
    assert told(found) == ["renamed box LEFT"]
    assert (found.new, found.gone) == ((), ())


def test_another_name_causes_nothing() -> None:
    """The box is another model without phantom, and the singer has another name: the phantom hangs on the box."""
    inside = "outputs line 1-4\n  digital A, B { protocol fern; control d1; chain }\n}\n"
    old8 = "model old8 {\n  kind stage-box; inputs mic 1-8 { preamp }; " + inside
    less = STAGE.replace("model nw16", f"{old8}model nw16")
    new = less.replace('SR "Right rack" is nw8', 'SR "Right rack" is old8').replace("vox", "lead")
    by_name = {change.name: change.effects for change in compared(less, new).changes}
    assert "SR.mic 1: phantom off" in by_name["SR"]
    assert by_name["lead"] == ()


def test_findings_that_a_line_elsewhere_causes() -> None:
    """A stage box without phantom: the condenser's own line was not touched."""
    found = compared(STAGE, STAGE.replace("phantom 48 V 10 mA; ", "", 1))
    assert [(one.rule, one.subject) for one in found.new] == [("phantom-missing", "vox")]
    assert [(one.rule, one.subject) for one in compared(STAGE.replace("phantom 48 V 10 mA; ", "", 1), STAGE).gone] == [
        ("phantom-missing", "vox")
    ]


def test_totals_by_hand() -> None:
    """A lead of 4 m more, and a box of 6 kg instead of 4: cables, metres and kilogrammes added up by hand."""
    new = STAGE.replace("is nw8 in left", "is nw16 in left") + 'source hat "Hat" dynamic in left to SL 3 via xlr 4 m\n'
    totals = {total.name: (total.was, total.now) for total in compared(STAGE, new).totals}
    assert totals["cables"] == (6, 7)
    assert totals["cable_m"] == (30 + 9 + 3 + 3 + 5 + 5, 30 + 9 + 3 + 3 + 5 + 5 + 4)
    assert totals["weight_kg"] == (8, 10)
    assert totals["free_inputs"] == (13, 20)


# ---- laws


def whole(path: Path) -> Side:
    show = load(path)
    return Side(show.rig, show.paths, show.sources, worst_first(show.findings()))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parents[1].name}/{path.stem}")
def test_nothing_changes_where_nothing_was_changed(path: Path) -> None:
    assert review(whole(path), whole(path)).nothing


LINES = STAGE.splitlines()
FREE = [at for at, line in enumerate(LINES) if line.startswith(("source", "output", "patch", "link", "stock"))]


def edited(seed: int) -> str:
    """A few lines taken out, doubled under another name, or with another number in them."""
    chance = random.Random(seed)
    lines = list(LINES)
    for at in chance.sample(FREE, chance.randint(0, 3)):
        what = chance.randrange(3)
        if what == 0:
            lines[at] = ""
        elif what == 1:
            lines[at] = lines[at].replace(" 1 ", " 4 ").replace("3 m", "8 m").replace("5 m", "2 m")
        else:
            lines[at] = lines[at].replace("kick ", "bd ").replace("vox ", "singer ")
    return "\n".join(lines) + "\n"


def mirrored(found: Review) -> set[tuple[str, str, str]]:
    other = {"added": "removed", "removed": "added"}
    return {(other.get(one.kind, one.kind), one.what, one.old_name or one.name) for one in found.changes}


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 10_000))
def test_back_again_is_the_mirror(one: int, other: int) -> None:
    old, new = side(edited(one)), side(edited(other))
    there, back = review(old, new), review(new, old)
    assert mirrored(there) == {(change.kind, change.what, change.name) for change in back.changes}
    assert [(total.name, total.now, total.was) for total in there.totals] == [
        (total.name, total.was, total.now) for total in back.totals
    ]
    went, came = (sorted((one.rule, one.subject) for one in some) for some in (there.gone, back.new))
    assert went == came or any(change.kind == "renamed" for change in there.changes)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 10_000))
def test_every_difference_of_the_record_is_some_change(one: int, other: int) -> None:
    old, new = side(edited(one)), side(edited(other))
    before, now = items_of(old.rig, old.own), items_of(new.rig, new.own)
    found = review(old, new)
    if not found.changes:
        assert before == now
    named = {name for change in found.changes for name in (change.name, change.old_name)}
    renamed = {change.old_name for change in found.changes if change.kind == "renamed"}
    for what, name in before.keys() ^ now.keys():
        assert name in named or any(part in name for part in renamed), (what, name)
